package physiology

import (
	"fmt"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

const (
	// heldSeconds is how long a heart rate must last to speak of a maximum (common practice, no source).
	heldSeconds = 15
	// heldReadings is how many of those seconds must be readings, the rest may be bridged: three are
	// there when a device stores every fifth second. Common practice, no source.
	heldReadings = 3
)

// Held is the highest heart rate that a workout kept up for 15 s; From and To are those seconds. It may
// speak of the maximal heart rate only when Enough: from a chest strap without a fault that touches
// peaks, since a wrist sensor can follow the steps instead of the heart.
type Held struct {
	Basis
	BPM float64 `json:"bpm"`
}

// HeldOf finds, among all 15 successive seconds with a heart rate (measured or bridged, at least 3 of
// them readings), those whose lowest value is highest:
//
//	BPM = max over k of min(x[k], ..., x[k+14])
//
// It is nil when no 15 such seconds follow each other. Common practice, no source.
func HeldOf(s heartrate.Series) *Held {
	best := -1
	bpm := 0.0
	run, readings := 0, 0
	for k, v := range s.BPM {
		if !s.Has(k) {
			run, readings = 0, 0
			continue
		}
		run++
		if s.Origin[k] == heartrate.Measured {
			readings++
		}
		if run > heldSeconds && s.Origin[k-heldSeconds] == heartrate.Measured {
			readings--
		}
		if run < heldSeconds || readings < heldReadings || v <= bpm {
			continue
		}
		lowest := v
		for _, x := range s.BPM[k-heldSeconds+1 : k] {
			lowest = min(lowest, x)
		}
		if lowest > bpm {
			bpm, best = lowest, k-heldSeconds+1
		}
	}
	if best < 0 {
		return nil
	}
	h := &Held{BPM: bpm, Basis: Basis{
		Method: fmt.Sprintf("highest heart rate not gone below for %d s", heldSeconds), From: best, To: best + heldSeconds, Enough: true,
	}}
	n := 0
	for k := h.From; k < h.To; k++ {
		if s.Origin[k] == heartrate.Measured {
			n++
		}
	}
	h.Coverage = float64(n) / heldSeconds
	switch {
	case !s.Grade.UsePeaks:
		h.Enough, h.Why = false, s.Grade.Why(heartrate.Peaks)
	case s.Source != workout.Strap:
		h.Enough, h.Why = false, because(NotFromStrap, nil)
	}
	return h
}
