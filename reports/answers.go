package reports

import (
	"html/template"
	"math"
	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// answer is one of the questions of the stage, with how the client is doing.
type answer struct {
	What string
	Word string
	Why  string
	Icon template.HTML
}

// Fine says that there is nothing to do: then the sentence says it all.
func (x answer) Fine() bool { return x.Icon == icons["yes"] }

// question is what the client's page asks of a rule, in plain words for each of its results.
type question struct {
	what     string
	rules    []policy.ID // the first that the assessment holds
	yes, no  string
	unknown  string // the word
	unknownY string // and what to do about it
}

// questions are those of each stage: never a verdict, never a race.
func questions(stage int) []question {
	steady := question{"Steady sessions", []policy.ID{policy.Steady, policy.CheckSession}, "Your pulse stays level while you keep the same pace.",
		"Your pulse still climbs while you keep the same pace. A little slower is fine.", "not seen yet", "One longer session at one pace will show it."}
	if stage >= 2 {
		return []question{
			{"Faster sessions", []policy.ID{policy.IntervalSessions, policy.LongerBouts}, "Your faster sessions go as planned.", "A few more faster sessions that go as planned will do.", "not seen yet", "Record a session with its faster parts."},
			steady,
			{"Not too hard", []policy.ID{policy.BoutEffort}, "The faster parts are hard enough, and no harder.", "The faster parts were too hard. Slow them down.",
				"tell us", "How hard did the faster parts feel? A word to your trainer is enough."},
		}
	}
	return []question{
		steady,
		{"Minutes", []policy.ID{policy.Minutes}, "Your weeks are long enough.", "A few more minutes a week will do.", "not seen yet", "They count from the first full week."},
		{"Easy talking", []policy.ID{policy.Effort}, "You can talk in whole sentences.", "Slow down until you can talk in whole sentences.",
			"tell us", "How did it feel? A word to your trainer is enough."},
	}
}

// noBouts stands where a plan without faster parts would be contradicted by asking for some.
const noBouts = "There are no faster parts next week."

func answers(c Client) []answer {
	var out []answer
	for _, q := range questions(c.Assessment.Stage) {
		for _, rule := range q.rules {
			if r := c.Assessment.Reason(rule); r != nil {
				out = append(out, answerOf(c, q, *r))
				break
			}
		}
	}
	return out
}

// answerOf is what a rule answers to a question, in the light of the other rules and of next week.
func answerOf(c Client, q question, r record.Reason) answer {
	a, x := c.Assessment, q.answer(r)
	bouts := c.Next != nil && c.Next.Intervals != nil
	switch r.Rule {
	case policy.IntervalSessions, policy.LongerBouts:
		switch {
		case r.Rule == policy.IntervalSessions && r.IsUnmet() && a.Unmet(policy.FailedSessions):
			x.Why = "The last ones did not go as planned. Your trainer is looking at them."
		case !r.IsMet() && !bouts:
			x.Why = noBouts
		}
	case policy.BoutEffort:
		switch {
		case r.Met == nil && !a.Lacks(r.Rule):
			x.Word, x.Why = "not seen yet", "Record a session with its faster parts."
			if !bouts {
				x.Why = noBouts
			}
		case r.IsUnmet() && !bouts:
			x.Why = "The faster parts were too hard. There are none next week."
		}
	case policy.Effort:
		if r.IsMet() && c.Next.Says(record.FeltTooHard) {
			return answer{q.what, "not yet", q.no, icons["not-yet"]}
		}
	case policy.Minutes:
		return minutesAnswer(c, r, x)
	}
	return feltAnswer(a, r, x)
}

// feltAnswer is what single answers about effort say where other rules decide: one that was harder among many does not keep from a move,
// and answers within the limit may still be too close to it for what comes next.
func feltAnswer(a record.Assessment, r record.Reason, x answer) answer {
	if r.Kind != policy.Informative || r.Rule != policy.Effort && r.Rule != policy.BoutEffort {
		return x
	}
	ahead := a.Reason(policy.Forecast)
	if ahead == nil {
		ahead = a.Reason(policy.UsualEffort)
	}
	switch {
	case ahead == nil || ahead.Met == nil || r.Met == nil:
	case ahead.IsMet() && r.IsUnmet():
		x.Word, x.Why, x.Icon = "mostly", "Most of it felt right. Keep it that way.", icons["yes"]
	case ahead.IsUnmet() && r.IsMet():
		x.Word, x.Why, x.Icon = "nearly", "It should feel a little easier before the next step.", icons["nearly"]
	}
	return x
}

// minutesAnswer is what the best weeks say, the weeks so far while they are few, and the last one where it was shorter
// than they have to be.
func minutesAnswer(c Client, r record.Reason, x answer) answer {
	if r.Observed == nil || r.IsUnmet() {
		return x
	}
	if r.Met == nil {
		x.Word, x.Why, x.Icon = "yes, so far", "Your weeks so far are long enough.", icons["yes"]
	}
	if n := len(c.Weeks); n > 0 && c.Weeks[n-1].Minutes < *r.Threshold {
		x.Why = "Your best weeks are long enough; the last one was shorter."
	}
	return x
}

func (q question) answer(r record.Reason) answer {
	switch {
	case r.Met == nil:
		return answer{q.what, q.unknown, q.unknownY, icons["tell-us"]}
	case *r.Met:
		return answer{q.what, "yes", q.yes, icons["yes"]}
	case near(r):
		return answer{q.what, "nearly", q.no, icons["nearly"]}
	}
	return answer{q.what, "not yet", q.no, icons["not-yet"]}
}

// near says that a value is within a fifth of its threshold.
func near(r record.Reason) bool {
	return r.Observed != nil && r.Threshold != nil && math.Abs(*r.Observed-*r.Threshold) <= 0.2*math.Abs(*r.Threshold)
}
