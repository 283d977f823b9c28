package progression

import "fmt"

// notes are the plain sentences for the client that go with a week of sessions.
func (v review) notes(c course, p Prescription, a Assessment) []string {
	var out []string
	switch c {
	case easeWeek:
		out = append(out, "An easier week: shorter sessions, nothing hard.")
		for _, x := range a.Reasons {
			if x.Rule == "illness" && x.Met != nil && !*x.Met {
				out = append(out, "Rest until you have been without fever and other symptoms for 48 hours; then start with this easy week.")
			}
		}
	case backAgain:
		out = append(out, "Welcome back: start with about three quarters of what you did before.")
		if v.easyReturn(c) {
			out = append(out, "After one or two comfortable weeks do a check session: 25 minutes on one machine at one comfortable speed.")
		}
	case moderate:
		out = append(out, "Comfortable sessions only until your doctor's clearance is here. Please ask for it.")
	case build, repeat:
		if !v.withinEffort(v.thisWeek()) {
			out = append(out, "Last week was harder than it should feel: go slower, even if the watch allows more.")
		}
		if b, ok := v.gap(); ok && b.ended == 0 && b.days >= 4 {
			out = append(out, "Make the first session an easy one.")
		}
	}
	out = append(out,
		"Warm up easily for 5 minutes and cool down easily for 5 minutes; both are part of the session.",
		"Comfortable means that you can talk in whole sentences. If you cannot, slow down, whatever the watch says.")
	if i := p.Intervals; i != nil {
		out = append(out, fmt.Sprintf("%s with intervals, at least 48 hours apart: %d times %s %s, with %s comfortable in between.",
			several(i.Count, "session"), i.Bouts, clock(i.Work), i.Feel, clock(i.Rest)))
		if p.Stage == 3 {
			out = append(out, "Hard means that you can say single words. Stop a bout early rather than go all out.")
		} else {
			out = append(out, "Brisk means that sentences get short.")
		}
	}
	switch {
	case v.r.Client.ByEffort():
		out = append(out, "Go by how it feels, not by the pulse: yours cannot be judged by numbers.")
	default:
		out = append(out, "Your watch may number zones differently. Go by the beats.")
	}
	for _, l := range a.Lacking {
		if l.Rule == "steady" && c != backAgain {
			out = append(out, "Make one session a steady one: at least 35 minutes at one speed, or 25 minutes on one machine at one speed.")
		}
		if l.Rule == "effort" || l.Rule == "bout-effort" {
			out = append(out, "After each session tell your trainer how hard it was and whether talking was comfortable.")
		}
	}
	return append(out, "Keep recording and keep walking easily for 3 minutes after your last effort.")
}

// clock writes a short time in words.
func clock(seconds int) string {
	if seconds%60 == 0 {
		return several(seconds/60, "minute")
	}
	return several(seconds, "second")
}

// restNotes are the sentences of a week without training.
func (v review) restNotes(a Assessment) []string {
	switch {
	case a.Verdict == nil:
		return []string{"No sessions this week."}
	case *a.Verdict == Refer || v.decided() == DoRefer:
		return []string{
			"No training until a doctor has said that you may. Tell your trainer the date.",
			"Pain or pressure in the chest, fainting, confusion, or breathlessness at rest: call emergency help at once.",
		}
	}
	return []string{"No sessions yet: a few questions have to be answered first. Your trainer will ask you."}
}
