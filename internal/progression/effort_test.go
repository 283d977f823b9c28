package progression_test

import (
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// feeling sets what the client answers after every session.
func feeling(e *workout.RPE, talk progression.Talk) func(int, *done) {
	return func(_ int, d *done) { d.rpe, d.talk = e, talk }
}

// from changes the effort given from a session on.
func from(first int, e *workout.RPE) func(int, *done) {
	return func(i int, d *done) {
		if i >= first && d.rpe != nil {
			d.rpe = e
		}
	}
}

// only keeps an answer in some sessions.
func only(from, to int) func(int, *done) {
	return func(i int, d *done) {
		if i < from || i >= to {
			d.rpe, d.talk = nil, progression.NotAsked
		}
	}
}

func effortCases() []ruleCase {
	comfortable := progression.TalkComfortable
	return []ruleCase{
		{"effort", "at 13", ferry(4).each(feeling(rpe20(13), comfortable)), "met"},
		{"effort", "12", ferry(4).each(feeling(rpe20(12), comfortable)), "met"},
		{"effort", "14", ferry(4).each(feeling(rpe20(14), comfortable)), "unmet"},
		// Nine answers in the three weeks: four of 14 are fewer than half, five are not.
		{"effort", "14 in fewer than half of the answers", ferry(4).each(from(8, rpe20(14))), "met"},
		{"effort", "14 in more than half of the answers", ferry(4).each(from(7, rpe20(14))), "unmet"},
		{"effort", "14 in one of three answers", ferry(4).each(only(9, 12)).each(from(11, rpe20(14))), "met"},
		{"effort", "14 in two of three answers", ferry(4).each(only(9, 12)).each(from(10, rpe20(14))), "unmet"},
		{"effort", "14 in two of four answers", ferry(4).each(only(8, 12)).each(from(10, rpe20(14))), "unmet"},
		{"effort", "15 once in three weeks", ferry(4).each(func(i int, d *done) {
			if i == 6 {
				d.rpe = rpe20(15)
			}
		}), "unmet"},
		{"effort", "14 more than three weeks ago", ferry(4).each(func(i int, d *done) {
			if i < 3 {
				d.rpe = rpe20(14)
			}
		}), "met"},
		{"effort", "at 4 on the other scale", ferry(4).each(feeling(rpe10(4), comfortable)), "met"},
		{"effort", "5 on the other scale", ferry(4).each(feeling(rpe10(5), comfortable)), "unmet"},
		{"effort", "5 on the other scale among many of 12", ferry(4).each(func(i int, d *done) {
			if i == 9 {
				d.rpe = rpe10(5)
			}
		}), "met"},
		{"effort", "5 on the other scale in most answers", ferry(4).each(from(7, rpe10(5))), "unmet"},
		{"effort", "6 on the other scale among many of 12", ferry(4).each(func(i int, d *done) {
			if i == 9 {
				d.rpe = rpe10(6)
			}
		}), "unmet"},
		{"effort", "talking was hard once", ferry(4).each(func(i int, d *done) {
			if i == 9 {
				d.talk = progression.TalkHard
			}
		}), "unmet"},
		{"effort", "talk alone", ferry(4).each(feeling(nil, comfortable)), "met"},
		{"effort", "three answers", ferry(4).each(only(9, 12)), "met"},
		{"effort", "two answers", ferry(4).each(only(10, 12)), "untold"},
		{"effort", "two answers, one too hard", ferry(4).each(feeling(rpe20(15), comfortable)).each(only(10, 12)), "unmet"},
		{"effort", "not asked", ferry(4).each(only(0, 0)), "untold"},

		{"bout-effort", "at 16", intervals(4).each(feeling(rpe20(16), "")), "met"},
		{"bout-effort", "15", intervals(4).each(feeling(rpe20(15), "")), "met"},
		{"bout-effort", "17", intervals(4).each(feeling(rpe20(17), "")), "unmet"},
		{"bout-effort", "at 7 on the other scale", intervals(4).each(feeling(rpe10(7), "")), "met"},
		{"bout-effort", "8 on the other scale", intervals(4).each(feeling(rpe10(8), "")), "unmet"},
		{"bout-effort", "talk does not matter in bouts", intervals(4).each(feeling(rpe20(16), progression.TalkNo)), "met"},
		{"bout-effort", "not asked", intervals(4).each(only(0, 0)), "untold"},

		{"enjoyment", "one low answer of three", ferry(4).each(enjoying(4, 4, 2)), "met"},
		{"enjoyment", "two low answers of three", ferry(4).each(enjoying(4, 2, 2)), "unmet"},
		{"enjoyment", "three of 3", ferry(4).each(enjoying(3, 3, 3)), "met"},
		{"enjoyment", "not asked", ferry(4).each(enjoying(0)), "untold"},
	}
}

func enjoying(answers ...int) func(int, *done) {
	return func(i int, d *done) { d.enjoyment = answers[i%len(answers)] }
}

// TestEffortShowsItsOwnScale: the two scales are never converted, so threshold and points are those
// of the answer that decides.
func TestEffortShowsItsOwnScale(t *testing.T) {
	a := ferry(4).each(func(i int, d *done) {
		if i%4 > 0 {
			d.rpe = rpe10(5)
		}
	}).assess()
	r, _ := reason(a, "effort")
	if *r.Observed != 5 || *r.Threshold != 4 {
		t.Errorf("observed %v against %v, want 5 against 4", *r.Observed, *r.Threshold)
	}
	for _, p := range r.Points {
		if p.Value != 5 {
			t.Errorf("point %v is from the other scale", p)
		}
	}
}
