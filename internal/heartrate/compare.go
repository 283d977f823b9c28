package heartrate

import "math"

// How two recordings are compared: common practice, no source, but for the time zones, which lie from 12 h
// behind UTC to 14 h ahead, whole quarter-hours apart (time zone database). TestCompareRealRecordings shows that
// the limits take no two of the real workouts for one; TestFlatHeartRateIsNoOtherTimeZone why zoneSpread is needed.
const (
	mostShift   = 120 // s that two devices' clocks may differ
	leastCommon = 300 // s
	coarse      = 4   // s; step of the first search
	quarter     = 900 // s
	mostZones   = 104 // quarter-hours between the time zones furthest apart (26 h)
	zoneSlack   = 5   // s around a whole quarter-hour, for rounding
	zoneCommon  = 600 // s
	zoneWithin  = 1.0 // bpm
	zoneSpread  = 3.0 // bpm; standard deviation that heart rate must have there: a flat one proves nothing
)

// Likeness says how alike two series are.
type Likeness struct {
	// Comparable means that there is a shift of at most 120 s with at least 300 common seconds.
	Comparable bool
	// Shift is the number of seconds to add to b's clock so that it fits a best, and Difference the
	// mean |a - b| in bpm over the Common seconds at that shift.
	Shift      int
	Common     int
	Difference float64
	// Quarters is the number of quarter-hours to add to b's clock for a fit within 1 bpm over at
	// least 600 s in which heart rate varies, when that is not 0: the same recording written in
	// another time zone. 0 otherwise.
	Quarters int
}

// Compare says how alike a and b are; offset is b's start minus a's start in seconds, as the two
// clocks say. Common seconds are those that have a measured or bridged heart rate in both.
//
// How to read the difference: one ride on two devices differs by 1.4 bpm; of 2000 pairs of
// different real workouts, laid side by side as if they had begun together, the nearest differ by 2.4
// bpm over 11 min and by 3.0 bpm over 48 min (TestCompareRealRecordings).
//
// The best shift is found coarsely first, every fourth shift on every fourth second, then exactly
// around the best; heart rate is smooth enough for that.
func Compare(a, b Series, offset int) Likeness {
	var l Likeness
	x, y := a.Counted(), b.Counted()
	best := math.Inf(1)
	try := func(shift, stride, least int) (mean float64, n int) {
		return difference(x, y, offset+shift, stride, least)
	}
	around, found := 0, false
	for shift := -mostShift; shift <= mostShift; shift += coarse {
		if d, n := try(shift, coarse, leastCommon/coarse); n > 0 && d < best {
			best, around, found = d, shift, true
		}
	}
	if found {
		best = math.Inf(1)
		for shift := max(-mostShift, around-coarse); shift <= min(mostShift, around+coarse); shift++ {
			if d, n := try(shift, 1, leastCommon); n > 0 && d < best {
				best = d
				l = Likeness{Comparable: true, Shift: shift, Common: n, Difference: d}
			}
		}
	}
	if l.Comparable && l.Difference <= zoneWithin {
		return l
	}
	best = zoneWithin
	for q := -mostZones; q <= mostZones; q++ {
		if q == 0 {
			continue
		}
		for slack := -zoneSlack; slack <= zoneSlack; slack++ {
			shift := q*quarter + slack
			if d, n := try(shift, 16, zoneCommon/16); n == 0 || d > 2*zoneWithin {
				continue
			}
			if d, n := try(shift, 1, zoneCommon); n > 0 && d <= best && spread(x, y, offset+shift) >= zoneSpread {
				best, l.Quarters = d, q
			}
		}
	}
	return l
}

// Counted is the heart rate of the seconds that count, measured or bridged, NaN elsewhere.
func (s Series) Counted() []float64 {
	out := make([]float64, len(s.BPM))
	for k, v := range s.BPM {
		out[k] = math.NaN()
		if s.Has(k) {
			out[k] = v
		}
	}
	return out
}

// difference is the mean |a - b| with b's second 0 at a's second offset, over every stride-th
// common second, and their number; 0 of them when there are fewer than least.
func difference(a, b []float64, offset, stride, least int) (mean float64, n int) {
	sum := 0.0
	from, to := max(0, offset), min(len(a), len(b)+offset)
	if to-from < least*stride-stride+1 {
		return 0, 0
	}
	for k := from; k < to; k += stride {
		if d := math.Abs(a[k] - b[k-offset]); d >= 0 {
			sum += d
			n++
		}
	}
	if n < least || n == 0 {
		return 0, 0
	}
	return sum / float64(n), n
}

// spread is the standard deviation of a over the seconds that it has in common with b.
func spread(a, b []float64, offset int) float64 {
	n, sum, squares := 0.0, 0.0, 0.0
	for k := max(0, offset); k < min(len(a), len(b)+offset); k++ {
		if v := a[k]; !math.IsNaN(v) && !math.IsNaN(b[k-offset]) {
			n, sum, squares = n+1, sum+v, squares+v*v
		}
	}
	return math.Sqrt(max(0, squares/n-(sum/n)*(sum/n)))
}
