package heartrate

import (
	"math"
	"slices"

	"nextrung/internal/workout"
)

// Clean turns the readings of a workout into one value a second.
//
//  1. A reading at t belongs to second floor(t). Of several plausible ones (Lowest to Highest) in
//     one second the last in file order stands. Record-like samples come first; a second without
//     one takes the reading of the messages that hold only heart rate.
//  2. Readings that no heart can have made are taken out, see reject; they become missing.
//  3. Every second within a pause counts as paused; its reading is kept.
//  4. Between two measured seconds a < b with b - a <= B and no paused second between lies a
//     straight line, unrounded. B is 30 s when the lower median m of the steps between measured
//     seconds is at least 2 s (the device records sparsely), else 10 s.
//
// Nothing is filled in before the first or after the last measured second. Common practice, no
// source, for B; the sources of the rejection stand at reject.
func Clean(w workout.Workout) Series {
	n := max(0, w.Seconds)
	s := Series{BPM: make([]float64, n), Origin: make([]Origin, n), Source: w.Sensor}
	for k := range s.BPM {
		s.BPM[k] = math.NaN()
	}
	s.Rejected = lay(s.BPM, w.HeartRate)
	filled := 0
	if w.BeatHeartRate.Len() > 0 {
		filled, s.Rejected = fill(&s, w)
	}

	at := recorded(s.BPM)
	out, kept := reject(at, s.BPM)
	for _, k := range out {
		s.BPM[k] = math.NaN()
	}
	s.Rejected += len(out)

	for k, v := range s.BPM {
		if !math.IsNaN(v) {
			s.Origin[k] = Measured
		}
	}
	for _, p := range w.Pauses {
		for k := max(0, p.From); k < min(p.To, n); k++ {
			s.Origin[k] = Paused
		}
	}
	s.bridge()
	s.Remarks = s.remarks(filled, kept)
	return s
}

// lay puts the plausible readings of c into the seconds of dst and counts the seconds that had
// only implausible ones.
func lay(dst []float64, c workout.Channel) (rejected int) {
	var bad []int
	for i, t := range c.T {
		f := math.Floor(t)
		if !(f >= 0 && f < float64(len(dst))) || i >= len(c.V) {
			continue
		}
		k := int(f)
		if v := c.V[i]; v >= Lowest && v <= Highest {
			dst[k] = v
		} else if math.IsNaN(dst[k]) {
			bad = append(bad, k)
		}
	}
	slices.Sort(bad)
	for _, k := range slices.Compact(bad) {
		if math.IsNaN(dst[k]) {
			rejected++
		}
	}
	return rejected
}

// fill adds the beat messages where a second has no reading yet. It gives the seconds added and
// the new count of seconds with implausible readings only.
func fill(s *Series, w workout.Workout) (filled, rejected int) {
	beat := make([]float64, len(s.BPM))
	for k := range beat {
		beat[k] = math.NaN()
	}
	lay(beat, w.BeatHeartRate)
	for k, v := range beat {
		if math.IsNaN(s.BPM[k]) && !math.IsNaN(v) {
			s.BPM[k] = v
			filled++
		}
	}
	both := workout.Channel{
		T: slices.Concat(w.HeartRate.T, w.BeatHeartRate.T),
		V: slices.Concat(w.HeartRate.V, w.BeatHeartRate.V),
	}
	return filled, lay(beat, both)
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
	var steps []int
	last := -1
	for k, o := range s.Origin {
		if o != Measured {
			continue
		}
		if last >= 0 {
			steps = append(steps, k-last)
		}
		last = k
	}
	if lowerMedian(steps) >= 2 {
		return 30
	}
	return 10
}

// lowerMedian of whole seconds, 0 for none; it reorders xs.
func lowerMedian(xs []int) int {
	if len(xs) == 0 {
		return 0
	}
	slices.Sort(xs)
	return xs[(len(xs)-1)/2]
}
