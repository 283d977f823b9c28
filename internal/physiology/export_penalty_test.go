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

// Cut is how a workout is parted.
type Cut struct {
	Bouts  []Bout
	Phases []Phase
	Stops  []int
}

// CutAt parts a workout with other penalties.
func CutAt(s heartrate.Series, w workout.Workout, noise, clear float64) Cut {
	w.Seconds = len(s.BPM)
	e := EffortOf(w).believed(s)
	g := signalOf(s, e)
	g.penalty = penalty{noise, clear}
	c := courseBy(s, w, course{effort: e, signal: g})
	out := Cut{Bouts: c.bouts, Phases: c.phases}
	for _, st := range c.stops {
		out.Stops = append(out.Stops, st.at)
	}
	return out
}
