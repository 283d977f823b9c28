package reports

import (
	"html/template"
	"strings"

	"nextrung/internal/progression"
)

// ruleGroup is one kind of rules in the table of the decision page.
type ruleGroup struct {
	Name  string
	Rules []ruleRow
}

// ruleRow is one rule applied, finished for reading.
type ruleRow struct {
	Text, Source string
	Observed     string
	Interval     string
	Threshold    string
	Scale        template.HTML
	Days         string
	Word         string
	Icon         template.HTML
}

var kindNames = []struct {
	kind progression.Kind
	name string
}{
	{progression.Gate, "Before anything else"},
	{progression.Required, "Has to be met"},
	{progression.Evidence, "What the heart rate says"},
	{progression.TirednessRule, "Would ask for an easier week"},
	{progression.StepBackRule, "Would ask for a step back"},
	{progression.Informative, "Worth knowing, decides nothing"},
}

func ruleGroups(reasons []progression.Reason) []ruleGroup {
	var out []ruleGroup
	for _, k := range kindNames {
		g := ruleGroup{Name: k.name}
		for _, r := range reasons {
			if r.Kind == k.kind {
				g.Rules = append(g.Rules, ruleRowOf(r))
			}
		}
		if len(g.Rules) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func ruleRowOf(r progression.Reason) ruleRow {
	row := ruleRow{Text: r.Text, Source: sentenceCase(r.Source), Observed: observed(r, notAssessable), Scale: scale(r), Threshold: asked(r)}
	if r.Low != nil && r.High != nil && *r.Low != *r.High {
		row.Interval = figure(*r.Low) + " to " + figure(*r.High)
	}
	if r.From != 0 && r.To != 0 {
		row.Days = r.From.Short() + " to " + r.To.Short()
	}
	row.Word, row.Icon = result(r)
	return row
}

func result(r progression.Reason) (string, template.HTML) {
	switch {
	case r.Met == nil:
		return notAssessable, icons["not-assessable"]
	case *r.Met:
		return "met", icons["yes"]
	}
	return "not met", icons["no"]
}

func observed(r progression.Reason, word string) string {
	if r.Observed == nil {
		return word
	}
	return inUnit(*r.Observed, r.Unit)
}

// asked is the threshold in words: "at most 3".
func asked(r progression.Reason) string {
	if r.Threshold == nil {
		return ""
	}
	return r.Is + " " + figure(*r.Threshold)
}

// inUnit writes a value with its unit; perceived effort has its name in front.
func inUnit(v float64, unit string) string {
	if unit == "RPE" {
		return "RPE " + figure(v)
	}
	return withUnit(v, unit)
}

// shortName is a rule's name in a line of many.
func shortName(rule string) string {
	if s, ok := shortNames[rule]; ok {
		return s
	}
	return strings.ReplaceAll(rule, "-", " ")
}

var shortNames = map[string]string{
	"adult": "of age", "emergency-sign": "no emergency sign", "doctor-sign": "no sign for a doctor", "disease": "clearance with disease",
	"weeks": "weeks in stage 1", "clearance": "doctor's clearance", "break": "no long gap", "sessions": "sessions a week",
	"sessions-total": "sessions in all", "minutes": "minutes a week", "longest": "longest session", "effort": "effort and talk",
	"interval-weeks": "weeks in stage 2", "interval-sessions": "interval sessions", "bout-effort": "effort of bouts", "evidence": "heart rate, enough rules",
	"zone": "time in zone 1", "steady": "steady heart rate", "fall": "60-second fall", "back-in-zone": "back in zone 1",
	"creep": "no creep over the bouts", "as-prescribed": "done as prescribed", "resting": "resting heart rate", "longest-run": "longest run",
	"tired-sign": "no sign of tiredness", "illness": "time since illness", "tiredness": "no tiredness pattern",
	"tiredness-again": "tiredness not back", "failed-sessions": "interval sessions kept",
}

// verdictWord is a verdict in words for the trainer.
func verdictWord(a progression.Assessment) string {
	if a.Verdict != nil {
		return verdictName(*a.Verdict)
	}
	switch a.State {
	case progression.PausedState:
		return "paused"
	case progression.Finished:
		return "finished"
	case progression.Maintaining:
		return "maintaining"
	case progression.RecoveryOf:
		return "recovery phase"
	}
	return "no verdict"
}

func verdictName(v progression.Verdict) string {
	switch v {
	case progression.StepBack:
		return "step back"
	case progression.NotAssessable:
		return notAssessable
	}
	return string(v)
}

// building says that the stage's minimum weeks are not over, so that nothing is to be decided yet.
func building(a progression.Assessment) bool {
	return is(a, progression.Hold) && a.Plan != nil && *a.Plan == progression.Build && a.Week < a.Weeks
}

// verdictMore is the second line of a verdict: the plan of a hold, or where a move leads.
func verdictMore(a progression.Assessment) string {
	switch {
	case building(a):
		s := "building, week " + figure(float64(a.Week)) + " of " + figure(float64(a.Weeks))
		if a.First != 0 {
			s += ", first decision on " + a.First.Long()
		}
		return s
	case is(a, progression.Hold) && a.Plan != nil:
		return map[progression.HoldPlan]string{progression.Build: "go on building", progression.Repeat: "repeat this week",
			progression.Return: "return after a break"}[*a.Plan]
	case a.Verdict != nil && a.To != nil:
		return "to stage " + figure(float64(*a.To))
	}
	return ""
}

func is(a progression.Assessment, v progression.Verdict) bool {
	return a.Verdict != nil && *a.Verdict == v
}

// decided is the trainer's decision on an assessment: the last one entered on its day or later.
func decided(r progression.Record, a progression.Assessment) *progression.Decision {
	for i := len(r.Decisions) - 1; i >= 0; i-- {
		if d := &r.Decisions[i]; d.Entered >= a.AsOf {
			return d
		}
	}
	return nil
}

func actWord(a progression.Act) string {
	if a == progression.DoStepBack {
		return "step back"
	}
	return string(a)
}
