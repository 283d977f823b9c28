package coach_test

import (
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// A clearance covers what was on record when it was entered, or is entered with it: what was added later on the same day
// needs it once more, and a day that is moved back needs who said so (common practice, no source).
func TestAClearanceCoversOnlyFactsKnownThen(t *testing.T) {
	day0, today := day("2026-08-31"), day("2026-09-01")
	for _, x := range []struct {
		name    string
		steps   []coach.Facts // entered today, in this order
		covered bool
	}{
		{"the fact first", []coach.Facts{{"conditions": "pregnant"}, {"clearance": "2026-09-01"}}, true},
		{"both at once", []coach.Facts{{"conditions": "pregnant", "clearance": "2026-09-01"}}, true},
		{"the clearance first", []coach.Facts{{"clearance": "2026-09-01"}, {"conditions": "pregnant"}}, false},
		{"a disease after it", []coach.Facts{{"clearance": "2026-09-01"}, {"disease": "heart"}}, false},
		{"a medicine after it", []coach.Facts{{"clearance": "2026-09-01"}, {"medicine": "slows"}}, false},
		{"a dose after it", []coach.Facts{{"medicine": "slows"}, {"clearance": "2026-09-01"}, {"dose_change": "2026-09-01"}}, false},
		{"entered once more", []coach.Facts{{"clearance": "2026-09-01"}, {"conditions": "pregnant"}, {"clearance": "2026-09-01"}}, true},
		{"something else in between", []coach.Facts{{"clearance": "2026-09-01"}, {"conditions": "pregnant"}, {"goal": "stairs"}, {"conditions": "pregnant"}}, false},
		{"taken off again", []coach.Facts{{"disease": "heart"}, {"clearance": "2026-09-01"}, {"conditions": "pregnant"}, {"conditions": "none"}}, true},
		{"of another kind", []coach.Facts{{"clearance": "2026-09-01"}, {"conditions": "asthma"}}, true},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"stage": "2"}, day0); err != nil {
				t.Fatal(err)
			}
			for _, f := range x.steps {
				if _, err := c.ChangeClient(t.Context(), "Runa", f, today); err != nil {
					t.Fatal(err)
				}
			}
			if got := clientOf(t, c).Covered(); got != x.covered {
				t.Errorf("covered: %v, want %v", got, x.covered)
			}
		})
	}
	for name, x := range map[string]struct{ first, then coach.Facts }{
		"a day moved back":  {coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "pregnant", coach.From: "2026-07-20"}},
		"a dose taken off":  {coach.Facts{"medicine": "slows", coach.From: "2026-07-01", "dose_change": "2026-08-20"}, coach.Facts{"dose_change": "none"}},
		"a dose moved back": {coach.Facts{"medicine": "slows", coach.From: "2026-07-01", "dose_change": "2026-08-20"}, coach.Facts{"dose_change": "2026-07-02"}},
	} {
		t.Run(name, func(t *testing.T) {
			c := open(t)
			for _, f := range []coach.Facts{{"clearance": "2026-08-01"}, x.first} {
				if _, err := c.ChangeClient(t.Context(), "Runa", f, day0); err != nil {
					t.Fatal(err)
				}
			}
			if _, err := c.ChangeClient(t.Context(), "Runa", x.then, today); wrongFields(err) != "because" {
				t.Errorf("without who said so: %v", err)
			}
			x.then[coach.Because] = "the clinic's letter of 20 July"
			if got, err := c.ChangeClient(t.Context(), "Runa", x.then, today); err != nil || !got.Covered() || len(got.Withdrawn) != 1 {
				t.Errorf("with who said so: %+v, %v", got.Withdrawn, err)
			}
		})
	}
}

// A doctor who cleared a client before a pregnancy, a disease or a medicine knew nothing of it (Riebe 2015 asks for a
// clearance again when the state of health has changed; common practice for the rest, no source).
func TestAClearanceFromBeforeAFactDoesNotCoverIt(t *testing.T) {
	cleared, today := day("2026-08-01"), day("2026-09-01")
	for _, x := range []struct {
		name  string
		first coach.Facts
		then  coach.Facts
		since workout.Date
	}{
		{"pregnant", nil, coach.Facts{"conditions": "pregnant"}, today},
		{"a known day", nil, coach.Facts{"conditions": "pregnant", coach.From: "2026-08-20"}, day("2026-08-20")},
		{"one condition more", coach.Facts{"conditions": "insulin", "clearance": "2026-08-01"}, coach.Facts{"conditions": "insulin,pacemaker"}, today},
		{"one condition less", coach.Facts{"conditions": "insulin,pacemaker", "clearance": "2026-08-01"}, coach.Facts{"conditions": "insulin"}, 0},
		{"asthma", nil, coach.Facts{"conditions": "asthma"}, 0},
		{"disease", nil, coach.Facts{"disease": "heart"}, today},
		{"another disease", coach.Facts{"disease": "renal", "clearance": "2026-08-01"}, coach.Facts{"disease": "heart"}, today},
		{"the same disease", coach.Facts{"disease": "heart", "clearance": "2026-08-01"}, coach.Facts{"disease": "heart", "goal": "stairs"}, 0},
		{"medicine", nil, coach.Facts{"medicine": "slows"}, today},
		{"entered with its clearance", nil, coach.Facts{"medicine": "slows", "clearance": "2026-08-01"}, 0},
		{"a changed dose", coach.Facts{"medicine": "slows", "clearance": "2026-08-01"}, coach.Facts{"dose_change": "2026-08-28"}, day("2026-08-28")},
		{"typed again", coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "pregnant"}, today},
		{"typed again, dated before", coach.Facts{"conditions": "pregnant", coach.From: "2026-08-20"}, coach.Facts{"conditions": "pregnant"}, day("2026-08-20")},
		{"dated anew", coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "pregnant", coach.From: "2026-07-20"}, day("2026-07-20")},
		{"another fact after it", coach.Facts{"disease": "heart"}, coach.Facts{"goal": "stairs"}, today},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"disease": "none", "medicine": "none", "conditions": "none", "clearance": cleared.String()}, today); err != nil {
				t.Fatal(err)
			}
			if x.first != nil {
				if _, err := c.ChangeClient(t.Context(), "Runa", x.first, today); err != nil {
					t.Fatal(err)
				}
			}
			got, err := c.ChangeClient(t.Context(), "Runa", x.then, today)
			if err != nil {
				t.Fatal(err)
			}
			if since := got.CareSince(); since != x.since {
				t.Errorf("in a doctor's care since %v, want %v", since, x.since)
			}
		})
	}
}

// A clearance answers the referrals that were on record when it was entered, by their days; one that is made after it, if on
// the same day, stands until there is another, or a hold takes it back.
func TestAReferralAfterTheClearanceStands(t *testing.T) {
	day0 := day("2026-09-01")
	refer := func(on workout.Date) func(*coach.Coach) error {
		return func(c *coach.Coach) error {
			_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: on, Act: record.DoRefer, Because: "looks unwell", By: "Corvane"})
			return err
		}
	}
	hold := func(c *coach.Coach) error {
		_, err := c.Decide(t.Context(), record.Decision{Client: "Runa", Entered: day0, Act: record.DoHold, Because: "a mix-up", By: "Corvane"})
		return err
	}
	clear := func(c *coach.Coach) error {
		_, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"clearance": day0.String()}, day0)
		return err
	}
	for name, x := range map[string]struct {
		steps  []func(*coach.Coach) error
		trains bool
	}{
		"cleared that day":             {[]func(*coach.Coach) error{refer(day0), clear}, true},
		"cleared the day after":        {[]func(*coach.Coach) error{refer(day0 - 1), clear}, true},
		"after the clearance":          {[]func(*coach.Coach) error{clear, refer(day0)}, false},
		"after it, for the day before": {[]func(*coach.Coach) error{clear, refer(day0 - 1)}, false},
		"and cleared once more":        {[]func(*coach.Coach) error{clear, refer(day0), clear}, true},
		"and taken back":               {[]func(*coach.Coach) error{clear, refer(day0), hold}, true},
		"twice":                        {[]func(*coach.Coach) error{refer(day0 - 1), clear, refer(day0)}, false},
	} {
		c := open(t)
		for _, step := range x.steps {
			if err := step(c); err != nil {
				t.Fatal(name, err)
			}
		}
		if got := sessionsOf(t, c, "Runa", "2026-09-02") > 0; got != x.trains {
			t.Errorf("%s: trains: %v, want %v", name, got, x.trains)
		}
	}
}

// TestTheLastStageWithoutClearance: where only comfortable sessions are planned, nobody reads "keep it up", and no bouts are
// wanted.
func TestTheLastStageWithoutClearance(t *testing.T) {
	on := day("2026-09-20")
	c := open(t)
	if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"stage": "3", "since": on.String()}, on); err != nil {
		t.Fatal(err)
	}
	for _, cleared := range []bool{true, false} {
		if !cleared {
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"conditions": "pregnant"}, on+1); err != nil {
				t.Fatal(err)
			}
		}
		s, err := c.WeekOf(t.Context(), "Runa", on+20)
		if err != nil {
			t.Fatal(err)
		}
		said := reasons.Paragraph(s.Assessment.Summary)
		if missing := strings.Contains(said, "clearance is missing: comfortable sessions only"); missing == cleared {
			t.Errorf("cleared %v: %s", cleared, said)
		}
		for _, lack := range s.Assessment.Lacking {
			if text := reasons.Text(lack.Needed); !cleared && strings.Contains(text, "interval") {
				t.Errorf("%s: %s", lack.Rule, text)
			}
		}
	}
}
