package progression

import (
	"cmp"
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
		if n.RPE != nil && !known && n.Date >= f.From && rule.tooHard(*n.RPE) {
			limit := rule.hardest(n.RPE.Scale)
			f.Points, f.Threshold, f.needed = append(f.Points, Point{n.Date, n.RPE.Value}), &limit, ""
			return f.told(n.RPE.Value, false, "An effort of %s was given for %s, of which no session that counts is known; no answer may be above %s.",
				scaled(*n.RPE), n.Date.Long(), number(limit))
		}
	}
	return f
}

// An answer is what one session says about effort and talk, held against a rule.
type answer struct {
	rated   bool // an effort was given
	beyond  bool // it is above the limit
	tooHard bool // it is above what no answer may be
	uneasy  bool // talking was not comfortable
}

// answered holds the answers about sessions against a rule.
func answered(rule Rule, sessions []Session, withTalk bool) []answer {
	var out []answer
	for _, s := range sessions {
		talked := withTalk && s.Talk != NotAsked
		if s.RPE == nil && !talked {
			continue
		}
		a := answer{rated: s.RPE != nil, uneasy: talked && s.Talk != TalkComfortable}
		if a.rated {
			a.beyond, a.tooHard = !rule.effortWithin(*s.RPE), rule.tooHard(*s.RPE)
		}
		out = append(out, a)
	}
	return out
}

// kept says that most of the answers lie within the limit, none is far above it, and talking was
// always comfortable. One answer just above the limit among many is what the same effort gives by
// chance: whole points, and days that differ.
func kept(all []answer) bool {
	rated, beyond := 0, 0
	for _, a := range all {
		if a.tooHard || a.uneasy {
			return false
		}
		if a.rated {
			rated++
		}
		if a.beyond {
			beyond++
		}
	}
	return beyond == 0 || 2*beyond < rated
}

// effortAgain repeats a rule on effort with other answers, as many as there were.
func (v review) effortAgain(id string) func(draw, finding) finding {
	rule := v.p.Rule(id)
	sessions, withTalk := v.recent(*rule.Window), true
	if id == "bout-effort" {
		sessions, withTalk = v.boutSessions(*rule.Window), false
	}
	given := answered(rule, sessions, withTalk)
	return func(d draw, was finding) finding {
		met := kept(resampled(d, answers, given))
		was.Met = &met
		if met && len(given) < int(rule.More["answers"]) {
			was.Met = nil
		}
		return was
	}
}

// judgeEffort holds the answers against the limit, each on its own scale: the middle one must be
// within it and none far above. Keeping it needs enough answers.
func (v review) judgeEffort(rule Rule, f finding, sessions []Session, withTalk bool) finding {
	all := answered(rule, sessions, withTalk)
	asked, n := int(rule.More["answers"]), len(all)
	uneasy := len(keep(all, func(a answer) bool { return a.uneasy }))
	var efforts []workout.RPE
	for _, s := range sessions {
		if s.RPE != nil || withTalk && s.Talk != NotAsked {
			f.Workouts = append(f.Workouts, s.ids()...)
		}
		if s.RPE != nil {
			efforts = append(efforts, *s.RPE)
		}
	}
	middle, worst := rule.byEffort(efforts)
	if middle != nil {
		shown, limit := middle, rule.effortLimit(middle.Scale)
		if rule.tooHard(*worst) {
			shown, limit = worst, rule.hardest(worst.Scale)
		}
		value := shown.Value
		f.Observed, f.Threshold = &value, &limit
		for _, s := range sessions {
			if s.RPE != nil && s.RPE.Scale == shown.Scale {
				f.Points = append(f.Points, Point{s.Date, s.RPE.Value})
			}
		}
	}
	twice := answersTwice(sessions)
	switch {
	case worst != nil && rule.tooHard(*worst):
		return f.stated(false, "An effort of %s was given; no answer may be above %s (%s).%s", scaled(*worst), number(*f.Threshold), several(n, "answer"), twice)
	case uneasy > 0:
		return f.stated(false, "Talking was not comfortable in %s of %s.", several(uneasy, "session"), number(float64(n)))
	case !kept(all):
		over := len(keep(all, func(a answer) bool { return a.beyond }))
		return f.stated(false, "In %d of %s the effort was above %s, up to %s; in most of them it may be %s at most.%s", over, several(n, "answer"),
			number(*f.Threshold), scaled(*worst), number(*f.Threshold), twice)
	case n < asked:
		needed := "Ask after the session how hard it was and whether talking was comfortable, and enter it as a note."
		f = f.untold(needed, "%s about effort or talk; at least %d are asked for.", several(n, "answer"), asked)
		return f.unless(v.early(n, len(sessions)))
	case worst == nil:
		return f.stated(true, "Talking was comfortable in all of %s.", several(n, "answer"))
	case !rule.effortWithin(*worst):
		return f.stated(true, "In most of %s the effort was %s at most, as asked for; the hardest was %s, as it may be now and then.%s", several(n, "answer"), number(*f.Threshold), scaled(*worst), twice)
	}
	return f.stated(true, "The highest effort given was %s; at most %s is asked for (%s).%s", scaled(*worst), number(*f.Threshold), several(n, "answer"), twice)
}

// byEffort gives the middle answer (of an even number the harder one) and the hardest, by how far
// each lies above the limit of its own scale; nil without any.
func (r Rule) byEffort(efforts []workout.RPE) (middle, worst *workout.RPE) {
	if len(efforts) == 0 {
		return nil, nil
	}
	above := func(e workout.RPE) float64 { return e.Value - r.effortLimit(e.Scale) }
	sorted := slices.SortedStableFunc(slices.Values(efforts), func(a, b workout.RPE) int { return cmp.Compare(above(a), above(b)) })
	return &sorted[len(sorted)/2], &sorted[len(sorted)-1]
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

// withinEffort says that the sessions of a week were not harder than their rules allow, where the
// client was asked.
func (v review) withinEffort(week []Session) bool {
	var steady, bouts []Session
	for _, s := range week {
		if _, ok := v.asInterval(s); ok {
			bouts = append(bouts, s)
		} else {
			steady = append(steady, s)
		}
	}
	return kept(answered(v.p.Rule("effort"), steady, true)) && kept(answered(v.p.Rule("bout-effort"), bouts, false))
}
