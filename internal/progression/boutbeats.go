package progression

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// unmeasuredShare is the share of an estimated maximum above which nobody is sent before the maximum has been
// measured (common practice, no source).
const unmeasuredShare = 0.90

// settled is the length in seconds from which a bout reaches the heart rate that belongs to its load
// (Hunt 2015: time constant 58 s, so 95 % after 3 of them).
const settled = 180

// BoutBeats gives the lowest limits over the client's modes, so that the numbers are safe in each.
// Bouts under 3 min end before the heart rate has settled, so they get no lower limit; in stage 3
// their upper limit is the middle of the zone, since only all-out work brings the heart rate to its
// top within them. lowered is taken off as long as they stay above zone 1. Where the maximum is an estimate, lowest is the
// lowest one if it set the upper limit, else 0.
func (v Review) BoutBeats(body physiology.Body, stage, work int, lowered float64) (low, high, lowest float64) {
	ceiling := body.Ceiling()
	for _, m := range v.Record.Client.TrainedModes() {
		e := body.Unlimited().Edges(m)
		if e == nil || len(v.Record.Client.TrainedModes()) == 1 && m == workout.Swim && v.UnderWater() {
			return 0, math.Floor(ceiling), 0
		}
		capped := 0.0
		top := e.BPM[stage]
		if stage == 3 && work < settled {
			top = (e.BPM[2] + e.BPM[3]) / 2
		}
		if limit, least, ok := unmeasured(body, m, *e, stage); ok && limit < top {
			top, capped = limit, least
		}
		if ceiling > 0 && ceiling < top {
			top, capped = ceiling, 0
		}
		top = max(top-lowered, min(top, e.BPM[1]+RoomForBouts))
		if high == 0 || top < high {
			high, low, lowest = top, e.BPM[stage-1], capped
		}
	}
	if work < settled || low >= high {
		low = 0
	}
	low, high = wording.Beats(low, high)
	return low, high, math.Round(lowest)
}

// unmeasured is the limit of bouts while the maximum is an estimate, with the lowest maximum that the published
// formulas give: they lie 20 bpm apart at 60 years, and what is brisk after one is all out after another.
// Brisk stays under 90 % of the lowest, and just above zone 1 where that is less; hard under 90 % of the
// mean estimate and under the lowest. A threshold that was measured stands instead.
func unmeasured(body physiology.Body, m workout.Mode, e physiology.Edges, stage int) (limit, lowest float64, ok bool) {
	lowest, ok = body.Lowest(m)
	if !ok || !e.Estimated || stage == 2 && body.T2 > 0 {
		return 0, 0, false
	}
	if stage == 2 {
		return max(unmeasuredShare*lowest, e.BPM[1]+RoomForBouts), lowest, true
	}
	mean, _ := body.Maximum(m)
	if limit = unmeasuredShare * mean.BPM; limit <= lowest {
		return limit, 0, true
	}
	return lowest, lowest, true
}
