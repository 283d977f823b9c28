package record

import "nextrung/internal/workout"

// Ticked is a part of the weekly job that leaves no other trace in the book.
type Ticked string

// The parts: a plan that was sent, named by its digest, and a recording that was asked about and is this client's.
const (
	PlanSent    Ticked = "plan"
	ConfirmedAs Ticked = "own-recording"
)

// Tick says that the trainer has dealt with something, and on which day.
type Tick struct {
	What Ticked
	Of   string
	Day  workout.Date
}
