package heartrate

import (
	"math"
	"slices"
)

// What a heart can do. Fitted rates of rise at the onset of effort are 3.8 (SD 2.1) bpm/s
// (Thomson 2016) and initial falls 0.5-2.4 bpm/s (from the fits in Barak 2011); no published hard
// limit for values once a second was found, so these are conventions on the safe side.
const (
	leap      = 15.0 // bpm; never more from one reading to the next within a few seconds
	riseBPMs  = 4.0  // bpm/s over longer steps
	fallBPMs  = 3.0
	strayS    = 15.0 // a stray stretch is given up when it is shorter than this for each leap it costs to keep it
	stepCapS  = 10   // a reading stands for at most this many seconds of evidence
	lookBack  = 64   // stretches looked back over when one is skipped
	hampelK   = 3    // neighbours on each side
	hampelT   = 3.0
	hampelS   = 9 // seconds that the window of 7 readings may span
	madToSD   = 1.4826
	leastMAD  = 1.0 // bpm; heart rate is a whole number and often flat
	smallest  = hampelT * madToSD * leastMAD
	hampelLen = 2*hampelK + 1
)

// A kept is a leap that stays in the series since both sides of it last.
type kept struct {
	at       int // second of the first reading after the leap
	from, to float64
}

// reject finds the seconds, out of those listed in at (ascending), whose reading is an artefact.
//
// First, leaps: the readings are cut into stretches wherever heart rate moves by more than 15 bpm
// at once (over steps of more than 5 s when falling, 3.75 s when rising: by more than 3 and 4
// bpm/s). Of all ways to leave stretches out, the one is taken that keeps the most seconds, where
// each leap that remains costs 15 s. So a run of spikes or dips goes when it lasts less than 30 s
// (15 s at either end of the recording), and a lasting change of level stays and is reported.
//
// Then a Hampel filter on what is left: a reading x goes when |x - med| > 3 * 1.4826 * MAD over the
// 7 readings around it, with the MAD floored at 1 bpm (Hampel identifier as documented with the R
// package pracma). It looks only at windows of at most 9 s, so that sparse recordings and gaps are
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

// plausible says whether a heart can go from a to b within dt seconds.
func plausible(a, b float64, dt int) bool {
	if b >= a {
		return b-a <= max(leap, riseBPMs*float64(dt))
	}
	return a-b <= max(leap, fallBPMs*float64(dt))
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
		if plausible(bpm[at[i-1]], bpm[at[i]], dt) {
			seconds += float64(min(dt, stepCapS))
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
			v := runs[i].best
			if a, b := at[runs[i].to-1], at[r.from]; !plausible(bpm[a], bpm[b], b-a) {
				v -= strayS
			}
			if v > reach {
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
			if !plausible(bpm[a], bpm[b], b-a) {
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
	for i := 1; i < len(w); i++ {
		x := w[i]
		j := i
		for ; j > 0 && w[j-1] > x; j-- {
			w[j] = w[j-1]
		}
		w[j] = x
	}
	return w[hampelK]
}
