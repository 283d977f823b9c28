package heartrate

import (
	"math"
	"slices"

	"nextrung/internal/workout"
)

// Clean turns the readings of a workout into one value a second.
//
//  1. A reading at t belongs to second floor(t). Of several plausible ones (Lowest to Highest) in
//     one second the last in file order stands. Of record-like samples and messages that hold only
//     heart rate the better one counts, second by second, see better.
//  2. Readings that show a fault of the sensor are removed, see FaultKind; they become missing.
//  3. Every second within a pause counts as paused; its reading is kept.
//  4. Between two measured seconds a < b with b - a <= B and no paused second between lies a
//     straight line, unrounded. B is 30 s when the lower median m of the steps between measured
//     seconds is at least 2 s (the device records sparsely), else 10 s.
//
// Nothing is filled in before the first or after the last measured second. Common practice, no
// source, for B; the sources of the rejection stand at reject and at each fault.
func Clean(w workout.Workout) Series {
	n := max(0, w.Seconds)
	r := read(n, w.HeartRate, w)
	filled := 0
	var found []Fault
	if w.BeatHeartRate.Len() > 0 {
		r, filled, found = better(r, read(n, w.BeatHeartRate, w), w.Sensor)
	}
	s := Series{BPM: r.bpm, Origin: make([]Origin, n), Source: w.Sensor}
	for _, p := range w.Pauses {
		for k := max(0, p.From); k < min(p.To, n); k++ {
			s.Origin[k] = Paused
		}
	}
	paused := func(k int) bool { return s.Origin[k] == Paused }
	dry := r.markDryStart(paused)
	for _, k := range r.at {
		if r.marks[k] != good {
			s.BPM[k] = math.NaN()
			s.Rejected++
		} else if !paused(k) {
			s.Origin[k] = Measured
		}
	}
	s.bridge()
	if dry == 0 {
		found = append(found, s.restlessStart(r)...)
	}
	found = append(found, faultsOf(r.at, r.marks)...)
	found = append(found, dropouts(r.at, paused, n)...)
	if d, ok := s.lag(w); ok && d >= lagLong {
		found = append(found, Fault{Kind: Lag, Span: workout.Span{To: n}, Args: workout.Args{"delay": d}})
	}
	s.Faults = inOrder(append(found, s.leaps(w)...))
	s.Remarks = s.remarks(filled, r.kept)
	s.Grade = gradeOf(s)
	return s
}

// source is what one of the workout's sources of heart rate says, and what is wrong with it.
type source struct {
	at    []int     // seconds with a reading, rising
	bpm   []float64 // NaN where there is none
	marks []mark
	step  int    // usual step between readings
	kept  []kept // leaps that stay
}

// read lays one channel on the seconds and marks its faulty readings.
func read(n int, c workout.Channel, w workout.Workout) source {
	r := source{bpm: make([]float64, n), marks: make([]mark, n)}
	for k := range r.bpm {
		r.bpm[k] = math.NaN()
	}
	odd := lay(r.bpm, c)
	r.at = recorded(r.bpm)
	r.step = stepAt(r.at, 0.5)
	if odd {
		for _, k := range r.at {
			switch v := r.bpm[k]; {
			case v == 0 || v == 255:
				r.marks[k] = isMarker
			case !plausible(v):
				r.marks[k] = isImplausible
			}
		}
	}
	markMultiples(r.at, r.bpm, r.marks)
	markFrozen(r.at, r.bpm, r.marks)
	markLock(r.at, r.bpm, r.marks, w, r.step)
	r.markSpikes()
	return r
}

// markSpikes marks what no heart can have made among the readings that are still good.
func (r *source) markSpikes() {
	left := r.at
	if slices.ContainsFunc(r.at, func(k int) bool { return r.marks[k] != good }) {
		left = slices.DeleteFunc(slices.Clone(r.at), func(k int) bool { return r.marks[k] != good })
	}
	var out []int
	out, r.kept = reject(left, r.bpm)
	for _, k := range out {
		r.marks[k] = isSpike
	}
}

func plausible(v float64) bool { return v >= Lowest && v <= Highest }

// lay puts the readings of c into the seconds of dst: the last plausible one, else the last. It says
// whether some second has none that is plausible.
func lay(dst []float64, c workout.Channel) (odd bool) {
	for i, t := range c.T {
		f := math.Floor(t)
		if !(f >= 0 && f < float64(len(dst))) || i >= len(c.V) {
			continue
		}
		k, v := int(f), c.V[i]
		if plausible(v) {
			dst[k] = v
			continue
		}
		if math.IsNaN(v) {
			v = 0
		}
		if !plausible(dst[k]) {
			dst[k], odd = v, true
		}
	}
	return odd
}

// recorded lists the seconds that have a value.
func recorded(bpm []float64) []int {
	at := make([]int, 0, len(bpm))
	for k, v := range bpm {
		if !math.IsNaN(v) {
			at = append(at, k)
		}
	}
	return at
}

// bridge fills the short gaps between measured seconds by straight lines.
func (s *Series) bridge() {
	most := s.bridgeable()
	last, paused := -1, false
	for k, o := range s.Origin {
		switch o {
		case Paused:
			paused = true
		case Measured:
			if last >= 0 && !paused && k-last <= most {
				for j := last + 1; j < k; j++ {
					s.Origin[j] = Bridged
				}
			}
			last, paused = k, false
		}
	}
	s.straighten()
}

// straighten puts the straight lines between measured seconds into the bridged ones.
func (s *Series) straighten() {
	last := -1
	for k, o := range s.Origin {
		if o != Measured {
			continue
		}
		if last >= 0 && k-last > 1 {
			step := (s.BPM[k] - s.BPM[last]) / float64(k-last)
			for j := last + 1; j < k; j++ {
				if s.Origin[j] == Bridged {
					s.BPM[j] = s.BPM[last] + step*float64(j-last)
				}
			}
		}
		last = k
	}
}

// bridgeable is B, the longest step in seconds that a straight line may cross.
func (s *Series) bridgeable() int {
	var at []int
	for k, o := range s.Origin {
		if o == Measured {
			at = append(at, k)
		}
	}
	if stepAt(at, 0.5) >= 2 {
		return 30
	}
	return 10
}
