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
	"slices"
	"strconv"
)

// ruleRow is one rule applied, finished for reading, with everything that is behind it.
type ruleRow struct {
	ID         string // its place on the page
	Rule       policy.ID
	Name, Text string
	Needed     string // what has to be recorded to judge it
	Source     string
	Observed   string
	Interval   string
	How        string // how the value comes about, where it is none of the last
	Threshold  string
	Days       string
	Word       string
	Icon       template.HTML
	Chart      *chart
	Level      string     // the values where they are too even for a chart
	Sessions   []tableRow // the workouts that it rests on, newest first
}

// ruleGroup is a part of the rules that is opened together.
type ruleGroup struct {
	Name  string
	Rules []ruleRow
}

// tableRow is a word with the page that it leads to, "" for none.
type tableRow struct{ Text, Link string }

// ruleRows finishes the rules for which is says so, in the order of their kinds.
func ruleRows(c Client, is func(r record.Reason) bool) (out []ruleRow, err error) {
	for _, k := range reasons.Kinds {
		for i, r := range c.Assessment.Reasons {
			if r.Kind != k || r.Says.Code == progression.EmergencyFirst || !is(r) {
				continue
			}
			row := ruleRowOf(r)
			row.Sessions = sessionsBehind(c, r)
			for _, l := range c.Assessment.Lacking {
				if l.Rule == r.Rule {
					row.Needed = reasons.Text(l.Needed)
				}
			}
			if row.Chart, row.Level, err = behindRule(fmt.Sprintf("rule-%d", i), r, c); err != nil {
				return nil, err
			}
			out = append(out, row)
		}
	}
	return out, nil
}

// sessionsBehind are the latest workouts that a rule rests on, newest first.
func sessionsBehind(c Client, r record.Reason) []tableRow {
	const most = 6
	var out []tableRow
	for _, rec := range slices.Backward(c.Record.Recordings) {
		if len(out) < most && c.Workouts[rec.ID] && slices.Contains(r.Workouts, rec.ID) {
			out = append(out, tableRow{rec.Date.Short(), WorkoutFile(rec)})
		}
	}
	return out
}

// decides says that the rule counts for the verdict.
func decides(r record.Reason) bool { return r.Kind != policy.Informative }

func ruleRowOf(r record.Reason) ruleRow {
	row := ruleRow{ID: "row-" + string(r.Rule), Rule: r.Rule, Name: wording.Capital(ruleName(r)), Text: reasons.Text(r.Says), Source: sourceText(r), Threshold: askedInUnit(r), How: howObserved(r)}
	if r.Observed != nil {
		row.Observed = reasons.Value(*r.Observed, r)
	}
	if r.Low != nil && r.High != nil && wording.Number(*r.Low) != wording.Number(*r.High) {
		row.Interval = "between " + wording.Number(*r.Low) + " and " + wording.Number(*r.High)
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
