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
	loneEnd    = 240     // s of that end, at most half of the rise
	loneGains  = 4.0     // bpm at least that it is above the lowest of
	loneBefore = 180     // s before, all the way: else it has settled
	loneShort  = 60      // s
	loneLong   = 25 * 60 // s
	loneEase   = 0.75    // of the load in its last minute, at most so much is done after it
	loneLull   = 0.65    // of the load before and after it, so little for 20 s parts two efforts; walks of 10 s between shuttles do not
	loneAround = 45      // s after the load's end in which heart rate has its peak
)

// loneEffort is the one work bout of a session that has no series of them: an effort to the limit, such as a
// shuttle run or a step test, in which heart rate rises to the session's one peak, still rises when it ends, and
// falls after it. In a steady session it has long settled by then. Two of them are none, since it is not known
// which was meant.
func (g signal) loneEffort(s heartrate.Series, levels []segment) (span workout.Span, by By) {
	h, sum := smooth(s), runningSums(g.v)
	for _, end := range g.loneEnds(s, levels) {
		one, ok := loneUntil(h, end)
		ok = ok && (g.by == ByHeartRate || !lull(sum, one))
		switch {
		case !ok:
		case by == "":
			span, by = one, g.by
		case one.From >= span.To || span.From >= one.To:
			return span, ""
		case h[one.To-1] > h[span.To-1]: // the load eased in it too
			span = one
		}
	}
	return span, by
}

// loneEnds are the seconds at which an effort to the limit may have ended: where the load eases clearly, else where
// heart rate turns.
func (g signal) loneEnds(s heartrate.Series, levels []segment) (out []int) {
	if g.by == ByHeartRate {
		for _, turn := range turns(s) {
			out = append(out, turn.at+1)
		}
		return out
	}
	sum := runningSums(g.v)
	for _, l := range levels[:len(levels)-1] {
		work, rest := sum.mean(max(l.from, l.to-60), l.to), sum.mean(l.to, min(len(g.v), l.to+60))
		if rest <= loneEase*work {
			out = append(out, g.edge(workout.Workout{}, l.to, l.from, len(g.v), (work+rest)/2, true))
		}
	}
	return out
}

// loneUntil is the effort to the limit that ends at second end, and whether heart rate, smoothed, shows it for one.
func loneUntil(h []float64, end int) (span workout.Span, ok bool) {
	top, low := heartRange(h)
	at := end - 1
	for k := end; k < min(len(h), end+loneAround); k++ {
		if h[k] > h[at] {
			at = k
		}
	}
	start := at
	for start > 0 && !(h[start] < lowestBefore(h, start)+loneGains) {
		start--
	}
	var rise moments
	for k := max(end-loneEnd, (start+end)/2); k <= at; k++ {
		if !math.IsNaN(h[k]) {
			rise.add(float64(k-at)/60, h[k])
		}
	}
	_, rising := rise.line()
	first, _ := heartRange(h[:start])
	after, _ := heartRange(h[min(len(h), at+loneAfter):])
	span = workout.Span{From: start, To: end}
	return span, span.Seconds() >= loneShort && span.Seconds() <= loneLong && rising >= loneStill &&
		h[at]-lowestBefore(h, start) >= max(loneRise, loneShare*(top-low)) && h[at]-max(first, after) >= loneAbove*(top-low)
}

// lowestBefore is the lowest heart rate of the minutes before second k.
func lowestBefore(h []float64, k int) float64 {
	_, low := heartRange(h[max(0, k-loneBefore) : k+1])
	return low
}

// lull says whether the load goes down within the span and up again, as between two bouts.
func lull(sum sums, span workout.Span) bool {
	const d = boutShortest
	for k := span.From + d; k+2*d <= span.To; k++ {
		if sum.mean(k, k+d) < loneLull*min(sum.mean(k-d, k), sum.mean(k+d, k+2*d)) {
			return true
		}
	}
	return false
}
