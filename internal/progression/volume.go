package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// weeksAsked is the number of weeks of the stage after which a move can be decided; 0 in stage 3.
func (v Review) weeksAsked() int {
	switch v.Stage {
	case 1:
		rule := v.Policy.Rule(policy.Weeks)
		if v.Record.Client.Inactive() {
			return int(rule.More["inactive"])
		}
		return int(*rule.Threshold)
	case 2:
		return int(*v.Policy.Rule(policy.IntervalWeeks).Threshold)
	}
	return 0
}

// weeksAhead is the number of weeks of the stage after which a move can be decided if every week from now
// on is done as the plan has it: those that the policy needs, or more where the sessions that it needs
// take longer. It is 0 in stage 3.
func (v Review) weeksAhead() int {
	if v.weeksAsked() == 0 {
		return 0
	}
	over := v.days.weeks()
	if more := v.weeksOfTraining(over); more > 0 {
		return max(v.weeksAsked(), over+more)
	}
	return max(v.weeksAsked(), min(over, v.weeksOfTraining(0)))
}

// building says that the minimum weeks of the stage are not over.
func (v Review) building() bool { return v.days.weeks() < v.weeksAsked() }

// firstDecision is the day on which the weeks ahead are done, if no pause comes in between; not
// set in stage 3, while an open pause runs, and where the client has too little time for a move.
func (v Review) firstDecision() workout.Date {
	needed := 7 * v.weeksAhead()
	if needed == 0 || v.limited() != nil || v.Stage == 1 && (v.hasTooFew() || v.hasTooShort()) {
		return 0
	}
	if len(v.days) >= needed {
		return v.days[needed-1]
	}
	left := needed - len(v.days)
	for d := max(v.On+1, v.Since); d < max(v.On, v.Since)+3*366; d++ {
		if !v.Record.Paused(d) {
			if left--; left == 0 {
				return d
			}
		}
	}
	return 0
}

// weeks is the rule on the time in the stage.
func (v Review) weeks(id policy.ID) finding {
	_, f := v.begin(id)
	asked := float64(v.weeksAsked())
	f.Threshold = &asked
	done := v.days.weeks()
	args := record.Args{"weeks": done, "stage": v.Stage, "needed": asked, "because": v.weeksBecause()}
	switch {
	case float64(done) >= asked:
		return f.told(float64(done), true, WeeksDone, args)
	case v.before():
		return f.told(0, false, WeeksAhead, record.Args{"begins": record.Facts{v.begins()}, "needed": asked, "because": v.weeksBecause()})
	}
	args["first"] = v.firstDecision()
	return f.told(float64(done), false, WeeksSoFar, args)
}

// weeksBecause says why stage 1 needs as many weeks as it does.
func (v Review) weeksBecause() record.Facts {
	switch {
	case v.Stage != 1:
		return nil
	case !v.Record.Client.Inactive():
		return record.Facts{{Code: ActiveBefore}}
	case v.Record.Client.Screening.On != 0:
		return record.Facts{{Code: InactiveBefore}}
	}
	return record.Facts{{Code: ActivityUnknown}}
}

// before says that the stage has not begun by the day asked about.
func (v Review) before() bool { return v.Stage > 0 && v.Since > v.On }

// begins says when it does.
func (v Review) begins() record.Fact {
	return record.Fact{Code: StageBegins, Args: record.Args{"client": v.Record.Client.Name, "stage": v.Stage, "on": v.Since}}
}

// strength counts the strength sessions, which count for minutes and sessions.
func strength(sessions []record.Session) int {
	return len(record.Keep(sessions, func(s record.Session) bool { return s.Sport == workout.Strength }))
}

// walksIf says which walks do not count and what to do when they should; nil without any, or where it
// does not matter.
func (v Review) walksIf(matters bool) record.Facts {
	if len(v.walks) == 0 || !matters {
		return nil
	}
	modes := []string{"walk"}
	add := func(m workout.Mode) {
		if m != workout.OtherMode && !slices.Contains(modes, string(m)) {
			modes = append(modes, string(m))
		}
	}
	for _, m := range v.Record.Client.Modes {
		add(m)
	}
	for _, s := range v.stageIn {
		add(s.Mode)
	}
	return record.Facts{{Code: WalksDoNotCount, Args: record.Args{"walks": len(v.walks), "client": v.Record.Client.Name, "modes": modes}}}
}

func (v Review) letWalksCount() record.Fact {
	return record.Fact{Code: NeedWalks, Args: record.Args{"client": v.Record.Client.Name}}
}

// noSession is what to do where no session is known, and adds the walks that do not count.
func (v Review) noSession(f finding) finding {
	needed := need(NeedSessions)
	if len(v.walks) > 0 {
		needed = v.letWalksCount()
	}
	return f.open(needed, NoSession, record.Args{"walks": v.walksIf(true)})
}

// perWeek gives a value for each whole week of a rule's window, newest first.
func (v Review) perWeek(window int, value func([]record.Session) float64) []float64 {
	n := min(window/7, v.days.weeks())
	in := make([][]record.Session, n)
	for _, s := range v.stageIn {
		if w := v.days.weekOf(s.Date); w < n {
			in[w] = append(in[w], s)
		}
	}
	out := make([]float64, n)
	for i := range in {
		out[i] = value(in[i])
	}
	return out
}

// reached is the value that k of the weeks reach: the kth largest, or the smallest while there are
// fewer weeks.
func reached(weeks []float64, k int) float64 {
	sorted := slices.Clone(weeks)
	slices.Sort(sorted)
	slices.Reverse(sorted)
	return sorted[min(k, len(sorted))-1]
}

// bestMean is the mean of the k largest weeks, or of all while there are fewer.
func bestMean(weeks []float64, k int) float64 {
	sorted := slices.Clone(weeks)
	slices.Sort(sorted)
	return mean(sorted[max(0, len(sorted)-k):])
}

// sessionsAWeek is the rule on frequency.
func (v Review) sessionsAWeek() finding {
	rule, f := v.begin(policy.Sessions)
	return v.weekly(rule, f, v.perWeek(*rule.Window, count), nil, reached)
}

// minutesAWeek is the rule on time: the mean of the best weeks, so that a long week makes up for a
// short one. It looks at the weeks that have enough sessions; while they are too few, at all weeks.
func (v Review) minutesAWeek() finding {
	rule, f := v.begin(policy.Minutes)
	needed, has := v.minutesNeeded()
	rule.Threshold, f.Threshold = &needed, &needed
	minutes := v.perWeek(*rule.Window, func(in []record.Session) float64 {
		sum := 0.0
		for _, s := range in {
			sum += s.Minutes
		}
		return sum
	})
	var those []float64
	for i, n := range v.perWeek(*rule.Window, count) {
		if v.Policy.Rule(policy.Sessions).Keeps(n) {
			those = append(those, minutes[i])
		}
	}
	if len(those) < int(rule.More["weeks"]) {
		those = nil
	}
	f = v.weekly(rule, f, minutes, those, bestMean)
	switch {
	case v.hasTooFew():
		return f.stated(false, BaseTooSmall, record.Args{"has": has, "needed": min(rule.More["least"], needed)})
	case f.Says.Code == MinutesAWeek && has > 0 && needed < *v.Policy.Rule(policy.Minutes).Threshold:
		f.Says.Code, f.Says.Args["has"] = MinutesOfTime, has
	}
	return f
}

// minutesNeeded is what the rule on time needs: the minutes of the policy, or a share of those that the
// client has, where that is less, but never below the least that carries intervals. has is 0 where the
// client's days or minutes are not known.
func (v Review) minutesNeeded() (needed, has float64) {
	rule := v.Policy.Rule(policy.Minutes)
	has = float64(v.Record.Client.Days * v.Record.Client.Minutes)
	if has == 0 {
		return *rule.Threshold, 0
	}
	return min(*rule.Threshold, max(rule.More["least"], rule.More["share_of_time"]/100*has)), has
}

// hasTooFew says that the minutes a week that the client has are too small a base for intervals.
func (v Review) hasTooFew() bool {
	needed, has := v.minutesNeeded()
	return has > 0 && has < min(v.Policy.Rule(policy.Minutes).More["least"], needed)
}

// hasTooShort says that the minutes that the client has at a time are fewer than the longest session has to last.
func (v Review) hasTooShort() bool {
	minutes := float64(v.Record.Client.Minutes)
	return minutes > 0 && !v.Policy.Rule(policy.Longest).Keeps(minutes)
}

func count(in []record.Session) float64 { return float64(len(in)) }

// weekly judges a value that some of the last weeks, newest first, have to reach. those are the
// weeks that may count; nil for all.
func (v Review) weekly(rule policy.Rule, f finding, weeks, those []float64, of func(weeks []float64, k int) float64) finding {
	asked := int(rule.More["weeks"])
	switch {
	case v.before():
		return f.open(record.Fact{}, StageBegins, v.begins().Args)
	case len(v.stageIn) == 0:
		return v.noSession(f)
	case len(weeks) == 0:
		return f.open(record.Fact{}, FirstWeekRuns, nil)
	}
	for i := len(weeks) - 1; i >= 0; i-- {
		f.Points = append(f.Points, record.Point{Date: v.days.endOfWeek(i), Value: weeks[i]})
	}
	for _, s := range v.recent(*rule.Window) {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	if those == nil {
		those = weeks
	}
	got := of(those, asked)
	reach := len(record.Keep(weeks, rule.Keeps))
	enough := rule.Keeps(got)
	soFar := 0
	if len(weeks) < asked && enough {
		soFar = len(weeks)
	}
	oldestFirst := slices.Clone(weeks)
	slices.Reverse(oldestFirst)
	args := record.Args{"weeks": oldestFirst, "strength": strength(v.recent(*rule.Window)), "so_far": soFar, "best": got, "walks": v.walksIf(!enough)}
	code := SessionsAWeek
	if rule.ID == policy.Minutes {
		code = MinutesAWeek
		args["of"], args["needed"], args["goal"] = min(asked, len(those)), *rule.Threshold, rule.More["goal"]
	} else {
		args["reach"], args["least"], args["needed"], args["window"] = reach, *rule.Threshold, asked, *rule.Window/7
	}
	if soFar > 0 {
		f.Observed = &got
		return f.open(record.Fact{}, code, args)
	}
	return f.told(got, enough, code, args)
}

// endOfWeek is the last day of the ith week back.
func (p programme) endOfWeek(i int) workout.Date { return p[len(p)-1-7*i] }

// sessionsTotal is the rule on all sessions of the stage.
func (v Review) sessionsTotal() finding {
	rule, f := v.begin(policy.SessionsTotal)
	n := len(v.stageIn)
	switch {
	case v.before():
		return f.open(record.Fact{}, StageBegins, v.begins().Args)
	case n == 0:
		return v.noSession(f)
	}
	for _, s := range v.stageIn {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	met := rule.Keeps(float64(n))
	return f.told(float64(n), met, SessionsTotal,
		record.Args{"sessions": n, "strength": strength(v.stageIn), "since": v.Since, "needed": *rule.Threshold, "walks": v.walksIf(!met)})
}

// longest is the rule on duration. For a client who was inactive the sessions of a day add up.
func (v Review) longest() finding {
	rule, f := v.begin(policy.Longest)
	var best float64
	var which []record.Session
	byDay := map[workout.Date]float64{}
	of := map[workout.Date][]record.Session{}
	for _, s := range v.recent(*rule.Window) {
		f.Points = append(f.Points, record.Point{Date: s.Date, Value: s.Minutes})
		minutes, those := s.Minutes, []record.Session{s}
		if v.Record.Client.Inactive() {
			byDay[s.Date] += s.Minutes
			of[s.Date] = append(of[s.Date], s)
			minutes, those = byDay[s.Date], of[s.Date]
		}
		if minutes > best {
			best, which = minutes, those
		}
	}
	switch {
	case v.before():
		return f.open(record.Fact{}, StageBegins, v.begins().Args)
	case which == nil:
		return f.open(need(NeedSessions), NoSessionLately, nil)
	}
	for _, s := range which {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	if !rule.Keeps(best) && v.hasTooShort() {
		args := record.Args{"has": v.Record.Client.Minutes, "needed": *rule.Threshold, "a_day": 1}
		if v.Record.Client.Inactive() {
			args["a_day"] = 2 // sessions that add up
		}
		return f.told(best, false, TimeTooShort, args)
	}
	return f.told(best, rule.Keeps(best), LongestSession,
		record.Args{"minutes": best, "on": which[0].Date, "needed": *rule.Threshold, "goal": rule.More["goal"]})
}
