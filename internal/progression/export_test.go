package progression

import "nextrung/internal/workout"

// Undisturbed repeats an assessment with a draw that varies nothing; false where there is nothing to
// repeat.
func (p Policy) Undisturbed(on workout.Date, r Record) (Verdict, bool) {
	v := p.review(on, r)
	if a, f := v.assessment(); a.Verdict == nil || f == nil {
		return "", false
	} else {
		return v.repeatable(f).verdict(draw{}), true
	}
}
