package progression

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Undisturbed repeats an assessment with a draw that varies nothing; false where there is nothing to
// repeat.
func Undisturbed(p policy.Policy, on workout.Date, r record.Record) (record.Verdict, bool) {
	v := NewReview(p, on, r)
	if a, f := v.assessment(); a.Verdict == nil || f == nil {
		return "", false
	} else {
		return v.repeatable(f).verdict(draw{}), true
	}
}
