package progression_test

import (
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

func breakCases() []ruleCase {
	return []ruleCase{
		{"break", "seven days", story.Away(story.Ferry(5), 27, story.Never).Later(-3), "met"},
		{"break", "at seven days without a session", story.Away(story.Ferry(6), 25, story.Never).Later(-9), "met"},
		{"break", "eight days", story.Away(story.Ferry(6), 25, story.Never).Later(-8), "unmet"},
		{"break", "ended five days ago", story.Away(story.Ferry(6), 25, 35).Later(-1), "unmet"},
		{"break", "ended six days ago, so that the return ends today", story.Away(story.Ferry(6), 25, 35), "met"},
		{"break", "of two weeks and more, ended 12 days ago", story.Away(story.Ferry(7), 18, 35).Later(-1), "unmet"},
		{"break", "of two weeks and more, ended 13 days ago", story.Away(story.Ferry(7), 18, 35), "met"},
		{"break", "of five weeks, answered by a step back", story.Away(story.Intervals(9), 25, story.Never).Then(story.Decided(record.DoStepBack, 56, 1)), "unmet"},
		{"break", "of five weeks, answered by a step back, ended five days ago", story.Away(story.Intervals(9), 25, 57).Then(story.Decided(record.DoStepBack, 56, 1)), "unmet"},
		{"break", "of two weeks and more, ended by a check session", story.Away(story.Ferry(7), 18, 35).Each(func(_ int, d *story.Done) {
			if d.Day == story.Day(42) {
				d.Check = story.Num(2)
			}
		}).Later(-4), "met"},
		{"break", "of two weeks and more, a check session comes too early", story.Away(story.Ferry(7), 18, 35).Each(func(_ int, d *story.Done) {
			if d.Day == story.Day(37) {
				d.Check = story.Num(2)
			}
		}).Later(-4), "unmet"},
		{"break", "days before the stage began do not count", story.Without(story.Ferry(1)).Later(-1).Then(func(r *record.Record) {
			old := story.Ferry(1).Record().Recordings[0]
			old.Date, old.Received = story.Began-60, story.Began-60
			r.Recordings = append(r.Recordings, old)
		}), "met"},
		{"break", "no session ever", story.Without(story.Ferry(4)), "met"},
		{"break", "before the stage does not count", story.Ferry(1).Then(func(r *record.Record) {
			old := r.Recordings[0]
			old.ID, old.Date, old.Received = "old", story.Began-60, story.Began-60
			r.Recordings = append(r.Recordings, old)
		}), "met"},

		{"long-break", "at 28 days", story.Away(story.Intervals(8), 25, story.Never).Later(-2), "met"},
		{"long-break", "29 days", story.Away(story.Intervals(8), 25, story.Never).Later(-1), "unmet"},
		{"long-break", "30 days, back for a week", story.Away(story.Intervals(9), 25, 56), "unmet"},
		{"long-break", "30 days, back for four weeks", story.Away(story.Intervals(12), 25, 56).Later(1), "met"},
		{"long-break", "answered by a step back and still running", story.Away(story.Intervals(9), 25, story.Never).Then(story.Decided(record.DoAdvance, 26, 3)).Then(story.Decided(record.DoStepBack, 56, 2)), "met"},
		{"long-break", "still running 29 days after a step back", story.Away(story.Intervals(13), 25, story.Never).Then(story.Decided(record.DoAdvance, 26, 3)).Then(story.Decided(record.DoStepBack, 62, 2)), "unmet"},
		{"long-break", "answered by a step back", story.Away(story.Intervals(9), 25, 56).Then(story.Decided(record.DoAdvance, 26, 3)).Then(story.Decided(record.DoStepBack, 56, 2)), "met"},
	}
}

// TestBreaks holds the verdicts against the rule on breaks: up to 7 days nothing, 8-28 days a
// return, longer one stage down, over 12 weeks screening anew.
func TestBreaks(t *testing.T) {
	for _, c := range []struct {
		name    string
		story   *story.Story
		verdict record.Verdict
		plan    record.HoldPlan
	}{
		{"7 days", story.Away(story.Ferry(6), 25, story.Never).Later(-9), record.Hold, record.Repeat},
		{"8 days", story.Away(story.Ferry(6), 25, story.Never).Later(-8), record.Hold, record.Return},
		{"20 days in stage 2", story.Away(story.Intervals(7), 28, story.Never), record.Hold, record.Return},
		{"30 days in stage 1", story.Away(story.Ferry(8), 25, story.Never), record.Hold, record.Return},
		{"30 days in stage 2", story.Away(story.Intervals(8), 25, story.Never), record.StepBack, ""},
		{"84 days in stage 1", story.Away(story.Ferry(16), 25, story.Never).Later(-2), record.Hold, record.Return},
		{"85 days in stage 1", story.Away(story.Ferry(16), 25, story.Never).Later(-1), record.NotAssessable, ""},
		{"85 days and screened again", story.Away(story.Ferry(16), 25, story.Never).Later(-1).Who(func(c *record.Client) { c.Screening.On, c.Screening.Active = story.Day(100), false }), record.Hold, record.Return},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
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
		s := story.Intervals(26)
		if stage == 1 {
			s = story.Ferry(26)
		}
		s.Client.Stage = stage
		s.Client.Screening.On = story.Began + 60 // known well before the break
		from := rapid.IntRange(63, 76).Draw(t, "last day before")
		back := from + rapid.OneOf(rapid.IntRange(8, 18), rapid.IntRange(1, 32), rapid.IntRange(1, 100)).Draw(t, "days off")
		on := story.Day(rapid.OneOf(rapid.IntRange(back+5, back+16), rapid.IntRange(from, min(back+30, 180))).Draw(t, "day of the assessment"))
		r := story.Away(s, from, back).Record().Until(on)

		var last, first workout.Date // before the break, after it
		for _, x := range r.Recordings {
			if x.Date <= story.Day(from) {
				last = x.Date
			} else if first == 0 {
				first = x.Date
			}
		}
		off, since, running := int(first-last-1), int(on-first), false
		if first == 0 {
			off, running = int(on-last), true
		}
		goesOn := off > 7 && (running || since+1 < 7 || off >= 15 && since+1 < 14) // tomorrow
		down, tomorrow := stage > 1 && off > 28 && (running || since < 28), false
		if down && rapid.Bool().Draw(t, "the trainer has stepped the client back") {
			// The break stays one: the return goes on in the stage below.
			story.Decided(record.DoStepBack, int(rapid.IntRange(max(int(last)+29, int(on)-27), int(on)+1).Draw(t, "from")-int(story.Began)), stage-1)(&r)
			d := &r.Decisions[0]
			d.Entered, down, tomorrow = d.From-1, false, d.From > on
		}

		a := progression.Assess(defaults, on, r)
		p := prescription.Prescribe(defaults, on, r, a)
		planned := a.Plan != nil && *a.Plan == record.Return
		switch v := story.Verdict(a); {
		case tomorrow:
			// The day of a decision is still judged in the old stage; the week after it is in the new one.
			if v != record.StepBack || p.Stage != stage-1 || off > 84 && p.Sessions != 0 {
				t.Fatalf("%d days off: %s, %+v", off, a.Summary, p)
			}
		case down:
			// What nobody has decided on moves nobody, and nothing hard is prescribed.
			if v != record.StepBack || *a.To != stage-1 || p.Stage != stage || p.Intervals != nil {
				t.Fatalf("%d days off: %s, %+v", off, a.Summary, p)
			}
		case off > 84:
			if v != record.NotAssessable || p.Sessions != 0 {
				t.Fatalf("%d days off: %s, %+v", off, a.Summary, p)
			}
		case goesOn:
			if v != record.Hold || !planned {
				t.Fatalf("%d days off, %d days back: %s", off, since, a.Summary)
			}
		default:
			if planned || v == record.StepBack {
				t.Fatalf("%d days off, %d days back: %s", off, since, a.Summary)
			}
		}
		if down || off > 84 {
			return
		}
		if p.Reduced != goesOn || goesOn && off >= 15 && p.Intervals != nil {
			t.Fatalf("%d days off, %d days back: %+v", off, since, p)
		}
	})
}
