package heartrate

import "math"

// A strap that is put on dry reads nonsense until sweat makes contact. Conventions, found on a
// month of one runner's recordings.
const (
	restlessStep = 5   // s between the three values whose second difference is taken
	restlessBPM  = 5.0 // mean second difference of a restless minute
	startMin     = 10  // minutes that count as the start, and that must follow
	restlessMin  = 3   // restless minutes in the start
)

// restlessStart gives the number of minutes after which heart rate calms down, if it is restless in
// the first ten minutes and in no later one: in at least three of them the mean of
// |HR(t+10) - 2 HR(t+5) + HR(t)| exceeds 5 bpm. Steady rises and falls do not show in that measure,
// and work bouts go on after the start.
func (s *Series) restlessStart() (minutes int, ok bool) {
	if len(s.BPM) < 2*startMin*60 {
		return 0, false
	}
	found := 0
	for m := 0; (m+1)*60 <= len(s.BPM); m++ {
		if s.restless(m) <= restlessBPM {
			continue
		}
		if m >= startMin {
			return 0, false
		}
		found, minutes = found+1, m+1
	}
	return minutes, found >= restlessMin
}

// restless is the mean second difference of minute m, 0 when less than half of it can be told.
func (s *Series) restless(m int) float64 {
	sum, n := 0.0, 0
	for k := m * 60; k < min(m*60+60, len(s.BPM)-2*restlessStep); k++ {
		if s.Has(k) && s.Has(k+restlessStep) && s.Has(k+2*restlessStep) {
			sum += math.Abs(s.BPM[k+2*restlessStep] - 2*s.BPM[k+restlessStep] + s.BPM[k])
			n++
		}
	}
	if n < 30 {
		return 0
	}
	return sum / float64(n)
}
