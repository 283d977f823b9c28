package physiology

import (
	"math"

	"nextrung/internal/heartrate"
)

// How the end of an effort is found in heart rate alone. Common practice, no source, but for the place: at 34
// stops of real recordings whose second is known from a lap mark or a load, heart rate's corner lay from 9 s before
// to 23 s after it, usually about 10 s after it (TestKnownStops).
const (
	turnBefore = 45   // s before a change point and
	turnAfter  = 35   // s after it in which heart rate turns
	turnMargin = 8    // s that each side of the corner has at least
	leastSlope = 0.02 // bpm a second that heart rate falls after it, and more than before
	leastTurn  = 10.0 // bpm that heart rate must fall in the minute after its turn
	farBelow   = 0.3  // of the way from the session's highest heart rate to its lowest: lower, a fall begins far below the peak
	rival      = 0.6  // of the largest fall: a smaller one is no end of an effort beside it
	turnAlike  = 1.5  // times the least squared residuals: so much worse, a corner may still be the true one
	turnEarly  = 20   // s that the stop may lie before heart rate's turn,
	turnUsual  = 7    // s that it usually does, and
	turnLate   = 7    // s that it may lie after it
	risingBy   = 3.0  // bpm in the minute before its highest value: heart rate was still rising there
)

// smooth is the centred 5-s mean of heart rate, values in pauses included; NaN where none is known.
func smooth(s heartrate.Series) []float64 {
	sum := runningSums(s.BPM)
	out := make([]float64, len(s.BPM))
	for k := range out {
		out[k] = sum.mean(max(0, k-2), min(len(out), k+3))
	}
	return out
}

// dropAfter is how far smoothed heart rate falls in the minute after second k, NaN where that is not known.
func dropAfter(h []float64, k int) float64 {
	if k < 0 || k+60 >= len(h) {
		return math.NaN()
	}
	return h[k] - h[k+60]
}

// heartRange is the highest and the lowest smoothed heart rate.
func heartRange(h []float64) (top, low float64) {
	top, low = math.Inf(-1), math.Inf(1)
	for _, v := range h {
		if !math.IsNaN(v) {
			top, low = max(top, v), min(low, v)
		}
	}
	return top, low
}

// deepest is the second of [from, to) after which heart rate falls most within a minute; -1 without a fall.
func deepest(h []float64, from, to int) int {
	best, most := -1, 0.0
	for k := max(0, from); k < min(to, len(h)); k++ {
		if d := dropAfter(h, k); d > most {
			best, most = k, d
		}
	}
	return best
}

// turns are the ends of efforts in heart rate alone, the last one first: the seconds after which it falls more within
// a minute than around them, clearly, from near the session's peak and about as far as anywhere. A fall that
// begins far below the peak is that of a jog home or a cool-down.
func turns(s heartrate.Series) (out []stop) {
	h := smooth(s)
	top, low := heartRange(h)
	near := top - farBelow*(top-low)
	most := 0.0
	for k := range h {
		if d := dropAfter(h, k); h[k] >= near && d > most {
			most = d
		}
	}
	least := max(leastTurn, rival*most)
	for k := len(h) - 1; k >= 0; k-- {
		if h[k] >= near && dropAfter(h, k) >= least {
			// The first that is far enough from the end; the deepest lies within the minute before it.
			out = append(out, turnedAt(s, h, deepest(h, k-60, k+1), len(h)))
			k -= levelBefore
		}
	}
	return out
}

// turnedAt is the stop by heart rate's turn near second k, with the seconds it may have been at. Where heart
// rate rose until its top and went sideways before it fell, as it does in many patients, the top may be
// the stop.
func turnedAt(s heartrate.Series, h []float64, k, until int) stop {
	at, first, last := corner(s, k, k-levelBefore, until)
	top := at
	for j := max(0, at-levelBefore); j < at; j++ {
		if h[j] > h[top] {
			top = j
		}
	}
	if top >= 60 && h[top]-h[top-60] >= risingBy {
		first = min(first, top-turnUsual)
	}
	return stop{
		at: max(0, at-turnUsual), by: ByHeartRate, until: until,
		first: max(0, min(first, at-turnEarly)), last: max(last, at+turnLate),
	}
}

// Turn is where heart rate turns down near second k, within [from, until): the corner of the broken line
// HR = a + b min(0, t-corner) + c max(0, t-corner) with the least squared residuals, b and c free. A peak
// some time before the stop, or a beat or two above the rest, does not move it.
func Turn(s heartrate.Series, k, from, until int) int {
	at, _, _ := corner(s, k, from, until)
	return at
}

// corner is Turn, with the first and the last second at which a corner fits nearly as well.
func corner(s heartrate.Series, k, from, until int) (best, first, last int) {
	from, until = max(from, k-turnBefore, 0), min(until, k+turnAfter, len(s.BPM))
	fit := map[int]float64{}
	best, least := k, math.Inf(1)
	for corner := from + turnMargin; corner < until-turnMargin; corner++ {
		if sse, falls := brokenLine(s.BPM[from:until], corner-from); falls {
			if fit[corner] = sse; sse < least {
				best, least = corner, sse
			}
		}
	}
	first, last = best, best
	for corner, sse := range fit {
		if sse <= turnAlike*least {
			first, last = min(first, corner), max(last, corner)
		}
	}
	return best, first, last
}

// brokenLine fits two straight lines that meet at the corner to the known values; falls says whether the
// second one goes down, and more steeply than the first.
func brokenLine(v []float64, corner int) (sse float64, falls bool) {
	// Normal equations of y = a + b p + c q with p = min(0, t), q = max(0, t); p q = 0.
	var n, p, q, pp, qq, y, py, qy, yy float64
	for i, x := range v {
		if math.IsNaN(x) {
			continue
		}
		t := float64(i - corner)
		lo, hi := min(0, t), max(0, t)
		n, p, q, pp, qq = n+1, p+lo, q+hi, pp+lo*lo, qq+hi*hi
		y, py, qy, yy = y+x, py+lo*x, qy+hi*x, yy+x*x
	}
	if n < 2*turnMargin || pp == 0 || qq == 0 {
		return 0, false
	}
	d := n - p*p/pp - q*q/qq
	if d <= 0 {
		return 0, false
	}
	a := (y - p*py/pp - q*qy/qq) / d
	b, c := (py-a*p)/pp, (qy-a*q)/qq
	return yy - a*y - b*py - c*qy, c < -leastSlope && c < b-leastSlope
}
