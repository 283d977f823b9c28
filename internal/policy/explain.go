package policy

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"nextrung/internal/wording"
)

// Explanation is one rule in plain words.
type Explanation struct {
	Rule     ID       `json:"rule"`
	Sentence string   `json:"sentence"`
	Asks     string   `json:"asks"`     // "at most 3 bpm/10 min"
	LooksAt  string   `json:"looks_at"` // the days
	Kind     Kind     `json:"kind"`
	Does     string   `json:"does"` // what the rule does to the verdict
	Stages   []int    `json:"stages"`
	Further  []Number `json:"further,omitempty"`
	Source   string   `json:"source"`
	// FromMemory is the part that was written down from memory; "" for none.
	FromMemory string `json:"from_memory,omitempty"`
	Line       int    `json:"line"` // of its block in the file, from 1; 0 where the file is older than the rule
}

// Number is a further number of a rule with what it means.
type Number struct {
	Key   string  `json:"key"`
	Value float64 `json:"value"`
	Means string  `json:"means"`
}

// Explain puts every rule into words, in the order in which an assessment shows them.
func (p Policy) Explain() []Explanation {
	where, _ := places([]byte(p.text)) // the text was read before
	var out []Explanation
	for _, id := range RuleIDs() {
		i := slices.IndexFunc(p.Rules, func(r Rule) bool { return r.ID == id })
		r := p.Rules[i]
		e := Explanation{
			Rule: id, Sentence: r.Sentence, Asks: r.needed(), LooksAt: r.looksAt(),
			Kind: r.Kind, Does: r.does(), Stages: r.Stages, Source: r.Source, FromMemory: r.FromMemory, Line: where.of(i, "").Line,
		}
		if r.Absent {
			e.Line = 0
		}
		for _, key := range slices.Sorted(maps.Keys(r.More)) {
			e.Further = append(e.Further, Number{key, r.More[key], r.meaning(key)})
		}
		out = append(out, e)
	}
	return out
}

// needed says what the observed value must be.
func (r Rule) needed() string {
	bound := fmt.Sprintf("%s %g", r.Is, *r.Threshold)
	switch {
	case r.ID == Fall || r.ID == SameEffort:
		return fmt.Sprintf("worse than the client's usual by at most %g × normal day-to-day variation", *r.Threshold)
	case r.ID == Resting:
		return bound + " bpm above the client's usual"
	case r.ID == UsualEffort:
		return fmt.Sprintf("a mean RPE of %s on the 6-20 scale, %s %g on the 0-10 scale", bound, r.Is, *r.Threshold10)
	case r.ID == Illness:
		return bound + " days since the illness"
	case r.ID == Monotony:
		return "Foster monotony of " + bound
	case r.Threshold10 != nil:
		return fmt.Sprintf("%s of %s on the 6-20 scale, %s %g on the 0-10 scale", r.Unit, bound, r.Is, *r.Threshold10)
	case r.Is == AtMost && *r.Threshold == 0:
		return "no " + string(r.Unit)
	case r.Unit == UnitTimes:
		return string(r.Is) + " " + wording.Times(int(*r.Threshold))
	}
	return bound + " " + string(r.Unit.Of(*r.Threshold))
}

func (r Rule) looksAt() string {
	if *r.Window == 0 {
		return "everything since the stage began, or everything on record"
	}
	return fmt.Sprintf("the last %d days, paused days left out", *r.Window)
}

func (r Rule) does() string {
	switch {
	case r.IsOn():
	case r.ID == Effort || r.ID == BoutEffort:
		return "is off: it sizes the week and guides clients without heart-rate targets, and decides on no other move"
	default:
		return "is off"
	}
	switch r.Kind {
	case Gate:
		return "comes before everything else"
	case Required:
		return "must be met before a client moves up; without data it never counts as met"
	case Evidence:
		return "shows what the heart rate says; a move up needs enough of these"
	case StepBackRule:
		if r.Eases() {
			return "leads to an easier week in the same stage if it is not met"
		}
		return "leads one stage down if it is not met"
	}
	return "is shown and decides nothing"
}

// meanings says what the further numbers are, %g being the number. A key of one rule alone is written
// "rule.key".
var meanings = map[string]string{
	"again_after_break_days": "after a break of %g days or more, the screening questions are asked again",
	"inactive":               "%g weeks for a client who was inactive before",
	"stage_1_from_days":      "after a break of %g days or more, one or two weeks of stage 1 and a check session come first",
	"weeks":                  "needed in %g of the weeks looked at",
	"minutes.weeks":          "the mean of the best %g weeks counts",
	"goal":                   "%g min is the goal shown on pages",
	"share_of_time":          "%g %% of the minutes that the client has is enough, if that is less than the threshold",
	"least":                  "never less than %g min, however little time the client has",
	"normal_weeks":           "%g normal weeks come before a move up",
	"answers":                "at least %g answers are needed to count as met",
	"bout_s":                 "bouts of at least %g s count",
	"bouts_percent":          "at least %g %% of the bouts must be done",
	"length_within_percent":  "a bout may be %g %% shorter; a longer one counts",
	"sessions":               "at least %g sessions with enough data are needed",
	"steady.sessions":        "at least %g of these sessions must meet the rule",
	"creep.sessions":         "at least %g of these sessions must meet the rule",
	"tiredness.sessions":     "more effort in %g sessions counts as a report",
	"of":                     "the last %g sessions with enough data are looked at",
	"enjoyment.of":           "the last %g answers are looked at",
	"warmest_c":              "above %g °C, or without a fan, a session is not judged",
	"effort":                 "the effort must be at most %g on the 6-20 scale",
	"effort_10":              "the effort must be at most %g on the 0-10 scale",
	"hardest":                "no answer may be above %g on the 6-20 scale",
	"hardest_10":             "no answer may be above %g on the 0-10 scale",
	"failed-sessions.effort": "an effort of %g or more on the 6-20 scale is a failed session",

	"failed-sessions.effort_10": "an effort of %g or more on the 0-10 scale is a failed session",

	"end_within_bpm":      "drops are compared if they start within %g bpm of each other",
	"load_within_percent": "sessions are compared if their loads are within %g %% of each other",
	"baseline":            "a baseline needs at least %g measurements",
	"baseline_most":       "a baseline uses at most the first %g measurements",
	"baseline_age_days":   "measurements in a baseline are at least %g days old",
	"recent":              "the last %g measurements are compared with the baseline",
	"recent_days":         "only measurements of the last %g days are compared with it",
	"stable":              "with %g or more baseline measurements, the client's own typical error is used",
	"error_percent":       "a published typical error of %g %% is used until the client's own is known",
	"uneasy_percent":      "talking may be other than comfortable in %g %% of the answers",
	"bouts":               "in stage 2, at most %g for sessions with bouts",
	"bouts_10":            "in stage 2, at most %g for sessions with bouts on the 0-10 scale",
	"bout_answers":        "in stage 2, at least %g of the answers are about sessions with bouts",
	"forecast.effort":     "the session must feel like %g at most",
	"forecast.effort_10":  "the session must feel like %g at most on the 0-10 scale",
	"stage_2":             "from stage 2 to 3, at least %g %% sure",
	"half_life_days":      "an answer counts half as much after %g days",
	"mornings":            "at least %g mornings are needed for a mean",
	"silent_below_min":    "below %g minutes a week, a rise is no concern",
	"or_minutes":          "up to %g minutes longer is always fine",
	"before_days":         "the week is compared with the %g days before it",
	"low":                 "an answer of %g or less is low",
	"effort_rise":         "%g points more at the same load count as more effort",
}

// meaning is what a further number of the rule says.
func (r Rule) meaning(key string) string {
	text, ok := meanings[string(r.ID)+"."+key]
	if !ok {
		text = meanings[key]
	}
	return fmt.Sprintf(text, r.More[key])
}

// Settable is a number of a rule that the trainer may set.
type Settable struct {
	Key       string // "threshold", "threshold_10", "window_days", "more.weeks"
	Value     float64
	Means     string
	Low, High float64 // between which it must lie
}

// Settable are the numbers of a rule that may be other than they are.
func (p Policy) Settable(id ID) []Settable {
	r := p.Rule(id)
	var out []Settable
	if r.Absent {
		return nil
	}
	add := func(key string, v float64, means string) {
		if l := limitsOf(id, key); l.low < l.high {
			out = append(out, Settable{key, v, means, l.low, l.high})
		}
	}
	bound := func(unit string) string { return string(r.Is) + " (" + unit + ")" }
	switch { // the file has shorter names for some
	case r.Threshold10 != nil:
		add("threshold", *r.Threshold, bound(string(r.Unit)+" on the 6-20 scale"))
		add("threshold_10", *r.Threshold10, bound(string(r.Unit)+" on the 0-10 scale"))
	case r.ID == Fall || r.ID == SameEffort:
		add("threshold", *r.Threshold, "worse than the client's usual by at most (multiples of normal day-to-day variation)")
	case r.ID == Resting:
		add("threshold", *r.Threshold, bound("bpm above the client's usual"))
	case r.ID == Illness:
		add("threshold", *r.Threshold, bound("days since the illness"))
	default:
		add("threshold", *r.Threshold, bound(string(r.Unit)))
	}
	add("window_days", float64(*r.Window), "days looked at, paused days left out")
	for _, key := range slices.Sorted(maps.Keys(r.More)) {
		add("more."+key, r.More[key], r.meaning(key))
	}
	return out
}

// PolicyChange is one key that differs between two policies.
type Change struct {
	Rule ID     `json:"rule"`
	Key  string `json:"key"`
	Was  string `json:"was"`
	Is   string `json:"is"`
	// Way is set for a threshold that decides, "" for the rest.
	Way Way `json:"way,omitempty"`
}

// Way is whether a changed threshold is stricter or looser.
type Way string

// The ways.
const (
	Stricter Way = "stricter"
	Looser   Way = "looser"
)

// Changes lists what differs in another policy, rule by rule.
func (p Policy) Changes(other Policy) []Change {
	out := []Change{}
	for _, id := range RuleIDs() {
		a, b := p.Rule(id), other.Rule(id)
		say := func(key, was, is string, way Way) {
			if was != is {
				out = append(out, Change{id, key, was, is, way})
			}
		}
		threshold := func(key string, x, y *float64) {
			if x != nil && y != nil {
				say(key, fmt.Sprint(*x), fmt.Sprint(*y), a.way(*x, *y))
			}
		}
		threshold("threshold", a.Threshold, b.Threshold)
		threshold("threshold_10", a.Threshold10, b.Threshold10)
		say("on", fmt.Sprint(a.IsOn()), fmt.Sprint(b.IsOn()), "")
		say("window_days", fmt.Sprint(*a.Window), fmt.Sprint(*b.Window), "")
		for _, key := range slices.Sorted(maps.Keys(a.More)) {
			var way Way
			if key == "hardest" || key == "hardest_10" { // the one further number that is a limit like the threshold
				way = a.way(a.More[key], b.More[key])
			}
			say("more."+key, fmt.Sprint(a.More[key]), fmt.Sprint(b.More[key]), way)
		}
		say("sentence", strings.TrimSpace(a.Sentence), strings.TrimSpace(b.Sentence), "")
		say("source", strings.TrimSpace(a.Source), strings.TrimSpace(b.Source), "")
		say("from_memory", a.FromMemory, b.FromMemory, "")
	}
	return out
}

// way says whether a threshold is stricter than before.
func (r Rule) way(was, is float64) Way {
	switch {
	case r.Kind == Informative || was == is:
		return ""
	case r.Is == AtLeast == (is > was):
		return Stricter
	}
	return Looser
}
