package coach_test

import (
	"context"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/demo"
	"nextrung/internal/hindsight"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
)

// Every decision in the demo's book, assessed again from what was known on its day, gets the verdict that
// was sealed into it. Nothing changed afterwards except for one recording that came late.
func TestTheDemosDecisionsInHindsight(t *testing.T) {
	ctx := context.Background()
	c, _ := sharedDemo(t)
	names, err := c.Clients(ctx)
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[hindsight.Agreement]int{}
	var early, late hindsight.Entry
	for _, name := range names {
		h, err := c.History(ctx, name, demo.Day)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range h.Decisions {
			kinds[e.Agreement]++
			if e.Decision.Verdict == nil || e.Assessed.Verdict == nil || *e.Decision.Verdict != *e.Assessed.Verdict {
				t.Errorf("%s, %s: sealed %v, run again %v", name, e.Decision.Entered, e.Decision.Verdict, e.Assessed.Verdict)
			}
			switch {
			case name == "Torrec":
				late = e
			case e.Changed != nil:
				t.Errorf("%s, %s: %s", name, e.Decision.Entered, e.Changed.Text())
			}
			if name == "Jaskel" {
				early = e
			}
		}
	}
	if kinds[hindsight.AsRecommended] < 2 || kinds[hindsight.Bolder] != 1 || kinds[hindsight.MoreCareful] != 2 || kinds[hindsight.OwnChoice] != 1 {
		t.Errorf("the demo's decisions: %v", kinds)
	}
	if early.Agreed() != "moved up although the policy said hold" || !strings.Contains(early.Came(), "the policy recommended a step back") || early.Outcome.Effort[0].Median <= early.Outcome.Before.Effort[0].Median {
		t.Errorf("Jaskel: %s: %s", early.Agreed(), early.Came())
	}
	if late.Changed == nil || len(late.Changed.Changes) != 1 || late.Changed.Changes[0].Kind != hindsight.CameLater || !strings.HasPrefix(late.Assessed.Summary, "Not yet.") ||
		len(late.Changed.Differ) != 0 { // the minutes that came late were enough without them
		t.Errorf("Torrec: %s; %+v", late.Assessed.Summary, late.Changed)
	}
}

// What happens to a book after a decision is shown beside the decision.
func TestHistorySaysWhatChangedInTheBook(t *testing.T) {
	ctx := context.Background()
	for _, x := range []struct {
		name   string
		happen func(t *testing.T, c *coach.Coach, ids []string)
		want   hindsight.ChangeKind
	}{
		{"excluded", func(t *testing.T, c *coach.Coach, ids []string) {
			check(t, c.Exclude(ctx, ids[0], "on the dog", day("2026-09-01")))
		}, hindsight.CountsNoMore},
		{"given to somebody else", func(t *testing.T, c *coach.Coach, ids []string) { check(t, c.Move(ctx, ids[0], "Ketil")) }, hindsight.OutOfTheBook},
		{"taken out", func(t *testing.T, c *coach.Coach, ids []string) { check(t, c.Undo(ctx, ids[0])) }, hindsight.OutOfTheBook},
		{"a note taken back", func(t *testing.T, c *coach.Coach, _ []string) {
			check(t, c.Withdraw(ctx, "Runa", "n1", "", day("2026-08-25")))
		}, hindsight.TakenBack},
		{"an old export", func(t *testing.T, c *coach.Coach, _ []string) {
			w := walk("2026-08-09T08:00:00Z", simulate.Options{})
			receive(t, c, coach.Intake{Client: "Runa", On: day("2026-08-30"), Backlog: true}, "old.fit", encode(t, "fit", w))
		}, hindsight.EnteredSince},
		{"a better recording of the same walk", func(t *testing.T, c *coach.Coach, _ []string) {
			w := walk("2026-08-08T08:00:00Z", simulate.Options{Sensor: "strap"})
			receive(t, c, coach.Intake{Client: "Runa", On: day("2026-08-30"), Sensor: "strap"}, "strap.tcx", encode(t, "tcx", w))
		}, hindsight.CountsNoMore},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			for _, at := range []string{"2026-08-08", "2026-08-12"} {
				w := walk(at+"T08:00:00Z", simulate.Options{Sensor: "wrist"})
				receive(t, c, coach.Intake{Client: "Runa", On: day(at), Sensor: "wrist"}, at+".fit", encode(t, "fit", w))
			}
			check(t, coach.AddNote(ctx, c, "Runa", record.Note{Date: day("2026-08-12"), Entered: day("2026-08-12"), HRRest: 61}))
			if _, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: day("2026-08-16"), Act: record.DoHold, Because: "too early", By: "Corvane"}); err != nil {
				t.Fatal(err)
			}
			looked := func() *hindsight.Changed {
				h, err := c.History(ctx, "Runa", day("2026-08-31"))
				check(t, err)
				return h.Decisions[0].Changed
			}
			if got := looked(); got != nil {
				t.Fatalf("before anything happened: %s", got.Text())
			}
			var ids []string
			for _, r := range recordOf(t, c, "Runa", "2026-08-16", false).Recordings {
				ids = append(ids, r.ID)
			}
			x.happen(t, c, ids)
			got := looked()
			if got == nil || got.Changes[0].Kind != x.want && got.Changes[len(got.Changes)-1].Kind != x.want {
				t.Errorf("%+v, want %s", got, x.want)
			}
			since, err := c.ChangedSince(ctx, "Runa", day("2026-08-16"))
			check(t, err)
			if since == nil || since.Text() != got.Text() {
				t.Errorf("the assessment of that day says %+v, the decision %q", since, got.Text())
			}
			if faults, err := c.Verify(ctx, nil, false); err != nil || len(faults.Faults) > 0 {
				t.Errorf("verify: %v %v", faults, err)
			}
		})
	}
}

func check(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// What the weekly job said on a day is kept; where the book's policy or its data would say another thing
// now, that is said with the reason.
func TestWhatTheWeekSaidOnItsDay(t *testing.T) {
	ctx := context.Background()
	on := day("2026-08-30")
	const id = "id = \"tired-sign\""
	before, after, ok := strings.Cut(string(policy.DefaultText()), id)
	if !ok {
		t.Fatal("the policy has no rule tired-sign")
	}
	laxer, err := policy.Parse([]byte(before + id + strings.Replace(after, "threshold = 0\n", "threshold = 3\n", 1)))
	check(t, err)
	for _, x := range []struct {
		name   string
		happen func(t *testing.T, c *coach.Coach)
		want   string // "" for nothing
	}{
		{"nothing", func(*testing.T, *coach.Coach) {}, ""},
		{"another policy", func(_ *testing.T, c *coach.Coach) { c.Policy = laxer },
			"The policy has changed since (then " + hindsight.ShortPolicy(policy.Default().Digest()) + "): under today's, the recommendation is hold; that day it was ease."},
		{"entered on the same day", func(t *testing.T, c *coach.Coach) {
			check(t, coach.AddNote(ctx, c, "Runa", record.Note{Date: on, Entered: on, Symptoms: []signs.Sign{signs.Chest}}))
		}, "Worked out again from what the book holds for that day, the recommendation is "},
		{"entered later", func(t *testing.T, c *coach.Coach) {
			check(t, coach.AddNote(ctx, c, "Runa", record.Note{Date: on, Entered: on + 2, Symptoms: []signs.Sign{signs.Chest}}))
		}, "Changed afterwards: "},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			for _, d := range []string{"2026-08-24", "2026-08-26"} {
				check(t, coach.AddNote(ctx, c, "Runa", record.Note{Date: day(d), Entered: day(d), Symptoms: []signs.Sign{signs.UnusuallyTired}}))
				check(t, c.AddReport(ctx, "Runa", record.Report{Date: day(d), Entered: day(d), Minutes: 30, Sport: "walking"}, false))
			}
			_, err := c.Week(ctx, on, nil)
			check(t, err)
			x.happen(t, c)
			got, err := c.ChangedSince(ctx, "Runa", on)
			check(t, err)
			switch {
			case got == nil && x.want != "", got != nil && (x.want == "" || !strings.HasPrefix(got.Text(), x.want)):
				t.Errorf("%+v, want %q", got, x.want)
			}
			if other, err := c.ChangedSince(ctx, "Runa", on-7); other != nil || err != nil {
				t.Errorf("of a day of which nothing was kept: %+v, %v", other, err)
			}
		})
	}
}
