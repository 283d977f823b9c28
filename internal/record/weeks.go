package record

import "nextrung/internal/workout"

// Weeks lists the last n weeks, oldest first; the last one ends on the day asked about.
func (r Record) Weeks(on workout.Date, n int) []Week {
	sessions, awaited := r.Sessions(), r.Awaited(r.Done())
	out := make([]Week, 0, n)
	for i := n - 1; i >= 0; i-- {
		w := r.week(on-workout.Date(7*i), sessions)
		w.Awaited = len(Keep(awaited, func(s Session) bool { return s.Date >= w.From && s.Date <= w.To }))
		out = append(out, w)
	}
	return out
}

// Attended is how many sessions there were, also those of which only the answers have come.
func (w Week) Attended() int { return len(w.Sessions) + w.Awaited }

func (r Record) week(to workout.Date, sessions []Session) Week {
	w := Week{From: to - 6, To: to, Paused: true, Plan: r.PlanFor(to-6, to)}
	w.Stage, _ = r.StageOn(to)
	for d := w.From; d <= w.To; d++ {
		if !r.Paused(d) {
			w.Paused = false
		}
	}
	for _, s := range sessions {
		if s.Date < w.From || s.Date > w.To {
			continue
		}
		w.Sessions = append(w.Sessions, s)
		w.Minutes += s.Minutes
		w.Longest = max(w.Longest, s.Minutes)
		for _, x := range s.Recordings {
			if x.Measured.Zones != nil {
				w.Zones = w.Zones.Plus(*x.Measured.Zones)
			}
		}
	}
	return w
}

// PlanFor is the plan that held on most of the days, the later one of two; nil without any. On each
// day the last one made before it holds.
func (r Record) PlanFor(from, to workout.Date) *Prescription {
	held, best, most := map[int]int{}, -1, 0
	for d := from; d <= to; d++ {
		at := -1
		for i, p := range r.Prescriptions {
			if d >= p.From && d <= p.To && (at < 0 || p.heldFrom(d) >= r.Prescriptions[at].heldFrom(d)) {
				at = i
			}
		}
		if at < 0 {
			continue
		}
		held[at]++
		if n := held[at]; n > most || n == most && r.Prescriptions[at].Made >= r.Prescriptions[best].Made {
			best, most = at, n
		}
	}
	if best < 0 {
		return nil
	}
	return &r.Prescriptions[best]
}

// heldFrom is the day from which a plan counts on a day, in the order of being made; a plan that was made only on
// the day or later comes before all others.
func (p Prescription) heldFrom(d workout.Date) workout.Date {
	if p.Made >= d {
		return -p.Made
	}
	return p.Made
}

// Sent is the last version of the plan that stands after a day, that is for at least two of the days to come;
// nil without one.
func (r Record) Sent(on workout.Date) *Prescription {
	var sent *Prescription
	for i, p := range r.Prescriptions {
		if p.From <= on+2 && p.To >= on+2 && p.Made <= on && (sent == nil || p.From > sent.From || p.From == sent.From && p.Made >= sent.Made) {
			sent = &r.Prescriptions[i]
		}
	}
	return sent
}
