package progression

import (
	"fmt"
	"slices"

	"nextrung/internal/workout"
)

// notes are the plain sentences for the client that go with a week of sessions.
func (v review) notes(c course, p Prescription, a Assessment, week amount) []string {
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
		if b, ok := v.gap(); v.easyReturn(c) && ok && v.longEnough(b) {
			out = append(out, "After one or two comfortable weeks do a check session: 25 minutes on one machine at one comfortable speed, besides warm-up and cool-down.")
		}
	case moderate:
		out = append(out, "Comfortable sessions only until your doctor's clearance is here. Please ask for it.")
	case build, repeat:
		out = append(out, v.lastWeek(c, p, a)...)
		if b, ok := v.gap(); ok && b.ended == 0 && b.days >= 4 {
			out = append(out, "Make the first session an easy one.")
		}
	}
	if week.why != "" {
		out = append(out, week.why)
	}
	edge := several(p.edge()/60, "minute")
	out = append(out,
		fmt.Sprintf("Warm up easily for %s and cool down easily for %s; both are part of the session.", edge, edge),
		"Comfortable means that you can talk in whole sentences. If you cannot, slow down, whatever the watch says.")
	if i := p.Intervals; i != nil {
		out = append(out, v.intervalNotes(p)...)
	}
	switch {
	case v.r.Client.ByEffort():
		out = append(out, "Go by how it feels, not by the pulse: yours cannot be judged by numbers.")
	default:
		out = append(out, "Your watch may number zones differently. Go by the beats.")
	}
	for _, x := range a.Reasons {
		lacking := x.Met == nil && slices.ContainsFunc(a.Lacking, func(l Lack) bool { return l.Rule == x.Rule })
		if lacking && (x.Rule == "steady" || x.Rule == "check-session") && c != backAgain {
			out = append(out, v.steadyNote(p)...)
		}
		if lacking && (x.Rule == "effort" || x.Rule == "bout-effort") {
			out = append(out, "After each session tell your trainer how hard it was and whether talking was comfortable.")
		}
	}
	return append(out, v.r.Client.AfterEffort())
}

// AfterEffort is the advice for the minutes in which recovery is measured, in the client's modes.
func (c Client) AfterEffort() string { return "Keep recording and " + c.keepMoving() + "." }

func (c Client) keepMoving() string {
	moving := "keep moving easily"
	ways := map[workout.Mode]string{
		workout.Run: "keep walking easily", workout.Walk: "keep walking easily", workout.Bike: "keep pedalling lightly",
		workout.Row: "keep rowing lightly", workout.Swim: "keep swimming easily",
	}
	for i, m := range c.Modes {
		switch {
		case ways[m] == "", i > 0 && ways[m] != moving:
			return "keep moving easily for 3 minutes after your last effort"
		}
		moving = ways[m]
	}
	return moving + " for 3 minutes after your last effort"
}

// lastWeek says what to change after a week that was too hard or too little.
func (v review) lastWeek(c course, p Prescription, a Assessment) []string {
	var out []string
	week := v.thisWeek()
	if !v.withinEffort(week) {
		out = append(out, "Last week felt harder than it should: go slower, even if the watch allows more.")
	}
	for _, x := range a.Reasons {
		switch {
		case c != repeat:
		case v.harderThanPlanned(x):
			text := "Much of the last weeks was harder than planned: go slower, with easy stretches in between, so that your pulse keeps to zone 1."
			if len(p.Targets) == 1 && p.Targets[0].High > 0 {
				text = fmt.Sprintf("Much of the last weeks was harder than planned: go slower, with easy stretches in between, so that your pulse stays below %s.", number(p.Targets[0].High))
			}
			out = append(out, text)
		case (x.Rule == "steady" || x.Rule == "check-session") && x.Low != nil && *x.Low > *x.Threshold:
			out = append(out, "At an even speed your pulse still climbs: leave the sessions as long as they are for now.")
		}
	}
	if plan := v.r.PlanFor(v.on-6, v.on); plan != nil && len(week) > 0 && len(week) < plan.Sessions {
		out = append(out, fmt.Sprintf("Of %s last week %d took place: one more would help most.", several(plan.Sessions, "session"), len(week)))
	}
	return out
}

// steadyNote asks for a session in which the heart rate can be seen to stay level: 25 min at one
// load between warm-up and cool-down. In a week of shorter sessions one may be longer by up to 10 min;
// where even that does not fit, or the week was too hard, it is not asked for.
func (v review) steadyNote(p Prescription) []string {
	const load, longer = 25, 10
	needed := load + 2*p.edge()/60
	most, _ := v.room()
	switch {
	case p.Minutes >= needed:
		return []string{fmt.Sprintf("Make one session a steady one: at least %d minutes at one speed, best on one machine, between warm-up and cool-down.", load)}
	case !p.Reduced && needed-p.Minutes <= longer && needed <= most && v.withinEffort(v.thisWeek()):
		return []string{fmt.Sprintf("Make one session longer, %d minutes, and steady: %d minutes at one speed, best on one machine, between warm-up and cool-down.", needed, load)}
	}
	return nil
}

// intervalNotes say what the interval sessions of the week are, and where in a session the bouts
// stand, as Plans writes them out.
func (v review) intervalNotes(p Prescription) []string {
	i := p.Intervals
	var out []string
	stage, since := v.r.StageOn(p.To)
	if v.step(stage, since) < 0 {
		out = append(out, fmt.Sprintf("New this week: one session has short %s parts. The others stay comfortable.", i.Feel))
	}
	which := "In 1 session"
	if i.Count > 1 {
		which = fmt.Sprintf("In %d sessions, at least 48 hours apart", i.Count)
	}
	after := "after the warm-up"
	if spare := p.beforeBouts() / 60; spare > 0 {
		after += " and " + several(spare, "comfortable minute")
	}
	out = append(out, fmt.Sprintf("%s, %s: %d times %s %s, with %s comfortable in between; then the cool-down.",
		which, after, i.Bouts, clock(i.Work), i.Feel, clock(i.Rest)))
	means := "Brisk means that sentences get short."
	if p.Stage == 3 {
		means = "Hard means that you can say single words. Stop a bout early rather than go all out."
	}
	if i.High > 0 && i.Low == 0 {
		means += " Go by that feel: the alarm is only an upper limit, and your pulse need not reach it."
	}
	return append(out, means)
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
