package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Where drift can be measured (common practice, no source, built on the published definition: a slow rise
// at constant load that shows from about the tenth minute; Coyle & Gonzalez-Alonso 2001, Wingo 2012).
const (
	driftAfter    = 10 * 60  // s from the start of the workout
	driftSettled  = 3 * 60   // s after the last change of load: three time constants of heart rate
	driftShortest = 20 * 60  // s
	driftLongest  = 6 * 3600 // s: what comes later is left out, since all pairs of means are compared
	driftWidest   = 10.0     // bpm per 10 min between the ends of the interval: wider, it shows nothing
)

// heartAlike is how alike neighbouring 30-s means of heart rate are: 0.75 is about the median of real
// recordings. Heart rate follows load with a time constant of 57.6 s (Hunt, Fankhauser and Saengsuwan 2015), which alone makes it
// exp(-30/57.6) = 0.59.
var heartAlike = prior{usual: 0.75, least: 0.59}

// driftOf measures the slow rise of heart rate at constant load in bpm per 10 min, over the longest steady
// phase that goes on for 20 min after the first 10 min and after 3 min at its load. Without speed and power
// one load is taken as given only when the session is known to be steady. Heat and a missing fan are not in
// a recording: those who know about them must set the result aside.
func driftOf(s heartrate.Series, phases []Phase, e Effort, steady bool) Drift {
	d := Drift{Basis: Basis{Method: driftMethod}}
	d.Why = because(NoSteadyStretch, workout.Args{"minutes": driftShortest / 60, "after": driftAfter / 60})
	longest := 0
	start := startOf(e)
	for i, p := range phases {
		if p.Kind != workout.Steady {
			continue
		}
		span := workout.Span{From: max(p.From, start+driftAfter), To: p.To}
		if i > 0 {
			span.From = max(span.From, p.From+driftSettled)
		}
		if span.Seconds() < driftShortest {
			continue
		}
		span.To = min(span.To, span.From+driftLongest)
		if x := driftIn(s, e, span, steady); x.Enough && !d.Enough || x.Enough == d.Enough && span.Seconds() > longest {
			d, longest = x, span.Seconds()
		}
	}
	return d
}

const driftMethod = "Theil-Sen slope of 30-s means at an even load"

// driftIn measures the drift of a span, or says why that is not possible.
func driftIn(s heartrate.Series, e Effort, span workout.Span, steady bool) Drift {
	d := Drift{Basis: basis(s, driftMethod, span.From, span.To)}
	var l evenLoad
	switch {
	case d.Coverage < heartrate.Enough:
		d.Why = workout.Facts{heartrate.TooLittle(d.Coverage)}
	case e.isLoad():
		l, d.Why = evenLoadOf(s, e, span.From, span.To)
	case !steady:
		d.Why = because(LoadNotKnown, nil)
	default:
		l = givenLoad(s, span.From, span.To)
	}
	if len(d.Why) == 0 && len(l.bpm)*evenBlock < driftShortest {
		d.Why = because(EvenTooShort, workout.Args{"minutes": driftShortest / 60})
	}
	if len(d.Why) > 0 {
		return d
	}
	slope, low, high, ok := l.slope()
	if !ok || high-low > driftWidest {
		d.Why = because(SlopeWanders, nil)
		return d
	}
	d.Slope, d.Low, d.High, d.Enough = slope, low, high, true
	if e.isLoad() {
		hr1, hr2 := l.halves(l.bpm)
		load1, load2 := l.halves(l.off)
		d.Cost = some(CostChange(hr1, 1+load1, hr2, 1+load2))
	}
	return d
}

// slope is the drift of the blocks in bpm per 10 min with a 90 % interval.
//
// The slope is Theil and Sen's over the 30-s means of heart rate, after taking out what goes with the ups
// and downs of the load; the interval respects the means' autocorrelation (see senSlope). A slow trend of
// the load itself cannot be separated from drift by any regression. What heart rate rises with load is known
// within limits only (see coupling): the middle of them is taken off the slope, and the interval is widened
// so far that it holds all of them. So a load that slowly rises or falls makes the interval wide, until
// there is no drift to show.
func (l evenLoad) slope() (slope, low, high float64, ok bool) {
	bpm, trend := l.level()
	tens := make([]float64, len(bpm))
	for i := range tens {
		tens[i] = l.minutes[i] / 10
	}
	slope, low, high, ok = senSlope(tens, bpm, heartAlike)
	if ok { // devices store whole beats: half of one may hide between the ends
		hidden := 0.5 / (tens[len(tens)-1] - tens[0])
		low, high = min(low, slope-hidden), max(high, slope+hidden)
	}
	least, _, most := l.coupling()
	return slope - trend*(least+most)/2, low - max(trend*least, trend*most), high - min(trend*least, trend*most), ok
}

// givenLoad is a span at a load that is known to be even.
func givenLoad(s heartrate.Series, from, to int) evenLoad {
	var out evenLoad
	for i, v := range heartMeans(s, from, to, evenBlock) {
		if !math.IsNaN(v) {
			out.minutes = append(out.minutes, (float64(i)+0.5)*evenBlock/60)
			out.bpm = append(out.bpm, v)
			out.off = append(out.off, 0)
		}
	}
	return out
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

// heartMeans is the mean heart rate of each width seconds, NaN where fewer than half have one; a short
// last block is left out.
func heartMeans(s heartrate.Series, from, to, width int) []float64 {
	return means(s.Counted(), from, to-(to-from)%width, width)
}

// startOf is the first second of movement, 0 where the effort is not known.
func startOf(e Effort) int {
	for k, v := range e.v {
		if v > 0 {
			return k
		}
	}
	return 0
}
