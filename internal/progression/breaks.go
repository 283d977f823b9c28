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
	After workout.Date // day of the last session before it, or the day before the client began
	Ended workout.Date // day of the first session after it; 0 while it runs
}

// trained lists the days on which the client trained, oldest first.
func (v Review) trained() []workout.Date {
	out := record.Map(append(slices.Clone(v.Sessions), v.toCome...), func(s record.Session) workout.Date { return s.Date })
	slices.Sort(out)
	return slices.Compact(out)
}

// Gap finds the break that still matters: the one that runs, or the last one that ended, whatever was decided
// meanwhile: a move into another stage ends no break. Days before the client began do not count, since the first
// stage was set knowing of them. ok is false without any session: where nothing was recorded there is no break.
// Sessions long before the client began count as none.
func (v Review) Gap() (b pauseInTraining, ok bool) { return v.gap(policy.Break) }

// gap is Gap for the break that a rule does not keep: a short one after a long one hides nothing.
func (v Review) gap(id policy.ID) (b pauseInTraining, ok bool) {
	rule := v.Policy.Rule(id)
	days, began := v.trained(), v.Record.Client.Since
	if len(days) == 0 {
		return b, false
	}
	last := days[len(days)-1]
	if last < began-outOfBreak {
		return b, false
	}
	b.After = max(last, began-1)
	b.Days = int(v.On - b.After)
	if !rule.Keeps(float64(b.Days)) {
		return b, true
	}
	for i := len(days) - 1; i > 0; i-- {
		at := days[i]
		if v.On-at >= outOfBreak {
			break
		}
		if days[i-1] < began-outOfBreak {
			break // the client's first session: nothing is known of the days before it
		}
		from := max(days[i-1], began-1)
		if off := int(at - from - 1); off > 0 && !rule.Keeps(float64(off)) {
			return pauseInTraining{off, from, at}, true
		}
	}
	return b, true
}

// inStage is how many days of a break fall into the stage: a step back has answered those before it.
func (v Review) inStage(b pauseInTraining) int {
	return max(0, b.Days-max(0, int(v.Since-1-b.After)))
}

// longestGapSince is the longest time without a session, in days, after a day; 0 for a client of whom no session is
// known.
func (v Review) longestGapSince(day workout.Date) int {
	longest, trained := 0, v.trained()
	for i, d := range trained {
		next := v.On + 1
		if i+1 < len(trained) {
			next = trained[i+1]
		}
		longest = max(longest, int(next-max(d, day)-1))
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
	case v.ReturnLasts(b, v.On+1): // what is decided today holds from tomorrow
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
	b, ok := v.gap(policy.LongBreak)
	days := float64(b.Days)
	if !ok || v.before() {
		return f.stated(true, NoBreak, nil)
	}
	f.From = b.After
	args := record.Args{"days": b.Days}
	switch {
	case rule.Keeps(days) || b.Ended != 0 && v.On-b.Ended >= outOfBreak:
		return f.told(days, true, GapShort, args)
	case rule.Keeps(float64(v.inStage(b))):
		return f.stated(true, GapAnswered, args)
	}
	args["limit"] = *rule.Threshold
	return f.told(days, false, GapLong, args)
}
