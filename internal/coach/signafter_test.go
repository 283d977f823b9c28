package coach_test

import (
	"html"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/reports"
)

// sessionsOf counts the sessions of a client's next week.
func sessionsOf(t *testing.T, c *coach.Coach, who, on string) int {
	t.Helper()
	w, _, err := c.Prescribe(t.Context(), who, day(on))
	if err != nil {
		t.Fatal(err)
	}
	return len(w.Sessions)
}

// A clearance ends the signs that were on record when it was entered: of what came to light later, also of the same
// day or of one before, the doctor may not have known (common practice, no source).
func TestAClearanceEndsOnlySignsKnownThen(t *testing.T) {
	today := day("2026-09-01")
	for _, x := range []struct {
		name, first, then string // the days of a sign before and after the clearance of 31 August is entered; "" for none
		text              string // of the later note, instead of a named sign
		trains            bool
	}{
		{"a sign before it", "2026-08-30", "", "", true},
		{"a sign of that day before it", "2026-08-31", "", "", true},
		{"a sign of that day after it", "", "2026-08-31", "", false},
		{"an earlier sign that came to light after it", "", "2026-08-25", "", false},
		{"both", "2026-08-30", "2026-08-31", "", false},
		{"words of that day after it", "", "2026-08-31", "my chest felt like concrete on the hill", false},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			note := func(on, text string) {
				if on == "" {
					return
				}
				e := coach.NoteEntry{Date: day(on), Symptoms: "faint", By: "Marit"}
				if text != "" {
					e.Symptoms, e.Text = "", text
				}
				if _, _, err := c.EnterNote(t.Context(), "Runa", e, today); err != nil {
					t.Fatal(err)
				}
			}
			clear := func() {
				if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"clearance": "2026-08-31"}, today); err != nil {
					t.Fatal(err)
				}
			}
			note(x.first, "")
			clear()
			note(x.then, x.text)
			if got := sessionsOf(t, c, "Runa", "2026-09-01") > 0; got != x.trains {
				t.Errorf("trains: %v, want %v", got, x.trains)
			}
			if clear(); sessionsOf(t, c, "Runa", "2026-09-01") == 0 {
				t.Error("the clearance, entered once more with all of it on record, ends nothing")
			}
		})
	}
}

// A sign found at screening stays on record when the answers are entered anew without it: only a clearance ends it, or
// the word of somebody who asked about that day.
func TestNewScreeningKeepsTheSignsOfTheOld(t *testing.T) {
	for name, again := range map[string]coach.Facts{
		"signs alone":     {"signs": "none"},
		"a new screening": {"signs": "none", "screened": "2026-09-01"},
		"milder signs":    {"signs": "sore"},
		"another sign":    {"signs": "dizzy"},
		"an earlier day":  {"screened": "2026-07-01"},
	} {
		t.Run(name, func(t *testing.T) {
			c, today := open(t), day("2026-09-01")
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"signs": "chest", "clearance": "2026-07-10"}, today); err != nil {
				t.Fatal(err)
			}
			if _, err := c.ChangeClient(t.Context(), "Runa", again, today); err != nil {
				t.Fatal(err)
			}
			r, err := c.Record(t.Context(), "Runa", today, false)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Contains(r.OpenSigns(), record.OpenSign{On: day("2026-07-30"), Sign: signs.Chest}) {
				t.Errorf("open signs: %v", r.OpenSigns())
			}
			if sessionsOf(t, c, "Runa", "2026-09-01") > 0 {
				t.Error("the client is sent to train")
			}
		})
	}
	t.Run("cleared in between", func(t *testing.T) {
		c, today := open(t), day("2026-09-01")
		for _, f := range []coach.Facts{{"signs": "chest"}, {"clearance": "2026-08-20"}, {"signs": "none", "screened": "2026-09-01"}} {
			if _, err := c.ChangeClient(t.Context(), "Runa", f, today); err != nil {
				t.Fatal(err)
			}
		}
		if sessionsOf(t, c, "Runa", "2026-09-01") == 0 {
			t.Error("the sign came back after a clearance")
		}
	})
	t.Run("asked", func(t *testing.T) {
		c, today := open(t), day("2026-09-01")
		for _, f := range []coach.Facts{{"signs": "chest"}, {"signs": "none"}} {
			if _, err := c.ChangeClient(t.Context(), "Runa", f, today); err != nil {
				t.Fatal(err)
			}
		}
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: day("2026-07-30"), Symptoms: "none", By: "Marit"}, today); err != nil {
			t.Fatal(err)
		}
		if sessionsOf(t, c, "Runa", "2026-09-01") == 0 {
			t.Error("nothing takes a mistaken sign back")
		}
	})
}

// A page as of a day before a sign looks back, but its week may lie ahead: it shows no plan that nobody would send now.
func TestPagesOfEarlierDaysShowNoPlanThatASignHasStopped(t *testing.T) {
	for name, later := range map[string]func(*coach.Coach) error{
		"a sign": func(c *coach.Coach) error {
			_, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: day("2026-09-06"), Symptoms: "chest"}, day("2026-09-06"))
			return err
		},
		"a sign at screening": func(c *coach.Coach) error {
			_, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"signs": "faint"}, day("2026-09-06"))
			return err
		},
		"nothing": nil,
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t)
			if later != nil {
				check(t, later(c))
			}
			all, err := c.Standings(t.Context(), []string{"Runa"}, day("2026-09-05"))
			check(t, err)
			page, err := c.Page(t.Context(), all[0])
			check(t, err)
			if shown := page.Next != nil && page.Next.Sessions > 0; shown != (later == nil) {
				t.Errorf("a plan is shown: %v", shown)
			}
			progress, err := reports.Progress(page)
			check(t, err)
			text, says := reports.ProgressText(page), "Don't train until you have spoken to your trainer"
			if stopped := later != nil; stopped != strings.Contains(html.UnescapeString(string(progress)), says) || stopped != strings.Contains(text, says) {
				t.Errorf("the client reads: %s", text)
			}
			trainers := decisionPage(t, c, day("2026-09-05"))
			if trainers != "" && (later != nil) != strings.Contains(trainers, "came to light after 5 September 2026") {
				t.Error("the trainer does not read why there is no plan")
			}
		})
	}
}
