package policy

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// Kind is the part that a rule plays in the verdict.
type Kind string

// The kinds of rules.
const (
	Gate         Kind = "gate"
	Required     Kind = "required"
	Evidence     Kind = "evidence"
	Informative  Kind = "informative"
	StepBackRule Kind = "step-back" // leads to less when it is not met: see Reason.Asks
)

// Shortest is the length in minutes from which a session counts (the 1998 position stand: less than
// 10 min is generally not enough).
const Shortest = 10

// limits is the range of values that a number of the policy can have.
type limits struct{ low, high float64 }

// spec is what the program knows about a rule: what its block must contain. Sentence, numbers, window and
// source are the trainer's; the rest must be as it is here.
type spec struct {
	id        ID
	kind      Kind
	stages    []int
	is        Bound
	unit      Unit
	threshold limits
	scale10   *limits // range of threshold_10; nil when the rule has none
	window    limits
	more      map[string]limits
}

// specs lists the rules in the order in which an assessment shows them.
func specs() []spec {
	var (
		all    = []int{1, 2, 3}
		whole  = limits{0, 0} // since the stage began
		days   = limits{1, 366}
		counts = limits{1, 100}
		share  = limits{1, 100}
		rpe    = limits{6, 20}
		rpe10  = limits{0, 10}
	)
	trend := func(others map[string]limits) map[string]limits {
		m := map[string]limits{
			"baseline": {1, 20}, "baseline_most": {1, 20}, "baseline_age_days": days, "recent": {1, 20}, "recent_days": days,
			"stable": {3, 20}, "error_percent": {0.1, 100},
		}
		maps.Copy(m, others)
		return m
	}
	return []spec{
		{Adult, Gate, all, AtLeast, "years", limits{18, 120}, nil, whole, nil},
		{EmergencySign, Gate, all, AtMost, "signs", limits{0, 0}, nil, whole, nil},
		{DoctorSign, Gate, all, AtMost, "signs", limits{0, 0}, nil, whole, nil},
		{Disease, Gate, all, AtMost, "months", limits{1, 12}, nil, whole, nil},
		{Screening, Gate, all, AtLeast, "screenings", limits{1, 1}, nil, whole, map[string]limits{"again_after_break_days": days}},

		{Weeks, Required, []int{1}, AtLeast, "weeks", limits{1, 52}, nil, whole, map[string]limits{"inactive": {1, 52}}},
		{IntervalWeeks, Required, []int{2}, AtLeast, "weeks", limits{1, 52}, nil, whole, nil},
		{Clearance, Required, []int{1, 2}, AtMost, "months", limits{1, 12}, nil, whole, nil},
		{Break, Required, all, AtMost, "days without a session", limits{1, 14}, nil, whole, map[string]limits{"stage_1_from_days": {8, 28}}},
		{Sessions, Required, []int{1}, AtLeast, "sessions a week", limits{1, 14}, nil, days, map[string]limits{"weeks": {1, 52}}},
		{SessionsTotal, Required, []int{1}, AtLeast, "sessions", limits{1, 500}, nil, whole, nil},
		{Minutes, Required, []int{1}, AtLeast, "min a week", limits{1, 2000}, nil, days, map[string]limits{"weeks": {1, 52}, "goal": {1, 2000}, "share_of_time": share, "least": {1, 2000}}},
		{Longest, Required, []int{1}, AtLeast, "min", limits{10, 600}, nil, days, map[string]limits{"goal": {10, 600}}},
		{Effort, Required, []int{1}, AtMost, "RPE", rpe, &rpe10, days, map[string]limits{"answers": counts, "hardest": rpe, "hardest_10": rpe10}},
		{UsualEffort, Required, []int{1, 2}, AtMost, "RPE", rpe, &rpe10, days, map[string]limits{"answers": counts, "uneasy_percent": {0, 100}, "bouts": rpe, "bouts_10": rpe10, "bout_answers": counts}},
		{Forecast, Required, []int{1, 2}, AtLeast, "% sure", limits{50, 99}, nil, days, map[string]limits{
			"effort": rpe, "effort_10": rpe10, "stage_2": {50, 99}, "answers": {3, 100}, "bout_answers": {2, 100}, "half_life_days": days, "uneasy_percent": {0, 100}}},
		{IntervalSessions, Required, []int{2}, AtLeast, "sessions", counts, nil, days, map[string]limits{"bouts_percent": share, "length_within_percent": share}},
		{LongerBouts, Required, []int{2}, AtLeast, "sessions", counts, nil, days, map[string]limits{"bout_s": {60, 600}}},
		{BoutEffort, Required, []int{2, 3}, AtMost, "RPE", rpe, &rpe10, days, map[string]limits{"answers": counts, "hardest": rpe, "hardest_10": rpe10}},
		{EnoughEvidence, Required, []int{1, 2}, AtLeast, "rules met", limits{0, 5}, nil, whole, nil},

		{Zone, Evidence, []int{1}, AtLeast, "% of the main part", share, nil, days, map[string]limits{"sessions": counts}},
		{Steady, Evidence, all, AtMost, "bpm/10 min", limits{0.1, 30}, nil, days, map[string]limits{"sessions": counts, "of": counts, "warmest_c": {0, 50}}},
		{CheckSession, Evidence, all, AtMost, "bpm", limits{0.1, 30}, nil, days, map[string]limits{"effort": rpe, "effort_10": rpe10}},
		{SameEffort, Evidence, all, AtMost, "bpm against the baseline", limits{0.1, 5}, nil, whole, trend(map[string]limits{"load_within_percent": {1, 20}, "warmest_c": {0, 50}})},
		{BackInZone, Evidence, []int{2, 3}, AtLeast, "% of bouts", share, nil, days, map[string]limits{"sessions": counts}},
		{Creep, Evidence, []int{2, 3}, AtMost, "bpm", limits{0.1, 50}, nil, days, map[string]limits{"sessions": counts, "of": counts}},

		{AsPrescribed, Informative, all, AtLeast, "% of the prescription", share, nil, limits{7, 7}, nil},
		{Fall, Informative, all, AtLeast, "bpm against the baseline", limits{0.1, 5}, nil, whole, trend(map[string]limits{"end_within_bpm": {1, 20}})},
		{Resting, Informative, all, AtMost, "bpm above the own", limits{1, 30}, nil, days, map[string]limits{"mornings": counts}},
		{Monotony, Informative, []int{2, 3}, AtMost, "Foster monotony", limits{0.5, 10}, nil, limits{7, 7}, nil},
		{WeeklyRise, Informative, all, AtMost, "% more", limits{1, 500}, nil, limits{14, 84}, map[string]limits{"silent_below_min": {0, 2000}}},
		{LongestRun, Informative, all, AtMost, "% more", limits{1, 500}, nil, days, map[string]limits{"or_minutes": {0, 120}, "before_days": days}},
		{Enjoyment, Informative, all, AtMost, "low answers", limits{0, 20}, nil, days, map[string]limits{"low": {1, 5}, "of": counts}},

		{TiredSign, StepBackRule, all, AtMost, "signs", limits{0, 20}, nil, days, nil},
		{Illness, StepBackRule, all, AtLeast, "days since", limits{2, 60}, nil, days, map[string]limits{"normal_weeks": {0, 12}}},
		{Tiredness, StepBackRule, all, AtMost, "signs with a report", limits{0, 2}, nil, days, map[string]limits{"effort_rise": {1, 10}, "sessions": counts}},
		{TirednessAgain, StepBackRule, []int{2, 3}, AtMost, "times", limits{1, 10}, nil, days, nil},
		{FailedSessions, StepBackRule, []int{2, 3}, AtMost, "failed in a row", limits{1, 20}, nil, days, map[string]limits{"effort": rpe, "effort_10": rpe10}},
		{LongBreak, StepBackRule, []int{2, 3}, AtMost, "days without a session", limits{15, 366}, nil, whole, nil},
	}
}

// maybeOff are the rules that may be switched off, and judges those of which one has to say in each stage whether a move
// would be too hard. laterRules are missing in files written by an earlier version.
var (
	maybeOff   = []ID{Effort, BoutEffort, UsualEffort, Forecast, LongerBouts}
	judges     = [][]ID{{Effort, UsualEffort, Forecast}, {BoutEffort, UsualEffort, Forecast}}
	laterRules = []ID{UsualEffort, Forecast}
)

// later are the further numbers that a file written by an earlier version lacks, as a new book has them.
var later = map[ID]map[string]float64{
	Minutes: {"share_of_time": 90, "least": 50},
	Illness: {"normal_weeks": 2},
}

// completed adds the numbers that the rule lacks because its file is older.
func (r Rule) completed() Rule {
	more := maps.Clone(r.More)
	for key, v := range later[r.ID] {
		if _, ok := more[key]; !ok {
			if more == nil {
				more = map[string]float64{}
			}
			more[key] = v
		}
	}
	r.More = more
	return r
}

// RuleIDs lists the rules that the program applies, in the order in which it shows them.
func RuleIDs() []ID {
	var out []ID
	for _, s := range specs() {
		out = append(out, s.id)
	}
	return out
}

func specOf(id ID) (spec, bool) {
	for _, s := range specs() {
		if s.id == id {
			return s, true
		}
	}
	return spec{}, false
}

// fault finds the first thing that is wrong in a block: its key and why.
func (s spec) fault(r Rule) (key, why string) {
	for _, look := range []func(Rule) (string, string){s.kindFault, s.numberFault, s.furtherFault, s.fraction, contradiction} {
		if key, why = look(r); why != "" {
			break
		}
	}
	return key, why
}

// kindFault looks at the words of a block.
func (s spec) kindFault(r Rule) (key, why string) {
	switch {
	case r.Kind != s.kind:
		return "kind", fmt.Sprintf("kind must be %q", s.kind)
	case !slices.Equal(r.Stages, s.stages):
		return "stage", fmt.Sprintf("stage must be %v", s.stages)
	case r.Is != s.is:
		return "is", fmt.Sprintf("is must be %q", s.is)
	case strings.TrimSpace(r.Sentence) == "":
		return "sentence", "the sentence is missing"
	case r.On != nil && !slices.Contains(maybeOff, r.ID):
		return "on", fmt.Sprintf("this rule cannot be switched on or off; those that can are %s", Listed(maybeOff))
	case r.Unit == "":
		return "unit", "the unit is missing"
	case r.Unit != s.unit:
		return "unit", fmt.Sprintf("unit must be %q", s.unit)
	case strings.TrimSpace(r.Source) == "":
		return "source", `the source is missing; write "common practice, no source" if there is none`
	}
	return "", ""
}

// numberFault looks at threshold and window.
func (s spec) numberFault(r Rule) (key, why string) {
	switch {
	case r.Threshold == nil:
		return "threshold", "the threshold is missing"
	case !s.threshold.allow(*r.Threshold):
		return "threshold", s.threshold.says("threshold", *r.Threshold)
	case s.scale10 == nil && r.Threshold10 != nil:
		return "threshold_10", "the rule is not about effort and has no threshold_10"
	case s.scale10 != nil && r.Threshold10 == nil:
		return "threshold_10", "threshold_10, for effort on the 0-10 scale, is missing"
	case s.scale10 != nil && !s.scale10.allow(*r.Threshold10):
		return "threshold_10", s.scale10.says("threshold_10", *r.Threshold10)
	case r.Window == nil:
		return "window_days", "window_days is missing; 0 means since the stage began"
	case !s.window.allow(float64(*r.Window)):
		return "window_days", s.window.says("window_days", float64(*r.Window))
	}
	return "", ""
}

// furtherFault looks at the names and values of the further numbers.
func (s spec) furtherFault(r Rule) (key, why string) {
	for _, name := range slices.Sorted(maps.Keys(r.More)) {
		l, ok := s.more[name]
		if !ok {
			return "more." + name, fmt.Sprintf("unknown key %q", "more."+name)
		}
		if !l.allow(r.More[name]) {
			return "more." + name, l.says("more."+name, r.More[name])
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.more)) {
		if _, ok := r.More[name]; !ok {
			return "more", fmt.Sprintf("more.%s is missing", name)
		}
	}
	return "", ""
}

// contradiction looks at numbers that cannot stand beside each other.
func contradiction(r Rule) (key, why string) {
	switch {
	case r.More["weeks"]*7 > float64(*r.Window):
		return "more.weeks", fmt.Sprintf("%g weeks do not fit into window_days = %d", r.More["weeks"], *r.Window)
	case r.More["of"] > 0 && r.More["sessions"] > r.More["of"]:
		return "more.sessions", fmt.Sprintf("%g of %g is impossible", r.More["sessions"], r.More["of"])
	case r.More["hardest"] > 0 && r.More["hardest"] < *r.Threshold:
		return "more.hardest", "hardest is below the threshold"
	case r.More["hardest_10"] > 0 && r.More["hardest_10"] < *r.Threshold10:
		return "more.hardest_10", "hardest_10 is below threshold_10"
	case r.ID == UsualEffort && r.More["bouts"] < *r.Threshold:
		return "more.bouts", "bouts is below the threshold"
	case r.More["baseline"] > r.More["baseline_most"]:
		return "more.baseline", "baseline is above baseline_most"
	}
	return "", ""
}

// wholeNumbers are the further numbers that count something, wholeUnits the units of thresholds that do.
var (
	wholeNumbers = []string{
		"again_after_break_days", "inactive", "stage_1_from_days", "weeks", "normal_weeks", "answers", "bout_answers", "half_life_days", "sessions", "of", "baseline", "baseline_most", "baseline_age_days",
		"recent", "recent_days", "stable", "mornings", "before_days",
	}
	wholeUnits = []Unit{"weeks", "sessions", "sessions a week", "rules met", "low answers", "signs", "signs with a report", "times", "failed in a row"}
)

// fraction finds a number that counts something and is not whole; the program would cut it off.
func (s spec) fraction(r Rule) (key, why string) {
	not := func(key string, v float64) (string, string) {
		return key, fmt.Sprintf("%s must be a whole number, not %g", key, v)
	}
	if slices.Contains(wholeUnits, s.unit) && *r.Threshold != math.Trunc(*r.Threshold) {
		return not("threshold", *r.Threshold)
	}
	for _, name := range slices.Sorted(maps.Keys(r.More)) {
		if slices.Contains(wholeNumbers, name) && r.More[name] != math.Trunc(r.More[name]) {
			return not("more."+name, r.More[name])
		}
	}
	return "", ""
}

func (l limits) allow(v float64) bool { return v >= l.low && v <= l.high }

func (l limits) says(name string, v float64) string {
	if l.low == l.high {
		return fmt.Sprintf("%s must be %g, not %g", name, l.low, v)
	}
	return fmt.Sprintf("%s must be between %g and %g, not %g", name, l.low, l.high, v)
}

// Eases says that a rule of kind step-back leads to an easier week, not to one stage down.
func (r Rule) Eases() bool {
	return r.Kind == StepBackRule && (r.ID == TiredSign || r.ID == Illness || r.ID == Tiredness)
}
