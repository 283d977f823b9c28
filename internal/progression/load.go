package progression

import (
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// intervalsOf counts the interval sessions that were done as prescribed.
func (v Review) intervalsOf(sessions []record.Session) (done int) {
	for _, s := range sessions {
		if x, ok := v.asInterval(s); ok && v.asPrescribed(x) {
			done++
		}
	}
	return done
}

// weekDone is the rule on the past week against its prescription: the smallest of the shares of
// sessions, minutes and interval sessions.
func (v Review) weekDone() finding {
	rule, f := v.begin(policy.AsPrescribed)
	plan := v.Record.PlanFor(v.On-6, v.On)
	if plan == nil || plan.Sessions == 0 || plan.Minutes == 0 {
		return f.open(record.Fact{}, NothingPrescribed, nil)
	}
	week := v.lastSeven(v.Sessions)
	minutes, intervals := 0.0, v.intervalsOf(week)
	for _, s := range week {
		minutes += s.Minutes
		f.rests(s, s.Minutes)
	}
	done := min(1, float64(len(week))/float64(plan.Sessions), minutes/float64(plan.Total()))
	planned := 0
	if plan.Intervals != nil && plan.Intervals.Count > 0 {
		planned = plan.Intervals.Count
		done = min(done, float64(intervals)/float64(planned))
	}
	if to := v.lastSeven(v.toCome); len(to) > 0 && !rule.Keeps(100*done) {
		return f.open(need(NeedFiles), FilesToCome, record.Args{"sessions": len(to)})
	}
	return f.told(100*done, rule.Keeps(100*done), WeekDone, record.Args{"sessions": len(week), "of_sessions": plan.Sessions,
		"minutes": minutes, "of_minutes": plan.Total(), "intervals": intervals, "of_intervals": planned, "needed": *rule.Threshold})
}

// ThisWeek lists the sessions of the 7 days up to the date, also those of which only the answers have come.
func (v Review) ThisWeek() []record.Session {
	return v.lastSeven(append(slices.Clone(v.Sessions), v.toCome...))
}

// Expected lists the days since a day of whose sessions only the answers have come.
func (v Review) Expected(since workout.Date) []record.Session {
	return record.Keep(v.toCome, func(s record.Session) bool { return s.Date >= since })
}

func (v Review) lastSeven(all []record.Session) []record.Session {
	return record.Keep(all, func(s record.Session) bool { return s.Date > v.On-7 && s.Date <= v.On })
}

// monotony is Foster's over 7 days, where the load of a day is the session-RPE load of its sessions and
// that of a day of rest is 0 (Foster 1998, 2001).
func (v Review) monotony() finding {
	rule, f := v.begin(policy.Monotony)
	loads := make([]float64, 7)
	week := v.lastSeven(v.Sessions)
	for _, s := range week {
		if s.RPE == nil || s.RPE.Scale != 10 {
			return f.open(record.Fact{}, MonotonyOpen, nil)
		}
		load, _ := physiology.SessionRPE(*s.RPE, s.Minutes)
		loads[s.Date-(v.On-6)] += load
		f.rests(s, load)
	}
	m, ok := physiology.Monotony(loads)
	if !ok {
		return f.open(record.Fact{}, MonotonyUndefined, nil)
	}
	return f.told(m, rule.Keeps(m), Monotony, record.Args{"monotony": m, "limit": *rule.Threshold})
}

// weeklyRise compares the minutes of the week with the mean of the weeks before. Below the minutes
// recommended for adults it stays silent: there is no harm in growing into them.
func (v Review) weeklyRise() finding {
	rule, f := v.begin(policy.WeeklyRise)
	weeks := *rule.Window / 7
	sums := make([]float64, weeks)
	for _, s := range v.stageIn {
		if w := v.days.weekOf(s.Date); w >= 0 && w < weeks {
			sums[w] += s.Minutes
		}
	}
	if v.days.weeks() < weeks {
		return f.open(record.Fact{}, TooFewWeeks, nil)
	}
	for i := weeks - 1; i >= 0; i-- {
		f.Points = append(f.Points, record.Point{Date: v.days.endOfWeek(i), Value: sums[i]})
	}
	before := mean(sums[1:])
	if sums[0] < rule.More["silent_below_min"] || before == 0 {
		return f.stated(true, RiseNoConcern, record.Args{"minutes": sums[0], "from": rule.More["silent_below_min"]})
	}
	rise := 100 * (sums[0]/before - 1)
	return f.told(rise, rule.Keeps(rise), WeeklyRise, record.Args{"minutes": sums[0], "rise": rise, "before": before})
}

// longestRun compares the longest run of the week with the longest of the days before. It warns
// above 10 % or 5 min more, whichever is larger.
func (v Review) longestRun() finding {
	rule, f := v.begin(policy.LongestRun)
	from := v.On - workout.Date(*rule.Window) + 1
	var now, before record.Session
	for _, s := range v.Sessions {
		if s.Mode != workout.Run || s.Date < from-workout.Date(rule.More["before_days"]) {
			continue
		}
		longest := &before
		if s.Date >= from {
			longest = &now
		}
		if s.Minutes > longest.Minutes {
			*longest = s
		}
	}
	if now.Minutes == 0 || before.Minutes == 0 {
		return f.open(record.Fact{}, NoRuns, nil)
	}
	f.rests(before, before.Minutes)
	f.rests(now, now.Minutes)
	rise := 100 * (now.Minutes/before.Minutes - 1)
	met := rule.Keeps(rise) || now.Minutes-before.Minutes <= rule.More["or_minutes"]
	return f.told(rise, met, LongestRun, record.Args{"minutes": now.Minutes, "rise": rise, "days": rule.More["before_days"], "before": before.Minutes})
}
