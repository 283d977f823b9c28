package policy

import (
	"fmt"
	"math"
	"slices"
)

// Doubt is a number that can stand in a policy but makes a rule meaningless or contradicts another.
type Doubt struct {
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Rule   string `json:"rule"`
	Key    string `json:"key"`
	Text   string `json:"text"`
}

const (
	// scalesApart lies between two efforts that stand side by side on the 6-20 and the 0-10 scale: 13 and 4,
	// 14 and 5, 16 and 7, 18 and 9 (common practice, no source).
	scalesApart = 9
	// vigorous is where moderate effort ends (Garber 2011: moderate is 12-13).
	vigorous = 14
	// boutsAWeek is the most interval sessions that are prescribed for a week.
	boutsAWeek = 2
)

// Doubts looks for numbers that no trainer will have meant. The policy is valid all the same.
func (p Policy) Doubts() []Doubt {
	where, _ := places([]byte(p.text)) // the text was read before
	out := []Doubt{}
	say := func(bad bool, rule, key, format string, args ...any) {
		if !bad {
			return
		}
		i := slices.IndexFunc(p.Rules, func(r Rule) bool { return r.ID == rule })
		d := Doubt{Rule: rule, Key: key, Text: fmt.Sprintf(format, args...)}
		d.Line, d.Column = lineAndColumn(where.of(i, key))
		out = append(out, d)
	}
	at := func(rule string) float64 { return *p.Rule(rule).Threshold }
	more := func(rule, key string) float64 { return p.Rule(rule).More[key] }
	weeks := func(rule string) float64 { return math.Ceil(float64(*p.Rule(rule).Window) / 7) }

	p.doubtEfforts(say)
	p.doubtMeaning(say)

	say(more("weeks", "inactive") < at("weeks"), "weeks", "more.inactive", "a client who was inactive before is asked for fewer weeks (%g) than one who was active (%g)", more("weeks", "inactive"), at("weeks"))
	say(at("sessions") > 7, "sessions", "threshold", "%g sessions a week are more than one a day", at("sessions"))
	asked := at("sessions") * more("sessions", "weeks")
	say(at("sessions-total") <= asked, "sessions-total", "threshold", "it never decides: the rule sessions asks for %g sessions already", asked)
	say(more("minutes", "goal") < at("minutes"), "minutes", "more.goal", "the goal of %g min lies below the %g min that are asked for", more("minutes", "goal"), at("minutes"))
	say(more("longest", "goal") < at("longest"), "longest", "more.goal", "the goal of %g min lies below the %g min that are asked for", more("longest", "goal"), at("longest"))
	say(at("longest") > at("minutes"), "longest", "threshold", "one session of %g min is longer than the %g min that are asked for in a whole week", at("longest"), at("minutes"))
	say(at("minutes") <= at("sessions")*Shortest, "minutes", "threshold", "it never decides: %g sessions of %d min, the shortest that count, make it", at("sessions"), Shortest)
	for rule, key := range map[string]string{"effort": "answers", "zone": "sessions"} {
		most := at("sessions") * weeks(rule)
		say(more(rule, key) > most, rule, "more."+key, "%g are asked for in %d days, in which a client who does what the rule sessions asks for has %g sessions", more(rule, key), *p.Rule(rule).Window, most)
	}
	most := boutsAWeek * weeks("interval-sessions")
	say(at("interval-sessions") > most, "interval-sessions", "threshold", "it can never be met: at most %d interval sessions a week are prescribed, %g in the %d days of the window", boutsAWeek, most, *p.Rule("interval-sessions").Window)
	most = boutsAWeek * weeks("bout-effort")
	say(more("bout-effort", "answers") > most, "bout-effort", "more.answers", "it can never be met: at most %d interval sessions a week are prescribed, %g in the %d days of the window", boutsAWeek, most, *p.Rule("bout-effort").Window)
	for _, stage := range []int{1, 2} {
		n := evidenceIn(stage)
		say(at("evidence") > float64(n), "evidence", "threshold", "nobody can leave stage %d: it has %d rules about the heart rate", stage, n)
	}
	say(more("break", "stage_1_from_days") <= at("break"), "break", "more.stage_1_from_days", "a break of %g days asks for no return, yet stage 1 weeks begin with one of %g days", at("break"), more("break", "stage_1_from_days"))
	say(at("long-break") < more("break", "stage_1_from_days"), "long-break", "threshold", "a break of more than %g days asks for one stage down before the return of the rule break begins (%g days)", at("long-break"), more("break", "stage_1_from_days"))
	say(more("screening", "again_after_break_days") <= at("break"), "screening", "more.again_after_break_days", "the questions are asked again after %g days, while breaks of up to %g days count as none", more("screening", "again_after_break_days"), at("break"))
	for _, rule := range []string{"fall", "same-effort"} {
		say(more(rule, "stable") > more(rule, "baseline_most"), rule, "more.stable", "the client's own typical error is never used: a baseline takes %g measurements at most", more(rule, "baseline_most"))
	}
	slices.SortStableFunc(out, func(a, b Doubt) int { return a.Line - b.Line })
	return out
}

// doubtEfforts compares limits of effort with the other scale and with each other.
func (p Policy) doubtEfforts(say func(bad bool, rule, key, format string, args ...any)) {
	pair := func(id, key string, on20, on10 float64) {
		say(on20-scalesApart != on10, id, key, "%g on the 6-20 scale stands beside %g on the 0-10 scale, not beside %g: the scale that a client is asked on would decide", on20, on20-scalesApart, on10)
	}
	for _, id := range []string{"effort", "bout-effort", "check-session", "failed-sessions"} {
		r := p.Rule(id)
		if r.Threshold10 != nil {
			pair(id, "threshold_10", *r.Threshold, *r.Threshold10)
			say(*r.Threshold >= 20 || *r.Threshold10 >= 10, id, "threshold", "no effort can lie above it on one of the scales, so the rule never speaks against")
		}
		for _, key := range []string{"effort", "hardest"} {
			if on20, ok := r.More[key]; ok {
				pair(id, "more."+key+"_10", on20, r.More[key+"_10"])
			}
		}
	}
	easy, bouts := *p.Rule("effort").Threshold, *p.Rule("bout-effort").Threshold
	say(easy >= vigorous, "effort", "threshold", "an effort of %d and more is vigorous (Garber 2011) and not that of zone 1; two such answers in zone 1 propose to lower its top", vigorous)
	say(easy > bouts, "bout-effort", "threshold", "steady sessions of stage 1 may be harder (%g) than interval sessions (%g)", easy, bouts)
	say(p.Rule("check-session").More["effort"] > easy, "check-session", "more.effort", "a check session may be harder (%g) than the sessions of zone 1 that it checks (%g)", p.Rule("check-session").More["effort"], easy)
	failed := p.Rule("failed-sessions").More["effort"]
	say(failed <= bouts, "failed-sessions", "more.effort", "an interval session with an effort of %g keeps to the rule bout-effort (at most %g) and counts as failed", failed, bouts)
}

// doubtMeaning looks for thresholds at the end of what can be, with which a rule says nothing.
func (p Policy) doubtMeaning(say func(bad bool, rule, key, format string, args ...any)) {
	for _, s := range specs() {
		r := p.Rule(s.id)
		end := s.threshold.low
		if s.is == AtMost {
			end = s.threshold.high
		}
		say(s.kind == Evidence && *r.Threshold == end, s.id, "threshold", "a threshold of %g %s lets nearly everything pass", *r.Threshold, s.unit)
	}
	e := p.Rule("enjoyment")
	say(*e.Threshold >= e.More["of"], "enjoyment", "threshold", "it never speaks: of %g answers no more than %g can be low", e.More["of"], e.More["of"])
	say(e.More["low"] >= 5, "enjoyment", "more.low", "every answer from 1 to 5 counts as low")
	m := p.Rule("resting")
	say(m.More["mornings"] > float64(*m.Window), "resting", "more.mornings", "%g mornings do not fit into %d days", m.More["mornings"], *m.Window)
}

// evidenceIn is how many rules about the heart rate a stage has; steady and check-session are one.
func evidenceIn(stage int) int {
	n := 0
	for _, s := range specs() {
		if s.kind == Evidence && s.id != "check-session" && slices.Contains(s.stages, stage) {
			n++
		}
	}
	return n
}

// lineAndColumn reads a place as positions writes it.
func lineAndColumn(place string) (line, column int) {
	if _, err := fmt.Sscanf(place, "line %d, column %d", &line, &column); err != nil {
		panic("place " + place) // positions writes no other
	}
	return line, column
}
