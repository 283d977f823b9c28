package heartrate

import "nextrung/internal/workout"

// LagOf gives how late heart rate begins to fall at ends of effort, and whether that can be measured.
func LagOf(s Series, w workout.Workout) (float64, bool) { return s.lag(w) }
