package heartrate

import (
	"math"

	"nextrung/internal/workout"
)

// Two sources disagree when they differ by more than this for so long (common practice, no source; the limits of
// agreement of two chest straps are narrower).
const (
	disagreeBPM   = 10.0
	disagreeLeast = 10 // s
)

// better joins record-like samples and messages that hold only heart rate: in each second the reading
// that shows no fault. Where both are sound the record-like one stands, but for a wrist sensor: the
// messages come from a strap. It gives the seconds taken from the messages and where sound readings
// disagree.
func better(rec, beat source, sensor workout.Sensor) (r source, filled int, found []Fault) {
	n := len(rec.bpm)
	r = source{bpm: make([]float64, n), marks: make([]mark, n)}
	apart, from, until := 0.0, -1, -1
	flush := func() {
		if from >= 0 && until-from >= disagreeLeast {
			found = append(found, Fault{Kind: Disagree, Span: workout.Span{From: from, To: until}, Args: workout.Args{"apart": apart}})
		}
		apart, from = 0, -1
	}
	for k := range n {
		a, b := !math.IsNaN(rec.bpm[k]), !math.IsNaN(beat.bpm[k])
		soundA, soundB := a && rec.marks[k] == good, b && beat.marks[k] == good
		if soundA && soundB {
			if d := math.Abs(rec.bpm[k] - beat.bpm[k]); d > disagreeBPM {
				if from < 0 {
					from = k
				}
				apart, until = max(apart, d), k+1
			} else {
				flush()
			}
		}
		switch {
		case soundB && (!soundA || sensor == workout.Wrist):
			r.bpm[k] = beat.bpm[k]
			filled++
		case a:
			r.bpm[k], r.marks[k] = rec.bpm[k], rec.marks[k]
		default:
			r.bpm[k], r.marks[k] = beat.bpm[k], beat.marks[k]
		}
	}
	flush()
	r.at = recorded(r.bpm)
	r.step = stepAt(r.at, 0.5)
	r.markSpikes() // where the two meet
	return r, filled, found
}
