package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// What counts as an even effort outdoors, where lights, corners and hills never let one load stand
// (common practice, no source).
const (
	evenBlock  = 30     // s: heart rate and load are averaged over so much
	evenWithin = 0.15   // a block counts while the load that the heart feels is so near to its median
	evenShare  = 2. / 3 // of the blocks must count
	evenHalves = 0.10   // the halves' mean load may differ by so much
	evenCV     = 0.25   // coefficient of variation of the blocks' own load, not as the heart feels it
)

// onTau is the time constant in s with which heart rate follows load (Hunt, Fankhauser and Saengsuwan 2015).
const onTau = 57.6

// evenLoad is a stretch of time as pairs of heart rate and load, from which blocks are left out in which
// the load was clearly another: a stop, a walking break, a sprint, and the minutes that heart rate takes to
// come back from them.
type evenLoad struct {
	Effort
	typical float64   // median of the load, as the heart feels it
	minutes []float64 // of each block that counts, from the start of the stretch
	bpm     []float64
	off     []float64 // the block's load relative to the typical one, 0 for equal
}

// evenLoadOf gives the blocks of [from, to) at an even load, or says why the load was not even.
//
// Load is taken as the heart feels it: run through a first-order lag with the published time constant.
// That leaves the settling after a stop out by itself and smooths away what positions add to speed.
func evenLoadOf(s heartrate.Series, e Effort, from, to int) (evenLoad, workout.Facts) {
	out := evenLoad{Effort: e}
	if share := known(e.v[from:to]) / float64(max(1, to-from)); share < 0.8 {
		return out, because(LittleLoad, workout.Args{"by": e.By, "percent": 100 * share})
	}
	bpm := heartMeans(s, from, to, evenBlock)
	load := means(felt(e.v[:to]), from, to, evenBlock)[:len(bpm)]
	moving := positive(load)
	if len(moving) == 0 {
		return out, because(NoMovement, nil)
	}
	out.typical = middle(moving)
	even := 0
	raw := means(e.v, from, to, evenBlock)
	var own moments
	for i, v := range load {
		if off := v/out.typical - 1; math.Abs(off) <= evenWithin {
			even++
			if !math.IsNaN(raw[i]) {
				own.add(0, raw[i])
			}
			if !math.IsNaN(bpm[i]) {
				out.minutes = append(out.minutes, (float64(i)+0.5)*evenBlock/60)
				out.bpm = append(out.bpm, bpm[i])
				out.off = append(out.off, off)
			}
		}
	}
	if share := float64(even) / float64(len(load)); share < evenShare {
		return out, because(LoadUneven, workout.Args{"by": e.By, "percent": 100 * share, "within": 100 * evenWithin, "needed": 100 * evenShare})
	}
	if cv := math.Sqrt(own.spread()/max(1, own.n-1)) / out.typical; cv > evenCV {
		return out, because(LoadVaries, workout.Args{"by": e.By, "percent": 100 * cv, "most": 100 * evenCV})
	}
	if first, second := out.halves(out.off); math.Abs((1+second)/(1+first)-1) > evenHalves {
		return out, because(LoadChanged, workout.Args{"by": e.By, "percent": 100 * math.Abs((1+second)/(1+first)-1), "most": 100 * evenHalves})
	}
	return out, nil
}

// felt is the load as the heart feels it: v after a first-order lag. What is not known changes nothing.
func felt(v []float64) []float64 {
	out, at := make([]float64, len(v)), math.NaN()
	step := 1 - math.Exp(-1/onTau)
	for k, x := range v {
		switch {
		case math.IsNaN(x):
		case math.IsNaN(at):
			at = x
		default:
			at += (x - at) * step
		}
		out[k] = at
	}
	return out
}

// halves gives the means of the first and the second half of v, 0 for none.
func (l evenLoad) halves(v []float64) (first, second float64) {
	if len(v) < 2 {
		return 0, 0
	}
	return levelOf(v[:len(v)/2]), levelOf(v[len(v)/2:])
}

// How heart rate rises with load. On foot: 24.2 +- 8.3 bpm per m/s (Hunt, Fankhauser and Saengsuwan 2015). Otherwise it is taken to
// rise in a straight line from that of standing, and the gain to differ between people by a third as it does
// on foot (common practice, no source).
const (
	gainOnFoot, gainSpread = 24.2, 8.3 // bpm per m/s
	standing               = 75.0      // bpm
)

// coupling is the usual rise of heart rate in bpm for the whole typical load, and so for a share of it,
// with the limits that a slow trend within one session is held between. Power says what the work is; speed
// on a hill does not, and at an even effort it may change without heart rate changing at all, so that for
// speed the range begins at 0. Against air and water the work rises by 3 % where speed rises by 1 %.
func (l evenLoad) coupling() (low, usual, high float64) {
	rise := max(10, levelOf(l.bpm)-standing)
	switch {
	case l.By == "power":
		return rise * (1 - gainSpread/gainOnFoot), rise, rise * (1 + gainSpread/gainOnFoot)
	case l.drag:
		return 0, 3 * rise, 3 * rise * (1 + gainSpread/gainOnFoot)
	}
	return 0, gainOnFoot * l.typical, (gainOnFoot + gainSpread) * l.typical
}

// level takes out of heart rate what goes with the ups and downs of the load, as a regression finds it.
// The load's own slow trend stays untouched, so that a slope of heart rate in time does not change; trend
// is that of the load, a share of the typical one in 10 min.
func (l evenLoad) level() (bpm []float64, trend float64) {
	trend, off := detrended(l.minutes, l.off)
	_, wander := detrended(l.minutes, l.bpm)
	var m moments
	for i := range off {
		m.add(off[i], wander[i])
	}
	_, gain := m.line()
	bpm = make([]float64, len(l.bpm))
	for i := range bpm {
		bpm[i] = l.bpm[i] - gain*off[i]
	}
	return bpm, 10 * trend
}

// detrended gives the least-squares slope of y over x and what is left of y.
func detrended(x, y []float64) (slope float64, rest []float64) {
	var m moments
	for i := range x {
		m.add(x[i], y[i])
	}
	a, b := m.line()
	rest = make([]float64, len(y))
	for i := range y {
		rest[i] = y[i] - a - b*x[i]
	}
	return b, rest
}
