package simulate

import (
	"math"

	"nextrung/internal/workout"
)

// Steady is the heart rate in bpm that a load leads to in the end, without drift.
func (a Athlete) Steady(m workout.Mode, load float64) float64 {
	return math.Min(a.Max, a.Rest+a.Upright+a.Gain[m]*load)
}

// Left is the share of a fall from one steady heart rate to a lower one that is still to come after
// t seconds: w·e^(-t/fast) + (1-w)·e^(-t/slow).
func (a Athlete) Left(t float64) float64 {
	return a.FastShare*math.Exp(-t/a.Fast) + (1-a.FastShare)*math.Exp(-t/a.Slow)
}
