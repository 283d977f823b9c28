package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// weeksAsked is the number of weeks of the stage after which a move can be decided; 0 in stage 3.
func (v review) weeksAsked() int {
	switch v.stage {
	case 1:
		rule := v.p.Rule("weeks")
		if v.r.Client.inactive() {
			return int(rule.More["inactive"])
		}
		return int(*rule.Threshold)
	case 2:
		return int(*v.p.Rule("interval-weeks").Threshold)
	}
	return 0
}

// firstDecision is the day on which the weeks asked for are done, if no pause comes in between; not
// set in stage 3 and while an open pause runs.
func (v review) firstDecision() workout.Date {
	asked := 7 * v.weeksAsked()
	if asked == 0 {
		return 0
	}
	if len(v.days) >= asked {
		return v.days[asked-1]
	}
	left := asked - len(v.days)
	for d := max(v.on+1, v.since); d < max(v.on, v.since)+3*366; d++ {
		if !v.r.Paused(d) {
			if left--; left == 0 {
				return d
			}
		}
	}
	return 0
}

// weeks is the rule on the time in the stage.
func (v review) weeks(id string) finding {
	_, f := v.begin(id)
	asked := float64(v.weeksAsked())
	f.Threshold = &asked
	done := v.days.weeks()
	switch {
	case float64(done) >= asked:
		return f.told(float64(done), true, "%s of stage %d done; at least %g are asked for%s.", several(done, "week"), v.stage, asked, v.weeksBecause())
	case v.before():
		return f.told(0, false, "%s At least %g weeks are asked for%s.", v.begins(), asked, v.weeksBecause())
	}
	text := fmt.Sprintf("%s of stage %d done so far; at least %g are asked for%s", several(done, "week"), v.stage, asked, v.weeksBecause())
	if d := v.firstDecision(); d != 0 {
		text += ", so the first decision can come on " + d.Long()
	}
	return f.told(float64(done), false, "%s.", text)
}

// weeksBecause says why stage 1 asks for as many weeks as it does.
func (v review) weeksBecause() string {
	switch {
	case v.stage != 1:
		return ""
	case !v.r.Client.inactive():
		return ", because the screening says active before"
	case v.r.Client.Screening.On != 0:
		return ", because the screening says inactive before"
	}
	return ", because no screening says active before"
}

// before says that the stage has not begun by the day asked about.
func (v review) before() bool { return v.stage > 0 && v.since > v.on }

// begins says when it does.
func (v review) begins() string {
	return fmt.Sprintf("%s's stage %d begins on %s.", v.r.Client.Name, v.stage, v.since.Long())
}

// among says which of the sessions were strength sessions, which count for minutes and sessions.
func among(sessions []Session) string {
	n := 0
	for _, s := range sessions {
		if s.Sport == workout.Strength {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return ", of them " + several(n, "strength session")
}

// walksHint says which walks do not count and what to do when they should; "" without any.
func (v review) walksHint() string {
	if len(v.walks) == 0 {
		return ""
	}
	modes := []string{"walk"}
	add := func(m workout.Mode) {
		if m != workout.OtherMode && !slices.Contains(modes, string(m)) {
			modes = append(modes, string(m))
		}
	}
	for _, m := range v.r.Client.Modes {
		add(m)
	}
	for _, s := range v.stageIn {
		add(s.Mode)
	}
	do := "do"
	if len(v.walks) == 1 {
		do = "does"
	}
	return fmt.Sprintf("%s %s not count, since walking is not among %s's modes: `nextrung client set %s --modes %s`.",
		several(len(v.walks), "walk"), do, v.r.Client.Name, quoted(v.r.Client.Name), strings.Join(modes, ","))
}

func (v review) letWalksCount() string {
	return "Let walks count if they are " + v.r.Client.Name + "'s training; else record every session, or report it."
}

// quoted is a name as a shell takes it.
func quoted(name string) string {
	if strings.ContainsAny(name, " '\"") {
		return fmt.Sprintf("%q", name)
	}
	return name
}

// noSession is what to do where no session is known, and adds the walks that do not count.
func (v review) noSession(f finding, text string) finding {
	needed := "Record every session, or report it."
	if hint := v.walksHint(); hint != "" {
		text, needed = text+" "+hint, v.letWalksCount()
	}
	return f.untold(needed, "%s", text)
}

// withWalks adds the walks that do not count to what is told of a rule that is not met.
func (v review) withWalks(f finding) finding {
	if hint := v.walksHint(); hint != "" && f.isUnmet() {
		f.Text += " " + hint
	}
	return f
}

// perWeek gives a value for each whole week of a rule's window, newest first.
func (v review) perWeek(window int, value func([]Session) float64) []float64 {
	n := min(window/7, v.days.weeks())
	in := make([][]Session, n)
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
func (v review) sessionsAWeek() finding {
	rule, f := v.begin("sessions")
	return v.weekly(rule, f, "sessions", v.perWeek(*rule.Window, count), nil, reached)
}

// minutesAWeek is the rule on time: the mean of the best weeks, so that a long week makes up for a
// short one. It looks at the weeks that have enough sessions; while they are too few, at all weeks.
func (v review) minutesAWeek() finding {
	rule, f := v.begin("minutes")
	minutes := v.perWeek(*rule.Window, func(in []Session) float64 {
		sum := 0.0
		for _, s := range in {
			sum += s.Minutes
		}
		return sum
	})
	var those []float64
	for i, n := range v.perWeek(*rule.Window, count) {
		if v.p.Rule("sessions").keeps(n) {
			those = append(those, minutes[i])
		}
	}
	if len(those) < int(rule.More["weeks"]) {
		those = nil
	}
	return v.weekly(rule, f, "minutes", minutes, those, bestMean)
}

func count(in []Session) float64 { return float64(len(in)) }

// weekly judges a value that some of the last weeks, newest first, have to reach. those are the
// weeks that may count; nil for all.
func (v review) weekly(rule Rule, f finding, noun string, weeks, those []float64, of func(weeks []float64, k int) float64) finding {
	asked := int(rule.More["weeks"])
	switch {
	case v.before():
		return f.untold("", "%s", v.begins())
	case len(v.stageIn) == 0:
		return v.noSession(f, "No session of this stage is known yet.")
	case len(weeks) == 0:
		return f.untold("", "The first week of the stage is not over yet.")
	}
	var list []string
	for i := len(weeks) - 1; i >= 0; i-- {
		f.Points = append(f.Points, Point{v.days.endOfWeek(i), weeks[i]})
		list = append(list, number(weeks[i]))
	}
	for _, s := range v.recent(*rule.Window) {
		f.Workouts = append(f.Workouts, s.ids()...)
	}
	if those == nil {
		those = weeks
	}
	got := of(those, asked)
	reach := 0
	for _, w := range weeks {
		if rule.keeps(w) {
			reach++
		}
	}
	text := fmt.Sprintf("%s a week, oldest first: %s%s. %d of %s had at least %g %s; %d of the last %d are asked for",
		strings.ToUpper(noun[:1])+noun[1:], strings.Join(list, ", "), among(v.recent(*rule.Window)), reach, several(len(weeks), "week"), *rule.Threshold, noun, asked, *rule.Window/7)
	switch {
	case rule.ID == "minutes":
		text = fmt.Sprintf("Minutes a week, oldest first: %s%s. The best %s had %s min on average; at least %g are asked for, %g is the goal",
			strings.Join(list, ", "), among(v.recent(*rule.Window)), several(min(asked, len(those)), "week"), number(got), *rule.Threshold, rule.More["goal"])
	case len(those) > asked:
		text += fmt.Sprintf(". The %s best week counts: %s", ordinal(asked), number(got))
	}
	if len(weeks) < asked && rule.keeps(got) {
		f.Observed = &got
		return f.untold("", "%s. So far %s done.", text, areDone(len(weeks)))
	}
	return v.withWalks(f.told(got, rule.keeps(got), "%s.", text))
}

// ordinal writes a place in an order.
func ordinal(n int) string {
	if ending, ok := map[int]string{1: "st", 2: "nd", 3: "rd"}[n]; ok {
		return number(float64(n)) + ending
	}
	return number(float64(n)) + "th"
}

func areDone(weeks int) string {
	if weeks == 1 {
		return "1 week is"
	}
	return fmt.Sprintf("%d weeks are", weeks)
}

// endOfWeek is the last day of the ith week back.
func (p programme) endOfWeek(i int) workout.Date { return p[len(p)-1-7*i] }

// sessionsTotal is the rule on all sessions of the stage.
func (v review) sessionsTotal() finding {
	rule, f := v.begin("sessions-total")
	n := len(v.stageIn)
	switch {
	case v.before():
		return f.untold("", "%s", v.begins())
	case n == 0:
		return v.noSession(f, "No session of this stage is known yet.")
	}
	for _, s := range v.stageIn {
		f.Workouts = append(f.Workouts, s.ids()...)
	}
	return v.withWalks(f.told(float64(n), rule.keeps(float64(n)), "%s%s since the stage began on %s; at least %g are asked for.",
		several(n, "session"), among(v.stageIn), v.since.Long(), *rule.Threshold))
}

// longest is the rule on duration. For a client who was inactive the sessions of a day add up.
func (v review) longest() finding {
	rule, f := v.begin("longest")
	var best float64
	var which []Session
	byDay := map[workout.Date]float64{}
	of := map[workout.Date][]Session{}
	for _, s := range v.recent(*rule.Window) {
		f.Points = append(f.Points, Point{s.Date, s.Minutes})
		minutes, those := s.Minutes, []Session{s}
		if v.r.Client.inactive() {
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
		return f.untold("", "%s", v.begins())
	case which == nil:
		return f.untold("Record every session, or report it.", "No session is known from these days.")
	}
	for _, s := range which {
		f.Workouts = append(f.Workouts, s.ids()...)
	}
	return f.told(best, rule.keeps(best), "The longest session lasted %s min, on %s; at least %g min are asked for, %g is the goal.",
		number(best), which[0].Date.Long(), *rule.Threshold, rule.More["goal"])
}
