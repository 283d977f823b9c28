package heartrate

import (
	"math"

	"nextrung/internal/workout"
)

// A heart does not change its rate by 30 bpm within a minute while load and rhythm stay as they are: such a
// leap is the sensor's, that loses the pulse or finds it again. Common practice, no source; TestAlarmsInRealRecordings
// holds that no real recording shows one, TestLeapsAtEvenLoad that planted ones are found. A hill that is run at
// one speed raises heart rate as far, but more slowly.
const (
	leapRise   = 25.0 // bpm from the mean of the half minute before to that of the half minute after
	leapTime   = 30   // s that the leap may take
	leapSide   = 30   // s of those means
	leapPower  = 0.25 // by which the means of power around the leap may differ: of 100 bpm above rest that explains 25, and in minutes
	leapSpeed  = 0.15 // the same for speed: 0.5 of 3 m/s, which on foot explains 12 bpm (Hunt, Fankhauser and Saengsuwan 2015)
	leapRhythm = 0.10 // the same for cadence
	leapLoad   = 120  // s before a leap in which the load must be even: heart rate follows a change of load for so long
	leapBack   = 0.5  // of a leap: so large, a leap the other way ends the stretch between
	leapAlone  = 35.0 // bpm of a leap without a way back that still counts
)

// evenLeaps finds leaps of heart rate at an even load: the stretch between a leap and one the other way, or
// from a large one to the nearer end of the recording.
func (s *Series) evenLeaps(w workout.Workout) []Fault {
	n := len(s.BPM)
	even := evenChannels(w, n)
	if len(even) == 0 || n < 2*leapLoad {
		return nil
	}
	bpm := newMeans(s.BPM)
	change := func(k int) float64 {
		before, ok := bpm.in(k-leapSide, k)
		after, ok2 := bpm.in(k+leapTime, k+leapTime+leapSide)
		if !ok || !ok2 {
			return 0
		}
		return after - before
	}
	var out []Fault
	open, by := -1, 0.0 // the leap whose way back is sought
	for k := leapLoad; k+leapTime+leapSide <= n; k++ {
		d := change(k)
		if math.Abs(d) < leapRise || math.Abs(change(k+1)) > math.Abs(d) || !allEven(even, k) {
			continue
		}
		if open >= 0 && d*by < 0 && math.Abs(d) >= leapBack*math.Abs(by) {
			out = append(out, leapFault(open, k+leapTime, by))
			open = -1
		} else if open < 0 || math.Abs(d) > math.Abs(by) {
			open, by = k, d
		}
		k += leapTime
	}
	if open >= 0 && math.Abs(by) >= leapAlone {
		if open < n-open {
			out = append(out, leapFault(0, open+leapTime, by))
		} else {
			out = append(out, leapFault(open, n, by))
		}
	}
	return out
}

func leapFault(from, to int, by float64) Fault {
	return Fault{Kind: EvenLeap, Span: workout.Span{From: from, To: to}, Args: workout.Args{"bpm": math.Abs(by)}}
}

// evenChannels are the load and the cadence that must be even around a leap. Load is power, or the speed of who
// goes on foot or rows; on foot cadence alone will do.
func evenChannels(w workout.Workout, n int) []evenness {
	load, within, m := w.Power, leapPower, w.Sport.Mode()
	onFoot := m == workout.Run || m == workout.Walk
	if load.Len() == 0 && (onFoot || m == workout.Row) {
		load, within = w.Speed, leapSpeed
	}
	if load.Len() == 0 && !onFoot {
		return nil
	}
	var out []evenness
	if load.Len() > 0 {
		out = append(out, evenness{newMeans(load.Grid(n, longestHold)), within})
	}
	if w.Cadence.Len() > 0 {
		out = append(out, evenness{newMeans(w.Cadence.Grid(n, longestHold)), leapRhythm})
	}
	return out
}

// evenness is a channel that must not change around a leap by more than a share.
type evenness struct {
	means  means
	within float64
}

// allEven says whether each channel is even before, in and after the leap at second k.
func allEven(channels []evenness, k int) bool {
	for _, c := range channels {
		low, high := math.Inf(1), math.Inf(-1)
		for _, span := range [4][2]int{{k - leapLoad, k - leapLoad/2}, {k - leapLoad/2, k}, {k, k + leapTime}, {k + leapTime, k + leapTime + leapSide}} {
			v, ok := c.means.in(span[0], span[1])
			if !ok {
				return false
			}
			low, high = min(low, v), max(high, v)
		}
		if !(low > 0) || high-low > c.within*high {
			return false
		}
	}
	return true
}

// means gives means of known values over any stretch.
type means struct{ sum, known []float64 }

func newMeans(v []float64) means {
	m := means{make([]float64, len(v)+1), make([]float64, len(v)+1)}
	for i, x := range v {
		m.sum[i+1], m.known[i+1] = m.sum[i], m.known[i]
		if !math.IsNaN(x) {
			m.sum[i+1] += x
			m.known[i+1]++
		}
	}
	return m
}

// in is the mean of [from, to), false unless half of it is known.
func (m means) in(from, to int) (float64, bool) {
	from, to = max(0, from), min(to, len(m.sum)-1)
	if to <= from {
		return 0, false
	}
	n := m.known[to] - m.known[from]
	return (m.sum[to] - m.sum[from]) / n, 2*n >= float64(to-from)
}
