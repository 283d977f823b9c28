package policy

import (
	"fmt"
	"math"
	"slices"
)

// Doubt is a number that is valid in a policy but makes a rule meaningless or contradicts another.
type Doubt struct {
	Position
	Rule ID     `json:"rule"`
	Key  string `json:"key"`
	Text string `json:"text"`
}

const (
	// scalesApart is the difference between efforts that correspond on the 6-20 and the 0-10 scale: 13 and 4,
	// 14 and 5, 16 and 7, 18 and 9 (common practice, no source).
	scalesApart = 9
	// vigorous is where moderate effort ends (Garber 2011: moderate is 12-13).
	vigorous = 14
	// boutsAWeek is the most interval sessions that are prescribed for a week.
	boutsAWeek = 2
)

// Doubts looks for numbers that are probably mistakes. The policy is valid all the same.
func (p Policy) Doubts() []Doubt {
	where, _ := places([]byte(p.text)) // the text was read before
	out := []Doubt{}
	say := func(bad bool, rule ID, key, format string, args ...any) {
		if !bad {
			return
		}
		i := slices.IndexFunc(p.Rules, func(r Rule) bool { return r.ID == rule })
		out = append(out, Doubt{where.of(i, key), rule, key, fmt.Sprintf(format, args...)})
	}
	at := func(rule ID) float64 { return *p.Rule(rule).Threshold }
	more := func(rule ID, key string) float64 { return p.Rule(rule).More[key] }
	weeks := func(rule ID) float64 { return math.Ceil(float64(*p.Rule(rule).Window) / 7) }

	p.doubtEfforts(say)
	p.doubtMeaning(say)

	say(more(Weeks, "inactive") < at(Weeks), Weeks, "more.inactive", "a client who was inactive before needs fewer weeks (%g) than one who was active (%g)", more(Weeks, "inactive"), at(Weeks))
	say(at(Sessions) > 7, Sessions, "threshold", "%g sessions a week are more than one a day", at(Sessions))
	asked := at(Sessions) * more(Sessions, "weeks")
	say(at(SessionsTotal) <= asked, SessionsTotal, "threshold", "this never decides anything: the rule \"sessions\" already needs %g sessions", asked)
	say(more(Minutes, "goal") < at(Minutes), Minutes, "more.goal", "the goal of %g min is below the %g min needed", more(Minutes, "goal"), at(Minutes))
	say(more(Longest, "goal") < at(Longest), Longest, "more.goal", "the goal of %g min is below the %g min needed", more(Longest, "goal"), at(Longest))
	say(at(Longest) > at(Minutes), Longest, "threshold", "one session of %g min is longer than the %g min needed in a whole week", at(Longest), at(Minutes))
	say(at(Minutes) <= at(Sessions)*Shortest, Minutes, "threshold", "this never decides anything: %g sessions of %d min, the shortest that count, are already enough", at(Sessions), Shortest)
	for rule, key := range map[ID]string{Effort: "answers", Zone: "sessions"} {
		most := at(Sessions) * weeks(rule)
		say(more(rule, key) > most, rule, "more."+key, "%g are needed in %d days, but a client who just meets the rule \"sessions\" has only %g sessions in that time", more(rule, key), *p.Rule(rule).Window, most)
	}
	most := boutsAWeek * weeks(IntervalSessions)
	say(at(IntervalSessions) > most, IntervalSessions, "threshold", "this can never be met: at most %d interval sessions a week are prescribed, which makes %g in the %d days of the window", boutsAWeek, most, *p.Rule(IntervalSessions).Window)
	most = boutsAWeek * weeks(BoutEffort)
	say(more(BoutEffort, "answers") > most, BoutEffort, "more.answers", "this can never be met: at most %d interval sessions a week are prescribed, which makes %g in the %d days of the window", boutsAWeek, most, *p.Rule(BoutEffort).Window)
	for _, stage := range []int{1, 2} {
		n := evidenceIn(stage)
		say(at(EnoughEvidence) > float64(n), EnoughEvidence, "threshold", "nobody can leave stage %d: it has only %d heart-rate rules", stage, n)
	}
	say(more(Break, "stage_1_from_days") <= at(Break), Break, "more.stage_1_from_days", "a break of %g days needs no return, yet one of %g days already leads to weeks of stage 1", at(Break), more(Break, "stage_1_from_days"))
	say(at(LongBreak) < more(Break, "stage_1_from_days"), LongBreak, "threshold", "a break of more than %g days leads to one stage down before the weeks of stage 1 in the rule \"break\" apply (from %g days)", at(LongBreak), more(Break, "stage_1_from_days"))
	say(more(Screening, "again_after_break_days") <= at(Break), Screening, "more.again_after_break_days", "the questions are asked again after a break of %g days, yet gaps of up to %g days do not count as breaks", more(Screening, "again_after_break_days"), at(Break))
	for _, rule := range []ID{Fall, SameEffort} {
		say(more(rule, "stable") > more(rule, "baseline_most"), rule, "more.stable", "the client's own typical error is never used: a baseline has at most %g measurements", more(rule, "baseline_most"))
	}
	slices.SortStableFunc(out, func(a, b Doubt) int { return a.Line - b.Line })
	return out
}

// doubtEfforts compares limits of effort with the other scale and with each other.
func (p Policy) doubtEfforts(say func(bad bool, rule ID, key, format string, args ...any)) {
	pair := func(id ID, key string, on20, on10 float64) {
		say(on20-scalesApart != on10, id, key, "%g on the 6-20 scale corresponds to %g on the 0-10 scale, not to %g: the verdict would depend on which scale the client uses", on20, on20-scalesApart, on10)
	}
	for _, id := range []ID{Effort, BoutEffort, UsualEffort, Forecast, CheckSession, FailedSessions} {
		r := p.Rule(id)
		if r.Threshold10 != nil {
			pair(id, "threshold_10", *r.Threshold, *r.Threshold10)
			say(*r.Threshold >= 20 || *r.Threshold10 >= 10, id, "threshold", "on one of the scales no effort can be above this, so the rule can never be against a move")
		}
		for _, key := range []string{"effort", "hardest", "bouts"} {
			if on20, ok := r.More[key]; ok {
				pair(id, "more."+key+"_10", on20, r.More[key+"_10"])
			}
		}
	}
	easy, bouts := *p.Rule(Effort).Threshold, *p.Rule(BoutEffort).Threshold
	say(easy >= vigorous, Effort, "threshold", "an effort of %d or more is vigorous (Garber 2011), which is too hard for zone 1; two such answers in zone 1 lead to a suggestion to lower its top", vigorous)
	say(easy > bouts, BoutEffort, "threshold", "steady sessions of stage 1 may be harder (%g) than interval sessions (%g)", easy, bouts)
	say(p.Rule(CheckSession).More["effort"] > easy, CheckSession, "more.effort", "a check session may be harder (%g) than the zone 1 sessions it checks (%g)", p.Rule(CheckSession).More["effort"], easy)
	failed := p.Rule(FailedSessions).More["effort"]
	say(failed <= bouts, FailedSessions, "more.effort", "an interval session with an effort of %g meets the rule \"bout-effort\" (at most %g) yet counts as failed", failed, bouts)
}

// doubtMeaning looks for thresholds at the end of the possible range, which make a rule meaningless.
func (p Policy) doubtMeaning(say func(bad bool, rule ID, key, format string, args ...any)) {
	for _, s := range specs() {
		r := p.Rule(s.id)
		end := s.threshold.low
		if s.is == AtMost {
			end = s.threshold.high
		}
		say(s.kind == Evidence && *r.Threshold == end, s.id, "threshold", "a threshold of %g %s lets nearly everything pass", *r.Threshold, s.unit)
	}
	e := p.Rule(Enjoyment)
	say(*e.Threshold >= e.More["of"], Enjoyment, "threshold", "this is always met: of %g answers no more than %g can be low", e.More["of"], e.More["of"])
	say(e.More["low"] >= 5, Enjoyment, "more.low", "every answer from 1 to 5 counts as low")
	m := p.Rule(Resting)
	say(m.More["mornings"] > float64(*m.Window), Resting, "more.mornings", "%g mornings do not fit into %d days", m.More["mornings"], *m.Window)
}

// evidenceIn is how many heart-rate rules a stage has; steady and check-session are one.
func evidenceIn(stage int) int {
	n := 0
	for _, s := range specs() {
		if s.kind == Evidence && s.id != CheckSession && slices.Contains(s.stages, stage) {
			n++
		}
	}
	return n
}
