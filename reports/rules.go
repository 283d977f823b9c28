package reports

import (
	"fmt"
	"html/template"
	"math"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"regexp"
	"strconv"
	"strings"
)

// ruleGroup is one kind of rules in the table of the decision page.
type ruleGroup struct {
	Name  string
	Rules []ruleRow
}

// ruleRow is one rule applied, finished for reading.
type ruleRow struct {
	Name, Text string
	Source     string
	Observed   string
	Interval   string
	How        string // how the value comes about, where it is none of the last
	Threshold  string
	Scale      template.HTML
	Days       string
	Word       string
	Icon       template.HTML
}

var kindNames = []struct {
	kind policy.Kind
	name string
}{
	{policy.Gate, "Before anything else"},
	{policy.Required, "Has to be met"},
	{policy.Evidence, "What the heart rate says"},
	{policy.StepBackRule, "Would ask for an easier week or a step back"},
	{policy.Informative, "Worth knowing, decides nothing"},
}

// ruleGroups lists the rules that are met, or the others: those not met first, then the untold.
func ruleGroups(reasons []record.Reason, met bool) []ruleGroup {
	var out []ruleGroup
	for _, k := range kindNames {
		g := ruleGroup{Name: k.name}
		var untold []ruleRow
		for _, r := range reasons {
			switch {
			case r.Kind != k.kind || met != (r.Met != nil && *r.Met):
			case r.Met == nil:
				untold = append(untold, ruleRowOf(r))
			default:
				g.Rules = append(g.Rules, ruleRowOf(r))
			}
		}
		g.Rules = append(g.Rules, untold...)
		if len(g.Rules) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func ruleRowOf(r record.Reason) ruleRow {
	row := ruleRow{Name: sentenceCase(shortName(r.Rule)), Text: r.Text, Source: sentenceCase(sourceText(r.Source)), Threshold: askedInUnit(r), How: howObserved(r)}
	if r.Observed != nil {
		row.Observed = inUnit(*r.Observed, r.Unit)
	}
	if r.Kind == policy.Required || r.Kind == policy.Evidence || r.Kind == policy.Informative {
		row.Scale = scale(r)
	}
	if r.Low != nil && r.High != nil && figure(*r.Low) != figure(*r.High) {
		row.Interval = figure(*r.Low) + " to " + figure(*r.High)
	}
	if r.From != 0 && r.To != 0 {
		row.Days = r.From.Short() + " to " + r.To.Short()
	}
	row.Word, row.Icon = result(r)
	return row
}

func result(r record.Reason) (string, template.HTML) {
	switch {
	case r.Met == nil:
		return cannotTell, icons["not-assessable"]
	case *r.Met:
		return "met", icons["yes"]
	}
	return "not met", icons["no"]
}

// asked is the threshold in words: "at most 3".
func asked(r record.Reason) string {
	if r.Threshold == nil || r.Observed == nil && strings.HasSuffix(r.Unit, " against the baseline") {
		return "" // without a baseline the threshold is not known in the unit
	}
	return r.Is + " " + figure(*r.Threshold)
}

// askedInUnit is the threshold with its unit: "at most 12 months".
func askedInUnit(r record.Reason) string {
	if asked(r) == "" {
		return ""
	}
	return r.Is + " " + inUnit(*r.Threshold, r.Unit)
}

// howObserved says how often the observed value was reached, for rules that ask for some of the
// last weeks or sessions and not for the last one.
func howObserved(r record.Reason) string {
	b, ok := drawn[r.Rule]
	if !ok || b.some == "" || r.Observed == nil || len(r.Points) < 2 {
		return ""
	}
	last := r.Points[len(r.Points)-1].Value
	if math.Abs(last-*r.Observed) < 0.05 {
		return ""
	}
	n := 0
	for _, p := range r.Points {
		if r.Is == "at most" && p.Value <= *r.Observed+1e-9 || r.Is == "at least" && p.Value >= *r.Observed-1e-9 {
			n++
		}
	}
	return fmt.Sprintf("%s this in %d of %d %s; %s in the last", r.Is, n, len(r.Points), b.some, figure(last))
}

// fromMemory is the part of a source that says that something was written down from memory.
var fromMemory = regexp.MustCompile(`[,;(]?[^,;()]*from memory[^,;()]*\)?(; to be checked by licensed practice)?`)

// memoryMark stands where the source says so; memoryNote explains it once, at the foot of the page.
const (
	memoryMark = " †"
	memoryNote = "† The list of signs, or the limit, was written down from memory of the source named there and has little evidence behind it: " +
		"check it against the source and with licensed practice."
)

func sourceText(s string) string {
	if short := fromMemory.ReplaceAllString(s, ""); short != s {
		return strings.TrimSpace(short) + memoryMark
	}
	return s
}

// inUnit writes a value with its unit; perceived effort has its name in front.
func inUnit(v float64, unit string) string {
	if unit == "RPE" {
		return "RPE " + figure(v)
	}
	if unit == "bpm above the own" {
		unit = "bpm above the client’s own"
	}
	first, rest, _ := strings.Cut(unit, " ")
	if one, ok := strings.CutSuffix(first, "s"); ok && v == 1 && len(one) > 2 {
		unit = strings.TrimSpace(one + " " + rest)
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
	"interval-weeks": "weeks in stage 2", "interval-sessions": "interval sessions", "longer-bouts": "longer bouts", "bout-effort": "effort of bouts", "evidence": "heart rate, enough rules",
	"zone": "time in zone 1", "steady": "steady heart rate", "fall": "60-second fall", "same-effort": "heart rate at the same effort", "back-in-zone": "back in zone 1",
	"creep": "no creep over the bouts", "as-prescribed": "done as prescribed", "resting": "resting heart rate", "longest-run": "longest run",
	"tired-sign": "no sign of tiredness", "illness": "time since illness", "tiredness": "no tiredness pattern",
	"tiredness-again": "tiredness not back", "failed-sessions": "interval sessions kept",
}

// opposite is a rule's name in a line of what speaks against a move.
func opposite(rule string) string {
	if s, ok := opposites[rule]; ok {
		return s
	}
	return shortName(rule)
}

var opposites = map[string]string{
	"adult": "under age", "emergency-sign": "a sign for emergency help", "doctor-sign": "a sign for a doctor",
	"disease": "known disease without a recent clearance", "screening": "screening not answered", "weeks": "too few weeks in stage 1",
	"clearance": "no recent doctor's clearance", "break": "days without a session", "sessions": "too few sessions a week",
	"sessions-total": "too few sessions in all", "minutes": "too few minutes a week", "longest": "no session long enough",
	"effort": "too hard, or no easy talk", "interval-weeks": "too few weeks in stage 2", "interval-sessions": "too few interval sessions as prescribed", "longer-bouts": "short bouts only",
	"bout-effort": "bouts too hard", "zone": "too much above zone 1", "steady": "heart rate not steady", "check-session": "check session not level",
	"fall": "smaller 60-second fall", "same-effort": "higher heart rate at the same effort", "back-in-zone": "not back in zone 1 between bouts",
	"creep": "heart rate creeps over the bouts", "tired-sign": "signs of tiredness", "illness": "illness not long ago", "tiredness": "tiredness pattern",
	"tiredness-again": "tiredness came back", "failed-sessions": "interval sessions failed", "long-break": "long break",
}

// verdictWord is a verdict in words for the trainer.
func verdictWord(a record.Assessment) string {
	if a.Verdict != nil {
		return verdictName(*a.Verdict)
	}
	switch a.State {
	case record.PausedState:
		return "paused"
	case record.Finished:
		return "finished"
	case record.Maintaining:
		return "maintaining"
	case record.RecoveryOf:
		return "recovery phase"
	}
	return "no verdict"
}

func verdictName(v record.Verdict) string {
	switch v {
	case record.StepBack:
		return "step back"
	case record.Refer:
		return seeDoctor
	case record.NotAssessable:
		return cannotTell
	}
	return string(v)
}

// building says that the stage's minimum weeks are not over, so that nothing is to be decided yet.
func building(c Client) bool {
	a := c.Assessment
	return is(a, record.Hold) && a.Plan != nil && *a.Plan != record.Return && a.Week < a.Weeks && daysInStage(c) > 0
}

// verdictMore is the second line of a verdict: the plan of a hold, or where a move leads.
func verdictMore(c Client) string {
	a := c.Assessment
	switch {
	case building(c):
		s := "building, week " + strconv.Itoa(min((daysInStage(c)+6)/7, a.Weeks)) + " of " + strconv.Itoa(a.Weeks)
		if a.First != 0 {
			s += ", first decision on " + a.First.Long()
		}
		if *a.Plan == record.Repeat {
			s += "; repeat this week"
		}
		return s
	case is(a, record.Hold) && a.Plan != nil:
		return map[record.HoldPlan]string{record.Build: "go on building", record.Repeat: "repeat this week",
			record.Return: "return after a break"}[*a.Plan]
	case a.Verdict != nil && a.To != nil:
		return "to stage " + strconv.Itoa(*a.To)
	}
	return ""
}

func is(a record.Assessment, v record.Verdict) bool {
	return a.Verdict != nil && *a.Verdict == v
}

// decided is the trainer's decision on an assessment: the last one entered on its day or later.
func decided(r record.Record, a record.Assessment) *record.Decision {
	return r.Decided(a.AsOf)
}

func actWord(a record.Act) string {
	switch a {
	case record.DoStepBack:
		return "step back"
	case record.DoRefer:
		return seeDoctor
	}
	return string(a)
}
