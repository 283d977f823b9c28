package fieldtest

import (
	"cmp"
	"slices"

	"nextrung/internal/physiology"
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
	out := newResult("talk-test", "Thresholds found by talk overrule percentages. Stop at any stop sign.")
	if b.Slowed {
		out.remark("slowed", "a medicine slows the heart: these heart rates hold for the present dose only, and zones stay off")
	}
	asked := out.usable(stages)
	if slices.ContainsFunc(stages, func(s Stage) bool { return s.Seconds == 0 }) {
		out.remark("untold", "for some stages it is not known how long the load was held before asking: 3 min is needed")
	}
	if !slices.IsSortedFunc(asked, func(a, b Stage) int { return a.rank() - b.rank() }) {
		out.remark("contradiction", "talk was easier at a higher heart rate than at a lower one: the lower one counts; repeat the test if you can")
	}
	harder := slices.IndexFunc(asked, func(s Stage) bool { return s.rank() > 0 })
	switch {
	case len(asked) == 0 || harder == 0:
		out.lacks("no stage was comfortable: start easier")
	case harder < 0:
		out.lacks("talking stayed comfortable up to %.0f bpm: add harder stages", asked[len(asked)-1].BPM)
	default:
		t1, next := asked[harder-1].BPM, asked[harder].BPM
		out.Enough = true
		out.Figures = append(out.Figures, Figure{
			Name: "T1, last comfortable", Value: t1, Low: &t1, High: &next, Unit: "bpm", Error: "the change lies between these stages",
		})
		if next-t1 > apart {
			out.remark("apart", "the stages around T1 are %.0f bpm apart: smaller steps would find it more exactly", next-t1)
		}
	}
	hardest := slices.IndexFunc(asked, func(s Stage) bool { return s.Answer == "no" })
	if hardest < 0 {
		out.remark("no-t2", "no stage made talking hardly possible, so T2 is unknown")
		return out
	}
	f := Figure{Name: "T2, first hardly possible", Value: asked[hardest].BPM, High: &asked[hardest].BPM, Unit: "bpm", Error: "the change lies between the stage before and this one"}
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
		t.remark("order", "heart rate fell from one stage to a later one: each stage should be harder than the one before")
	}
	var out []Stage
	for _, s := range slices.SortedStableFunc(slices.Values(stages), func(a, b Stage) int { return cmp.Or(byRate(a, b), b.rank()-a.rank()) }) {
		early := s.Seconds > 0 && s.Seconds < askedAfter
		switch {
		case s.BPM < physiology.Lowest || s.BPM > physiology.Highest:
			t.remark("bpm", "the stage at %.0f bpm is left out: that is not a possible heart rate", s.BPM)
			continue
		case early:
			t.remark("early", "at %.0f bpm the question came after %.0f s; hold the load for 3 min first", s.BPM, s.Seconds)
		}
		switch {
		case s.rank() < 0:
			t.remark("answer", "the stage at %.0f bpm is left out: the answer must be comfortable, hard or no", s.BPM)
		case early && s.rank() == 0: // an early "comfortable" proves nothing, an early "hard" does
		default:
			out = append(out, s)
		}
	}
	return out
}
