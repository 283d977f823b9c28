package record

import "nextrung/internal/workout"

// Weeks lists the last n weeks, oldest first; the last one ends on the day asked about.
func (r Record) Weeks(on workout.Date, n int) []Week {
	sessions := r.Sessions()
	out := make([]Week, 0, n)
	for i := n - 1; i >= 0; i-- {
		to := on - workout.Date(7*i)
		out = append(out, r.week(to, sessions))
	}
	return out
}

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

// PlanFor is the prescription that covers most of the days, the last one made of several; nil
// without any.
func (r Record) PlanFor(from, to workout.Date) *Prescription {
	var best *Prescription
	var most workout.Date
	for i, p := range r.Prescriptions {
		days := min(to, p.To) - max(from, p.From) + 1
		if days > 0 && (days > most || days == most && p.Made >= best.Made) {
			best, most = &r.Prescriptions[i], days
		}
	}
	return best
}
