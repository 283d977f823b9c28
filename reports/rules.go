package reports

import (
	"fmt"
	"html/template"
	"math"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"strconv"
)

// ruleGroup is one kind of rules in the table of the decision page.
type ruleGroup struct {
	Kind  policy.Kind
	Name  string
	Rules []ruleRow
}

// ruleRow is one rule applied, finished for reading.
type ruleRow struct {
	ID         string // its place on the page
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

// ruleGroups lists the rules that are met, or the others: those not met first, then those without enough data.
func ruleGroups(all []record.Reason, met bool) []ruleGroup {
	var out []ruleGroup
	for _, k := range reasons.Kinds {
		g := ruleGroup{Kind: k, Name: reasons.Kind(k)}
		for _, open := range []bool{false, true} {
			for _, r := range all {
				if r.Kind == k && r.Says.Code != progression.EmergencyFirst && r.IsMet() == met && (r.Met == nil) == open {
					g.Rules = append(g.Rules, ruleRowOf(r))
				}
			}
		}
		if len(g.Rules) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func ruleRowOf(r record.Reason) ruleRow {
	row := ruleRow{ID: "row-" + string(r.Rule), Name: wording.Capital(ruleName(r)), Text: reasons.Text(r.Says), Source: sourceText(r), Threshold: askedInUnit(r), How: howObserved(r)}
	if r.Observed != nil {
		row.Observed = reasons.Value(*r.Observed, r)
	}
	if r.Kind == policy.Required || r.Kind == policy.Evidence || r.Kind == policy.Informative {
		row.Scale = scale(r)
	}
	if r.Low != nil && r.High != nil && wording.Number(*r.Low) != wording.Number(*r.High) {
		row.Interval = wording.Number(*r.Low) + " to " + wording.Number(*r.High)
	}
	if r.From != 0 && r.To != 0 {
		row.Days = r.From.Short() + " to " + r.To.Short()
	}
	switch row.Word, row.Icon = reasons.Result(r.Met), icons["no"]; {
	case r.Met == nil:
		row.Icon = icons["not-assessable"]
	case *r.Met:
		row.Icon = icons["yes"]
	}
	switch r.Says.Code { // of these nothing is counted
	case progression.SignDoubt:
		row.Word, row.Observed, row.Threshold = "not answered", "", ""
	case progression.EmergencySigns, progression.DoctorSigns:
		row.Word, row.Observed, row.Threshold = "on record", "", ""
	}
	return row
}

// ruleName is the name of a rule in the table. The gates on signs have names that say nothing reassuring
// of a sign on record or of an open question.
func ruleName(r record.Reason) string {
	if r.Kind == policy.Gate && r.IsUnmet() {
		return reasons.Against(r.Rule)
	}
	switch r.Rule {
	case policy.EmergencySign:
		return "emergency signs"
	case policy.DoctorSign:
		return "signs that need a doctor"
	}
	return reasons.Rule(r.Rule)
}

// asked is the threshold in words: "at most 3".
func asked(r record.Reason) string {
	if r.Threshold == nil || r.Observed == nil && (r.Rule == policy.Fall || r.Rule == policy.SameEffort) {
		return "" // without a baseline the threshold is not known in the unit
	}
	return string(r.Is) + " " + wording.Number(*r.Threshold)
}

// askedInUnit is the threshold with its unit: "at most 12 months".
func askedInUnit(r record.Reason) string {
	if asked(r) == "" {
		return ""
	}
	if r.Is == policy.AtMost && *r.Threshold == 0 {
		return "no " + string(r.Unit)
	}
	if r.Rule == policy.EnoughEvidence && *r.Threshold == 0 {
		return "none against"
	}
	return string(r.Is) + " " + reasons.Value(*r.Threshold, r)
}

// howObserved says how often the observed value was reached, for rules that need some of the
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
	n := len(record.Keep(r.Points, func(p record.Point) bool { return policy.Within(p.Value, r.Is, *r.Observed) }))
	return fmt.Sprintf("that or %s in %s; %s in the last", map[policy.Bound]string{policy.AtLeast: "more", policy.AtMost: "less"}[r.Is], wording.Part(n, len(r.Points), b.some), wording.Number(last))
}

// memoryMark follows a source of which something was written down from memory; memoryNote explains
// it once, at the foot of the page.
const (
	memoryMark = " †"
	memoryNote = "† The list of signs, or the limit, was written down from memory of the source named there: " +
		"check it against the source and with a licensed professional."
)

func sourceText(r record.Reason) string {
	text := wording.Capital(r.Source)
	if r.FromMemory != "" {
		text += memoryMark
	}
	return text
}

// building says that the stage's minimum weeks are not over, so that nothing is to be decided yet.
func building(c Client) bool {
	a := c.Assessment
	return is(a, record.Hold) && a.State == record.Active && a.Plan != nil && *a.Plan != record.Return && a.Week < a.Weeks && a.Running > 0
}

// verdictMore is the second line of a verdict: the plan of a hold, or where a move leads.
func verdictMore(c Client) string {
	a := c.Assessment
	switch {
	case building(c):
		s := "building, week " + strconv.Itoa(a.Running) + " of " + strconv.Itoa(a.Weeks)
		if a.First != 0 {
			s += ", first decision on " + a.First.Long()
		}
		if *a.Plan == record.Repeat {
			s += "; repeat this week"
		}
		return s
	case is(a, record.Hold) && a.Plan != nil:
		return reasons.Plan(*a.Plan)
	case a.Verdict != nil && a.To != nil:
		return "to stage " + strconv.Itoa(*a.To)
	}
	return ""
}

func is(a record.Assessment, v record.Verdict) bool {
	return a.Verdict != nil && *a.Verdict == v
}
