package prescription

import (
	"math"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// What a week is made of when nothing else is known (common practice, no source, between the older
// handbooks' 12-20 min and Garber 2011's 30 min, three days a week).
const (
	startSessions        = 3
	startMinutes         = 30
	startMinutesInactive = 20
	shortest             = 15 // of a session that is shorter on purpose (common practice, no source)
	usualMostMinutes     = 45 // when the client named no time
	usualMostDays        = 5
	stepMinutes          = 5 // +5-10 min every 1-2 weeks (handbook, from memory)
	largeStepMinutes     = 10
	halfDone             = 0.5 // of a prescribed week is enough to prescribe it again (common practice, no source)
	easedShare           = 0.60
	returnShare          = 0.75
	hardShare            = 0.80 // of the minutes after a week that was too hard (common practice, no source)
	riseMinutes          = 15   // that a week may always have more than was done (common practice, no source)
	moreThanPlanned      = 1.15 // of the prescribed minutes is more than a long session now and then
)

// amount is the size of a week: so many sessions of so many minutes. why is what the client has to know
// of the size, if anything.
type amount struct {
	sessions, minutes int
	why               record.PlanNote
}

// less says that a week has less than the minutes that were done, and why.
func less(why record.PlanCode, done float64) record.PlanNote {
	return record.PlanNote{Code: why, N: int(math.Round(done))}
}

func (a amount) total() int { return a.sessions * a.minutes }

// volume gives sessions and minutes of the week. Duration grows first, then frequency, and a week
// never has much more than what was really done.
func (v planner) volume(c course, stage int, since workout.Date) amount {
	done := v.level(c)
	week := v.base(done)
	switch c {
	case easeWeek:
		return reduced(v.limited(week, done), easedShare)
	case recovery:
		if last := v.Record.PlanFor(v.from-7, v.from-1); last != nil && last.Reduced && v.Record.StateOn(last.From) == record.RecoveryOf {
			return v.named(amount{sessions: last.Sessions, minutes: last.Minutes})
		}
		return reduced(v.limited(week, done), returnShare)
	case backAgain:
		return reduced(v.limited(week, done), returnShare)
	case repeat:
		if tooHard, _ := v.TooHard(v.ThisWeek()); tooHard {
			return v.shorter(v.limited(week, v.atMost(done)))
		}
	case build:
		// In the upper stages the interval steps grow first, and only the last one leaves room.
		last, _ := v.LastBouts(stage, since, v.from)
		if next := v.MoreBouts(stage, last, week.sessions); stage > 1 && (last == nil || next.Work != last.Work || next.Bouts != last.Bouts) {
			break
		}
		before := v.planBefore()
		mostMinutes, mostDays := v.room()
		switch {
		case before.Says(record.ShorterNow): // the full week comes back before anything grows
		case week.minutes < mostMinutes:
			week.minutes = min(week.minutes+v.longer(week), mostMinutes)
		case week.sessions < mostDays && week.minutes <= mostMinutes:
			week.sessions++
		}
	}
	return v.whole(v.limited(week, v.atMost(done)), done)
}

// shorter is a week after one that was too hard: the same sessions, about a fifth shorter in whole 5 minutes,
// but not under the length with which beginners start.
func (v planner) shorter(week amount) amount {
	minutes := stepMinutes * int(math.Round(hardShare*float64(week.minutes)/stepMinutes))
	minutes = max(minutes, min(week.minutes, startMinutesInactive))
	if minutes < week.minutes && week.why.Code == "" {
		week.why.Code = record.ShorterNow
	}
	week.minutes = min(minutes, week.minutes)
	return week
}

// whole shortens sessions under an hour to whole 5 minutes, which people plan by. What was prescribed
// before and what the client named stay as they are, and so does a week that would lose more than half
// of what it grows by: growth must not stop at a round number (common practice, no source).
func (v planner) whole(week amount, done float64) amount {
	minutes := week.minutes / stepMinutes * stepMinutes
	grows, left := float64(week.total())-done, float64(week.sessions*minutes)-done
	p := v.lastFull()
	switch {
	case week.minutes >= 60, minutes < startMinutesInactive, left < grows/2:
	case week.minutes == v.Record.Client.Minutes, p != nil && week.minutes == p.Minutes:
	default:
		week.minutes = minutes
	}
	return week
}

// longer is by how many minutes a session grows: 5, and up to 10 while the week has fewer minutes
// than stage 1 needs, but not for runners (the rule on the longest run warns above 5).
func (v planner) longer(week amount) int {
	if float64(week.total()) < *v.Policy.Rule(policy.Minutes).Threshold && !slices.Contains(v.Record.Client.TrainedModes(), workout.Run) {
		return largeStepMinutes
	}
	return stepMinutes
}

// atMost is what a week may have in minutes: so many percent more than was done as the rule on the
// weekly rise allows, or a quarter of an hour more, whichever is more. While that rule is silent, in
// small weeks, somebody who missed a session but did the others in full may be prescribed the same
// again: shorter sessions would not help.
func (v planner) atMost(done float64) float64 {
	if done == 0 {
		return 0
	}
	rise := v.Policy.Rule(policy.WeeklyRise)
	most := max(done*(1+*rise.Threshold/100), done+riseMinutes)
	if p := v.lastFull(); p != nil {
		if total := float64(p.Sessions * p.Minutes); done >= halfDone*total && total <= rise.More["silent_below_min"] && v.inFull(*p) {
			most = max(most, total)
		}
	}
	return most
}

// inFull says that the sessions of the last two weeks were about as long as prescribed.
func (v planner) inFull(p record.Prescription) bool {
	lately := record.Keep(v.Sessions, func(s record.Session) bool { return s.Date > v.On-14 })
	sum := 0.0
	for _, s := range lately {
		sum += s.Minutes
	}
	return len(lately) > 0 && sum >= v.asGood()*float64(len(lately)*p.Minutes)
}

// asGood is the share of the prescribed minutes that is as good as all of them, so that a watch
// stopped before the cool-down costs nothing.
func (v planner) asGood() float64 { return *v.Policy.Rule(policy.AsPrescribed).Threshold / 100 }

// level is what the client can do in a week, in minutes: the most of the last four weeks, since a
// missed session or a recording that stopped early says nothing against it. A week that was done as
// prescribed counts as prescribed. It is 0 while less than a week is known. Before a return the weeks
// up to the break count.
func (v planner) level(c course) float64 {
	if len(v.Sessions) == 0 {
		return 0
	}
	end := v.On
	if b, ok := v.Gap(); c == backAgain && ok {
		end = b.After
	}
	first := v.Sessions[0].Date
	if v.Since != 0 {
		first = min(first, v.Since)
	}
	var weeks []float64
	for i, to := 0, end; i < 4 && (to-6 >= first || i == 0 && c == backAgain); i, to = i+1, to-7 {
		sum := 0.0
		for _, s := range v.Sessions {
			if s.Date > to-7 && s.Date <= to {
				sum += s.Minutes
			}
		}
		if p := v.Record.PlanFor(to-6, to); p != nil && sum < float64(p.Sessions*p.Minutes) && sum >= v.asGood()*float64(p.Sessions*p.Minutes) {
			sum = float64(p.Sessions * p.Minutes)
		}
		if sum > 0 {
			weeks = append(weeks, sum)
		}
	}
	if len(weeks) == 0 {
		return 0
	}
	return slices.Max(weeks)
}

// limited keeps the week to a maximum in minutes, 0 for none. They are spread over the sessions, or over
// fewer where those would become too short.
func (v planner) limited(week amount, most float64) amount {
	most = math.Floor(most + 1e-9)
	if most == 0 || float64(week.total()) <= most {
		return week
	}
	shortestNow, p := min(week.minutes, startMinutesInactive), v.lastFull()
	for n := week.sessions; n > 0; n-- {
		// One session more than before may be a little shorter at first, or short weeks would never grow.
		if m := int(most) / n; m >= shortestNow || n == 1 || p != nil && n > p.Sessions && m >= shortest {
			week.sessions, week.minutes = n, max(policy.Shortest, min(week.minutes, m))
			break
		}
	}
	if p != nil && week.total() < p.Sessions*p.Minutes {
		week.why.Code = record.SmallSteps
	}
	return week
}

// room is how much time the client has.
func (v planner) room() (minutes, days int) {
	minutes, days = usualMostMinutes, usualMostDays
	if v.Record.Client.Minutes > 0 {
		minutes = v.Record.Client.Minutes
	}
	if v.Record.Client.Days > 0 {
		days = min(v.Record.Client.Days, 7)
	}
	return minutes, days
}

// named keeps a week within the time that the client named since.
func (v planner) named(week amount) amount {
	mostMinutes, mostDays := v.room()
	if v.Record.Client.Minutes > 0 {
		week.minutes = min(week.minutes, mostMinutes)
	}
	if v.Record.Client.Days > 0 {
		week.sessions = min(week.sessions, mostDays)
	}
	return week
}

// base is the last full week that was prescribed; where the client does clearly more and it was
// comfortable, or nothing was prescribed, what the client does; else a starting amount.
func (v planner) base(done float64) amount {
	mostMinutes, mostDays := v.room()
	p := v.lastFull()
	if p != nil && done <= moreThanPlanned*float64(p.Sessions*p.Minutes) {
		return v.named(amount{sessions: p.Sessions, minutes: p.Minutes})
	}
	lately := record.Keep(v.Sessions, func(s record.Session) bool { return s.Date > v.On-28 })
	if p != nil && !v.comfortable(lately) {
		return v.named(amount{p.Sessions, p.Minutes, less(record.LessTooHard, done)})
	}
	week := amount{sessions: startSessions, minutes: startMinutes}
	if v.Record.Client.Inactive() {
		week.minutes = startMinutesInactive
	}
	// Somebody with more days than time on each starts with more of the shorter sessions.
	if len(lately) == 0 && mostMinutes < week.minutes {
		week.sessions = max(startSessions, startSessions*week.minutes/mostMinutes)
	}
	if len(lately) > 0 {
		sum := 0.0
		for _, s := range lately {
			sum += s.Minutes
		}
		weeks := float64(min(4, int(v.On-lately[0].Date)/7+1)) // that the client has been seen
		week.sessions = max(2, int(math.Round(float64(len(lately)+len(v.Expected(v.On-27)))/weeks)))
		week.minutes = max(startMinutesInactive, 5*int(math.Round(sum/float64(len(lately))/5)))
		if v.comfortable(lately) {
			// What somebody does comfortably may exceed the usual maximum, unless they named their time.
			if v.Record.Client.Minutes == 0 {
				mostMinutes = max(mostMinutes, week.minutes)
			}
			if v.Record.Client.Days == 0 {
				mostDays = min(7, max(mostDays, week.sessions))
			}
		}
	}
	out := amount{sessions: min(week.sessions, mostDays), minutes: min(week.minutes, mostMinutes)}
	if float64(out.total())*moreThanPlanned < done {
		switch {
		case !v.comfortable(lately):
			out.why = less(record.LessTooHard, done)
		case v.Record.Client.Minutes > 0 && !slices.ContainsFunc(lately, func(s record.Session) bool { return math.Round(s.Minutes) > float64(v.Record.Client.Minutes) }):
			out.why = less(record.InPieces, done) // more of them, and none longer than the client has time for
		case v.Record.Client.Minutes > 0 || v.Record.Client.Days > 0:
			out.why = less(record.LessTime, done)
		}
	}
	return out
}

// comfortable says that nothing is known of sessions that were too hard: neither by effort and talk
// nor by the heart rate.
func (v planner) comfortable(sessions []record.Session) bool {
	return v.WithinEffort(sessions) && (v.Record.Client.ByEffort() || v.Stage != 1 || !v.HarderThanPlanned(v.Zone().Reason))
}

// lastFull is the last prescription of the eight weeks before that was neither reduced on purpose nor shortened
// because a week was too hard: once it is comfortable again, the week before that comes back.
func (v planner) lastFull() *record.Prescription {
	var best *record.Prescription
	for i, p := range v.Record.Prescriptions {
		if p.From < v.from && p.To > v.On-56 && p.Sessions > 0 && !p.Reduced && !p.Says(record.ShorterNow) && (best == nil || p.From >= best.From) {
			best = &v.Record.Prescriptions[i]
		}
	}
	return best
}

// reduced shortens the sessions to a share of the week's minutes, in whole minutes; where they would
// become too short to count, there are fewer of them.
func reduced(full amount, share float64) amount {
	week := share * float64(full.total())
	for n := full.sessions; n > 1; n-- {
		if m := int(math.Round(week / float64(n))); m >= shortest {
			return amount{sessions: n, minutes: m}
		}
	}
	return amount{sessions: 1, minutes: max(policy.Shortest, int(math.Round(week)))}
}
