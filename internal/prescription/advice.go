package prescription

import (
	"fmt"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"slices"
)

// notes are the plain sentences for the client that go with a week of sessions.
func (v planner) notes(c course, p record.Prescription, a record.Assessment, week amount) []string {
	var out []string
	switch c {
	case easeWeek:
		out = append(out, easierWeek(v.Record.PlanFor(v.On-6, v.On)))
		for _, x := range a.Reasons {
			if x.Rule == policy.Illness && x.Met != nil && !*x.Met {
				out = append(out, "Rest until you have been without fever and other symptoms for 48 hours; then start with this easy week.")
			}
		}
	case backAgain:
		out = append(out, "Welcome back: start with about three quarters of what you did before.")
		if b, ok := v.Gap(); v.easyReturn(c) && ok && v.LongEnough(b) && p.Check == 0 {
			out = append(out, "After one or two comfortable weeks do a check session: 25 minutes on one machine at one comfortable speed, besides warm-up and cool-down.")
		}
	case moderate:
		if len(a.Unanswered) > 0 {
			out = append(out, "Comfortable sessions only until you have answered your trainer's question about your health.")
			break
		}
		out = append(out, "Comfortable sessions only until your doctor's clearance is here. Please ask for it.")
	case build, repeat:
		out = append(out, v.lastWeek(c, p, a)...)
		if b, ok := v.Gap(); ok && b.Ended == 0 && b.Days >= 4 {
			out = append(out, "Make the first session an easy one.")
		}
	}
	if week.why != "" {
		out = append(out, week.why)
	}
	out = append(out,
		"Comfortable means that you can talk in whole sentences. If you cannot, slow down, whatever the watch says.")
	if i := p.Intervals; i != nil {
		out = append(out, v.intervalNotes(p)...)
	}
	switch {
	case v.Record.Client.ByEffort():
		out = append(out, "Go by how it feels, not by the pulse: yours cannot be judged by numbers.")
	default:
		out = append(out, "Your watch may number zones differently. Go by the beats.")
	}
	if lacking(a, policy.Effort) || lacking(a, policy.BoutEffort) {
		out = append(out, "After each session tell your trainer how hard it was and whether talking was comfortable.")
	}
	return append(out, v.Record.Client.AfterEffort())
}

// tooHard says that the last week felt harder than it should, or was harder than planned.
func (v planner) tooHard(a record.Assessment) bool {
	return !v.WithinEffort(v.ThisWeek()) || slices.ContainsFunc(a.Reasons, v.HarderThanPlanned)
}

// lastWeek says what to change after a week that was too hard or too little.
func (v planner) lastWeek(c course, p record.Prescription, a record.Assessment) []string {
	var out []string
	week := v.ThisWeek()
	if !v.WithinEffort(week) {
		out = append(out, "Last week felt harder than it should: go slower, even if the watch allows more.")
	}
	for _, x := range a.Reasons {
		switch {
		case c != repeat:
		case v.HarderThanPlanned(x):
			out = append(out, v.slower(p))
		case (x.Rule == policy.Steady || x.Rule == policy.CheckSession) && x.Low != nil && *x.Low > *x.Threshold:
			out = append(out, "At an even speed your pulse still climbs: leave the sessions as long as they are for now.")
		}
	}
	if plan := v.Record.PlanFor(v.On-6, v.On); plan != nil && len(week) > 0 && len(week) < plan.Sessions {
		out = append(out, fmt.Sprintf("Of %s last week %d took place: one more would help most.", wording.Count(plan.Sessions, "session"), len(week)))
	}
	return out
}

// slower asks to keep to zone 1. Where nothing had been planned, or talking was easy all the same, the
// beats may be what is wrong.
func (v planner) slower(p record.Prescription) string {
	text := "Much of the last weeks was harder than planned"
	if v.Record.PlanFor(v.On-27, v.On) == nil {
		text = "Much of the last weeks was above your comfortable beats"
	}
	text += ": go slower, with easy stretches in between, so that your pulse "
	if len(p.Targets) == 1 && p.Targets[0].High > 0 {
		text += fmt.Sprintf("stays below %s.", wording.Number(p.Targets[0].High))
	} else {
		text += "keeps to zone 1."
	}
	week := v.ThisWeek()
	talked := slices.ContainsFunc(week, func(s record.Session) bool { return s.Talk == record.TalkComfortable })
	if talked && v.WithinEffort(week) {
		text += " If talking was easy all the same, tell your trainer: your beats may be set too low."
	}
	return text
}

// lacking says that a rule cannot be told for want of data.
func lacking(a record.Assessment, rule policy.ID) bool {
	return slices.ContainsFunc(a.Lacking, func(l record.Lack) bool { return l.Rule == rule })
}

// checkMinutes is the length of the check session of the week, 0 for none. One is asked for where it
// cannot be told whether the heart rate stays level, and where a return after a long break is to end
// with it. In a week of shorter sessions it may be longer than the others by up to 10 min; where even
// that does not fit, or the week was too hard, there is none, and no interval session gives way to it.
// In a week of long sessions it is shorter than the others, since a cool-down of half an hour would be
// a second steady part.
func (v planner) checkMinutes(c course, p record.Prescription, a record.Assessment) int {
	const longer, mostCool = 10, 15
	due := (lacking(a, policy.Steady) || lacking(a, policy.CheckSession)) && (c == build || c == repeat)
	if b, ok := v.Gap(); ok && c == backAgain && v.LongEnough(b) && b.Ended != 0 && v.On+1-b.Ended >= progression.EasyWeek {
		due = true
	}
	if !due || v.Record.Client.ByEffort() || v.Record.StateOn(p.To) != record.Active || p.Intervals != nil && p.Sessions <= p.Intervals.Count {
		return 0
	}
	needed := checkLoad/60 + 2*5
	most, _ := v.room()
	switch {
	case p.Minutes >= needed:
		return min(p.Minutes, 5+checkLoad/60+mostCool)
	case needed-p.Minutes <= longer && needed <= most && v.WithinEffort(v.ThisWeek()):
		return needed
	}
	return 0
}

// intervalNotes say what is new about the interval sessions of the week and how they should feel.
func (v planner) intervalNotes(p record.Prescription) []string {
	i := p.Intervals
	var out []string
	stage, since := v.Record.StageOn(p.To)
	if v.step(stage, since) < 0 {
		out = append(out, fmt.Sprintf("New this week: one session has short %s parts. The others stay comfortable.", i.Feel))
	}
	means := "Brisk means that sentences get short."
	if p.Stage == 3 {
		means = "Hard means that you can say single words. Stop a bout early rather than go all out."
	}
	if i.High > 0 && i.Low == 0 {
		means += " Go by that feel: the alarm is only an upper limit, and your pulse need not reach it."
	}
	return append(out, means)
}

// restNotes are the sentences of a week without training.
func (v planner) restNotes(a record.Assessment) []string {
	switch {
	case a.Verdict == nil:
		return []string{"No sessions this week."}
	case *a.Verdict == record.Refer || v.decided() == record.DoRefer:
		return []string{
			"No training until a doctor has said that you may. Tell your trainer the date.",
			"Pain or pressure in the chest, fainting, confusion, or breathlessness at rest: call emergency help at once.",
		}
	case a.Unmet(policy.Adult):
		return []string{"There is no plan by stages for anybody under 18. Your trainer will tell you how to train."}
	case a.Stage == 0:
		return []string{"No sessions yet: your trainer will tell you where you begin."}
	}
	out := []string{"No sessions yet: a few questions have to be answered first. Your trainer will ask you."}
	if a.Doubt() != nil {
		out = append(out, "Pain or pressure in the chest, fainting, confusion, or breathlessness at rest: call emergency help at once.")
	}
	return out
}

// easierWeek says so of the first one; where last week was eased already it does not promise less.
func easierWeek(last *record.Prescription) string {
	if last != nil && last.Reduced {
		return "One more easier week: as short as the last one, nothing hard."
	}
	return "An easier week: shorter sessions, nothing hard."
}
