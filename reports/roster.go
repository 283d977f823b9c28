package reports

import "nextrung/internal/workout"

// Roster makes the trainer's page of all clients on one day.
func Roster(asOf workout.Date, clients []Client) ([]byte, error) {
	return render("roster.html", unscripted("Roster"))
}
