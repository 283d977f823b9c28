package reports

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/record"
	"nextrung/internal/rehearsal"
	"nextrung/internal/workout"
)

// leftOut stands for the runtime in the samples, which so change only with the pages.
var leftOut = script{"charts.js", []byte("// the chart runtime stands here")}

func ProgressSample(c Client) ([]byte, error) { return progress(c, leftOut) }

func RehearsalSample(r rehearsal.Result, curves []rehearsal.Curve) ([]byte, error) {
	return rehearsalWith(r, curves, leftOut)
}

func DecisionSample(c Client) ([]byte, error) { return decision(c, leftOut) }

func WorkoutSample(r record.Recording, s heartrate.Series, w workout.Workout, c Client) ([]byte, error) {
	return workoutWith(r, s, w, c, leftOut)
}
