package coach

import (
	"context"
	"slices"

	"nextrung/internal/hindsight"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Trial is one client under another policy, compared with the book's own.
type Trial struct {
	Client string  `json:"client"`
	Stage  int     `json:"stage"`
	Now    Outcome `json:"now"`   // by the book's policy
	Would  Outcome `json:"would"` // by the other one
	// Changed says that verdict, plan of a hold or stage differ.
	Changed bool `json:"changed"`
	// By are the rules that differ, whether or not the verdict changes.
	By []Told `json:"by"`
}

// Outcome is where an assessment leads.
type Outcome struct {
	Verdict *record.Verdict  `json:"verdict"`
	Plan    *record.HoldPlan `json:"plan"`
	To      *int             `json:"to"`
	Summary string           `json:"summary"`
}

// Told is one rule under both policies; null means not enough data.
type Told struct {
	Rule  policy.ID `json:"rule"`
	Now   *bool     `json:"now_met"`
	Would *bool     `json:"would_met"`
	Text  string    `json:"text"` // under the other policy
}

// TryPolicy assesses every client as of a day by the book's policy and by another one, from the same
// record; nothing is stored. What had been prescribed by then stays as it was.
func (c *Coach) TryPolicy(ctx context.Context, other policy.Policy, on workout.Date) ([]Trial, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	out := []Trial{}
	for _, name := range names {
		record, err := c.book.Record(ctx, name, on)
		if err != nil {
			return nil, err
		}
		if began(record, on) {
			out = append(out, tried(progression.Assess(c.Policy, on, record), progression.Assess(other, on, record)))
		}
	}
	return out, nil
}

// PastTrial is what another policy would have said on the day of a decision, beside what the book's own says about that day.
type PastTrial struct {
	Trial
	Decision record.Decision
}

// TryPolicyOnPast assesses every client as of the day of each decision by both policies, with what was known when it was
// made; nothing is stored. The newest day comes first.
func (c *Coach) TryPolicyOnPast(ctx context.Context, other policy.Policy, on workout.Date) ([]PastTrial, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	var out []PastTrial
	for _, name := range names {
		now, err := c.book.Record(ctx, name, on)
		if err != nil {
			return nil, err
		}
		if len(now.Decisions) == 0 {
			continue
		}
		then, err := c.book.Records(ctx, name, record.Map(now.Decisions, func(d record.Decision) workout.Date { return d.Entered })...)
		if err != nil {
			return nil, err
		}
		for i, d := range now.Decisions {
			r := hindsight.Before(then[d.Entered], d, now.Decisions[:i])
			out = append(out, PastTrial{tried(progression.Assess(c.Policy, d.Entered, r), progression.Assess(other, d.Entered, r)), d})
		}
	}
	slices.SortStableFunc(out, func(a, b PastTrial) int { return int(b.Decision.Entered - a.Decision.Entered) })
	return out, nil
}

func tried(now, would record.Assessment) Trial {
	t := Trial{Client: now.Client, Stage: now.Stage, Now: outcome(now), Would: outcome(would), By: []Told{}}
	t.Changed = !alike(now.Verdict, would.Verdict) || !alike(now.Plan, would.Plan) || !alike(now.To, would.To)
	for _, w := range would.Reasons {
		if n := now.Reason(w.Rule); n != nil && !alike(n.Met, w.Met) {
			t.By = append(t.By, Told{w.Rule, n.Met, w.Met, reasons.Text(w.Says)})
		}
	}
	return t
}

func outcome(a record.Assessment) Outcome {
	return Outcome{a.Verdict, a.Plan, a.To, reasons.Paragraph(a.Summary)}
}

// alike compares two values that may be missing.
func alike[T comparable](a, b *T) bool {
	return a == nil && b == nil || a != nil && b != nil && *a == *b
}
