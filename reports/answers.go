package reports

import (
	"html/template"
	"math"
	"nextrung/internal/record"
	"slices"
)

// answer is one of the questions of the stage with where the client stands.
type answer struct {
	What string
	Word string
	Why  string
	Icon template.HTML
}

// question is what the client's page asks of a rule, in plain words for each of its results.
type question struct {
	what     string
	rules    []string // the first that the assessment holds
	yes, no  string
	unknown  string // the word
	unknownY string // and what to do about it
}

// questions are those of each stage: never a verdict, never a race.
func questions(stage int) []question {
	steady := question{"Steady sessions", []string{"steady", "check-session"}, "Your pulse stays level while you keep the same pace.",
		"Your pulse still climbs while you keep the same pace. A little slower is fine.", "not seen yet", "One longer session at one pace will show it."}
	if stage >= 2 {
		return []question{
			{"Faster sessions", []string{"interval-sessions", "longer-bouts"}, "They go as planned.", "A few more as planned.", "not seen yet", "Record one with its faster parts."},
			steady,
			{"Not too hard", []string{"bout-effort"}, "The faster parts are hard enough and no harder.", "The faster parts were too hard. Slow them down.",
				"tell us", "How hard did the faster parts feel? A word to your trainer is enough."},
		}
	}
	return []question{
		steady,
		{"Minutes", []string{"minutes"}, "Your weeks are long enough.", "A few more minutes a week will do.", "not seen yet", "They count from the first full week."},
		{"Easy talking", []string{"effort"}, "You can talk in whole sentences.", "Slow down until you can talk in whole sentences.",
			"tell us", "How did it feel? A word to your trainer is enough."},
	}
}

func answers(c Client) []answer {
	a := c.Assessment
	var out []answer
	for _, q := range questions(a.Stage) {
	search:
		for _, rule := range q.rules {
			for _, r := range a.Reasons {
				if r.Rule == rule {
					x := q.answer(r)
					if r.Rule == "interval-sessions" && r.Met != nil && !*r.Met && speaksAgainst(a, "failed-sessions") {
						x.Why = "The last ones did not go as planned. Your trainer is looking at them."
					}
					if r.Rule == "effort" && r.Met != nil && *r.Met && c.Next.Says(record.FeltTooHard) {
						x = answer{q.what, "not yet", q.no, icons["not-yet"]}
					}
					out = append(out, x)
					break search
				}
			}
		}
	}
	return out
}

// speaksAgainst says that a rule was told and is not met.
func speaksAgainst(a record.Assessment, rule string) bool {
	return slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.Rule == rule && r.Met != nil && !*r.Met })
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
