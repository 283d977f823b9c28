package coach_test

import (
	"html"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
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

// A sign that is entered among the answers of an old screening is new all the same: a clearance from before does not end it,
// one that is entered with it does. Without a day nobody could say what comes first.
func TestASignAddedToAnOldScreeningIsNew(t *testing.T) {
	today := day("2026-09-01")
	for name, x := range map[string]struct {
		first, then coach.Facts
		trains      bool
	}{
		"after the clearance":    {coach.Facts{"clearance": "2026-08-20"}, coach.Facts{"signs": "chest"}, false},
		"typed with its day":     {coach.Facts{"clearance": "2026-08-20"}, coach.Facts{"signs": "dizzy", "screened": "2026-08-01"}, false},
		"beside one cleared":     {coach.Facts{"signs": "dizzy", "clearance": "2026-08-20"}, coach.Facts{"signs": "dizzy,faint"}, false},
		"the same again":         {coach.Facts{"signs": "dizzy", "clearance": "2026-08-20"}, coach.Facts{"signs": "dizzy"}, true},
		"a mild one":             {coach.Facts{"clearance": "2026-08-20"}, coach.Facts{"signs": "sore"}, true},
		"with its own clearance": {coach.Facts{"clearance": "2026-08-20"}, coach.Facts{"signs": "chest", "clearance": "2026-08-30"}, true},
	} {
		c := open(t)
		for _, f := range []coach.Facts{x.first, x.then} {
			if _, err := c.ChangeClient(t.Context(), "Runa", f, today); err != nil {
				t.Fatal(err)
			}
		}
		if got := sessionsOf(t, c, "Runa", "2026-09-01") > 0; got != x.trains {
			t.Errorf("%s: trains: %v, want %v", name, got, x.trains)
		}
	}
	c := open(t)
	if _, err := c.EnterClient(t.Context(), "Sunniva", coach.Facts{"born": "1984-03-12", "signs": "chest"}, today); wrongFields(err) != "screened" {
		t.Errorf("without the day of the screening: %v", err)
	}
}

// A note that holds training back is not undone on a later day: the answer takes it back, with the day and who asked.
func TestASignIsAnsweredAndNotUndone(t *testing.T) {
	first := day("2026-09-01")
	for _, x := range []struct {
		name   string
		e      coach.NoteEntry
		later  workout.Date
		undone bool
	}{
		{"a sign, the same day", coach.NoteEntry{Symptoms: "chest"}, 0, true},
		{"a sign", coach.NoteEntry{Symptoms: "chest"}, 1, false},
		{"a sign in words", coach.NoteEntry{Text: "had chest pain on the hill"}, 3, false},
		{"words that may be one", coach.NoteEntry{Text: "my chest felt like concrete on the hill"}, 3, false},
		{"a doctor's word", coach.NoteEntry{Symptoms: "told-not-to-train"}, 3, false},
		{"a fever", coach.NoteEntry{Symptoms: "fever"}, 1, false},
		{"a fever that is over", coach.NoteEntry{Symptoms: "fever"}, 30, true},
		{"sore", coach.NoteEntry{Symptoms: "sore"}, 1, true},
		{"nothing", coach.NoteEntry{Text: "windy on the quay"}, 1, true},
	} {
		c := open(t)
		n, _, err := c.EnterNote(t.Context(), "Runa", x.e, first)
		check(t, err)
		if err := c.Withdraw(t.Context(), "Runa", n.ID, "typed for somebody else", first+x.later); x.undone != (err == nil) {
			t.Errorf("%s: %v", x.name, err)
		}
		if x.undone {
			continue
		}
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: first, Symptoms: "none", By: "Marit"}, first+x.later); err != nil {
			t.Fatal(err)
		}
		check(t, c.Withdraw(t.Context(), "Runa", n.ID, "typed for somebody else", first+x.later))
	}
}

// A sign on a later day answers a question about an earlier one, but not once it is taken back: nobody has asked about the
// first day then.
func TestASignThatIsTakenBackAnswersNothing(t *testing.T) {
	c, first := open(t), day("2026-08-28")
	for i, x := range []struct {
		e    coach.NoteEntry
		open int
	}{
		{coach.NoteEntry{Date: first, Text: "my chest felt like concrete on the hill"}, 1},
		{coach.NoteEntry{Date: first + 2, Symptoms: "chest"}, 0},
		{coach.NoteEntry{Date: first + 2, Symptoms: "none", By: "Marit"}, 1},
		{coach.NoteEntry{Date: first, Symptoms: "none", By: "Marit"}, 0},
	} {
		if _, _, err := c.EnterNote(t.Context(), "Runa", x.e, first+3); err != nil {
			t.Fatal(err)
		}
		if open := recordOf(t, c, "Runa", "2026-09-01", false).Unanswered(); len(open) != x.open {
			t.Errorf("after note %d: %v", i+1, open)
		}
	}
}

// That there was no sign answers nothing that is typed after it, though it counts as entered on an earlier day.
func TestNoSignAnswersNothingThatComesLater(t *testing.T) {
	yesterday := day("2026-08-31")
	for _, e := range []coach.NoteEntry{{Symptoms: "dizzy"}, {Text: "my chest felt like concrete on the hill"}} {
		c := open(t)
		e.Date, e.Backlog = yesterday, true
		for _, x := range []coach.NoteEntry{{Date: yesterday, Symptoms: "none", By: "Marit"}, e} {
			if _, _, err := c.EnterNote(t.Context(), "Runa", x, yesterday+1); err != nil {
				t.Fatal(err)
			}
		}
		if n := sessionsOf(t, c, "Runa", "2026-09-01"); n > 0 {
			t.Errorf("%+v: %d sessions", e, n)
		}
		if _, _, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Date: yesterday, Symptoms: "none", By: "Marit"}, yesterday+1); err != nil {
			t.Fatal(err)
		}
		if n := sessionsOf(t, c, "Runa", "2026-09-01"); n == 0 {
			t.Errorf("%+v: the answer takes nothing back", e)
		}
	}
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
