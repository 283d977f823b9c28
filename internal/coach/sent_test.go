package coach_test

import (
	"context"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// walked enters a week of three comfortable walks of a quarter of an hour more than the week before.
func walked(t *testing.T, c *coach.Coach, sunday workout.Date, minutes float64) {
	t.Helper()
	for _, d := range []workout.Date{sunday - 6, sunday - 4, sunday - 2} {
		r := record.Report{Date: d, Entered: sunday, Minutes: minutes, Sport: workout.Walking, RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: record.TalkComfortable}
		if err := c.AddReport(context.Background(), "Runa", r, false); err != nil {
			t.Fatal(err)
		}
	}
}

// prescribed is the message of the plan that stands on a day.
func prescribed(t *testing.T, c *coach.Coach, on workout.Date) string {
	t.Helper()
	w, _, err := c.Prescribe(context.Background(), "Runa", on)
	if err != nil {
		t.Fatal(err)
	}
	return w.Text()
}

// plans are the versions that the book holds of the week after a Sunday.
func plans(t *testing.T, c *coach.Coach, sunday workout.Date) []record.Prescription {
	t.Helper()
	return record.Keep(recordOf(t, c, "Runa", (sunday+30).String(), false).Prescriptions, func(p record.Prescription) bool { return p.From == sunday+1 })
}

// TestAPlanStaysAsSent: whichever command sends it first keeps it, and all of them say the same for the rest of the
// week, whatever has been walked since.
func TestAPlanStaysAsSent(t *testing.T) {
	ctx := context.Background()
	for name, send := range map[string]func(*coach.Coach) error{
		"the weekly job": func(c *coach.Coach) error { _, err := c.Week(ctx, sunday, nil); return err },
		"prescribe":      func(c *coach.Coach) error { _, _, err := c.Prescribe(ctx, "Runa", sunday); return err },
		"the pages": func(c *coach.Coach) error {
			s, err := c.Standings(ctx, []string{"Runa"}, sunday)
			if err == nil {
				_, err = c.Report(ctx, s, sunday, t.TempDir(), false)
			}
			return err
		},
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t)
			walked(t, c, sunday, 30)
			if err := send(c); err != nil {
				t.Fatal(err)
			}
			kept := plans(t, c, sunday)
			if len(kept) != 1 || kept[0].Sessions == 0 {
				t.Fatalf("kept: %+v", kept)
			}
			text := prescribed(t, c, sunday)
			walked(t, c, sunday+2, 45)
			for day := sunday; day <= sunday+5; day++ {
				if _, err := c.Week(ctx, day, nil); err != nil {
					t.Fatal(err)
				}
				if again := prescribed(t, c, day); again != text {
					t.Errorf("on %s:\n%s\nwas\n%s", day, again, text)
				}
			}
			if kept = plans(t, c, sunday); len(kept) != 1 {
				t.Errorf("versions without a reason: %+v", kept)
			}
			if prescribed(t, c, sunday+7) == text {
				t.Error("the week after has the plan of this one")
			}
		})
	}
}

// TestWhatReplacesAPlan at once, with the reason and what to delete; and what does not.
func TestWhatReplacesAPlan(t *testing.T) {
	ctx := context.Background()
	noted := func(s ...signs.Sign) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			return coach.AddNote(ctx, c, "Runa", record.Note{Date: sunday + 2, Entered: sunday + 2, Symptoms: s})
		}
	}
	wrote := func(text string) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			return coach.AddNote(ctx, c, "Runa", record.Note{Date: sunday + 2, Entered: sunday + 2, Text: text})
		}
	}
	decides := func(act record.Act) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			_, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: sunday + 2, Act: act, Because: "as agreed", By: "Ketil"})
			return err
		}
	}
	fact := func(change func(*record.Client)) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			r, err := c.Record(ctx, "Runa", sunday+2, false)
			if err != nil {
				return err
			}
			change(&r.Client)
			return c.SetClient(ctx, r.Client, sunday+2)
		}
	}
	for name, x := range map[string]struct {
		happens func(*coach.Coach) error
		why     record.Change
		some    bool // sessions are left
	}{
		"a grave sign":       {noted(signs.Chest), record.ForHealth, false},
		"a question":         {wrote("tight across the chest on the hill"), record.ForHealth, false},
		"a fever":            {noted(signs.Fever), record.ForHealth, true},
		"a pause":            {decides(record.DoPause), record.ByDecision, false},
		"an easier week":     {decides(record.DoEase), record.ByDecision, true},
		"a hold":             {decides(record.DoHold), "", true},
		"less time":          {fact(func(c *record.Client) { c.Days = 2 }), record.ForTime, true},
		"a slowing medicine": {fact(func(c *record.Client) { c.Medicine, c.Clearance = record.Slows, sunday }), record.ForZones, true},
		"a good night":       {wrote("slept well, lovely walk"), "", true},
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t)
			walked(t, c, sunday, 30)
			prescribed(t, c, sunday)
			if err := x.happens(c); err != nil {
				t.Fatal(err)
			}
			w, _, err := c.Prescribe(ctx, "Runa", sunday+2)
			if err != nil {
				t.Fatal(err)
			}
			var why record.Change
			for _, n := range w.Notes {
				if n.Code == record.Replaces {
					why = n.Why
				}
			}
			versions := plans(t, c, sunday)
			if why != x.why || len(versions) > 1 != (x.why != "") || (len(w.Sessions) > 0) != x.some {
				t.Fatalf("because %q, want %q; %d versions, %d sessions\n%s", why, x.why, len(versions), len(w.Sessions), w.Text())
			}
			for _, s := range w.Sessions {
				if x.why != "" && s.Day <= sunday+2 {
					t.Errorf("a session on %s is prescribed on %s", s.Day, sunday+2)
				}
			}
			if again := prescribed(t, c, sunday+3); again != w.Text() {
				t.Errorf("a day later:\n%s\nwas\n%s", again, w.Text())
			}
		})
	}
}

// TestAPauseWithinTheWeekThatWasSent: the sessions of its days leave the plan, and the others stay.
func TestAPauseWithinTheWeekThatWasSent(t *testing.T) {
	ctx := context.Background()
	for _, decided := range []workout.Date{sunday, sunday + 1} {
		c := open(t)
		walked(t, c, sunday, 30)
		prescribed(t, c, sunday)
		if _, err := c.Decide(ctx, record.Decision{Client: "Runa", Entered: decided, Act: record.DoPause, From: sunday + 3, To: sunday + 6, Because: "away", By: "Ketil"}); err != nil {
			t.Fatal(err)
		}
		w, _, err := c.Prescribe(ctx, "Runa", decided)
		replaced := slices.ContainsFunc(w.Notes, func(n record.PlanNote) bool { return n.Code == record.Replaces && n.Why == record.ByDecision })
		if err != nil || len(w.Sessions) == 0 || !replaced {
			t.Fatalf("decided on %s: %v, %+v\n%s", decided, err, w.Notes, w.Text())
		}
		for _, s := range w.Sessions {
			if s.Day >= sunday+3 && s.Day <= sunday+6 {
				t.Errorf("decided on %s: a session on %s, in the pause", decided, s.Day)
			}
		}
	}
}

// TestLookingBackChangesNothing: a plan for a day before the last one is shown and not kept.
func TestLookingBackChangesNothing(t *testing.T) {
	c := open(t)
	walked(t, c, sunday, 30)
	prescribed(t, c, sunday)
	prescribed(t, c, sunday-7)
	if kept := plans(t, c, sunday-7); len(kept) != 0 {
		t.Errorf("%+v", kept)
	}
}

// TestTheCalendarOfAPlan is the same a day later, byte for byte.
func TestTheCalendarOfAPlan(t *testing.T) {
	c := open(t)
	walked(t, c, sunday, 30)
	path := filepath.Join(t.TempDir(), "week.ics")
	for day, want := range []coach.Before{coach.New, coach.Unchanged} {
		w, _, err := c.Prescribe(context.Background(), "Runa", sunday+workout.Date(day))
		if err != nil {
			t.Fatal(err)
		}
		if f, err := coach.WriteCalendar(w, sunday.Noon(time.UTC), path); err != nil || f.Was != want {
			t.Errorf("day %d: %s, %v", day, f.Was, err)
		}
	}
}
