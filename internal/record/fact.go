package record

import "nextrung/internal/workout"

// What an assessment says travels as facts; the words for them are in package reasons.
type (
	Code  = workout.Code
	Fact  = workout.Fact
	Facts = workout.Facts
	Args  = workout.Args
)

// Written is the code of a sentence that was kept before facts travelled as codes.
const Written = workout.Written
