package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Count gives the seconds at each beat within span: those with a measured or bridged heart rate,
// pauses left out.
func Count(s heartrate.Series, span workout.Span) Histogram {
	var all [Highest - Lowest + 1]int
	top := 0
	for k := max(0, span.From); k < min(span.To, len(s.BPM)); k++ {
		if !s.Has(k) {
			continue
		}
		i := int(math.Floor(s.BPM[k])) - Lowest
		if i < 0 || i >= len(all) {
			continue
		}
		all[i]++
		top = max(top, i+1)
	}
	return append(Histogram{}, all[:top]...)
}

// Total is the number of seconds.
func (h Histogram) Total() int {
	n := 0
	for _, s := range h {
		n += s
	}
	return n
}

// Below is the number of seconds whose whole beat is under bpm: of an edge at 142.5 the seconds
// at 142 and less, whatever their fraction.
func (h Histogram) Below(bpm float64) int {
	n := 0
	for i, s := range h {
		if float64(i+Lowest) >= bpm {
			break
		}
		n += s
	}
	return n
}

// Plus adds two histograms, beat by beat.
func (h Histogram) Plus(o Histogram) Histogram {
	out := make(Histogram, max(len(h), len(o)))
	copy(out, h)
	for i, s := range o {
		out[i] += s
	}
	return out
}

// Mean is the mean of the whole beats in bpm; it lies at most 1 bpm under the mean of the unrounded
// series. It is false without seconds.
func (h Histogram) Mean() (float64, bool) {
	sum, n := 0, 0
	for i, s := range h {
		sum += s * (i + Lowest)
		n += s
	}
	if n == 0 {
		return 0, false
	}
	return float64(sum) / float64(n), true
}
