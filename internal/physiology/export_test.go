package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// DriftOfBlocks is the slope with its interval over those 30-s blocks of a span that keep takes, at an even
// load where there is one, else as if the load were given.
func DriftOfBlocks(s heartrate.Series, w workout.Workout, from, to int, keep func(block int) bool) (slope, low, high float64, ok bool) {
	all, why := evenLoadOf(s, EffortOf(w), from, to)
	if len(why) > 0 {
		all = givenLoad(s, from, to)
	}
	some := evenLoad{Effort: all.Effort, typical: all.typical}
	for i, at := range all.minutes {
		if keep(int(at * 60 / evenBlock)) {
			some.minutes = append(some.minutes, at)
			some.bpm = append(some.bpm, all.bpm[i])
			some.off = append(some.off, all.off[i])
		}
	}
	return some.slope()
}

// LikenessOf is the autocorrelation of neighbouring 30-s means of a span at an even load, about their line,
// from these alone.
func LikenessOf(s heartrate.Series, w workout.Workout, from, to int) float64 {
	l, _ := evenLoadOf(s, EffortOf(w), from, to)
	bpm, _ := l.level()
	_, rest := detrended(l.minutes, bpm)
	return prior{}.likeness(rest)
}

// SenSlope is the Theil-Sen slope of y over x with its interval.
func SenSlope(x, y []float64) (slope, low, high float64, ok bool) { return senSlope(x, y, prior{}) }

// PhasesOf parts a workout.
func PhasesOf(s heartrate.Series, w workout.Workout) []Phase { return courseOf(s, w).phases }

// RecoveryAfter measures the recovery after a stop that is known from elsewhere.
func RecoveryAfter(s heartrate.Series, at int) Recovery {
	return fallAfter(s, Effort{}, stop{at: at, until: len(s.BPM)})
}

// At is the curve's heart rate in bpm, t seconds after the start of the effort.
func (r Rise) At(t float64) float64 {
	return r.From - r.Gain*math.Expm1(-max(0, t-r.Delay)/r.Tau)
}
