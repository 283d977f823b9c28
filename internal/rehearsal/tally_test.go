package rehearsal_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/rehearsal"
	"nextrung/internal/workout"
)

// week writes one week in short: its stage, what was true and said, and the rules in between.
func week(stage int, due, ready bool, said record.Verdict, open ...policy.ID) rehearsal.Week {
	w := rehearsal.Week{Stage: stage, Due: due, Verdict: said, HeartTold: due, Open: open}
	w.Truth = rehearsal.Readiness{Effort: ready, Talk: true, Return: true, Base: true}
	w.Done = w.Truth
	return w
}

const (
	hold    = record.Hold
	advance = record.Advance
	ease    = record.Ease
	back    = record.StepBack
	untold  = record.NotAssessable
)

// four is a population small enough to count by hand: who waits two weeks, who is moved up too
// early and steps back, who is never moved up though ready, and who is ready too late to follow.
func four() []rehearsal.Journey {
	return []rehearsal.Journey{
		{Sensor: workout.Strap, Days: 3, Weeks: []rehearsal.Week{
			week(1, false, true, hold), week(1, true, true, hold, "minutes"), week(1, true, true, ease, "minutes", "effort"), week(1, true, true, advance),
			week(2, false, false, hold), week(2, false, false, untold), week(2, false, true, hold), week(2, false, true, hold),
		}},
		{Sensor: workout.Wrist, Days: 3, MaxError: 12, Weeks: []rehearsal.Week{
			week(1, false, false, hold), week(1, true, false, advance),
			week(2, false, false, hold), week(2, false, false, back),
			week(1, false, false, ease), week(1, false, false, hold), week(1, true, false, hold, "effort"), week(1, true, false, hold, "effort"),
		}},
		{Sensor: workout.Strap, Days: 2, Weeks: []rehearsal.Week{
			week(1, false, false, hold), week(1, false, false, hold), week(1, false, false, hold), week(1, true, false, hold),
			week(1, true, true, hold, "effort"), week(1, true, true, hold, "effort"), week(1, true, true, hold, "effort"), week(1, true, true, hold, "effort"),
		}},
		{Sensor: workout.Wrist, Days: 4, MaxError: -9, Weeks: []rehearsal.Week{
			week(1, false, true, hold), week(1, false, true, hold), week(1, false, true, hold), week(1, false, true, hold),
			week(1, false, true, hold), week(1, true, true, untold, "evidence"), week(1, true, true, advance), week(2, false, true, hold),
		}},
	}
}

func TestCountByHand(t *testing.T) {
	two := 2
	want := rehearsal.Counts{
		Clients: 4,
		// 1: stages 1, 2; 2: stages 1, 2, 1; 3: stage 1; 4: stages 1, 2.
		Stays:    8,
		Advanced: 3, AdvancedUnready: 1, AdvancedUnable: 1,
		// The second client's two stays in stage 1, and the third client's only one.
		UnreadyWhenDue: 3, UnreadyWhenDueAdvanced: 1,
		// The first waits from week 2 to 4; the third from week 5 of 8, so for the three weeks that
		// are needed; the fourth from week 6 of 8, which is not followed long enough.
		Ready: 2, ReadyInTime: 1, MedianWait: &two,
		// The first lacks minutes until week 4 and is moved up in it; the third lacks none from week 5 on.
		Trained: 2, TrainedInTime: 1,
		Weeks: 32, Ease: 2, StepBack: 1,
		AtSix: 4, NotAssessableSix: 2,
		HeartUntoldSix: 2, // the first and the second client, whose sixth weeks are not due
		// The second client's weeks 2, 7, 8 and the third's week 4.
		DueUnready: 4, ForEffort: 4,
		Kept: 7, By: map[policy.ID]int{"minutes": 2, "effort": 5, "evidence": 1}, ByOnly: map[policy.ID]int{"minutes": 1, "effort": 4, "evidence": 1},
	}
	if diff := cmp.Diff(want, rehearsal.Count(four(), 0)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
}

func TestCountOfAStage(t *testing.T) {
	c := rehearsal.Count(four(), 2)
	if c.Stays != 3 || c.Weeks != 7 || c.StepBack != 1 || c.Ease != 0 || c.Advanced != 0 || c.Ready != 0 || c.MedianWait != nil {
		t.Errorf("stage 2: %+v", c)
	}
	if c := rehearsal.Count(four(), 1); c.Stays != 5 || c.Weeks != 25 || c.Advanced != 3 {
		t.Errorf("stage 1: %+v", c)
	}
}

// A wait is given as the middle one only where that client was moved up.
func TestMedianWaitNeedsMoreThanHalf(t *testing.T) {
	all := four()
	c := rehearsal.Count([]rehearsal.Journey{all[2], all[2], all[0]}, 0)
	if c.Ready != 3 || c.MedianWait != nil {
		t.Errorf("two of three never moved up: ready %d, median %v", c.Ready, c.MedianWait)
	}
	if c := rehearsal.Count(nil, 0); c.MedianWait != nil || c.Weeks != 0 {
		t.Errorf("nobody: %+v", c)
	}
}

// The third week after being ready is in time, the fourth is not.
func TestInTimeIsThreeWeeks(t *testing.T) {
	for wait, inTime := range map[int]int{0: 1, 3: 1, 4: 0} {
		var j rehearsal.Journey
		for range wait {
			j.Weeks = append(j.Weeks, week(1, true, true, hold))
		}
		j.Weeks = append(j.Weeks, week(1, true, true, advance))
		for len(j.Weeks) < 8 {
			j.Weeks = append(j.Weeks, week(2, false, false, hold))
		}
		c := rehearsal.Count([]rehearsal.Journey{j}, 1)
		if c.Ready != 1 || c.ReadyInTime != inTime || *c.MedianWait != wait {
			t.Errorf("wait of %d: ready %d, in time %d, median %d", wait, c.Ready, c.ReadyInTime, *c.MedianWait)
		}
	}
}

// Half of at least two sessions in the four weeks after a move make it a hard one.
func TestHardAfterByHand(t *testing.T) {
	for name, c := range map[string]struct {
		intervals, hard []int
		followed, after int
	}{
		"one session says nothing":        {[]int{1, 0, 0, 0, 0}, []int{1, 0, 0, 0, 0}, 0, 0},
		"one of three":                    {[]int{1, 1, 1, 0, 0}, []int{1, 0, 0, 0, 0}, 1, 0},
		"two of four":                     {[]int{1, 1, 1, 1, 0}, []int{0, 1, 0, 1, 0}, 1, 1},
		"the fifth week no longer counts": {[]int{1, 1, 0, 0, 2}, []int{0, 0, 0, 0, 2}, 1, 0},
	} {
		j := rehearsal.Journey{Weeks: []rehearsal.Week{week(1, true, true, advance)}}
		for i := range c.intervals {
			w := week(2, false, false, hold)
			w.Intervals, w.Hard = c.intervals[i], c.hard[i]
			j.Weeks = append(j.Weeks, w)
		}
		if got := rehearsal.Count([]rehearsal.Journey{j}, 1); got.Followed != c.followed || got.HardAfter != c.after {
			t.Errorf("%s: %d followed, %d hard after, want %d and %d", name, got.Followed, got.HardAfter, c.followed, c.after)
		}
	}
}

func TestShare(t *testing.T) {
	if v, ok := rehearsal.Share(1, 8); !ok || v != 12.5 {
		t.Errorf("1 of 8: %g %v", v, ok)
	}
	if _, ok := rehearsal.Share(0, 0); ok {
		t.Error("a share of nothing was given")
	}
}
