package heartrate

import "math"

// Doubling and halving. A heart does not change to twice or half its rate from one reading to the
// next, so the signature is such a leap and a leap back; one of the two may lie in a gap, where heart
// rate may have moved as well. Common practice, no source; TestPlantedFaultsAreFound holds them.
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
	m := multiples{at: at, bpm: bpm, marks: marks, open: -1}
	before := -1
	for i, k := range at {
		if marks[k] == isMarker || bpm[k] < Lowest/2 || bpm[k] > 2*Highest {
			continue
		}
		if before >= 0 && math.Abs(bpm[k]-bpm[at[before]]) > leap {
			m.leap(before, i)
		}
		before = i
	}
	m.oneSided()
}

// multiples is the search for leaps to twice or half of the heart rate and back.
type multiples struct {
	at     []int
	bpm    []float64
	marks  []mark
	open   int // index of the first reading after a leap whose way back is sought, -1 for none
	kind   mark
	quick  bool // the open leap was from one reading to the next, not across a gap
	strays int  // other leaps
}

// leap takes in a large step from reading before to reading i: it closes the open one or may open one.
func (m *multiples) leap(before, i int) {
	from, to, dt := m.bpm[m.at[before]], m.bpm[m.at[i]], m.at[i]-m.at[before]
	fast := dt <= leapWithin && cost(from, to, dt) > 0
	if !fast && (dt <= leapWithin || dt > gapWithin) {
		return
	}
	up := to / from
	if m.closes(i, up, fast) {
		set(m.marks, m.at[m.open:i], m.kind)
		m.open = -1
		return
	}
	searching := m.open >= 0 && m.quick
	low, high := twiceLow, twiceHigh
	if !fast {
		// A gap: heart rate may have moved, so anything near twice may begin here, if nothing is open.
		if searching {
			return
		}
		low, high = aboutLow, aboutHigh
	}
	kind := good
	switch {
	case within(up, low, high):
		kind = isDoubled
	case within(1/up, low, high):
		kind = isHalved
	}
	if kind == good && fast || kind != good && searching {
		m.strays++
	}
	if kind != good {
		m.open, m.kind, m.quick = i, kind, fast
	}
}

// closes says whether a change by the factor up at reading i is the way back of the open leap.
func (m *multiples) closes(i int, up float64, fast bool) bool {
	if m.open < 0 {
		return false
	}
	if m.kind == isDoubled {
		up = 1 / up
	}
	soon := fast && m.at[i]-m.at[m.open] <= soonBack || !fast && m.quick
	return fast && within(up, twiceLow, twiceHigh) || soon && within(up, aboutLow, aboutHigh)
}

// oneSided marks the shorter side of a single leap without a way back.
func (m *multiples) oneSided() {
	if m.open < 0 || !m.quick || m.strays > 0 {
		return
	}
	start := m.at[m.open]
	before, after := start-m.at[0], m.at[len(m.at)-1]-start
	switch {
	case min(before, after) > aloneMost:
	case after < before:
		set(m.marks, m.at[m.open:], m.kind)
	default:
		set(m.marks, m.at[:m.open], isDoubled+isHalved-m.kind)
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
