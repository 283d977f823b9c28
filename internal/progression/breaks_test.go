package progression_test

import (
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// away leaves out the sessions from one on; the last one before was on the day it names.
func away(s *story, last, back int) *story {
	return s.each(func(_ int, d *done) { d.skip = d.day > day(last) && d.day < day(back) })
}

// never is later than every session of a story.
const never = 10000

func breakCases() []ruleCase {
	return []ruleCase{
		{"break", "seven days", away(ferry(5), 27, never).later(-3), "met"},
		{"break", "at seven days without a session", away(ferry(6), 25, never).later(-9), "met"},
		{"break", "eight days", away(ferry(6), 25, never).later(-8), "unmet"},
		{"break", "ended six days ago", away(ferry(6), 25, 35), "unmet"},
		{"break", "ended seven days ago", away(ferry(6), 25, 35).later(1), "met"},
		{"break", "of two weeks and more, ended 13 days ago", away(ferry(7), 18, 35), "unmet"},
		{"break", "of two weeks and more, ended 14 days ago", away(ferry(7), 18, 35).later(1), "met"},
		{"break", "of two weeks and more, ended by a check session", away(ferry(7), 18, 35).each(func(_ int, d *done) {
			if d.day == day(42) {
				d.check = num(2)
			}
		}).later(-4), "met"},
		{"break", "of two weeks and more, a check session comes too early", away(ferry(7), 18, 35).each(func(_ int, d *done) {
			if d.day == day(37) {
				d.check = num(2)
			}
		}).later(-4), "unmet"},
		{"break", "days before the stage began do not count", without(ferry(1)).later(-1).then(func(r *progression.Record) {
			old := ferry(1).record().Recordings[0]
			old.Date, old.Received = began-60, began-60
			r.Recordings = append(r.Recordings, old)
		}), "met"},
		{"break", "no session ever", without(ferry(4)), "met"},
		{"break", "before the stage does not count", ferry(1).then(func(r *progression.Record) {
			old := r.Recordings[0]
			old.ID, old.Date, old.Received = "old", began-60, began-60
			r.Recordings = append(r.Recordings, old)
		}), "met"},

		{"long-break", "at 28 days", away(intervals(8), 25, never).later(-2), "met"},
		{"long-break", "29 days", away(intervals(8), 25, never).later(-1), "unmet"},
		{"long-break", "30 days, back for a week", away(intervals(9), 25, 56), "unmet"},
		{"long-break", "30 days, back for four weeks", away(intervals(12), 25, 56).later(1), "met"},
		{"long-break", "answered by a step back", away(intervals(9), 25, 56).then(decided(progression.DoAdvance, 26, 3)).then(decided(progression.DoStepBack, 56, 2)), "met"},
	}
}

// TestBreaks holds the verdicts against the rule on breaks: up to 7 days nothing, 8-28 days a
// return, longer one stage down, over 12 weeks screening anew.
func TestBreaks(t *testing.T) {
	for _, c := range []struct {
		name    string
		story   *story
		verdict progression.Verdict
		plan    progression.HoldPlan
	}{
		{"7 days", away(ferry(6), 25, never).later(-9), progression.Hold, progression.Repeat},
		{"8 days", away(ferry(6), 25, never).later(-8), progression.Hold, progression.Return},
		{"20 days in stage 2", away(intervals(7), 28, never), progression.Hold, progression.Return},
		{"30 days in stage 1", away(ferry(8), 25, never), progression.Hold, progression.Return},
		{"30 days in stage 2", away(intervals(8), 25, never), progression.StepBack, ""},
		{"84 days in stage 1", away(ferry(16), 25, never).later(-2), progression.Hold, progression.Return},
		{"85 days in stage 1", away(ferry(16), 25, never).later(-1), progression.NotAssessable, ""},
		{"85 days and screened again", away(ferry(16), 25, never).later(-1).who(func(c *progression.Client) { c.Screening.On = day(100) }), progression.Hold, progression.Return},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.story.assess()
			if *a.Verdict != c.verdict || c.plan != "" && (a.Plan == nil || *a.Plan != c.plan) {
				t.Errorf("verdict %s, plan %v: %s", *a.Verdict, a.Plan, a.Summary)
			}
		})
	}
}

// TestBreaksApplyOnReturn holds every length of a break and every day of the return, in every stage,
// against the rules in words: up to 7 days nothing; 8-14 days one week of return, from 15 days two, all
// comfortable; over 28 days one stage down where there is one, for four weeks; over 84 days screening
// anew. Nobody moves up before the return is over.
func TestBreaksApplyOnReturn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stage := rapid.IntRange(1, 3).Draw(t, "stage")
		s := intervals(26)
		if stage == 1 {
			s = ferry(26)
		}
		s.client.Stage = stage
		s.client.Screening.On = began + 60 // known well before the break
		from := rapid.IntRange(63, 76).Draw(t, "last day before")
		back := from + rapid.OneOf(rapid.IntRange(8, 18), rapid.IntRange(1, 32), rapid.IntRange(1, 100)).Draw(t, "days off")
		on := day(rapid.OneOf(rapid.IntRange(back+5, back+16), rapid.IntRange(from, min(back+30, 180))).Draw(t, "day of the assessment"))
		r := away(s, from, back).record().Until(on)

		var last, first workout.Date // before the break, after it
		for _, x := range r.Recordings {
			if x.Date <= day(from) {
				last = x.Date
			} else if first == 0 {
				first = x.Date
			}
		}
		off, since, running := int(first-last-1), int(on-first), false
		if first == 0 {
			off, running = int(on-last), true
		}
		returning := off > 7 && (running || since < 7 || off >= 15 && since < 14)
		down := stage > 1 && off > 28 && (running || since < 28)

		a := policy.Assess(on, r)
		p := policy.Prescribe(on, r, a)
		planned := a.Plan != nil && *a.Plan == progression.Return
		switch v := verdict(a); {
		case down:
			if v != progression.StepBack || *a.To != stage-1 || p.Stage != stage-1 {
				t.Fatalf("%d days off: %s, %+v", off, a.Summary, p)
			}
		case off > 84:
			if v != progression.NotAssessable || p.Sessions != 0 {
				t.Fatalf("%d days off: %s, %+v", off, a.Summary, p)
			}
		case returning:
			if v != progression.Hold || !planned {
				t.Fatalf("%d days off, %d days back: %s", off, since, a.Summary)
			}
		default:
			if planned || v == progression.StepBack {
				t.Fatalf("%d days off, %d days back: %s", off, since, a.Summary)
			}
		}
		if down || off > 84 {
			return
		}
		goesOn := off > 7 && (running || since+1 < 7 || off >= 15 && since+1 < 14)
		if p.Reduced != goesOn || goesOn && off >= 15 && p.Intervals != nil {
			t.Fatalf("%d days off, %d days back: %+v", off, since, p)
		}
	})
}
