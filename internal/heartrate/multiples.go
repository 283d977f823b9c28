package heartrate

import "math"

// Doubling and halving. A heart does not change to twice or half its rate from one reading to the
// next, so the signature is such a leap and a leap back; one of the two may lie in a gap, where heart
// rate may have moved as well. Conventions, no source.
const (
	twiceLow, twiceHigh = 1.85, 2.15 // ratio of the leap
	aboutLow, aboutHigh = 1.6, 2.5   // of the leap back, within soonBack or across a gap
	soonBack            = 30         // s
	leapWithin          = 10         // s between the two readings of a leap; more is a gap
	gapWithin           = 300        // s between the two readings around a gap
	aloneMost           = 300        // s that a leap without a way back may spoil
)

// markMultiples marks the readings that are twice or half of the heart rate: those between a leap by
// a factor of two and the leap back. A single leap without a way back, and without any other leap in
// the recording, makes the shorter of the two sides the faulty one when that is short.
func markMultiples(at []int, bpm []float64, marks []mark) {
	open, kind, quick, strays := -1, good, false, 0
	p := -1 // the reading before
	for i, k := range at {
		v := bpm[k]
		if marks[k] == isMarker || v < Lowest/2 || v > 2*Highest {
			continue
		}
		before := p
		p = i
		if before < 0 || math.Abs(v-bpm[at[before]]) <= leap {
			continue
		}
		dt := k - at[before]
		fast := dt <= leapWithin && cost(bpm[at[before]], v, dt) > 0
		if !fast && (dt <= leapWithin || dt > gapWithin) {
			continue
		}
		up := v / bpm[at[before]]
		if open >= 0 {
			back := up
			if kind == isDoubled {
				back = 1 / up
			}
			if fast && within(back, twiceLow, twiceHigh) || within(back, aboutLow, aboutHigh) && (fast && k-at[open] <= soonBack || !fast && quick) {
				set(marks, at[open:i], kind)
				open = -1
				continue
			}
		}
		twice, half := within(up, twiceLow, twiceHigh), within(1/up, twiceLow, twiceHigh)
		if !fast {
			// A gap: heart rate may have moved, so anything near twice may begin here, if nothing is open.
			twice, half = within(up, aboutLow, aboutHigh), within(1/up, aboutLow, aboutHigh)
			if open >= 0 && quick {
				continue
			}
		}
		if !twice && !half {
			if fast {
				strays++
			}
			continue
		}
		if open >= 0 && quick {
			strays++
		}
		open, kind, quick = i, isHalved, fast
		if twice {
			kind = isDoubled
		}
	}
	if open < 0 || !quick || strays > 0 {
		return
	}
	before, after := at[open]-at[0], at[len(at)-1]-at[open]
	switch {
	case min(before, after) > aloneMost:
	case after < before:
		set(marks, at[open:], kind)
	default:
		set(marks, at[:open], isDoubled+isHalved-kind)
	}
}

func within(x, low, high float64) bool { return x >= low && x <= high }

// set marks readings that are no leaked markers.
func set(marks []mark, at []int, m mark) {
	for _, k := range at {
		if marks[k] != isMarker {
			marks[k] = m
		}
	}
}
