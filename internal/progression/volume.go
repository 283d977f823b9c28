package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// weeksAsked is the number of weeks of the stage after which a move can be decided; 0 in stage 3.
func (v Review) weeksAsked() int {
	switch v.Stage {
	case 1:
		rule := v.Policy.Rule("weeks")
		if v.Record.Client.Inactive() {
			return int(rule.More["inactive"])
		}
		return int(*rule.Threshold)
	case 2:
		return int(*v.Policy.Rule("interval-weeks").Threshold)
	}
	return 0
}

// firstDecision is the day on which the weeks asked for are done, if no pause comes in between; not
// set in stage 3 and while an open pause runs.
func (v Review) firstDecision() workout.Date {
	asked := 7 * v.weeksAsked()
	if asked == 0 {
		return 0
	}
	if len(v.days) >= asked {
		return v.days[asked-1]
	}
	left := asked - len(v.days)
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
func (v Review) weeks(id string) finding {
	_, f := v.begin(id)
	asked := float64(v.weeksAsked())
	f.Threshold = &asked
	done := v.days.weeks()
	switch {
	case float64(done) >= asked:
		return f.told(float64(done), true, "%s of stage %d done; at least %g are asked for%s.", wording.Several(done, "week"), v.Stage, asked, v.weeksBecause())
	case v.before():
		return f.told(0, false, "%s At least %g weeks are asked for%s.", v.begins(), asked, v.weeksBecause())
	}
	text := fmt.Sprintf("%s of stage %d done so far; at least %g are asked for%s", wording.Several(done, "week"), v.Stage, asked, v.weeksBecause())
	if d := v.firstDecision(); d != 0 {
		text += ", so the first decision can come on " + d.Long()
	}
	return f.told(float64(done), false, "%s.", text)
}

// weeksBecause says why stage 1 asks for as many weeks as it does.
func (v Review) weeksBecause() string {
	switch {
	case v.Stage != 1:
		return ""
	case !v.Record.Client.Inactive():
		return ", because the screening says active before"
	case v.Record.Client.Screening.On != 0:
		return ", because the screening says inactive before"
	}
	return ", because no screening says active before"
}

// before says that the stage has not begun by the day asked about.
func (v Review) before() bool { return v.Stage > 0 && v.Since > v.On }

// begins says when it does.
func (v Review) begins() string {
	return fmt.Sprintf("%s's stage %d begins on %s.", v.Record.Client.Name, v.Stage, v.Since.Long())
}

// among says which of the sessions were strength sessions, which count for minutes and sessions.
func among(sessions []record.Session) string {
	n := 0
	for _, s := range sessions {
		if s.Sport == workout.Strength {
			n++
		}
	}
	if n == 0 {
		return ""
	}
	return ", of them " + wording.Several(n, "strength session")
}

// walksHint says which walks do not count and what to do when they should; "" without any.
func (v Review) walksHint() string {
	if len(v.walks) == 0 {
		return ""
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
	do := "do"
	if len(v.walks) == 1 {
		do = "does"
	}
	return fmt.Sprintf("%s %s not count, since walking is not among %s's modes: `nextrung client set %s --modes %s`.",
		wording.Several(len(v.walks), "walk"), do, v.Record.Client.Name, wording.Quoted(v.Record.Client.Name), strings.Join(modes, ","))
}

func (v Review) letWalksCount() string {
	return "Let walks count if they are " + v.Record.Client.Name + "'s training; else record every session, or report it."
}

// noSession is what to do where no session is known, and adds the walks that do not count.
func (v Review) noSession(f finding, text string) finding {
	needed := "Record every session, or report it."
	if hint := v.walksHint(); hint != "" {
		text, needed = text+" "+hint, v.letWalksCount()
	}
	return f.untold(needed, "%s", text)
}

// withWalks adds the walks that do not count to what is told of a rule that is not met.
func (v Review) withWalks(f finding) finding {
	if hint := v.walksHint(); hint != "" && f.isUnmet() {
		f.Text += " " + hint
	}
	return f
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
	rule, f := v.begin("sessions")
	return v.weekly(rule, f, "sessions", v.perWeek(*rule.Window, count), nil, reached)
}

// minutesAWeek is the rule on time: the mean of the best weeks, so that a long week makes up for a
// short one. It looks at the weeks that have enough sessions; while they are too few, at all weeks.
func (v Review) minutesAWeek() finding {
	rule, f := v.begin("minutes")
	minutes := v.perWeek(*rule.Window, func(in []record.Session) float64 {
		sum := 0.0
		for _, s := range in {
			sum += s.Minutes
		}
		return sum
	})
	var those []float64
	for i, n := range v.perWeek(*rule.Window, count) {
		if v.Policy.Rule("sessions").Keeps(n) {
			those = append(those, minutes[i])
		}
	}
	if len(those) < int(rule.More["weeks"]) {
		those = nil
	}
	return v.weekly(rule, f, "minutes", minutes, those, bestMean)
}

func count(in []record.Session) float64 { return float64(len(in)) }

// weekly judges a value that some of the last weeks, newest first, have to reach. those are the
// weeks that may count; nil for all.
func (v Review) weekly(rule policy.Rule, f finding, noun string, weeks, those []float64, of func(weeks []float64, k int) float64) finding {
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
		f.Points = append(f.Points, record.Point{Date: v.days.endOfWeek(i), Value: weeks[i]})
		list = append(list, wording.Number(weeks[i]))
	}
	for _, s := range v.recent(*rule.Window) {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	if those == nil {
		those = weeks
	}
	got := of(those, asked)
	reach := 0
	for _, w := range weeks {
		if rule.Keeps(w) {
			reach++
		}
	}
	text := fmt.Sprintf("%s a week, oldest first: %s%s. %d of %s had at least %g %s; %d of the last %d are asked for",
		strings.ToUpper(noun[:1])+noun[1:], strings.Join(list, ", "), among(v.recent(*rule.Window)), reach, wording.Several(len(weeks), "week"), *rule.Threshold, noun, asked, *rule.Window/7)
	switch {
	case rule.ID == "minutes":
		text = fmt.Sprintf("Minutes a week, oldest first: %s%s. The best %s had %s min on average; at least %g are asked for, %g is the goal",
			strings.Join(list, ", "), among(v.recent(*rule.Window)), wording.Several(min(asked, len(those)), "week"), wording.Number(got), *rule.Threshold, rule.More["goal"])
	case len(those) > asked:
		text += fmt.Sprintf(". The %s best week counts: %s", wording.Ordinal(asked), wording.Number(got))
	}
	if len(weeks) < asked && rule.Keeps(got) {
		f.Observed = &got
		return f.untold("", "%s. So far %s done.", text, areDone(len(weeks)))
	}
	return v.withWalks(f.told(got, rule.Keeps(got), "%s.", text))
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
func (v Review) sessionsTotal() finding {
	rule, f := v.begin("sessions-total")
	n := len(v.stageIn)
	switch {
	case v.before():
		return f.untold("", "%s", v.begins())
	case n == 0:
		return v.noSession(f, "No session of this stage is known yet.")
	}
	for _, s := range v.stageIn {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	return v.withWalks(f.told(float64(n), rule.Keeps(float64(n)), "%s%s since the stage began on %s; at least %g are asked for.",
		wording.Several(n, "session"), among(v.stageIn), v.Since.Long(), *rule.Threshold))
}

// longest is the rule on duration. For a client who was inactive the sessions of a day add up.
func (v Review) longest() finding {
	rule, f := v.begin("longest")
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
		return f.untold("", "%s", v.begins())
	case which == nil:
		return f.untold("Record every session, or report it.", "No session is known from these days.")
	}
	for _, s := range which {
		f.Workouts = append(f.Workouts, s.IDs()...)
	}
	return f.told(best, rule.Keeps(best), "The longest session lasted %s min, on %s; at least %g min are asked for, %g is the goal.",
		wording.Number(best), which[0].Date.Long(), *rule.Threshold, rule.More["goal"])
}
