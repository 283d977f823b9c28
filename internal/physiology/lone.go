package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// What makes a single effort to the limit (common practice, no source; held by TestKnownStops on 21 effort tests, a
// treadmill ramp and joined shuttle runs, and by TestNoLoneEffortInOrdinarySessions).
const (
	loneRise   = 30.0    // bpm that heart rate rises in it at least,
	loneShare  = 0.35    // and of the way from the session's lowest heart rate to its highest
	loneAbove  = 0.15    // of that way that its end lies above all heart rate but its own and the minutes after it
	loneAfter  = 120     // s of those
	loneStill  = 2.0     // bpm/min that heart rate still rises at its end: more than any drift
	loneDip    = 12.0    // bpm that it may fall back in it
	loneEnd    = 240     // s of that end, at most half of the rise
	loneLevel  = 300     // s within which it gains at least
	loneGains  = 4.0     // bpm
	loneShort  = 60      // s
	loneLong   = 25 * 60 // s
	loneBefore = 180     // s before heart rate has done half its rise in which the effort may have begun
	loneLeaves = 0.15    // of the rise: above it, heart rate has left the level before
	loneEase   = 0.75    // of the load in its last minute, at most so much is done after it
	loneAround = 45      // s around heart rate's turn in which the load's own fall is sought
)

// loneEffort is the one work bout of a session that has no series of them: an effort to the limit, such as a
// shuttle run or a step test, in which heart rate rises to the session's one peak, still rises when it ends, and
// falls after it. In a steady session it has long settled by then.
func (g signal) loneEffort(s heartrate.Series) (span workout.Span, by By) {
	turned, ok := lastTurn(s)
	if !ok {
		return span, ""
	}
	h := smooth(s)
	top, low := heartRange(h)
	at := turned.at
	earliest := max(0, at-loneLong)
	_, base := heartRange(h[earliest : at+1])
	half := at
	for half > earliest && !(h[half] <= (h[at]+base)/2) {
		half--
	}
	_, before := heartRange(h[max(0, half-loneBefore) : half+1])
	start := half
	for start > max(0, half-loneBefore) && h[start] > before+loneLeaves*(h[at]-before) {
		start--
	}
	var end moments
	for k := max(at-loneEnd, (half+at)/2); k <= at; k++ {
		if !math.IsNaN(h[k]) {
			end.add(float64(k-at)/60, h[k])
		}
	}
	_, rising := end.line()
	first, _ := heartRange(h[:start])
	after, _ := heartRange(h[min(len(h), at+loneAfter):])
	span = workout.Span{From: start, To: at + 1}
	if !climbs(h[start:at+1], half-start) || h[at]-before < max(loneRise, loneShare*(top-low)) || h[at]-max(first, after) < loneAbove*(top-low) || !(rising >= loneStill) ||
		span.Seconds() < loneShort || span.Seconds() > loneLong {
		return span, ""
	}
	if g.by == ByHeartRate {
		return span, g.by
	}
	to, ok := g.easesAt(start, at)
	if !ok {
		return span, ""
	}
	span.To = to
	return span, g.by
}

// climbs says whether a heart rate goes up all the way: it does not fall back far, and from second half on it does
// not settle.
func climbs(h []float64, half int) bool {
	dip, highest := 0.0, 0.0
	for _, v := range h {
		highest = max(highest, v)
		dip = max(dip, highest-v)
	}
	for k := half; k+loneLevel < len(h); k += block {
		if h[k+loneLevel]-h[k] < loneGains {
			return false
		}
	}
	return dip <= loneDip
}

// easesAt is the first second after the last of effort near heart rate's turn, in an effort since second start;
// false where the load does not ease.
func (g signal) easesAt(start, turn int) (int, bool) {
	n, sum := len(g.v), runningSums(g.v)
	work, rest := sum.mean(max(start, turn-60), turn), sum.mean(min(n-1, turn+20), min(n, turn+80))
	if !(rest <= loneEase*work) {
		return 0, false
	}
	half := (work + rest) / 2
	for k := min(turn+loneAround, n-1); k > max(turn-loneAround, start); k-- {
		if g.v[k] > half && sum.mean(max(0, k-sustained+1), k+1) > half {
			return k + 1, true
		}
	}
	return turn + 1, true
}
