package reports

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/record"
	"nextrung/internal/rehearsal"
	"nextrung/internal/workout"
)

// These make pages without drawing their charts, for tests of what the pages say.

func ProgressSample(c Client) ([]byte, error) {
	p, err := progressOf(c)
	return undrawn("progress.html", p, err)
}

func DecisionSample(c Client) ([]byte, error) {
	p, err := decisionOf(c)
	return undrawn("decision.html", p, err)
}

func WorkoutSample(r record.Recording, s heartrate.Series, w workout.Workout, c Client) ([]byte, error) {
	p, err := workoutOf(r, s, w, c)
	return undrawn("workout.html", p, err)
}

func DoctorSample(c Client, then *Recorded) ([]byte, error) {
	p, err := doctorOf(c, then)
	return undrawn("doctor.html", p, err)
}

func RehearsalSample(r rehearsal.Result, curves []rehearsal.Curve) ([]byte, error) {
	p, err := rehearsalOf(r, curves)
	return undrawn("rehearsal.html", p, err)
}

func undrawn[Page any](name string, p Page, err error) ([]byte, error) {
	if err != nil {
		return nil, err
	}
	return render(name, p)
}
