package progression

import (
	"fmt"
	"slices"

	"nextrung/internal/workout"
)

// plainEffort is the rule on effort and talk in stage 1.
func (v review) plainEffort() finding {
	rule, f := v.begin("effort")
	sessions := v.recent(*rule.Window)
	f = v.judgeEffort(rule, f, sessions, true)
	if f.isUnmet() {
		return f
	}
	// An answer about a day without a session that counts can speak against, never for.
	for _, n := range v.r.Notes {
		known := slices.ContainsFunc(v.sessions, func(s Session) bool { return s.Date == n.Date })
		if n.RPE != nil && !known && n.Date >= f.From && !rule.effortWithin(*n.RPE) {
			limit := rule.effortLimit(n.RPE.Scale)
			f.Points, f.Threshold, f.needed = append(f.Points, Point{n.Date, n.RPE.Value}), &limit, ""
			return f.told(n.RPE.Value, false, "An effort of %s was given for %s, of which no session that counts is known; at most %s is asked for.",
				scaled(*n.RPE), n.Date.Long(), number(limit))
		}
	}
	return f
}

// effortAgain repeats a rule on effort with other answers, as many as there were.
func (v review) effortAgain(id string) func(draw, finding) finding {
	rule := v.p.Rule(id)
	sessions, withTalk := v.recent(*rule.Window), true
	if id == "bout-effort" {
		sessions, withTalk = v.boutSessions(*rule.Window), false
	}
	var beyond []bool
	for _, s := range sessions {
		talked := withTalk && s.Talk != NotAsked
		if s.RPE != nil || talked {
			beyond = append(beyond, s.RPE != nil && !rule.effortWithin(*s.RPE) || talked && s.Talk != TalkComfortable)
		}
	}
	return func(d draw, was finding) finding {
		met := !slices.Contains(resampled(d, answers, beyond), true)
		was.Met = &met
		if met && len(beyond) < int(rule.More["answers"]) {
			was.Met = nil
		}
		return was
	}
}

// judgeEffort holds every answer against the limit on its own scale. One answer beyond it speaks
// against at once; keeping it needs enough answers.
func (v review) judgeEffort(rule Rule, f finding, sessions []Session, withTalk bool) finding {
	answers, unwell := 0, 0
	var worst *workout.RPE
	beyond := func(e workout.RPE) float64 { return e.Value - rule.effortLimit(e.Scale) }
	for _, s := range sessions {
		talked := withTalk && s.Talk != NotAsked
		if s.RPE == nil && !talked {
			continue
		}
		answers++
		f.Workouts = append(f.Workouts, s.ids()...)
		if talked && s.Talk != TalkComfortable {
			unwell++
		}
		if s.RPE != nil && (worst == nil || beyond(*s.RPE) > beyond(*worst)) {
			worst = s.RPE
		}
	}
	if worst != nil {
		limit, value := rule.effortLimit(worst.Scale), worst.Value
		f.Observed, f.Threshold = &value, &limit
		for _, s := range sessions {
			if s.RPE != nil && s.RPE.Scale == worst.Scale {
				f.Points = append(f.Points, Point{s.Date, s.RPE.Value})
			}
		}
	}
	asked := int(rule.More["answers"])
	twice := answersTwice(sessions)
	switch {
	case worst != nil && !rule.effortWithin(*worst):
		return f.stated(false, "An effort of %s was given; at most %s is asked for (%s).%s", scaled(*worst), number(*f.Threshold), several(answers, "answer"), twice)
	case unwell > 0:
		return f.stated(false, "Talking was not comfortable in %s of %s.", several(unwell, "session"), number(float64(answers)))
	case answers < asked:
		needed := "Ask after the session how hard it was and whether talking was comfortable, and enter it as a note."
		f = f.untold(needed, "%s about effort or talk; at least %d are asked for.", several(answers, "answer"), asked)
		return f.unless(v.early(answers, len(sessions)))
	case worst == nil:
		return f.stated(true, "Talking was comfortable in all of %s.", several(answers, "answer"))
	}
	return f.stated(true, "The highest effort given was %s; at most %s is asked for (%s).%s", scaled(*worst), number(*f.Threshold), several(answers, "answer"), twice)
}

// answersTwice says, of the latest session with unlike answers, that the hardest counts.
func answersTwice(sessions []Session) string {
	for i := len(sessions) - 1; i >= 0; i-- {
		s := sessions[i]
		if len(s.Efforts) < 2 || slices.Equal(s.Efforts, slices.Repeat(s.Efforts[:1], len(s.Efforts))) {
			continue
		}
		var given []string
		for j, e := range s.Efforts {
			if j+1 < len(s.Efforts) && s.Efforts[j+1].Scale == e.Scale {
				given = append(given, number(e.Value))
			} else {
				given = append(given, scaled(e))
			}
		}
		return fmt.Sprintf(" On %s %s answers were given, %s; the harder one counts.", s.Date.Long(), word(len(given)), joined(given))
	}
	return ""
}

// scaled writes an effort with its scale.
func scaled(e workout.RPE) string {
	if e.Scale == 10 {
		return fmt.Sprintf("%s on the 0-10 scale", number(e.Value))
	}
	return fmt.Sprintf("%s on the 6-20 scale", number(e.Value))
}

// boutEffort is the rule on the effort of interval sessions.
func (v review) boutEffort() finding {
	rule, f := v.begin("bout-effort")
	return v.judgeEffort(rule, f, v.boutSessions(*rule.Window), false)
}

// boutSessions lists the interval sessions of the last n days that count.
func (v review) boutSessions(n int) []Session {
	var out []Session
	for _, s := range v.intervalSessions(n) {
		out = append(out, s.Session)
	}
	return out
}

// enjoyment counts low answers among the last ones.
func (v review) enjoyment() finding {
	rule, f := v.begin("enjoyment")
	var asked []Session
	for _, s := range v.recent(*rule.Window) {
		if s.Enjoyment > 0 {
			asked = append(asked, s)
		}
	}
	of := int(rule.More["of"])
	if len(asked) < of {
		return f.untold("Ask how enjoyable the session was, from 1 to 5.", "%s about enjoyment; %d are needed.", several(len(asked), "answer"), of)
	}
	low := 0.0
	for _, s := range asked[len(asked)-of:] {
		f.rests(s, float64(s.Enjoyment))
		if float64(s.Enjoyment) <= rule.More["low"] {
			low++
		}
	}
	if !rule.keeps(low) {
		return f.told(low, false, "Enjoyment was %g or less in %s of the last %d answers: talk about it before moving on.", rule.More["low"], number(low), of)
	}
	return f.told(low, true, "Enjoyment was %g or less in %s of the last %d answers.", rule.More["low"], number(low), of)
}

// withinEffort says that nothing in the sessions of a week was harder than its rule allows, where
// the client was asked.
func (v review) withinEffort(week []Session) bool {
	for _, s := range week {
		rule := v.p.Rule("effort")
		if _, ok := v.asInterval(s); ok {
			rule = v.p.Rule("bout-effort")
		} else if s.Talk != NotAsked && s.Talk != TalkComfortable {
			return false
		}
		if s.RPE != nil && !rule.effortWithin(*s.RPE) {
			return false
		}
	}
	return true
}
