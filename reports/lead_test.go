package reports_test

import (
	"slices"
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// TestFirstLine: the first line calls no week the same that is not, nor where the last one felt too hard, sends nobody
// with a fever out, and knows when a break is over.
func TestFirstLine(t *testing.T) {
	no := false
	held := func(change func(*reports.Client)) reports.Client {
		c := avelin()
		hold := record.Hold
		c.Assessment.Verdict, c.Assessment.Plan, c.Assessment.To = &hold, nil, nil
		c.Weeks = slices.Clone(c.Weeks)
		c.Next = &record.Prescription{Sessions: 3, Minutes: 30, Targets: []record.Target{{Mode: workout.Walk, Low: 110, High: 130}}}
		change(&c)
		return c
	}
	last := func(c reports.Client) *record.Prescription { return new(*c.Weeks[len(c.Weeks)-1].Plan) }
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
		{"a shorter week", "Less next week: 90 min planned, after 160.", held(func(*reports.Client) {})},
		{"a longer week", "More next week: 180 min planned, after 160.", held(func(c *reports.Client) { c.Next.Minutes = 60 })},
		{"the same week", "Next week is planned like the last one.", held(func(c *reports.Client) { c.Next = last(*c) })},
		{"the same minutes, faster", "Next week has the same minutes, but different faster parts.", held(func(c *reports.Client) {
			c.Next = last(*c)
			c.Next.Intervals = &record.Intervals{Count: 1, Bouts: 2, Work: 60, Rest: 60, Feel: workout.Brisk}
		})},
		{"the same minutes, slower", "Next week has the same minutes, without faster parts.", held(func(c *reports.Client) {
			c.Next = last(*c)
			c.Weeks[len(c.Weeks)-1].Plan = last(*c)
			c.Weeks[len(c.Weeks)-1].Plan.Intervals = &record.Intervals{Count: 1, Bouts: 2, Work: 60, Rest: 60, Feel: workout.Brisk}
		})},
		{"nothing planned before", "Your plan for next week is below.", held(func(c *reports.Client) { c.Weeks[len(c.Weeks)-1].Plan = nil })},
		{"new parts", "New: 1 session with short brisk parts.", held(func(c *reports.Client) {
			c.Next.Intervals = &record.Intervals{Count: 1, Bouts: 4, Work: 60, Rest: 240, Feel: workout.Brisk}
			c.Next.Notes = []record.PlanNote{{Code: record.NewParts, Feel: workout.Brisk}}
		})},
		{"still away", "When you are back, the first sessions are easy ones.", held(func(c *reports.Client) {
			c.Assessment.Plan = new(record.Return)
			c.Weeks[len(c.Weeks)-1].Sessions = nil
		})},
		{"back", "Welcome back. The first sessions are easy ones.", held(func(c *reports.Client) { c.Assessment.Plan = new(record.Return) })},
		{"under age", "Here is what you have done.", held(func(c *reports.Client) {
			c.Assessment.Verdict, c.Next.Sessions = new(record.NotAssessable), 0
			c.Assessment.Reasons = append(c.Assessment.Reasons, record.Reason{Rule: policy.Adult, Kind: policy.Gate, Met: &no})
		})},
		{"unscreened", "You are in week 7. Your trainer has a few questions for you first.", held(func(c *reports.Client) {
			c.Assessment.Verdict, c.Next.Sessions = new(record.NotAssessable), 0
		})},
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
