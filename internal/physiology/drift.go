package physiology

import (
	"fmt"
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Where drift can be told (common practice, no source, built on the published definition: a slow rise
// at constant load that shows from about the tenth minute; Coyle & Gonzalez-Alonso 2001, Wingo 2012).
const (
	driftAfter    = 10 * 60 // s from the start of the workout
	driftSettled  = 3 * 60  // s after the last change of load: three time constants of heart rate
	driftShortest = 20 * 60 // s
	driftMean     = 30      // s: heart rate is averaged over so much before the slope is taken
	// driftAlike is the least autocorrelation of neighbouring 30-s means. Heart rate follows load with a
	// time constant of about 57.6 s (Hunt 2015), which alone makes it exp(-30/57.6) = 0.59; beat-to-beat
	// unrest lowers that. Estimated from 40 means alone it often comes out too small.
	driftAlike  = 0.4
	driftWidest = 10.0 // bpm per 10 min between the ends of the interval: wider, it tells nothing
)

// driftOf measures the slow rise of heart rate at constant load: the Theil-Sen slope of 30-s means, in
// bpm per 10 min, with a 90 % interval that respects their autocorrelation. It is taken over the
// longest stretch of a steady phase that begins after the first 10 min and 3 min after the last change
// of load and holds one load for 20 min (see steadiness). Without speed and power one load is taken as
// given only when the session is known to be steady.
func driftOf(s heartrate.Series, phases []Phase, e effort, steady bool) Drift {
	const method = "Theil-Sen slope of 30-s means"
	span, why := driftSpan(phases, e, steady)
	d := Drift{Basis: basis(s, method, span.From, span.To)}
	if why != "" {
		d.Why = why
		return d
	}
	if d.Coverage < enoughHeartRate {
		d.Why = tooLittle(d.Coverage)
		return d
	}
	y := heartMeans(s, span.From, span.To, driftMean)
	x := make([]float64, len(y))
	for i := range x {
		x[i] = float64(i*driftMean) / 600
	}
	slope, low, high, ok := senSlope(x, y, driftAlike)
	if !ok || high-low > driftWidest {
		d.Why = "heart rate wanders too much in this stretch to tell its slope; a longer steady stretch is needed"
		return d
	}
	d.Slope, d.Low, d.High, d.Enough = slope, low, high, true
	if e.isLoad() {
		mid := (span.From + span.To) / 2
		hr1, ok1 := s.MeanIn(span.From, mid)
		hr2, ok2 := s.MeanIn(mid, span.To)
		load1, ok3 := e.mean(span.From, mid)
		load2, ok4 := e.mean(mid, span.To)
		if ok1 && ok2 && ok3 && ok4 {
			d.Cost = some(CostChange(hr1, load1, hr2, load2))
		}
	}
	return d
}

// CostChange is the change in percent of heart rate per load (speed or power) from a first to a second
// half: 100 ((hr2/load2)/(hr1/load1) - 1). At equal loads it is the change of heart rate alone. It is
// false unless all four are above zero.
func CostChange(hr1, load1, hr2, load2 float64) (float64, bool) {
	if !(hr1 > 0 && load1 > 0 && hr2 > 0 && load2 > 0) {
		return 0, false
	}
	return 100 * ((hr2/load2)/(hr1/load1) - 1), true
}

// driftSpan finds the longest stretch in which drift can be told, or says why there is none.
func driftSpan(phases []Phase, e effort, steady bool) (workout.Span, string) {
	best, why := workout.Span{}, ""
	start := startOf(e)
	for i, p := range phases {
		if p.Kind != workout.Steady {
			continue
		}
		from := max(p.From, start+driftAfter)
		if i > 0 {
			from = max(from, p.From+driftSettled)
		}
		span := workout.Span{From: from, To: p.To}
		if span.Seconds() < driftShortest {
			continue
		}
		if !e.isLoad() {
			if !steady {
				why = "without speed or power the load is not known to be steady"
			} else if span.Seconds() > best.Seconds() {
				best = span
			}
			continue
		}
		found, reason := longestAtOneLoad(e, span)
		if found.Seconds() > best.Seconds() {
			best = found
		}
		why = reason
	}
	switch {
	case best.Seconds() >= driftShortest:
		return best, ""
	case why == "":
		why = fmt.Sprintf("no steady stretch of %d min after the first %d min", driftShortest/60, driftAfter/60)
	}
	return workout.Span{}, why
}

// longestAtOneLoad is the longest stretch of span, in whole minutes, at one load; if none holds for 20
// min, the reason is that of the whole span.
func longestAtOneLoad(e effort, span workout.Span) (workout.Span, string) {
	whole := steadinessOf(e, span.From, span.To)
	why := whole.why(e.by, halvesWithin)
	if why == "" {
		return span, ""
	}
	minutes := means(e.v, span.From, span.To, block)
	byMinute, bySecond := runningSums(minutes), runningSums(e.v[span.From:span.To])
	for n := len(minutes); n*block >= driftShortest; n-- {
		for a := 0; a+n <= len(minutes); a++ {
			found := workout.Span{From: a * block, To: min(span.Seconds(), (a+n)*block)}
			if a > 0 { // it begins with a change of load: heart rate must settle first
				found.From += driftSettled
			}
			if found.Seconds() < driftShortest {
				continue
			}
			mid := (found.From + found.To) / 2
			mean, variance := byMinute.mean(found.From/block, a+n), byMinute.variance(found.From/block, a+n)
			first, second := bySecond.mean(found.From, mid), bySecond.mean(mid, found.To)
			// Slightly wide, to be quick; the rule itself decides.
			if !(mean > 0) || variance > 1.1*mostCV*mostCV*mean*mean || math.Abs(second/first-1) > 1.1*halvesWithin {
				continue
			}
			found.From += span.From
			found.To += span.From
			if steadinessOf(e, found.From, found.To).why(e.by, halvesWithin) == "" {
				return found, ""
			}
		}
	}
	return workout.Span{}, why
}

// heartMeans is the mean heart rate of each width seconds, NaN where fewer than half have one; a short
// last block is left out.
func heartMeans(s heartrate.Series, from, to, width int) []float64 {
	var out []float64
	for a := from; a+width <= to; a += width {
		n := 0
		for k := a; k < a+width; k++ {
			if s.Has(k) {
				n++
			}
		}
		if m, ok := s.MeanIn(a, a+width); ok && 2*n >= width {
			out = append(out, m)
		} else {
			out = append(out, math.NaN())
		}
	}
	return out
}

// startOf is the first second of movement, 0 where the effort is not known.
func startOf(e effort) int {
	for k, v := range e.v {
		if v > 0 {
			return k
		}
	}
	return 0
}
