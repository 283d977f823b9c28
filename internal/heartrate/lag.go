package heartrate

import (
	"math"
	"slices"

	"nextrung/internal/workout"
)

// A sensor that averages long shows what the heart did some time ago. When an effort ends, the heart
// slows down within seconds; a series that goes on rising for long is late. Common practice, no source:
// the lower quartile of the delay is at most 20 s in the real recordings with three such ends or more,
// so that a shorter lag cannot be separated from the heart's own.
const (
	lagStops  = 3    // ends of effort that must be seen
	lagLong   = 25.0 // s; a delay from here on is a lagging sensor
	lagBefore = 45   // s of effort that must stand before its end
	lagAfter  = 30   // s over which effort must be low
	lagShare  = 0.5  // of the effort before
	lagFall   = 12.0 // bpm that heart rate must fall within lagWithin
	lagWithin = 120  // s
	lagBegin  = 0.35 // see delay
)

// delays gives, for each clear end of effort, how many seconds heart rate took to begin to fall.
// effort is power or speed or cadence second by second.
func delays(s Series, effort []float64) []float64 {
	n := len(effort)
	sum := make([]float64, n+1)
	for k, v := range effort {
		if math.IsNaN(v) {
			v = 0
		}
		sum[k+1] = sum[k] + v
	}
	mean := func(a, b int) float64 { return (sum[b] - sum[a]) / float64(b-a) }
	var out []float64
	for k := lagBefore; k+lagWithin+2 < n; k++ {
		// The end of an effort is where the next seconds are low for the first time.
		if !(effort[k] < effort[k-1]) {
			continue
		}
		before := mean(k-lagBefore, k)
		if !(before > 0) || effort[k] > lagShare*before || effort[k-1] <= lagShare*before {
			continue
		}
		if mean(k, k+lagAfter) > lagShare*before || mean(k-lagBefore, k-lagBefore/2) < 0.7*before {
			continue
		}
		if d, ok := s.delay(k); ok {
			out = append(out, d)
			k += lagWithin
		}
	}
	return out
}

// delay is the time from second k until heart rate begins to fall, worked out from when it has done a quarter
// and three quarters of its fall (5-s means): in an exponential fall the beginning lies 0.26 of the time
// between them before the first, in a straight one 0.5. False without a clear fall or when some of it
// is missing.
func (s Series) delay(k int) (float64, bool) {
	var mean [lagWithin]float64
	top, low := math.Inf(-1), math.Inf(1)
	for j := range mean {
		for d := -2; d <= 2; d++ {
			mean[j] += s.BPM[k+j+d] / 5
		}
		switch v := mean[j]; {
		case math.IsNaN(v):
			return 0, false
		case v > top:
			top, low = v, v
		default:
			low = min(low, v)
		}
	}
	if top-low < lagFall {
		return 0, false
	}
	first, last := 0, 0
	for j, v := range mean {
		if v >= top-(top-low)/4 {
			first, last = j, 0
		} else if last == 0 && v <= low+(top-low)/4 {
			last = j
		}
	}
	if last == 0 {
		return 0, false
	}
	return max(0, float64(first)-lagBegin*float64(last-first)), true
}

// lag gives the lower quartile of the delays of heart rate at ends of effort; false with fewer than
// three. Effort is power, else the speed of who goes on foot or rows: on wheels and skis speed falls
// where the way rises. The quartile, since a sensor that lags does so every time, while a heart that
// goes on rising for long now and then has been driven by something else.
func (s Series) lag(w workout.Workout) (seconds float64, ok bool) {
	c := w.Power
	if m := w.Sport.Mode(); c.Len() == 0 && (m == workout.Run || m == workout.Walk || m == workout.Row) {
		c = w.Speed
	}
	if c.Len() == 0 || len(s.BPM) < lagBefore+lagWithin {
		return 0, false
	}
	ds := delays(s, c.Grid(len(s.BPM), 10))
	if len(ds) < lagStops {
		return 0, false
	}
	slices.Sort(ds)
	return ds[(len(ds)-1)/4], true
}
