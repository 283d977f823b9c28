package heartrate

import (
	"math"
	"slices"
)

// What a heart can do. Fitted rates of rise at the onset of effort are 3.8 (SD 2.1) bpm/s
// (Thomson 2016) and initial falls 0.5-2.4 bpm/s (from the fits in Barak 2011); a fall of 20 bpm
// within 5 s is seen in a real recording of a runner who stopped. No published hard limit for
// values once a second was found, so these are common practice, no source, on the safe side.
const (
	leap     = 15.0 // bpm; at most this from one reading to the next
	rate     = 5.0  // bpm/s; over longer steps at most this
	leapCost = 0.5  // seconds of evidence that each bpm of a leap must have on its side to stay
	stepCap  = 10   // s; a reading stands for at most this much evidence
	lookBack = 64   // stretches looked back over when some are skipped
)

// The Hampel filter. Three deviations are the usual threshold (R package pracma); the window and the floor are
// common practice, no source.
const (
	hampelK   = 3 // neighbours on each side
	hampelLen = 2*hampelK + 1
	hampelT   = 3.0
	hampelS   = 7      // s; a window spans at most this, so that one second may lack
	madToSD   = 1.4826 // of a normal distribution
	leastMAD  = 1.0    // bpm; heart rate is a whole number and often flat
	smallest  = hampelT * madToSD * leastMAD
)

// A kept is a leap that stays in the series since both sides of it last.
type kept struct {
	at       int // second of the first reading after the leap
	from, to float64
}

// reject finds the seconds, out of those listed in at (ascending), whose reading is an artefact.
//
// First, leaps: the readings are cut into stretches wherever heart rate moves by more than 15 bpm
// from one to the next (by more than 5 bpm/s when they are further apart than 3 s). Of all ways to
// leave stretches out, the one is taken that keeps the most seconds, where each leap that remains
// costs half a second for each bpm. So a run of spikes 60 bpm too high goes when it lasts less than
// a minute (half a minute at either end of the recording), and a lasting change of level stays and
// is reported.
//
// Then a Hampel filter on what is left: a reading x goes when |x - med| > 3 * 1.4826 * MAD over the
// 7 readings around it, with the MAD floored at 1 bpm (Hampel identifier as documented with the R
// package pracma). It looks only at windows of at most 7 s, so that sparse recordings and gaps are
// left alone.
func reject(at []int, bpm []float64) (out []int, leaps []kept) {
	out, leaps = rejectLeaps(at, bpm)
	if len(out) > 0 {
		left := make([]int, 0, len(at)-len(out))
		i := 0
		for _, k := range at {
			if i < len(out) && out[i] == k {
				i++
				continue
			}
			left = append(left, k)
		}
		at = left
	}
	out = append(out, hampel(at, bpm)...)
	slices.Sort(out)
	return out, leaps
}

// cost is what it costs in seconds to go from a to b within dt seconds; 0 when a heart can.
func cost(a, b float64, dt int) float64 {
	d := math.Abs(b - a)
	if d <= max(leap, rate*float64(dt)) {
		return 0
	}
	return leapCost * d
}

// stretch is a run of readings without a leap: at[from:to].
type stretch struct {
	from, to int
	seconds  float64 // evidence
	best     float64 // most evidence kept up to and with this stretch, minus the cost of leaps
	before   int     // index of the stretch kept before this one, -1 none
}

func rejectLeaps(at []int, bpm []float64) (out []int, leaps []kept) {
	var runs []stretch
	from, seconds := 0, 0.0
	for i := range at {
		if i == 0 {
			continue
		}
		dt := at[i] - at[i-1]
		if cost(bpm[at[i-1]], bpm[at[i]], dt) == 0 {
			seconds += float64(min(dt, stepCap))
			continue
		}
		runs = append(runs, stretch{from: from, to: i, seconds: seconds + 1})
		from, seconds = i, 0
	}
	if len(runs) == 0 {
		return nil, nil
	}
	runs = append(runs, stretch{from: from, to: len(at), seconds: seconds + 1})

	last := 0
	for j := range runs {
		r := &runs[j]
		r.before = -1
		reach := 0.0
		for i := j - 1; i >= max(0, j-lookBack); i-- {
			a, b := at[runs[i].to-1], at[r.from]
			if v := runs[i].best - cost(bpm[a], bpm[b], b-a); v > reach {
				reach, r.before = v, i
			}
		}
		r.best = reach + r.seconds
		if r.best > runs[last].best {
			last = j
		}
	}

	keep := make([]bool, len(runs))
	for j := last; j >= 0; j = runs[j].before {
		keep[j] = true
		if i := runs[j].before; i >= 0 {
			a, b := at[runs[i].to-1], at[runs[j].from]
			if cost(bpm[a], bpm[b], b-a) > 0 {
				leaps = append(leaps, kept{at: b, from: bpm[a], to: bpm[b]})
			}
		}
	}
	slices.Reverse(leaps)
	for j, r := range runs {
		if !keep[j] {
			out = append(out, at[r.from:r.to]...)
		}
	}
	return out, leaps
}

func hampel(at []int, bpm []float64) (out []int) {
	var w, d [hampelLen]float64
	for i := hampelK; i+hampelK < len(at); i++ {
		// Where most of the window lies near x, so does its median.
		y := bpm[at[i]]
		if math.Abs(y-bpm[at[i-1]]) <= smallest && math.Abs(y-bpm[at[i+1]]) <= smallest && math.Abs(y-bpm[at[i-2]]) <= smallest {
			continue
		}
		if at[i+hampelK]-at[i-hampelK] > hampelS {
			continue
		}
		x := bpm[at[i]]
		low, high := x, x
		for j := range w {
			w[j] = bpm[at[i-hampelK+j]]
			low, high = min(low, w[j]), max(high, w[j])
		}
		if high-low <= smallest {
			continue
		}
		med := middle(&w)
		dev := math.Abs(x - med)
		if dev <= smallest {
			continue
		}
		for j := range d {
			d[j] = math.Abs(w[j] - med)
		}
		if dev > hampelT*madToSD*max(leastMAD, middle(&d)) {
			out = append(out, at[i])
		}
	}
	return out
}

// middle sorts w and gives its median.
func middle(w *[hampelLen]float64) float64 {
	slices.Sort(w[:])
	return w[hampelK]
}
