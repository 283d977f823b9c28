package progression

import (
	"fmt"

	"nextrung/internal/workout"
)

// plainEffort is the rule on effort and talk in stage 1.
func (v review) plainEffort() finding {
	rule, f := v.begin("effort")
	return v.judgeEffort(rule, f, v.recent(*rule.Window), true)
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
	switch {
	case worst != nil && !rule.effortWithin(*worst):
		return f.stated(false, "An effort of %s was given; at most %s is asked for (%s).", scaled(*worst), number(*f.Threshold), several(answers, "answer"))
	case unwell > 0:
		return f.stated(false, "Talking was not comfortable in %s of %s.", several(unwell, "session"), number(float64(answers)))
	case answers < asked:
		needed := "Ask after the session how hard it was and whether talking was comfortable, and enter it as a note."
		f = f.untold(needed, "%s about effort or talk; at least %d are asked for.", several(answers, "answer"), asked)
		return f.unless(v.early(answers, len(sessions)))
	case worst == nil:
		return f.stated(true, "Talking was comfortable in all of %s.", several(answers, "answer"))
	}
	return f.stated(true, "The highest effort given was %s; at most %s is asked for (%s).", scaled(*worst), number(*f.Threshold), several(answers, "answer"))
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
	var in []Session
	for _, s := range v.intervalSessions(*rule.Window) {
		in = append(in, s.Session)
	}
	return v.judgeEffort(rule, f, in, false)
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
