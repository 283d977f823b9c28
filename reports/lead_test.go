package reports_test

import (
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// TestFirstLine: the first line never says "like this" where the week felt too hard, sends nobody
// with a fever out, and knows when a break is over.
func TestFirstLine(t *testing.T) {
	no := false
	held := func(change func(*reports.Client)) reports.Client {
		c := avelin()
		hold := record.Hold
		c.Assessment.Verdict, c.Assessment.Plan, c.Assessment.To = &hold, nil, nil
		c.Next = &record.Prescription{Sessions: 3, Minutes: 30, Targets: []record.Target{{Mode: workout.Walk, Low: 110, High: 130}}}
		change(&c)
		return c
	}
	ill := func(c *reports.Client) {
		ease := record.Ease
		c.Assessment.Verdict = &ease
		c.Assessment.Reasons = append(c.Assessment.Reasons, record.Reason{Rule: "illness", Kind: policy.StepBackRule, Met: &no})
	}
	paused := func(c *reports.Client) { c.Assessment.State, c.Assessment.Verdict = record.PausedState, nil }
	for _, x := range []struct {
		name, want string
		client     reports.Client
	}{
		{"a good week", "One more week like this.", held(func(*reports.Client) {})},
		{"a hard one", "One more week, and easier: the last one felt harder than it should have.", held(func(c *reports.Client) {
			c.Next.Notes = []record.PlanNote{{Code: record.FeltTooHard}}
		})},
		{"a fever", "Get well first: rest until you have had no fever and no other symptoms for 48 hours.", held(ill)},
		{"a fever, and a pause decided", "You are on a break until", held(func(c *reports.Client) {
			ill(c)
			c.Record.Decisions = append(c.Record.Decisions, record.Decision{Entered: asOf, Act: record.DoPause, From: asOf + 1, To: asOf + 7, Stage: 1})
		})},
		{"a break", "You are on a break.", held(func(c *reports.Client) { paused(c); c.Next.Sessions = 0 })},
		{"the last day of a break", "Your break is over.", held(paused)},
	} {
		text := reports.ProgressText(x.client)
		if first := strings.Split(text, "\n")[2]; !strings.Contains(first, x.want) {
			t.Errorf("%s: %q", x.name, first)
		}
	}
}
