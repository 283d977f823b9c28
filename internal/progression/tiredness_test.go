package progression_test

import (
	"testing"

	"nextrung/internal/progression"
)

// rested puts resting heart rates before and in the last week of a story of four weeks.
func rested(before, now float64) func(*progression.Record) {
	return func(r *progression.Record) {
		mornings(before, 1, 5, 9, 13, 17)(r)
		mornings(now, 22, 24, 26)(r)
	}
}

// tiring raises the effort of the last two sessions, at the same load.
func tiring(e float64) func(int, *done) {
	return func(i int, d *done) {
		if i >= 10 {
			d.rpe = rpe20(e)
		}
	}
}

func tirednessCases() []ruleCase {
	sleepless := note(24, progression.PoorSleep)
	return []ruleCase{
		{"resting", "at +5 bpm", ferry(4).then(rested(60, 65)), "met"},
		{"resting", "+5.1 bpm", ferry(4).then(rested(60, 65.1)), "unmet"},
		{"resting", "+4.9 bpm", ferry(4).then(rested(60, 64.9)), "met"},
		{"resting", "against the one on record", ferry(4).who(func(c *progression.Client) { c.Zones[0].HRRest = 60 }).then(mornings(66, 22, 24, 26)), "unmet"},
		{"resting", "two mornings", ferry(4).then(mornings(60, 1, 5, 9)).then(mornings(70, 22, 24)), "untold"},
		{"resting", "nothing to compare with", ferry(4).then(mornings(70, 22, 24, 26)), "untold"},

		{"tired-sign", "seven days ago", ferry(4).then(note(20, progression.Sore)), "met"},
		{"tired-sign", "six days ago", ferry(4).then(note(21, progression.Sore)), "unmet"},
		{"tired-sign", "a word that is not known", ferry(4).then(note(26, "grumpy")), "met"},
		{"tired-sign", "in the screening of today", ferry(4).who(func(c *progression.Client) {
			c.Screening.On, c.Screening.Signs = day(27), []progression.Symptom{progression.UnusuallyTired}
		}), "unmet"},

		{"illness", "nine days ago", ferry(4).then(note(18, progression.Fever)), "met"},
		{"illness", "eight days ago", ferry(4).then(note(19, progression.Fever)), "unmet"},
		{"illness", "a chest illness today", ferry(4).then(note(27, progression.ChestIllness)), "unmet"},
		{"illness", "none", ferry(4), "met"},

		{"tiredness", "a report alone", ferry(4).then(sleepless), "met"},
		{"tiredness", "a heart rate alone", ferry(4).then(rested(60, 70)), "met"},
		{"tiredness", "both", ferry(4).then(rested(60, 70)).then(sleepless), "unmet"},
		{"tiredness", "both, the report 14 days ago", ferry(4).then(rested(60, 70)).then(note(13, progression.PoorSleep)), "met"},
		{"tiredness", "both, the report 13 days ago", ferry(4).then(rested(60, 70)).then(note(14, progression.PoorSleep)), "unmet"},
		{"tiredness", "sore is no report", ferry(4).then(rested(60, 70)).then(note(24, progression.Sore)), "met"},
		{"tiredness", "poor sleep and a higher heart rate at the same effort", ferry(4).each(beating(130, 140)).then(sleepless), "unmet"},
		{"tiredness", "poor sleep and a lower heart rate at the same effort", ferry(4).each(beating(130, 120)).then(sleepless), "met"},
		{"tiredness", "poor sleep and a smaller fall", ferry(4).each(falling(32, 20)).then(sleepless), "unmet"},
		{"tiredness", "poor sleep and a larger fall", ferry(4).each(falling(32, 45)).then(sleepless), "met"},
		{"tiredness", "effort +2 and a lower heart rate", ferry(4).each(func(i int, d *done) {
			if i >= 9 {
				d.effort = num(110)
			}
		}).each(tiring(14)), "unmet"},
		{"tiredness", "effort +1.9 and a lower heart rate", ferry(4).each(func(i int, d *done) {
			if i >= 9 {
				d.effort = num(110)
			}
		}).each(tiring(13.9)), "met"},
		{"tiredness", "hard bouts after the same load are no more effort at it", intervals(4).each(func(i int, d *done) {
			if i >= 9 {
				d.effort = num(110)
			}
			if d.bouts > 0 && i >= 6 {
				d.rpe = rpe20(17)
			}
		}), "met"},
		{"tiredness", "14 after 4 on the other scale", ferry(4).each(func(i int, d *done) {
			d.rpe = rpe10(4)
			if i >= 9 {
				d.effort, d.rpe = num(110), rpe20(14)
			}
		}), "met"},
		{"tiredness", "lower heart rate without a report", ferry(4).each(beating(130, 100)), "met"},

		{"tiredness-again", "once", intervals(8).then(weary(50)), "met"},
		{"tiredness-again", "again after three weeks", intervals(8).then(weary(29)).then(weary(50)), "unmet"},
		{"tiredness-again", "again after six weeks", intervals(8).then(weary(8)).then(weary(50)), "met"},
		{"tiredness-again", "one spell of two weeks", intervals(8).then(note(44, progression.PoorSleep)).then(note(51, progression.PoorSleep)).
			then(mornings(60, 20, 22, 24, 26, 28)).then(mornings(72, 44, 45, 46, 47, 48, 51, 52, 53, 54)), "met"},
		{"tiredness-again", "in the stage before", intervals(8).then(weary(29)).then(weary(50)).then(decided(progression.DoAdvance, 36, 3)), "met"},
		{"tiredness-again", "only the earlier time", intervals(8).then(weary(29)), "met"},
	}
}

// weary is a week of poor sleep with a high resting heart rate, before which it was normal.
func weary(n int) func(*progression.Record) {
	return func(r *progression.Record) {
		note(n, progression.PoorSleep)(r)
		mornings(72, n+1, n+2, n+3, n+4, n+5)(r)
		mornings(60, n-5, n-6, n-7, n+8, n+9, n+10, n+11, n+12, n+13)(r)
	}
}

// TestEaseBeforeStepBack: the first answer to a tiredness pattern is an easier week, a step back
// follows only when it comes back; from stage 1 there is none.
func TestEaseBeforeStepBack(t *testing.T) {
	for _, c := range []struct {
		name  string
		story *story
		want  progression.Verdict
		to    int
	}{
		{"first time", intervals(8).then(weary(50)), progression.Ease, 0},
		{"again", intervals(8).then(weary(29)).then(weary(50)), progression.StepBack, 1},
		{"again in stage 1", ferry(8).then(weary(29)).then(weary(50)), progression.Ease, 0},
		{"three failed sessions", intervals(4).each(failing(3)), progression.StepBack, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.story.assess()
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Fatalf("verdict %v, want %s: %s", a.Verdict, c.want, a.Summary)
			}
			if got := a.To; c.to == 0 && got != nil || c.to != 0 && (got == nil || *got != c.to) {
				t.Errorf("leads to %v, want %d", got, c.to)
			}
		})
	}
}
