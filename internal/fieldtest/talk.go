package fieldtest

import (
	"cmp"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// Stage is one stage of a talk test: the heart rate at its end, how long the load had been held when the
// client was asked to speak for about 30 s (0: unknown), and whether that was "comfortable", "hard" or hardly
// possible ("no").
type Stage struct {
	BPM     float64
	Seconds float64
	Answer  string
}

// ease ranks the answers from easy to hard.
var ease = []string{"comfortable", "hard", "no"}

func (s Stage) rank() int { return slices.Index(ease, s.Answer) }

// askedAfter is how long a load is held before the client is asked to talk: the answer turned only after more
// than 2 min in a study of the talk test (Foster, "Talk Test as a marker of exercise training intensity",
// abstract), so earlier answers lean to "comfortable". 3 min is common practice, no source.
const askedAfter = 180 // s

// apart is the gap between stages in bpm beyond which a threshold is only roughly known (common
// practice, no source; the inner edges of zones are good to about 8 bpm, Nuuttila 2025).
const apart = 10

// Talk suggests heart rates at which talking stops being comfortable (T1) and is hardly possible (T2):
// T1 is the last comfortable heart rate below the first that is not, T2 the lowest at which talk is
// hardly possible. The true T1 is between it and the next stage, the true T2 between it and the stage
// before. Where answers contradict each other, the lower heart rate counts. The trainer decides whether they
// become the client's thresholds.
func Talk(stages []Stage, b physiology.Body) Result {
	out := newResult("talk-test")
	if b.Slowed {
		out.remark(Slowed, workout.Args{"protocol": out.Protocol})
	}
	asked := out.usable(stages)
	if slices.ContainsFunc(stages, func(s Stage) bool { return s.Seconds == 0 }) {
		out.remark(Untold, nil)
	}
	if !slices.IsSortedFunc(asked, func(a, b Stage) int { return a.rank() - b.rank() }) {
		out.remark(Contradiction, nil)
	}
	harder := slices.IndexFunc(asked, func(s Stage) bool { return s.rank() > 0 })
	switch {
	case len(asked) == 0 || harder == 0:
		out.lacks(because(NoneEasy, nil))
	case harder < 0:
		out.lacks(because(NoneHard, workout.Args{"bpm": asked[len(asked)-1].BPM}))
	default:
		t1, next := asked[harder-1].BPM, asked[harder].BPM
		out.Enough = true
		out.Figures = append(out.Figures, Figure{Code: T1, Value: t1, Low: &t1, High: &next, Unit: "bpm"})
		if next-t1 > apart {
			out.remark(Apart, workout.Args{"bpm": next - t1})
		}
	}
	hardest := slices.IndexFunc(asked, func(s Stage) bool { return s.Answer == "no" })
	if hardest < 0 {
		out.remark(NoT2, nil)
		return out
	}
	f := Figure{Code: T2, Value: asked[hardest].BPM, High: &asked[hardest].BPM, Unit: "bpm"}
	if hardest > 0 {
		f.Low = &asked[hardest-1].BPM
	}
	out.Figures = append(out.Figures, f)
	return out
}

// usable gives the stages that count by rising heart rate, the harder answer first at one heart rate; it says
// why others are left out.
func (t *Result) usable(stages []Stage) []Stage {
	byRate := func(a, b Stage) int { return cmp.Compare(a.BPM, b.BPM) }
	if !slices.IsSortedFunc(stages, byRate) {
		t.remark(Order, nil)
	}
	var out []Stage
	for _, s := range slices.SortedStableFunc(slices.Values(stages), func(a, b Stage) int { return cmp.Or(byRate(a, b), b.rank()-a.rank()) }) {
		early := s.Seconds > 0 && s.Seconds < askedAfter
		switch {
		case s.BPM < physiology.Lowest || s.BPM > physiology.Highest:
			t.remark(StageBPM, workout.Args{"bpm": s.BPM})
			continue
		case early:
			t.remark(Early, workout.Args{"bpm": s.BPM, "seconds": s.Seconds})
		}
		switch {
		case s.rank() < 0:
			t.remark(Answer, workout.Args{"bpm": s.BPM})
		case early && s.rank() == 0: // an early "comfortable" proves nothing, an early "hard" does
		default:
			out = append(out, s)
		}
	}
	return out
}
