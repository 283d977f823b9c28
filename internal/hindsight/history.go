// Package hindsight looks back on the trainer's decisions: what was known on the day of each, how the
// decision stood to the recommendation, what came of it in the six weeks after, and whether what it
// rested on has changed since. It judges nobody and nothing: it says what is on record.
//
// Everything here is pure; the day is always an argument. Days are civil days of the client, a week is
// seven of them, minutes are elapsed minus paused. What is not on record is nil, never 0.
package hindsight

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Known is what the book holds about one client.
type Known struct {
	// On is the day from which we look back, and Now everything known by its end.
	On  workout.Date
	Now record.Record
	// Then holds what was known by the end of earlier days, one for the day of each decision. It knows
	// what Now no longer does: notes undone since, facts as they were. A day that is missing here
	// is taken from Now.
	Then map[workout.Date]record.Record
}

func (k Known) then(on workout.Date) record.Record {
	if r, ok := k.Then[on]; ok {
		return r
	}
	return k.Now.Until(on)
}

// History is a client's way through the stages.
type History struct {
	On        workout.Date `json:"as_of"`
	Stages    []Stage      `json:"stages"`
	Decisions []Entry      `json:"decisions"` // in the order of the chain
}

// Stage is a time in one stage.
type Stage struct {
	Stage int          `json:"stage"`
	From  workout.Date `json:"from"`
	To    workout.Date `json:"to,omitzero"` // 0 for the stage that holds
}

// Entry is one decision with what was known and what came of it.
type Entry struct {
	Decision record.Decision `json:"decision"`
	// Before is the stage on the day before it held, Stage the one from then on.
	Before int `json:"stage_before"`
	Stage  int `json:"stage"`
	// Replaced says that a later decision undid this one before it could show anything.
	Replaced  bool      `json:"replaced"`
	Assessed  Assessed  `json:"assessed"`
	Agreement Agreement `json:"agreement"`
	Outcome   Outcome   `json:"outcome"`
	Changed   *Changed  `json:"changed_afterwards"`
}

// Assessed is the assessment as of the day of a decision, run again over what was known then.
type Assessed struct {
	On      workout.Date    `json:"as_of"`
	Verdict *record.Verdict `json:"verdict"` // nil for a paused client
	Stage   int             `json:"stage"`
	Policy  string          `json:"policy"`
	Summary string          `json:"summary"`
	Reasons []Weighed       `json:"reasons"` // the few that weighed most
}

// Weighed is one rule that weighed in an assessment.
type Weighed struct {
	Rule policy.ID `json:"rule"`
	Text string    `json:"text"`
	// Summed says that the summary says so too.
	Summed bool `json:"in_summary"`
}

// mostWeighed is the number of reasons that are named.
const mostWeighed = 3

// Back looks back on all decisions of a client.
func Back(k Known, p policy.Policy) History {
	k.Now = k.Now.Until(k.On)
	h := History{On: k.On, Stages: stages(k.Now, k.On), Decisions: []Entry{}}
	for i := range k.Now.Decisions {
		h.Decisions = append(h.Decisions, entry(k, p, i))
	}
	return h
}

func entry(k Known, p policy.Policy, i int) Entry {
	d := k.Now.Decisions[i]
	e := Entry{Decision: d}
	e.Before, _ = k.Now.StageOn(d.From - 1)
	e.Stage, _ = k.Now.StageOn(d.From)
	moves := d.Act == record.DoAdvance || d.Act == record.DoStepBack
	e.Replaced = moves && d.From <= k.On && d.Stage != e.Stage
	then := Before(k.then(d.Entered), d, k.Now.Decisions[:i])
	a := progression.Assess(p, d.Entered, then)
	e.Assessed = Assessed{On: d.Entered, Verdict: a.Verdict, Stage: a.Stage, Policy: a.Policy, Summary: reasons.Paragraph(a.Summary), Reasons: weighed(a)}
	e.Agreement = agreement(d)
	e.Outcome = outcome(k, p, i)
	e.Changed = changes(k, p, d, then, a)
	return e
}

// Before puts a record into the state in which a decision was about to be made: with the decisions
// before it, and without itself.
func Before(r record.Record, d record.Decision, earlier []record.Decision) record.Record {
	r.Decisions = slices.DeleteFunc(slices.Clone(earlier), func(x record.Decision) bool { return x.Entered > d.Entered })
	return r
}

// weighed picks the reasons of an assessment that weighed most: of what is against moving up the
// gravest kind first; where nothing is, what a move rests on.
func weighed(a record.Assessment) []Weighed {
	out := []Weighed{}
	add := func(rule policy.ID, says record.Fact) {
		known := slices.ContainsFunc(out, func(w Weighed) bool { return w.Rule == rule })
		if !known && len(out) < mostWeighed {
			out = append(out, Weighed{rule, reasons.Text(says), slices.ContainsFunc(a.Summary, says.Equal)})
		}
	}
	pick := func(kind policy.Kind, met bool) {
		for _, r := range a.Reasons {
			if r.Kind == kind && r.Met != nil && *r.Met == met {
				add(r.Rule, r.Says)
			}
		}
	}
	pick(policy.Gate, false)
	pick(policy.StepBackRule, false)
	for _, l := range a.Against {
		add(l.Rule, l.Says)
	}
	if len(out) == 0 {
		pick(policy.Required, false)
	}
	for _, l := range a.Lacking {
		add(l.Rule, l.Says)
	}
	if len(out) == 0 {
		for _, id := range []policy.ID{policy.EnoughEvidence, policy.Forecast, policy.UsualEffort, policy.Effort, policy.BoutEffort, policy.IntervalSessions, policy.Minutes} {
			if r := a.Reason(id); r != nil && r.IsMet() {
				add(r.Rule, r.Says)
			}
		}
	}
	return out
}

// stages lists the times in each stage up to a day, oldest first.
func stages(r record.Record, on workout.Date) []Stage {
	held := record.Keep(r.Decisions, func(d record.Decision) bool { return d.From <= on })
	days := append(record.Map(held, func(d record.Decision) workout.Date { return d.From }), r.Client.Since)
	slices.Sort(days)
	out := []Stage{}
	for _, d := range days {
		stage, _ := r.StageOn(d)
		n := len(out)
		switch {
		case n > 0 && out[n-1].Stage == stage:
			continue
		case n > 0:
			out[n-1].To = d - 1
		}
		out = append(out, Stage{Stage: stage, From: d})
	}
	return out
}
