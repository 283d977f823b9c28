package progression_test

import (
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// from changes the effort given from a session on.
func from(first int, e *workout.RPE) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		if i >= first && d.Rpe != nil {
			d.Rpe = e
		}
	}
}

func effortCases() []ruleCase {
	comfortable := record.TalkComfortable
	return []ruleCase{
		{"effort", "at 13", story.Ferry(4).Each(story.Feeling(story.RPE20(13), comfortable)), "met"},
		{"effort", "12", story.Ferry(4).Each(story.Feeling(story.RPE20(12), comfortable)), "met"},
		{"effort", "14", story.Ferry(4).Each(story.Feeling(story.RPE20(14), comfortable)), "unmet"},
		// Nine answers in the three weeks: four of 14 are fewer than half, five are not.
		{"effort", "14 in fewer than half of the answers", story.Ferry(4).Each(from(8, story.RPE20(14))), "met"},
		{"effort", "14 in more than half of the answers", story.Ferry(4).Each(from(7, story.RPE20(14))), "unmet"},
		{"effort", "14 in one of three answers", story.Ferry(4).Each(story.Only(9, 12)).Each(from(11, story.RPE20(14))), "met"},
		{"effort", "14 in two of three answers", story.Ferry(4).Each(story.Only(9, 12)).Each(from(10, story.RPE20(14))), "unmet"},
		{"effort", "14 in two of four answers", story.Ferry(4).Each(story.Only(8, 12)).Each(from(10, story.RPE20(14))), "unmet"},
		{"effort", "15 once in three weeks", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i == 6 {
				d.Rpe = story.RPE20(15)
			}
		}), "unmet"},
		{"effort", "14 more than three weeks ago", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i < 3 {
				d.Rpe = story.RPE20(14)
			}
		}), "met"},
		{"effort", "at 4 on the other scale", story.Ferry(4).Each(story.Feeling(story.RPE10(4), comfortable)), "met"},
		{"effort", "5 on the other scale", story.Ferry(4).Each(story.Feeling(story.RPE10(5), comfortable)), "unmet"},
		{"effort", "5 on the other scale among many of 12", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i == 9 {
				d.Rpe = story.RPE10(5)
			}
		}), "met"},
		{"effort", "5 on the other scale in most answers", story.Ferry(4).Each(from(7, story.RPE10(5))), "unmet"},
		{"effort", "6 on the other scale among many of 12", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i == 9 {
				d.Rpe = story.RPE10(6)
			}
		}), "unmet"},
		{"effort", "talking was hard once", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i == 9 {
				d.Talk = record.TalkHard
			}
		}), "unmet"},
		{"effort", "talk alone", story.Ferry(4).Each(story.Feeling(nil, comfortable)), "met"},
		{"effort", "three answers", story.Ferry(4).Each(story.Only(9, 12)), "met"},
		{"effort", "two answers", story.Ferry(4).Each(story.Only(10, 12)), "untold"},
		{"effort", "two answers, one too hard", story.Ferry(4).Each(story.Feeling(story.RPE20(15), comfortable)).Each(story.Only(10, 12)), "unmet"},
		{"effort", "not asked", story.Ferry(4).Each(story.Only(0, 0)), "untold"},

		{"bout-effort", "at 16", story.Intervals(4).Each(story.Feeling(story.RPE20(16), "")), "met"},
		{"bout-effort", "15", story.Intervals(4).Each(story.Feeling(story.RPE20(15), "")), "met"},
		{"bout-effort", "17", story.Intervals(4).Each(story.Feeling(story.RPE20(17), "")), "unmet"},
		{"bout-effort", "at 7 on the other scale", story.Intervals(4).Each(story.Feeling(story.RPE10(7), "")), "met"},
		{"bout-effort", "8 on the other scale", story.Intervals(4).Each(story.Feeling(story.RPE10(8), "")), "unmet"},
		{"bout-effort", "talk does not matter in bouts", story.Intervals(4).Each(story.Feeling(story.RPE20(16), record.TalkNo)), "met"},
		{"bout-effort", "not asked", story.Intervals(4).Each(story.Only(0, 0)), "untold"},

		{"enjoyment", "one low answer of three", story.Ferry(4).Each(enjoying(4, 4, 2)), "met"},
		{"enjoyment", "two low answers of three", story.Ferry(4).Each(enjoying(4, 2, 2)), "unmet"},
		{"enjoyment", "three of 3", story.Ferry(4).Each(enjoying(3, 3, 3)), "met"},
		{"enjoyment", "not asked", story.Ferry(4).Each(enjoying(0)), "untold"},
	}
}

func enjoying(answers ...int) func(int, *story.Done) {
	return func(i int, d *story.Done) { d.Enjoyment = answers[i%len(answers)] }
}

// TestEffortShowsItsOwnScale: the two scales are never converted, so threshold and points are those
// of the answer that decides.
func TestEffortShowsItsOwnScale(t *testing.T) {
	a := assess(story.Ferry(4).Each(func(i int, d *story.Done) {
		if i%4 > 0 {
			d.Rpe = story.RPE10(5)
		}
	}))
	r, _ := story.Reason(a, policy.Effort)
	if *r.Observed != 5 || *r.Threshold != 4 {
		t.Errorf("observed %v against %v, want 5 against 4", *r.Observed, *r.Threshold)
	}
	for _, p := range r.Points {
		if p.Value != 5 {
			t.Errorf("point %v is from the other scale", p)
		}
	}
}

// TestOnlyWhatConcernsTheClient: a walker reads of no runs, and nobody whose bouts were not seen reads that no effort
// was given.
func TestOnlyWhatConcernsTheClient(t *testing.T) {
	walker := func(c *record.Client) { c.Modes = []workout.Mode{workout.Walk} }
	walking := func(_ int, d *story.Done) { d.Sport = workout.Walking }
	for _, x := range []struct {
		name  string
		story *story.Story
		want  bool
	}{
		{"a walker", story.Ferry(4).Who(walker).Each(walking), false},
		{"a walker who ran once", story.Ferry(4).Who(walker).Each(walking).Each(func(i int, d *story.Done) {
			if i == 3 {
				d.Sport = workout.Running
			}
		}), true},
		{"a runner", story.Ferry(4), true},
	} {
		a := progression.Assess(defaults, x.story.Last(), x.story.Record())
		if got := a.Reason(policy.LongestRun) != nil; got != x.want {
			t.Errorf("%s: the longest run is shown: %v", x.name, got)
		}
	}
	unseen := story.Intervals(4).Each(func(_ int, d *story.Done) { d.Bouts = 0 })
	a := progression.Assess(defaults, unseen.Last(), unseen.Record())
	if r := a.Reason(policy.BoutEffort); r.Met != nil || r.Says.Code != progression.NoBoutsToRate || a.Lacks(policy.BoutEffort) {
		t.Errorf("with an answer for every session: %+v", r)
	}
}

// TestOneLimitOfEffort: whichever answer is shown, the threshold beside it is the limit that the client reads.
func TestOneLimitOfEffort(t *testing.T) {
	for _, e := range []float64{12, 14, 15, 18} {
		s := story.Ferry(4).Each(story.Feeling(story.RPE20(e), record.TalkComfortable))
		if r, _ := story.Reason(assess(s), policy.Effort); r.Threshold == nil || *r.Threshold != 13 {
			t.Errorf("at %g: %+v", e, r.Threshold)
		}
	}
}
