package progression

import "nextrung/internal/workout"

const (
	// easyWeek is the number of days of the return after a break of one to two weeks.
	easyWeek = 7
	// easyWeeks is the number of days of the return after a longer break.
	easyWeeks = 14
	// outOfBreak is the number of days within which a longer break still asks for one stage down.
	outOfBreak = 28
)

// pauseInTraining is a time without a session.
type pauseInTraining struct {
	days  int          // without a session
	after workout.Date // day of the last session before it, or the day before the stage began
	ended workout.Date // day of the first session after it; 0 while it runs
}

// gap finds the break that still matters: the one that runs, or the last one that ended, within the
// stage. Days before the stage do not count, since the stage was set knowing of them. ok is false
// without any session: where nothing was recorded there is no break. Sessions long before the stage
// count as none.
func (v review) gap() (b pauseInTraining, ok bool) {
	if len(v.sessions) == 0 {
		return b, false
	}
	last := v.sessions[len(v.sessions)-1].Date
	if last < v.since-outOfBreak {
		return b, false
	}
	b.after = max(last, v.since-1)
	b.days = int(v.on - b.after)
	if !v.p.Rule("break").keeps(float64(b.days)) {
		return b, true
	}
	for i := len(v.sessions) - 1; i > 0; i-- {
		at := v.sessions[i].Date
		if v.on-at >= outOfBreak {
			break
		}
		if v.sessions[i-1].Date < v.since-outOfBreak {
			break // the first session of the stage: nothing is known of the days before it
		}
		from := max(v.sessions[i-1].Date, v.since-1)
		if days := int(at - from - 1); days > 0 && !v.p.Rule("break").keeps(float64(days)) {
			return pauseInTraining{days, from, at}, true
		}
	}
	return b, true
}

// longestGapSince is the longest time without a session, in days, that began after the last session
// on or after a day.
func (v review) longestGapSince(day workout.Date) int {
	days := 0
	for i, s := range v.sessions {
		next := v.on + 1
		if i+1 < len(v.sessions) {
			next = v.sessions[i+1].Date
		}
		if s.Date >= day {
			days = max(days, int(next-s.Date-1))
		}
	}
	return days
}

// returning is the rule on breaks of 8 to 28 days, and in stage 1 on longer ones too: a return week
// at 75 %, or from 15 days on one or two stage 1 weeks that end with a check session.
func (v review) returning() finding {
	rule, f := v.begin("break")
	b, ok := v.gap()
	days := float64(b.days)
	switch {
	case v.before():
		return f.stated(true, "%s", v.begins())
	case !ok:
		return f.stated(true, "No session of this stage is known yet, so there is no break.")
	}
	f.From = b.after
	switch {
	case rule.keeps(days):
		return f.told(days, true, "The last session was %s.", ago(b.days))
	case b.ended == 0:
		f = f.told(days, false, "There was no session for %s: a return comes first.", several(b.days, "day"))
		if n := len(v.walks); n > 0 && v.walks[n-1].Date > b.after {
			f.Text += " " + v.walksHint()
		}
		return f
	case v.returnLasts(b, v.on):
		return f.told(days, false, "A break of %s ended on %s: the return is not over yet.", several(b.days, "day"), b.ended.Long())
	}
	return f.told(days, true, "The return after a break of %s is done.", several(b.days, "day"))
}

// returnLasts says that on a day the return after a break that ended is not over yet.
func (v review) returnLasts(b pauseInTraining, on workout.Date) bool {
	if v.longEnough(b) {
		return on-b.ended < easyWeeks && !v.steadySince(b.ended)
	}
	return on-b.ended < easyWeek
}

// longEnough says that a break asks for stage 1 weeks.
func (v review) longEnough(b pauseInTraining) bool {
	return float64(b.days) >= v.p.Rule("break").More["stage_1_from_days"]
}

// ago writes how long ago something was.
func ago(days int) string {
	switch days {
	case 0:
		return "today"
	case 1:
		return "yesterday"
	}
	return several(days, "day") + " ago"
}

// steadySince says that a check session after a break was passed, at least a week into the return.
func (v review) steadySince(ended workout.Date) bool {
	c := v.checkSession()
	return c.isMet() && len(c.Points) > 0 && c.Points[0].Date >= ended+easyWeek
}

// longBreak is the rule on breaks after which one stage down is the place to start again.
func (v review) longBreak() finding {
	rule, f := v.begin("long-break")
	b, ok := v.gap()
	days := float64(b.days)
	if !ok || v.before() {
		return f.stated(true, "No session of this stage is known yet, so there is no break.")
	}
	f.From = b.after
	if rule.keeps(days) || b.ended != 0 && v.on-b.ended >= outOfBreak {
		return f.told(days, true, "The longest time without a session that matters now is %s.", several(b.days, "day"))
	}
	return f.told(days, false, "There was no session for %s; more than %g are a step back.", several(b.days, "day"), *rule.Threshold)
}
