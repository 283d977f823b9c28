package heartrate

import (
	"math"
	"slices"
)

// counts gives the seconds with a heart rate (measured or bridged) and those not paused.
func (s Series) counts() (with, unpaused int) {
	for _, o := range s.Origin {
		switch o {
		case Measured, Bridged:
			with++
			unpaused++
		case Missing:
			unpaused++
		}
	}
	return with, unpaused
}

// Paused is the number of paused seconds.
func (s Series) Paused() int {
	_, unpaused := s.counts()
	return len(s.Origin) - unpaused
}

// Coverage is the share of the unpaused seconds that have a heart rate, 0-1:
// (measured + bridged) / (elapsed - paused). It is false when nothing but pause was recorded.
func (s Series) Coverage() (float64, bool) {
	with, unpaused := s.counts()
	if unpaused == 0 {
		return 0, false
	}
	return float64(with) / float64(unpaused), true
}

// Has says whether second k has a heart rate that counts: measured or bridged.
func (s Series) Has(k int) bool {
	return k >= 0 && k < len(s.Origin) && (s.Origin[k] == Measured || s.Origin[k] == Bridged)
}

// Mean is the mean heart rate in bpm over measured and bridged seconds.
func (s Series) Mean() (float64, bool) { return s.MeanIn(0, len(s.BPM)) }

// MeanIn is the mean heart rate in bpm over the measured and bridged seconds of [from, to).
func (s Series) MeanIn(from, to int) (float64, bool) {
	sum, n := 0.0, 0
	for k := max(0, from); k < min(to, len(s.BPM)); k++ {
		if s.Has(k) {
			sum += s.BPM[k]
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// Min is the lowest heart rate in bpm over measured and bridged seconds.
func (s Series) Min() (float64, bool) {
	low := math.Inf(1)
	for k, v := range s.BPM {
		if s.Has(k) {
			low = min(low, v)
		}
	}
	if math.IsInf(low, 1) {
		return 0, false
	}
	return low, true
}

// peakSpan is the length in seconds of the mean that a peak is.
const peakSpan = 5

// Peak is the highest centred 5-s mean in bpm; all five seconds must be measured or bridged.
func (s Series) Peak() (float64, bool) { return s.PeakIn(0, len(s.BPM)) }

// PeakIn is the peak among the seconds of [from, to).
func (s Series) PeakIn(from, to int) (float64, bool) {
	return s.fives(from, to, math.Inf(-1), func(a, b float64) float64 { return max(a, b) })
}

// LowIn is the lowest centred 5-s mean in bpm among the seconds of [from, to).
func (s Series) LowIn(from, to int) (float64, bool) {
	return s.fives(from, to, math.Inf(1), func(a, b float64) float64 { return min(a, b) })
}

func (s Series) fives(from, to int, start float64, better func(a, b float64) float64) (float64, bool) {
	best, have := start, 0
	from, to = max(0, from), min(to, len(s.BPM))
	for k := from; k < to; k++ {
		if !s.Has(k) {
			have = 0
			continue
		}
		if have++; have < peakSpan {
			continue
		}
		sum := 0.0
		for _, v := range s.BPM[k-peakSpan+1 : k+1] {
			sum += v
		}
		best = better(best, sum/peakSpan)
	}
	if best == start {
		return 0, false
	}
	return best, true
}

// LongestGap is the longest run of missing seconds.
func (s Series) LongestGap() int {
	longest, run := 0, 0
	for _, o := range s.Origin {
		if o == Missing {
			run++
			longest = max(longest, run)
		} else {
			run = 0
		}
	}
	return longest
}

// Usable says whether the series holds heart rate that measurements can rest on: there is some, no more
// seconds had to be removed than were left, and it does not leap at an even load for long. (Common
// practice, no source.) How much is enough for a measurement, that measurement says itself.
func (s Series) Usable() bool {
	measured := 0
	for _, o := range s.Origin {
		if o == Measured {
			measured++
		}
	}
	return measured > 0 && s.Rejected <= measured && float64(s.faultSeconds(EvenLeap)) <= faulty*float64(len(s.BPM))
}

// Doubtful says that the sensor cannot be trusted in this series: what it read cannot be measured on, or more
// of it is faulty than the rest can bear. A series in which nothing was read is not doubtful but empty.
func (s Series) Doubtful() bool {
	read := s.Rejected > 0 || slices.Contains(s.Origin, Measured)
	return read && (!s.Usable() || s.tooFaulty())
}

// wrongSeconds is the length of the faults that leave a plausible but wrong heart rate behind.
func (s Series) wrongSeconds() int { return s.faultSeconds(Lock, Doubled, Halved, Frozen, Disagree) }

// tooFaulty says that a larger share is wrong than leaves the rest to be taken as sound.
func (s Series) tooFaulty() bool { return float64(s.wrongSeconds()) > faulty*float64(len(s.BPM)) }

// faultSeconds is the length of all faults of these kinds.
func (s Series) faultSeconds(kinds ...FaultKind) int {
	n := 0
	for _, f := range s.Faults {
		if slices.Contains(kinds, f.Kind) {
			n += f.Seconds()
		}
	}
	return n
}

// Nearby is how many seconds away a value may lie and still stand for a second (common practice, no source).
const Nearby = 2

// Near is the clean value in bpm of second k, bridged ones included, else that of the nearest second with
// one, at most 2 s away; of two equally near the earlier. Values in a pause count: the heart goes on when
// the timer stops.
func (s Series) Near(k int) (float64, bool) {
	for d := 0; d <= Nearby; d++ {
		for _, j := range [2]int{k - d, k + d} {
			if j >= 0 && j < len(s.BPM) && !math.IsNaN(s.BPM[j]) {
				return s.BPM[j], true
			}
		}
	}
	return 0, false
}

// CoverageIn is the share of the unpaused seconds of [from, to) with a heart rate, 0 without any.
func (s Series) CoverageIn(from, to int) float64 {
	part := Series{Origin: s.Origin[min(max(0, from), len(s.Origin)):min(max(0, from, to), len(s.Origin))]}
	share, _ := part.Coverage()
	return share
}

// ValuesIn gives the mean in bpm of all values in [from, to), those in pauses included, NaN without any, and
// the share of its seconds that have one.
func (s Series) ValuesIn(from, to int) (mean, share float64) {
	sum, n := 0.0, 0.0
	for k := max(0, from); k < min(to, len(s.BPM)); k++ {
		if v := s.BPM[k]; !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	return sum / n, n / float64(max(1, to-from))
}

// Recorded says whether second k holds a reading of the sensor, in a pause or not.
func (s Series) Recorded(k int) bool {
	return k >= 0 && k < len(s.Origin) &&
		(s.Origin[k] == Measured || s.Origin[k] == Paused && !math.IsNaN(s.BPM[k]))
}
