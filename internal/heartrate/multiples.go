package heartrate

// Doubling and halving. A heart does not change to twice or half its rate from one reading to the
// next, so the signature is a pair of such leaps. Conventions, no source.
const (
	twiceLow, twiceHigh = 1.85, 2.15 // ratio of the leap
	aboutLow, aboutHigh = 1.6, 2.5   // of the leap back, when it follows within soonBack
	soonBack            = 30         // s
	leapWithin          = 10         // s between the two readings of a leap
)

// markMultiples marks the readings that are twice or half of the heart rate: those between a leap by
// a factor of two and the leap back. A leap without a way back to the end of the recording makes the
// shorter of the two sides the faulty one, when no other leap is unexplained.
func markMultiples(at []int, bpm []float64, marks []mark) {
	open, kind, strays := -1, good, 0
	p := -1 // the reading before
	for i, k := range at {
		v := bpm[k]
		if marks[k] == isMarker || v < Lowest/2 || v > 2*Highest {
			continue
		}
		before := p
		p = i
		if before < 0 || k-at[before] > leapWithin || cost(bpm[at[before]], v, k-at[before]) == 0 {
			continue
		}
		up := v / bpm[at[before]]
		if open >= 0 {
			back := up
			if kind == isDoubled {
				back = 1 / up
			}
			if within(back, twiceLow, twiceHigh) || within(back, aboutLow, aboutHigh) && k-at[open] <= soonBack {
				set(marks, at[open:i], kind)
				open = -1
				continue
			}
		}
		if twice := within(up, twiceLow, twiceHigh); twice || within(1/up, twiceLow, twiceHigh) {
			if open >= 0 {
				strays++
			}
			open, kind = i, isHalved
			if twice {
				kind = isDoubled
			}
			continue
		}
		strays++
	}
	if open < 0 || strays > 0 {
		return
	}
	if end := at[len(at)-1]; end-at[open] < at[open]-at[0] {
		set(marks, at[open:], kind)
		return
	}
	set(marks, at[:open], isDoubled+isHalved-kind)
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
