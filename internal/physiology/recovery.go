package physiology

import (
	"math"
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// How a recovery is read (common practice, no source, but for the length of the fit).
const (
	beforePeak  = 60  // s before the stop and
	afterPeak   = 90  // s after it in which the highest value is sought
	fitShortest = 150 // s of readings that a time constant needs; Pierpont 2000: stable only from about 3 min on
	fitLongest  = 300 // s: later changes are not the fast fall any more
)

// stop is the end of an effort.
type stop struct {
	at int
	by By
	// first and last are the seconds between which it was; both 0 where an effort, a mark or the timer says it.
	first, last int
	// until is where the next effort begins, or the end of the recording.
	until int
}

// recoveryOf measures the fall of heart rate after one stop, and shows none where it is in doubt.
func recoveryOf(s heartrate.Series, e Effort, st stop) Recovery {
	r := fallAfter(s, e, st)
	if why := r.doubt(s, st); why != nil {
		r.Basis.Enough, r.Basis.Why = false, why
		r.Drop30, r.Drop60, r.Drop120, r.FromPeak30, r.FromPeak60, r.FromPeak120 = nil, nil, nil, nil, nil, nil
		r.T30, r.Tau, r.TauLow, r.TauHigh = nil, nil, nil, nil
	}
	return r
}

// fallAfter is the fall after a stop as recorded.
func fallAfter(s heartrate.Series, e Effort, st stop) Recovery {
	r := Recovery{Stop: st.at, By: st.by, Activity: e.ActivityAfter(st.at, st.until)}
	_, coverage := s.ValuesIn(st.at, min(st.at+61, len(s.BPM)))
	r.Basis = Basis{
		Method: "clean heart rate at the stop minus that 60 s later",
		From:   st.at, To: min(st.at+121, st.until), Coverage: coverage,
	}
	value := func(after int) *float64 {
		// The next effort lifts heart rate again: what lies beyond its start is no recovery.
		if after > 0 && st.at+after > st.until+heartrate.Nearby {
			return nil
		}
		return some(s.Near(st.at + after))
	}
	r.falls(value, some(highest(s, st.at-beforePeak, min(st.at+afterPeak+1, st.until))))
	t, hr := measuredIn(s, workout.Span{From: st.at, To: min(st.at+fitLongest+1, st.until)})
	r.T30 = some(T30(t, hr))
	if r.Drop60 != nil && *r.Drop60 > 0 {
		// Heart rate waits before it answers. An exponential has the same Tau wherever it is begun.
		r.fit(t, hr, aimLate)
	}
	switch {
	case r.Drop60 != nil:
		r.Basis.Enough = true
	case r.End == nil:
		r.Basis.Why = because(NoHeartAtStop, nil)
	case st.until < len(s.BPM) && st.until < st.at+60:
		r.Basis.Why = because(NextEffort, workout.Args{"seconds": st.until - st.at})
	case len(s.BPM)-1 < st.at+60-heartrate.Nearby:
		r.Basis.Why = because(EndsAfterStop, workout.Args{"seconds": max(0, len(s.BPM)-1-st.at)})
	default:
		r.Basis.Why = because(NoHeartAfter, nil)
	}
	return r
}

// Where there is no fall to show (common practice, no source; TestKnownStops counts how many of the figures that
// are left are wrong by more than mostWrong).
const (
	mostWrong = 10.0 // bpm that the figure may change within the seconds at which the stop may have been
	risesOn   = 5.0  // bpm above the end within the minute after it: heart rate rises after the stop
)

// doubt says why there is no fall to show although its values were recorded, nil otherwise: heart rate rises
// after the stop, or its place is so uncertain that the figure could be another. Else the interval of Drop60
// is set.
func (r *Recovery) doubt(s heartrate.Series, st stop) workout.Facts {
	if r.Drop60 == nil {
		return nil
	}
	h := smooth(s)
	low, high := *r.Drop60, *r.Drop60
	for k := st.first; st.last > 0 && k <= min(st.last, st.until-60); k++ {
		if d := dropAfter(h, k); !math.IsNaN(d) {
			low, high = min(low, d), max(high, d)
		}
	}
	peak, _ := highest(heartrate.Series{BPM: h}, st.at, min(st.at+61, st.until))
	switch {
	case *r.Drop60 <= 0 || peak-h[st.at] >= risesOn:
		return because(RisesOn, nil)
	case max(*r.Drop60-low, high-*r.Drop60) > mostWrong:
		return because(StopUncertain, workout.Args{"low": low, "high": high})
	}
	r.Drop60Low, r.Drop60High = &low, &high
	return nil
}

// falls fills in the values after so many seconds and how far they lie below the end and the peak.
func (r *Recovery) falls(value func(after int) *float64, peak *float64) {
	r.End, r.At30, r.At60, r.At120 = value(0), value(30), value(60), value(120)
	r.Drop30, r.Drop60, r.Drop120 = difference(r.End, r.At30), difference(r.End, r.At60), difference(r.End, r.At120)
	r.FromPeak30, r.FromPeak60, r.FromPeak120 = difference(peak, r.At30), difference(peak, r.At60), difference(peak, r.At120)
}

// fit fills in the time constant of a fall from second `from` on, where the readings give one.
func (r *Recovery) fit(t, hr []float64, from float64) {
	if len(t) == 0 || t[len(t)-1]-t[0] < fitShortest {
		return
	}
	k, _ := slices.BinarySearch(t, from)
	if e, ok := FitRecovery(t[k:], hr[k:]); ok {
		r.Tau = &e.Tau
		if e.High < longestTau { // else the readings bound it on one side at most
			r.TauLow, r.TauHigh = &e.Low, &e.High
		}
	}
}

// highest clean value in [from, to).
func highest(s heartrate.Series, from, to int) (float64, bool) {
	top := math.Inf(-1)
	for k := max(0, from); k < min(to, len(s.BPM)); k++ {
		if v := s.BPM[k]; v > top {
			top = v
		}
	}
	return top, !math.IsInf(top, -1)
}

func difference(a, b *float64) *float64 {
	if a == nil || b == nil {
		return nil
	}
	return some(*a-*b, true)
}

// Movement after a stop: below these the athlete is taken to stand, sit or coast.
const (
	stillPower   = 15.0 // W
	stillSpeed   = 0.5  // m/s
	stillCadence = 10.0 // per minute
)

// ActivityAfter says whether the athlete went on moving in seconds 5 to 60 after a stop, or until the next
// effort. Power decides where it was recorded: coasting on a bicycle is rest.
func (e Effort) ActivityAfter(stop, until int) Activity {
	m, ok := e.mean(stop+5, min(stop+60, until))
	if !ok {
		return UnknownActivity
	}
	limit := map[By]float64{"power": stillPower, "speed": stillSpeed, "cadence": stillCadence}[e.By]
	if m < limit {
		return Still
	}
	return Moving
}
