package physiology

import (
	"cmp"
	"slices"
)

// TalkStage is one stage of a talk test: the heart rate at its end, how long the load had been held when
// the client was asked to speak for about 30 s (0: not told), and whether that was "comfortable",
// "hard" or hardly possible ("no").
type TalkStage struct {
	BPM     float64
	Seconds float64
	Answer  string
}

// askedAfter is how long a load is held before talk is asked: the answer turned only after more than 2
// min in studies of the talk test (Foster), so earlier answers lean to "comfortable".
const askedAfter = 180 // s

// apart is the gap between stages in bpm beyond which a threshold is only roughly known (common
// practice, no source; the inner edges of zones are good to about 8 bpm, Nuuttila 2025).
const apart = 10

// TalkTest proposes heart rates at which talking stops being comfortable (T1) and is hardly possible (T2):
// T1 is the last comfortable heart rate below the first that is not, T2 the lowest at which talk is
// hardly possible. The truth of T1 lies between it and the next stage, that of T2 between it and the stage
// before. Where answers contradict each other the lower heart rate stands. The trainer decides whether they
// become the client's thresholds.
func TalkTest(stages []TalkStage, b Body) FieldTest {
	out := newFieldTest("talk-test", "Thresholds found by talk overrule percentages. Stop at any stop sign.")
	if b.Slowed {
		out.remark("slowed", "a medicine slows the heart: these heart rates hold for the present dose only, and zones stay off")
	}
	if !slices.IsSortedFunc(stages, func(a, b TalkStage) int { return cmp.Compare(a.BPM, b.BPM) }) {
		out.remark("order", "heart rate fell from one stage to a later one: each stage should be harder than the one before")
	}
	sorted := slices.Clone(stages)
	slices.SortStableFunc(sorted, func(a, b TalkStage) int {
		return cmp.Or(cmp.Compare(a.BPM, b.BPM), cmp.Compare(b.Answer, a.Answer)) // "no", "hard", "comfortable"
	})
	var t1, t2, before, not float64 // before: the stage below t2; not: the lowest that is not comfortable
	untold, contradicted := false, false
	for _, s := range sorted {
		comfortable := s.Answer == "comfortable"
		untold = untold || s.Seconds == 0
		if s.BPM < Lowest || s.BPM > Highest {
			out.remark("bpm", "the stage at %.0f bpm is left out: no such heart rate", s.BPM)
			continue
		}
		if s.Seconds > 0 && s.Seconds < askedAfter {
			out.remark("early", "at %.0f bpm the question came after %.0f s; hold the load for 3 min first", s.BPM, s.Seconds)
			if comfortable {
				continue // an early "comfortable" says nothing, an early "hard" does
			}
		}
		switch {
		case comfortable && not == 0:
			t1 = s.BPM
		case comfortable, s.Answer == "hard" && t2 > 0:
			contradicted = true
		case s.Answer == "hard" || s.Answer == "no":
			not = orElse(not, s.BPM)
		default:
			out.remark("answer", "the stage at %.0f bpm is left out: say comfortable, hard or no", s.BPM)
			continue
		}
		if s.Answer == "no" && t2 == 0 {
			t2 = s.BPM
		} else if t2 == 0 {
			before = s.BPM
		}
	}
	if untold {
		out.remark("untold", "how long the load was held before asking was not told for every stage: 3 min are needed")
	}
	if contradicted {
		out.remark("contradiction", "talk was easier at a higher heart rate than at a lower one: the lower one stands, and the test is better repeated")
	}
	switch {
	case t1 == 0:
		out.lacks("no stage was comfortable: begin easier")
	case not == 0:
		out.lacks("talking stayed comfortable up to %.0f bpm: add harder stages", t1)
	default:
		f := Figure{Name: "T1, last comfortable", Value: t1, Low: &t1, High: &not, Unit: "bpm", Error: "the change lies between these stages"}
		out.Figures = append(out.Figures, f)
		out.Enough = true
		if not-t1 > apart {
			out.remark("apart", "the stages around T1 are %.0f bpm apart: smaller steps tell it better", not-t1)
		}
	}
	if t2 > 0 {
		f := Figure{Name: "T2, first hardly possible", Value: t2, High: &t2, Unit: "bpm", Error: "the change lies between the stage before and this one"}
		if before > 0 {
			f.Low = &before
		}
		out.Figures = append(out.Figures, f)
	} else {
		out.remark("no-t2", "no stage was hardly possible to talk at, so T2 is not told")
	}
	return out
}
