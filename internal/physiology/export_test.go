package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// DriftOfBlocks is the slope with its interval over those 30-s blocks of a span that keep takes, at an even
// load where there is one, else as if the load were given.
func DriftOfBlocks(s heartrate.Series, w workout.Workout, from, to int, keep func(block int) bool) (slope, low, high float64, ok bool) {
	all, why := evenLoadOf(s, EffortOf(w), from, to)
	if why != "" {
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
