package policy_test

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/policy"
)

func defaultText() string { return string(policy.DefaultText()) }

// TestRuleIDs: the rules of the file are the rules of the code.
func TestRuleIDs(t *testing.T) {
	var inFile []policy.ID
	for _, line := range strings.Split(defaultText(), "\n") {
		if id, ok := strings.CutPrefix(line, "id = "); ok {
			inFile = append(inFile, policy.ID(strings.Trim(id, `"`)))
		}
	}
	inCode := policy.RuleIDs()
	slices.Sort(inFile)
	slices.Sort(inCode)
	if !slices.Equal(inFile, inCode) {
		t.Errorf("the file has %v, the code %v", inFile, inCode)
	}
}

// TestDefaultThresholds pins the numbers that decide.
func TestDefaultThresholds(t *testing.T) {
	for id, want := range map[string]float64{
		"weeks": 4, "weeks.inactive": 6, "sessions": 2, "sessions.weeks": 3, "sessions-total": 10, "minutes": 60, "minutes.weeks": 3, "minutes.least": 50, "longest": 20, "longest.goal": 30,
		"effort": 13, "effort.answers": 3, "zone": 80, "steady": 3, "steady.sessions": 2, "steady.of": 3, "check-session": 4,
		"interval-weeks": 4, "interval-sessions": 4, "longer-bouts": 2, "longer-bouts.bout_s": 120, "bout-effort": 16, "back-in-zone": 80, "creep": 8, "break": 7, "long-break": 28,
		"screening.again_after_break_days": 84, "resting": 5, "monotony": 2, "failed-sessions": 2, "failed-sessions.effort": 18,
		"fall.error_percent": 25, "same-effort.error_percent": 3, "disease": 12, "evidence": 0, "forecast": 80, "forecast.stage_2": 85, "forecast.effort": 16, "forecast.answers": 3, "forecast.bout_answers": 2, "adult": 18,
	} {
		rule, more, _ := strings.Cut(id, ".")
		r := policy.Default().Rule(policy.ID(rule))
		got := *r.Threshold
		if more != "" {
			got = r.More[more]
		}
		if got != want {
			t.Errorf("%s is %v, want %v", id, got, want)
		}
	}
}

// TestEffortHasBothScales: every effort limit stands on both scales, in the pairs 13 / 4, 14 / 5,
// 16 / 7 and 18 / 9.
func TestEffortHasBothScales(t *testing.T) {
	pairs := map[float64]float64{13: 4, 13.5: 4.5, 14: 5, 16: 7, 18: 9}
	n := 0
	for _, r := range policy.Default().Rules {
		if r.Unit == "RPE" {
			n++
			if r.Threshold10 == nil || pairs[*r.Threshold] != *r.Threshold10 {
				t.Errorf("%s: %v on 6-20 and %v on 0-10", r.ID, *r.Threshold, r.Threshold10)
			}
		}
		if e, ok := r.More["effort"]; ok {
			n++
			if pairs[e] != r.More["effort_10"] {
				t.Errorf("%s: %v on 6-20 and %v on 0-10", r.ID, e, r.More["effort_10"])
			}
		}
	}
	if n != 6 {
		t.Errorf("%d effort limits seen, want 6", n)
	}
}

func TestDigest(t *testing.T) {
	want := fmt.Sprintf("sha256:%x", sha256.Sum256([]byte(defaultText())))
	if got := policy.Default().Digest(); got != want {
		t.Errorf("digest %s, want %s", got, want)
	}
	changed, err := policy.Parse([]byte(defaultText() + "# a comment\n"))
	if err != nil || changed.Digest() == want {
		t.Errorf("another text has the same digest (%v)", err)
	}
}

// block gives the lines of one rule.
func block(id string) string {
	text := defaultText()
	at := strings.Index(text, fmt.Sprintf("[[rule]]\nid = %q\n", id))
	end := strings.Index(text[at+1:], "[[rule]]")
	if end < 0 {
		return text[at:]
	}
	return text[at : at+1+end]
}

// TestPolicyRefuses lists what cannot be in a policy, each shown with its line and column.
func TestPolicyRefuses(t *testing.T) {
	inRule := func(id, old, new string) func(string) string {
		return func(text string) string {
			return strings.Replace(text, block(id), strings.Replace(block(id), old, new, 1), 1)
		}
	}
	for _, c := range []struct {
		name   string
		change func(string) string
		says   string
		at     string // what stands at the place that is named
	}{
		{"an unknown key", inRule("weeks", "threshold = 4", "threshold = 4\ntreshold = 5"), `unknown key "rule.treshold"`, "treshold"},
		{"a number in quotes", inRule("steady", "threshold = 3", `threshold = "3"`), "without quotation marks", `"3"`},
		{"a comma in a number", inRule("steady", "threshold = 3", "threshold = 3,5"), "not a comma", ",5"},
		{"a number for a text", inRule("steady", `unit = "bpm/10 min"`, "unit = 5"), "in quotation marks", "5"},
		{"an unknown table", func(s string) string { return s + "[more]\nx = 1\n" }, `unknown key "more"`, "more]"},
		{"an unknown rule", inRule("weeks", `id = "weeks"`, `id = "moons"`), `there is no rule "moons"`, `id = "moons"`},
		{"a rule without id", inRule("weeks", `id = "weeks"`, ``), "the rule has no id", "rule]]"},
		{"a missing rule", func(s string) string { return strings.Replace(s, block("weeks"), "", 1) }, `rule "weeks" is missing`, ""},
		{"a doubled rule", func(s string) string { return s + block("weeks") }, "a second time", `id = "weeks"`},
		{"no unit", inRule("steady", `unit = "bpm/10 min"`, ""), "the unit is missing", "rule]]"},
		{"another unit", inRule("steady", `"bpm/10 min"`, `"bpm/h"`), `unit must be "bpm/10 min"`, `unit = "bpm/h"`},
		{"no source", inRule("zone", `source = "common practice, no source"`, ""), "the source is missing", "rule]]"},
		{"no sentence", inRule("zone", `sentence = "The main`, `sentence = "" # "`), "the sentence is missing", "sentence"},
		{"no threshold", inRule("zone", "threshold = 80", ""), "the threshold is missing", "rule]]"},
		{"a share above 100 %", inRule("zone", "threshold = 80", "threshold = 101"), "threshold must be between 1 and 100, not 101", "threshold = 101"},
		{"a threshold below zero", inRule("steady", "threshold = 3", "threshold = -3"), "must be between", "threshold = -3"},
		{"a threshold that is no number", inRule("steady", "threshold = 3", "threshold = nan"), "must be between", "threshold = nan"},
		{"a text for a number", inRule("steady", "threshold = 3", `threshold = "3"`), "", "\"3\""},
		{"effort beyond its scale", inRule("effort", "threshold = 13", "threshold = 21"), "must be between 6 and 20", "threshold = 21"},
		{"effort on one scale only", inRule("effort", "threshold_10 = 4", ""), "threshold_10", "rule]]"},
		{"the other scale where there is no effort", inRule("zone", "threshold = 80", "threshold = 80\nthreshold_10 = 4"), "is not about effort", "threshold_10"},
		{"stages for minors", inRule("adult", "threshold = 18", "threshold = 16"), "must be between 18", "threshold = 16"},
		{"a tolerated emergency sign", inRule("emergency-sign", "threshold = 0", "threshold = 1"), "threshold must be 0, not 1", "threshold = 1"},
		{"a clearance of two years", inRule("disease", "threshold = 12", "threshold = 24"), "between 1 and 12", "threshold = 24"},
		{"another kind", inRule("screening", `kind = "gate"`, `kind = "informative"`), `kind must be "gate"`, "kind"},
		{"another stage", inRule("weeks", "stage = [1]", "stage = [1, 2]"), "stage must be [1]", "stage"},
		{"the other direction", inRule("zone", `is = "at least"`, `is = "at most"`), `is must be "at least"`, "is ="},
		{"no window", inRule("zone", "window_days = 28", ""), "window_days is missing", "rule]]"},
		{"a window of nothing", inRule("zone", "window_days = 28", "window_days = 0"), "window_days must be between", "window_days"},
		{"an unknown further number", inRule("zone", "sessions = 3", "sessions = 3, moons = 2"), `unknown key "more.moons"`, "moons"},
		{"a further number missing", inRule("sessions", "more = { weeks = 3 }", ""), "more.weeks is missing", "rule]]"},
		{"a further number that cannot be", inRule("zone", "sessions = 3", "sessions = 0"), "more.sessions must be between 1 and 100", "sessions = 0"},
		{"more weeks than the window has", inRule("sessions", "weeks = 3", "weeks = 7"), "7 weeks do not fit", "weeks = 7"},
		{"four of three", inRule("steady", "sessions = 2", "sessions = 4"), "4 of 3 is impossible", "sessions = 4"},
		{"half a week", inRule("sessions", "weeks = 3", "weeks = 3.5"), "more.weeks must be a whole number, not 3.5", "weeks = 3.5"},
		{"half a session", inRule("sessions", "threshold = 2", "threshold = 2.5"), "threshold must be a whole number, not 2.5", "threshold = 2.5"},
		{"half a rule", inRule("evidence", "threshold = 0", "threshold = 1.5"), "threshold must be a whole number, not 1.5", "threshold = 1.5"},
		{"half a day of a window", inRule("zone", "window_days = 28", "window_days = 27.5"), "", "27.5"},
		{"a threshold without end", inRule("steady", "threshold = 3", "threshold = inf"), "must be between", "threshold = inf"},
		{"the same key twice", inRule("steady", "threshold = 3", "threshold = 3\nthreshold = 4"), "", ""},
		{"broken text", inRule("zone", "threshold = 80", "threshold = = 80"), "", "= 80"},
		{"an empty file", func(string) string { return "" }, `rule "adult" is missing`, ""},
		{"rules in one list", func(string) string { return "# mine\nrule = [{ id = \"zone\" }]" }, "[[rule]]", "rule ="},
		{"an empty list", func(string) string { return "rule = []" }, "[[rule]]", "rule ="},
		{"a list of one rule without an id", func(string) string { return "rule=[{}]" }, "[[rule]]", "rule=["},
		{"a rule as a table", func(string) string { return "[rule]\nid = \"zone\"" }, "[[rule]]", "rule]"},
		{"an empty table", func(string) string { return "[rule]" }, "[[rule]]", "rule]"},
		{"further values as a table of their own", func(text string) string {
			return strings.Replace(text, "more = { inactive = 6 }", "[rule.more]\ninactive = -6", 1)
		}, "must be between", "inactive = -6"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := c.change(defaultText())
			if text == defaultText() {
				t.Fatal("the text was not changed")
			}
			_, err := policy.Parse([]byte(text))
			if err == nil {
				t.Fatal("the policy is accepted")
			}
			var line, column int
			if n, _ := fmt.Sscanf(err.Error(), "line %d, column %d:", &line, &column); n != 2 {
				t.Fatalf("%v names no line and column", err)
			}
			if !strings.Contains(err.Error(), c.says) {
				t.Errorf("%v does not say %q", err, c.says)
			}
			if lines := strings.Split(text, "\n"); c.at != "" && (line > len(lines) || !strings.HasPrefix(lines[line-1][column-1:], c.at)) {
				t.Errorf("%v points at %q, want %q", err, lines[line-1][column-1:], c.at)
			}
		})
	}
}

func FuzzParsePolicy(f *testing.F) {
	f.Add(defaultText())
	f.Add(block("zone"))
	f.Add("[[rule]]\nid = \"zone\"\nmore = { sessions = {} }")
	f.Add("x = 1")
	f.Add("rule=[{}]")
	f.Add("[rule]")
	f.Add("[[rule]]\nid = \"zone\"\n[rule.more]\nsessions = 1")
	f.Fuzz(func(t *testing.T, text string) {
		p, err := policy.Parse([]byte(text))
		if err == nil && len(p.Rules) != len(policy.RuleIDs()) {
			t.Errorf("accepted with %d rules", len(p.Rules))
		}
	})
}

// TestTheDefaultIsANewOneEachTime: what somebody changes in one does not show in the next.
func TestTheDefaultIsANewOneEachTime(t *testing.T) {
	want := policy.Default()
	changed := policy.Default()
	for i := range changed.Rules {
		r := &changed.Rules[i]
		*r.Threshold = -1
		*r.Window = -1
		if r.Threshold10 != nil {
			*r.Threshold10 = -1
		}
		if len(r.Stages) > 0 {
			r.Stages[0] = -1
		}
		for name := range r.More {
			r.More[name] = -1
		}
		r.Sentence = ""
	}
	if diff := cmp.Diff(want.Rules, policy.Default().Rules); diff != "" {
		t.Error(diff)
	}
}
