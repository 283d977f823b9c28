package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	// easyWeek is the number of days of the return after a break of one to two weeks.
	EasyWeek = 7
	// easyWeeks is the number of days of the return after a longer break.
	easyWeeks = 14
	// outOfBreak is the number of days within which a longer break still leads one stage down.
	outOfBreak = 28
)

// pauseInTraining is a time without a session.
type pauseInTraining struct {
	Days  int          // without a session
	After workout.Date // day of the last session before it, or the day before the stage began
	Ended workout.Date // day of the first session after it; 0 while it runs
}

// trained lists the days on which the client trained, oldest first.
func (v Review) trained() []workout.Date {
	out := record.Map(append(slices.Clone(v.Sessions), v.awaited()...), func(s record.Session) workout.Date { return s.Date })
	slices.Sort(out)
	return slices.Compact(out)
}

// Gap finds the break that still matters: the one that runs, or the last one that ended, within the
// stage. Days before the stage do not count, since the stage was set knowing of them. ok is false
// without any session: where nothing was recorded there is no break. Sessions long before the stage
// count as none.
func (v Review) Gap() (b pauseInTraining, ok bool) {
	days := v.trained()
	if len(days) == 0 {
		return b, false
	}
	last := days[len(days)-1]
	if last < v.Since-outOfBreak {
		return b, false
	}
	b.After = max(last, v.Since-1)
	b.Days = int(v.On - b.After)
	if !v.Policy.Rule(policy.Break).Keeps(float64(b.Days)) {
		return b, true
	}
	for i := len(days) - 1; i > 0; i-- {
		at := days[i]
		if v.On-at >= outOfBreak {
			break
		}
		if days[i-1] < v.Since-outOfBreak {
			break // the first session of the stage: nothing is known of the days before it
		}
		from := max(days[i-1], v.Since-1)
		if off := int(at - from - 1); off > 0 && !v.Policy.Rule(policy.Break).Keeps(float64(off)) {
			return pauseInTraining{off, from, at}, true
		}
	}
	return b, true
}

// longestGapSince is the longest time without a session, in days, that began after the last session
// on or after a day.
func (v Review) longestGapSince(day workout.Date) int {
	longest, trained := 0, v.trained()
	for i, d := range trained {
		next := v.On + 1
		if i+1 < len(trained) {
			next = trained[i+1]
		}
		if d >= day {
			longest = max(longest, int(next-d-1))
		}
	}
	return longest
}

// returning is the rule on breaks of 8 to 28 days, and in stage 1 on longer ones too: a return week
// at 75 %, or from 15 days on one or two stage 1 weeks that end with a check session.
func (v Review) returning() finding {
	rule, f := v.begin(policy.Break)
	b, ok := v.Gap()
	days := float64(b.Days)
	switch {
	case v.before():
		return f.stated(true, StageBegins, v.begins().Args)
	case !ok:
		return f.stated(true, NoBreak, nil)
	}
	f.From = b.After
	switch {
	case rule.Keeps(days):
		return f.told(days, true, LastSession, record.Args{"days": b.Days})
	case b.Ended == 0:
		n := len(v.walks)
		return f.told(days, false, BreakRuns, record.Args{"days": b.Days, "walks": v.walksIf(n > 0 && v.walks[n-1].Date > b.After)})
	case v.ReturnLasts(b, v.On):
		return f.told(days, false, ReturnRuns, record.Args{"days": b.Days, "on": b.Ended})
	}
	return f.told(days, true, ReturnDone, record.Args{"days": b.Days})
}

// ReturnLasts says that on a day the return after a break that ended is not over yet.
func (v Review) ReturnLasts(b pauseInTraining, on workout.Date) bool {
	if v.LongEnough(b) {
		return on-b.Ended < easyWeeks && !v.steadySince(b.Ended)
	}
	return on-b.Ended < EasyWeek
}

// LongEnough says that a break needs stage 1 weeks.
func (v Review) LongEnough(b pauseInTraining) bool {
	return float64(b.Days) >= v.Policy.Rule(policy.Break).More["stage_1_from_days"]
}

// steadySince says that a check session after a break was passed, at least a week into the return.
func (v Review) steadySince(ended workout.Date) bool {
	c := v.checkSession()
	return c.IsMet() && len(c.Points) > 0 && c.Points[0].Date >= ended+EasyWeek
}

// longBreak is the rule on breaks after which one stage down is the place to start again.
func (v Review) longBreak() finding {
	rule, f := v.begin(policy.LongBreak)
	b, ok := v.Gap()
	days := float64(b.Days)
	if !ok || v.before() {
		return f.stated(true, NoBreak, nil)
	}
	f.From = b.After
	if rule.Keeps(days) || b.Ended != 0 && v.On-b.Ended >= outOfBreak {
		return f.told(days, true, GapShort, record.Args{"days": b.Days})
	}
	return f.told(days, false, GapLong, record.Args{"days": b.Days, "limit": *rule.Threshold})
}
