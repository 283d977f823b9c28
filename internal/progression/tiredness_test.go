package progression_test

import (
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"testing"
)

// tiring raises the effort of the last two sessions, at the same load.
func tiring(e float64) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		if i >= 10 {
			d.Rpe = story.RPE20(e)
		}
	}
}

func tirednessCases() []ruleCase {
	sleepless := story.Note(24, signs.PoorSleep)
	return []ruleCase{
		{"resting", "at +5 bpm", story.Ferry(4).Then(story.Rested(60, 65)), "met"},
		{"resting", "+5.1 bpm", story.Ferry(4).Then(story.Rested(60, 65.1)), "unmet"},
		{"resting", "+4.9 bpm", story.Ferry(4).Then(story.Rested(60, 64.9)), "met"},
		{"resting", "against the one on record", story.Ferry(4).Who(func(c *record.Client) { c.Zones[0].HRRest = 60 }).Then(story.Mornings(66, 22, 24, 26)), "unmet"},
		{"resting", "two mornings", story.Ferry(4).Then(story.Mornings(60, 1, 5, 9)).Then(story.Mornings(70, 22, 24)), "untold"},
		{"resting", "nothing to compare with", story.Ferry(4).Then(story.Mornings(70, 22, 24, 26)), "untold"},

		{"tired-sign", "seven days ago", story.Ferry(4).Then(story.Note(20, signs.Sore)), "met"},
		{"tired-sign", "six days ago", story.Ferry(4).Then(story.Note(21, signs.Sore)), "unmet"},
		{"tired-sign", "a word that is not known", story.Ferry(4).Then(story.Note(26, "grumpy")), "met"},
		{"tired-sign", "in the screening of today", story.Ferry(4).Who(func(c *record.Client) {
			c.Screening.On, c.Screening.Signs = story.Day(27), []signs.Sign{signs.UnusuallyTired}
		}), "unmet"},

		{"illness", "nine days ago", story.Ferry(4).Then(story.Note(18, signs.Fever)), "met"},
		{"illness", "eight days ago", story.Ferry(4).Then(story.Note(19, signs.Fever)), "unmet"},
		{"illness", "a chest illness today", story.Ferry(4).Then(story.Note(27, signs.ChestIllness)), "unmet"},
		{"illness", "none", story.Ferry(4), "met"},
		{"illness", "long ago", story.Ferry(6).Then(story.Note(2, signs.Fever)), "met"},

		{"tiredness", "a report alone", story.Ferry(4).Then(sleepless), "met"},
		{"tiredness", "a heart rate alone", story.Ferry(4).Then(story.Rested(60, 70)), "met"},
		{"tiredness", "both", story.Ferry(4).Then(story.Rested(60, 70)).Then(sleepless), "unmet"},
		{"tiredness", "both, the report 14 days ago", story.Ferry(4).Then(story.Rested(60, 70)).Then(story.Note(13, signs.PoorSleep)), "met"},
		{"tiredness", "both, the report 13 days ago", story.Ferry(4).Then(story.Rested(60, 70)).Then(story.Note(14, signs.PoorSleep)), "unmet"},
		{"tiredness", "sore is no report", story.Ferry(4).Then(story.Rested(60, 70)).Then(story.Note(24, signs.Sore)), "met"},
		{"tiredness", "poor sleep and a higher heart rate at the same effort", story.Ferry(4).Each(beating(130, 140)).Then(sleepless), "unmet"},
		{"tiredness", "poor sleep and a lower heart rate at the same effort", story.Ferry(4).Each(beating(130, 120)).Then(sleepless), "met"},
		{"tiredness", "poor sleep and a smaller fall", story.Ferry(4).Each(falling(32, 20)).Then(sleepless), "unmet"},
		{"tiredness", "poor sleep and a larger fall", story.Ferry(4).Each(falling(32, 45)).Then(sleepless), "met"},
		{"tiredness", "effort +2 and a lower heart rate", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i >= 9 {
				d.Effort = story.Num(110)
			}
		}).Each(tiring(14)), "unmet"},
		{"tiredness", "effort +1.9 and a lower heart rate", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i >= 9 {
				d.Effort = story.Num(110)
			}
		}).Each(tiring(13.9)), "met"},
		{"tiredness", "hard bouts after the same load are no more effort at it", story.Intervals(4).Each(func(i int, d *story.Done) {
			if i >= 9 {
				d.Effort = story.Num(110)
			}
			if d.Bouts > 0 && i >= 6 {
				d.Rpe = story.RPE20(17)
			}
		}), "met"},
		{"tiredness", "14 after 4 on the other scale", story.Ferry(4).Each(func(i int, d *story.Done) {
			d.Rpe = story.RPE10(4)
			if i >= 9 {
				d.Effort, d.Rpe = story.Num(110), story.RPE20(14)
			}
		}), "met"},
		{"tiredness", "lower heart rate without a report", story.Ferry(4).Each(beating(130, 100)), "met"},

		{"tiredness-again", "once", story.Intervals(8).Then(weary(50)), "met"},
		{"tiredness-again", "again after three weeks", story.Intervals(8).Then(weary(29)).Then(weary(50)), "unmet"},
		{"tiredness-again", "again after six weeks", story.Intervals(8).Then(weary(8)).Then(weary(50)), "met"},
		{"tiredness-again", "one spell of two weeks", story.Intervals(8).Then(story.Note(44, signs.PoorSleep)).Then(story.Note(51, signs.PoorSleep)).
			Then(story.Mornings(60, 20, 22, 24, 26, 28)).Then(story.Mornings(72, 44, 45, 46, 47, 48, 51, 52, 53, 54)), "met"},
		{"tiredness-again", "in the stage before", story.Intervals(8).Then(weary(29)).Then(weary(50)).Then(story.Decided(record.DoAdvance, 36, 3)), "met"},
		{"tiredness-again", "only the earlier time", story.Intervals(8).Then(weary(29)), "met"},
	}
}

// weary is a week of poor sleep with a high resting heart rate, before which it was normal.
func weary(n int) func(*record.Record) {
	return func(r *record.Record) {
		story.Note(n, signs.PoorSleep)(r)
		story.Mornings(72, n+1, n+2, n+3, n+4, n+5)(r)
		story.Mornings(60, n-5, n-6, n-7, n+8, n+9, n+10, n+11, n+12, n+13)(r)
	}
}

// TestEaseBeforeStepBack: the first answer to a tiredness pattern is an easier week, a step back
// follows only when it comes back; from stage 1 there is none.
func TestEaseBeforeStepBack(t *testing.T) {
	for _, c := range []struct {
		name  string
		story *story.Story
		want  record.Verdict
		to    int
	}{
		{"first time", story.Intervals(8).Then(weary(50)), record.Ease, 0},
		{"again", story.Intervals(8).Then(weary(29)).Then(weary(50)), record.StepBack, 1},
		{"again in stage 1", story.Ferry(8).Then(weary(29)).Then(weary(50)), record.Ease, 0},
		{"three failed sessions", story.Intervals(4).Each(story.Failing(3)), record.StepBack, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Fatalf("verdict %v, want %s: %s", a.Verdict, c.want, a.Summary)
			}
			if got := a.To; c.to == 0 && got != nil || c.to != 0 && (got == nil || *got != c.to) {
				t.Errorf("leads to %v, want %d", got, c.to)
			}
		})
	}
}

// TestTwoNormalWeeksAfterAnIllness: fever on the Tuesday of the fourth week, an easier week after it, and then
// two weeks as usual; with the second of them a move may come, and no sooner. A week with one session is
// none.
func TestTwoNormalWeeksAfterAnIllness(t *testing.T) {
	ill := func(weeks int) *story.Story {
		return story.Ferry(weeks).Then(story.Note(22, signs.Fever)).Then(func(r *record.Record) {
			if weeks > 4 {
				r.Prescriptions[4].Reduced = true
			}
		})
	}
	for weeks, want := range map[int]record.Verdict{4: record.Ease, 5: record.Hold, 6: record.Hold, 7: record.Advance} {
		if a := assess(ill(weeks)); story.Verdict(a) != want {
			t.Errorf("week %d: %s, want %s: %s", weeks, story.Verdict(a), want, a.Summary)
		}
	}
	short := ill(7).Each(func(i int, d *story.Done) { d.Skip = i == 16 || i == 17 })
	if a := assess(short); story.Verdict(a) != record.Hold || a.Summary[len(a.Summary)-1].Code != progression.AfterIllness {
		t.Errorf("with a week of one session: %s", a.Summary)
	}
	if r := progression.AssessOften(defaults, ill(6).Last(), ill(6).Record()).Robustness; r == nil || r.SameVerdict != 1 {
		t.Errorf("chance moves somebody who was ill: %+v", r)
	}
}
