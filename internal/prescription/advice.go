package prescription

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// notes are what the client has to know about a week of sessions, the most important first.
func (v planner) notes(c course, p record.Prescription, a record.Assessment, week amount) []record.PlanNote {
	var out []record.PlanNote
	add := func(n record.PlanNote, holds bool) {
		if holds {
			out = append(out, n)
		}
	}
	add(record.PlanNote{Code: record.NoTime}, p.Stage > 1 && v.Cleared() && !v.RoomForBouts(p.Stage, 0))
	out = append(out, v.courseNotes(c, p, a)...)
	add(record.PlanNote{Code: record.ClearanceFirst}, c != moderate && p.Stage > 1 && !v.Cleared())
	add(record.PlanNote{Code: record.NoRoom}, v.AboveLimit(p.Stage) != nil)
	add(week.why, week.why.Code != "")
	add(record.PlanNote{Code: record.ByTalk}, true)
	if i := p.Intervals; i != nil {
		stage, since := v.Record.StageOn(p.To)
		last, _ := v.LastBouts(stage, since, v.from)
		add(record.PlanNote{Code: record.NewParts, Feel: i.Feel}, last == nil)
		add(record.PlanNote{Code: record.PartsMean, Feel: i.Feel}, true)
		add(record.PlanNote{Code: record.OnlyUpperLimit}, i.High > 0 && i.Low == 0 && !v.Record.Client.ByEffort())
	}
	return append(out, v.guides(a)...)
}

// courseNotes say why the week is what it is.
func (v planner) courseNotes(c course, p record.Prescription, a record.Assessment) []record.PlanNote {
	var out []record.PlanNote
	add := func(n record.PlanNote, holds bool) {
		if holds {
			out = append(out, n)
		}
	}
	b, away := v.Gap()
	switch c {
	case easeWeek:
		last := v.Record.PlanFor(v.On-6, v.On)
		again := last != nil && last.Reduced // then it does not announce less
		add(record.PlanNote{Code: record.EasierWeek}, !again)
		add(record.PlanNote{Code: record.EasierAgain}, again)
	case recovery:
		add(record.PlanNote{Code: record.EasyPhase}, true)
	case backAgain:
		add(record.PlanNote{Code: record.WelcomeBack}, true)
		add(record.PlanNote{Code: record.CheckLater}, v.easyReturn(c) && away && v.LongEnough(b) && p.Check == 0 && v.checkLength(c, p) > 0)
	case moderate:
		add(record.PlanNote{Code: record.ClearanceFirst}, len(a.Unanswered) == 0)
		add(record.PlanNote{Code: record.AnswerFirst}, len(a.Unanswered) > 0)
	case build, repeat:
		out = append(out, v.lastWeek(c, p, a)...)
		add(record.PlanNote{Code: record.NormalFirst}, p.Stage > 1 && p.Intervals == nil && v.Cleared() && v.Recovering())
		add(record.PlanNote{Code: record.EasyFirst}, away && b.Ended == 0 && b.Days >= 4)
	}
	add(record.PlanNote{Code: record.RestFirst}, v.Ill())
	return out
}

// guides say what leads in the sessions, heart rate or feel, and what to answer and record.
func (v planner) guides(a record.Assessment) []record.PlanNote {
	modes := v.Record.Client.TrainedModes()
	hidden := v.UnderWater() && slices.Contains(modes, workout.Swim)
	swims := hidden && len(modes) == 1
	byEffort, limited := v.Record.Client.ByEffort(), v.body().Limit > 0
	var out []record.PlanNote
	for _, n := range []struct {
		holds bool
		code  record.PlanCode
	}{
		{hidden, record.AtTheWall}, {byEffort && !limited, record.ByFeel}, {byEffort && limited, record.OnlyUpperLimit},
		{!byEffort && !swims, record.ByHeartRate}, {a.Lacks(policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast), record.TellEffort},
	} {
		if n.holds {
			out = append(out, record.PlanNote{Code: n.code})
		}
	}
	if swims {
		return out
	}
	return append(out, record.PlanNote{Code: record.KeepRecording, Modes: v.Record.Client.Modes})
}

// tooHard says that the last week felt harder than it should, or was harder than planned.
func (v planner) tooHard(a record.Assessment) bool {
	return !v.WithinEffort(v.ThisWeek()) || slices.ContainsFunc(a.Reasons, v.HarderThanPlanned)
}

// lastWeek says what to change after a week that was too hard or too little.
func (v planner) lastWeek(c course, p record.Prescription, a record.Assessment) []record.PlanNote {
	var out []record.PlanNote
	week := v.ThisWeek()
	if !v.WithinEffort(week) {
		out = append(out, record.PlanNote{Code: record.FeltTooHard})
	}
	for _, x := range a.Reasons {
		switch {
		case c != repeat:
		case v.HarderThanPlanned(x):
			out = append(out, v.slower(p)...)
		case (x.Rule == policy.Steady || x.Rule == policy.CheckSession) && x.Low != nil && *x.Low > *x.Threshold:
			out = append(out, record.PlanNote{Code: record.KeepLength})
		}
	}
	if plan := v.Record.PlanFor(v.On-6, v.On); plan != nil && len(week) > 0 && len(week) < plan.Sessions {
		out = append(out, record.PlanNote{Code: record.OneMoreSession, N: len(week), Of: plan.Sessions})
	}
	return out
}

// slower tells the client to keep to zone 1. Where talking was easy all the same, the heart rates may be what is wrong.
func (v planner) slower(p record.Prescription) []record.PlanNote {
	n := record.PlanNote{Code: record.AbovePlan}
	if v.Record.PlanFor(v.On-27, v.On) == nil {
		n.Code = record.AboveZone1
	}
	if len(p.Targets) == 1 {
		n.BPM = p.Targets[0].High
	}
	week := v.ThisWeek()
	talked := slices.ContainsFunc(week, func(s record.Session) bool { return s.Talk == record.TalkComfortable })
	if talked && v.WithinEffort(week) {
		return []record.PlanNote{n, {Code: record.ZonesTooLow}}
	}
	return []record.PlanNote{n}
}

// checkMinutes is the length of the check session of the week, 0 for none. One is prescribed where it
// is not known whether the heart rate stays level, and where a return after a long break is to end
// with it. In a week of shorter sessions it may be longer than the others by up to 10 min; where even
// that does not fit, or the week was too hard, there is none, and no interval session gives way to it.
// In a week of long sessions it is shorter than the others, since a cool-down of half an hour would be
// a second steady part.
func (v planner) checkMinutes(c course, p record.Prescription, a record.Assessment) int {
	due := a.Lacks(policy.Steady, policy.CheckSession) && (c == build || c == repeat)
	if b, ok := v.Gap(); ok && c == backAgain && v.LongEnough(b) && b.Ended != 0 && v.On+1-b.Ended >= progression.EasyWeek {
		due = true
	}
	if !due || p.Intervals != nil && p.Sessions <= p.Intervals.Count {
		return 0
	}
	return v.checkLength(c, p)
}

// checkLength is the length of a check session in a week, 0 where it does not fit.
func (v planner) checkLength(c course, p record.Prescription) int {
	const longer, mostCool = 10, 15
	if v.Record.Client.ByEffort() || v.Record.StateOn(p.To) != record.Active {
		return 0
	}
	needed, usual := checkLoad/60+2*5, p.Minutes
	if full := v.lastFull(); c == backAgain && full != nil {
		usual = max(usual, full.Minutes) // before the break
	}
	most, _ := v.room()
	switch {
	case p.Minutes >= needed:
		return min(p.Minutes, 5+checkLoad/60+mostCool)
	case needed-usual <= longer && needed <= most && v.WithinEffort(v.ThisWeek()):
		return needed
	}
	return 0
}

// restNotes are what the client has to know about a week without training.
func (v planner) restNotes(a record.Assessment) []record.PlanNote {
	just := func(codes ...record.PlanCode) (out []record.PlanNote) {
		for _, c := range codes {
			out = append(out, record.PlanNote{Code: c})
		}
		return out
	}
	switch {
	case a.Verdict == nil && v.MayTrain():
		return just(record.NoSessions)
	case a.Verdict == nil:
		return just(record.QuestionsFirst)
	case *a.Verdict == record.Refer || v.decided() == record.DoRefer || v.Record.Referred():
		sign := signs.Sign("")
		if r := a.GraveSign(); r != nil {
			last, _ := r.Says.Args["last"].(string)
			sign = signs.Sign(last)
		}
		switch sign.Urgency() {
		case signs.CallNow:
			return just(record.CallHelp, record.CallIfStill, record.DoctorFirst)
		case signs.SeeToday:
			return just(record.CallHelp, record.SeeToday, record.DoctorFirst)
		case signs.AgreeFirst:
			return just(record.CallHelp, record.AgreeFirst)
		}
		return just(record.CallHelp, record.DoctorFirst)
	case a.Unmet(policy.Adult):
		return just(record.TooYoung)
	case a.Stage == 0:
		return just(record.NoStageYet)
	case a.Doubt() != nil:
		return just(record.CallHelp, record.AskedFirst)
	}
	return just(record.QuestionsFirst)
}
