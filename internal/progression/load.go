package progression

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
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
	rule, f := v.begin("as-prescribed")
	plan := v.Record.PlanFor(v.On-6, v.On)
	if plan == nil || plan.Sessions == 0 || plan.Minutes == 0 {
		return f.untold("Prescribe the week before it begins.", "Nothing was prescribed for the past week.")
	}
	week := v.ThisWeek()
	minutes, intervals := 0.0, v.intervalsOf(week)
	for _, s := range week {
		minutes += s.Minutes
		f.rests(s, s.Minutes)
	}
	done := min(1, float64(len(week))/float64(plan.Sessions), minutes/float64(plan.Total()))
	text := ""
	if plan.Intervals != nil && plan.Intervals.Count > 0 {
		done = min(done, float64(intervals)/float64(plan.Intervals.Count))
		text = ", interval sessions done as prescribed " + wording.Number(float64(intervals)) + " of " + wording.Number(float64(plan.Intervals.Count))
	}
	return f.told(100*done, rule.Keeps(100*done), "Sessions %d of %d, minutes %s of %d%s; at least %g %% of each is asked for.",
		len(week), plan.Sessions, wording.Number(minutes), plan.Total(), text, *rule.Threshold)
}

// ThisWeek lists the sessions of the 7 days up to the date.
func (v Review) ThisWeek() []record.Session {
	return record.Keep(v.Sessions, func(s record.Session) bool { return s.Date > v.On-7 && s.Date <= v.On })
}

// monotony is Foster's over 7 days, where the load of a day is the session-RPE load of its sessions and
// that of a day of rest is 0 (Foster 1998, 2001).
func (v Review) monotony() finding {
	rule, f := v.begin("monotony")
	loads := make([]float64, 7)
	week := v.ThisWeek()
	for _, s := range week {
		if s.RPE == nil || s.RPE.Scale != 10 {
			return f.untold("Ask for the effort of every session on the 0-10 scale.", "Monotony needs the effort of every session on the 0-10 scale.")
		}
		load, _ := physiology.SessionRPE(*s.RPE, s.Minutes)
		loads[s.Date-(v.On-6)] += load
		f.rests(s, load)
	}
	m, ok := physiology.Monotony(loads)
	if !ok {
		return f.untold("", "Monotony is not defined for a week without sessions or of seven equal days.")
	}
	return f.told(m, rule.Keeps(m), "Foster monotony is %.2f; up to %g is usual.", m, *rule.Threshold)
}

// weeklyRise compares the minutes of the week with the mean of the weeks before. Below the minutes
// recommended for adults it stays silent: there is no harm in growing into them.
func (v Review) weeklyRise() finding {
	rule, f := v.begin("weekly-rise")
	weeks := *rule.Window / 7
	sums := make([]float64, weeks)
	for _, s := range v.stageIn {
		if w := v.days.weekOf(s.Date); w >= 0 && w < weeks {
			sums[w] += s.Minutes
		}
	}
	if v.days.weeks() < weeks {
		return f.untold("", "There are not enough weeks to compare with yet.")
	}
	for i := weeks - 1; i >= 0; i-- {
		f.Points = append(f.Points, record.Point{Date: v.days.endOfWeek(i), Value: sums[i]})
	}
	before := mean(sums[1:])
	if sums[0] < rule.More["silent_below_min"] || before == 0 {
		return f.stated(true, "The week had %s min; below %g min a rise is no concern.", wording.Number(sums[0]), rule.More["silent_below_min"])
	}
	rise := 100 * (sums[0]/before - 1)
	return f.told(rise, rule.Keeps(rise), "The week had %s min, %s than the weeks before it (%s min on average).", wording.Number(sums[0]), changed(rise, "more", "less"), wording.Number(before))
}

// longestRun compares the longest run of the week with the longest of the days before. It warns
// above 10 % or 5 min more, whichever is larger.
func (v Review) longestRun() finding {
	rule, f := v.begin("longest-run")
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
		return f.untold("", "There are no runs to compare.")
	}
	f.rests(before, before.Minutes)
	f.rests(now, now.Minutes)
	rise := 100 * (now.Minutes/before.Minutes - 1)
	met := rule.Keeps(rise) || now.Minutes-before.Minutes <= rule.More["or_minutes"]
	return f.told(rise, met, "The longest run lasted %s min, %s than the longest of the %g days before (%s min).",
		wording.Number(now.Minutes), changed(rise, "longer", "shorter"), rule.More["before_days"], wording.Number(before.Minutes))
}

// changed writes a change in percent with its direction: "12 % more", "19.5 % less".
func changed(percent float64, up, down string) string {
	switch n := wording.Number(math.Abs(percent)); {
	case n == "0":
		return "no " + up
	case percent < 0:
		return n + " % " + down
	default:
		return n + " % " + up
	}
}
