package record

import (
	"slices"

	"nextrung/internal/workout"
)

// StageOn is the stage that holds on a day and the day since which it does. Only decisions that
// name another stage move it; hold, ease and refer leave it where it is. A hold from the very day of
// a move takes that move back.
func (r Record) StageOn(d workout.Date) (stage int, since workout.Date) {
	stage, since = r.Client.Stage, r.Client.Since
	before, from := stage, since
	for _, x := range r.decisionsFrom(d) {
		switch {
		case x.Stage > 0 && x.Stage != stage && (x.Act == DoAdvance || x.Act == DoStepBack):
			before, from = stage, since
			stage, since = x.Stage, x.From
		case x.Act == DoHold && x.From == since && from != since:
			stage, since = before, from
		}
	}
	return stage, since
}

// StateOn is the client's state on a day: what was entered, as later decisions changed it. A pause
// or a recovery phase with a last day ends after it.
func (r Record) StateOn(d workout.Date) State {
	state := r.Client.State
	if state == "" || d < r.Client.Dated["state"].From {
		state = Active
	}
	if (state == RecoveryOf || state == PausedState) && r.Client.StateEnds != 0 && d > r.Client.StateEnds {
		state = Active
	}
	var pausedUntil workout.Date // last day; 0 for an open pause
	paused := false
	for _, x := range r.decisionsFrom(d) {
		switch x.Act {
		case DoPause:
			paused, pausedUntil = true, x.To
		case DoResume:
			paused = false
			if state == PausedState || state == Maintaining {
				state = Active
			}
		case DoMaintain:
			if state != Finished { // the end is a fact, and only a fact ends it
				state = Maintaining
			}
		case DoAdvance, DoStepBack:
			if state == Maintaining {
				state = Active
			}
		}
	}
	if paused && (pausedUntil == 0 || d <= pausedUntil) && state != Finished {
		return PausedState
	}
	return state
}

// Paused says that a day lies in a pause.
func (r Record) Paused(d workout.Date) bool { return r.StateOn(d) == PausedState }

// decisionsFrom lists the decisions that hold by a day, in the order in which they took hold.
func (r Record) decisionsFrom(d workout.Date) []Decision {
	out := Keep(r.Decisions, func(x Decision) bool { return x.From <= d })
	slices.SortStableFunc(out, func(a, b Decision) int {
		if a.From != b.From {
			return int(a.From - b.From)
		}
		return int(a.Entered - b.Entered)
	})
	return out
}

// Until is the record as it was known by the end of a day: what had been received, entered or made
// by then and happened by then. A screening or clearance dated later was not known.
func (r Record) Until(on workout.Date) Record {
	out := Record{Client: r.Client}
	if out.Client.Screening.On > on {
		out.Client.Screening = Screening{}
	}
	if out.Client.Clearance > on {
		out.Client.Clearance = 0
	}
	if out.Client.DoseChange > on {
		out.Client.DoseChange = 0
	}
	out.Recordings = Keep(r.Recordings, func(x Recording) bool { return x.Received <= on && x.Date <= on })
	out.Reports = Keep(r.Reports, func(x Report) bool { return x.Entered <= on && x.Date <= on })
	out.Notes = Keep(r.Notes, func(x Note) bool { return x.Entered <= on && x.Date <= on })
	out.Decisions = Keep(r.Decisions, func(x Decision) bool { return x.Entered <= on })
	out.Prescriptions = Keep(r.Prescriptions, func(x Prescription) bool { return x.Made <= on })
	out.Answered = Keep(r.Answered, func(x Answered) bool { return x.Entered <= on })
	return out
}

func Keep[T any](in []T, ok func(T) bool) []T {
	var out []T
	for _, x := range in {
		if ok(x) {
			out = append(out, x)
		}
	}
	return out
}

// Map gives what f makes of each of a list, in its order; nil of an empty one.
func Map[T, U any](in []T, f func(T) U) []U {
	var out []U
	for _, x := range in {
		out = append(out, f(x))
	}
	return out
}
