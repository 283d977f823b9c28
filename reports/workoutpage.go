package reports

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// Workout makes the page of one workout.
func Workout(rec progression.Recording, s heartrate.Series, w workout.Workout, c Client) ([]byte, error) {
	return render("workout.html", unscripted(rec.Name))
}
