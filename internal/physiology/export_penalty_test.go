package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// The penalties in use.
const (
	NoisePenalty = noisePenalty
	ClearPenalty = clearPenalty
)

// CutAt parts a workout with other penalties; levels is how many the first cut has.
func CutAt(s heartrate.Series, w workout.Workout, noise, clear float64) (levels int, bouts []Bout, phases []Phase) {
	w.Seconds = len(s.BPM)
	e := effortOf(w).believed(s)
	g := signalOf(s, e)
	g.penalty = penalty{noise, clear}
	c := courseBy(s, w, course{effort: e, signal: g})
	return len(c.levels), c.bouts, c.phases
}
