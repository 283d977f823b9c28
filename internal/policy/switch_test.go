package policy_test

import (
	"strings"
	"testing"

	"nextrung/internal/policy"
)

// older is the default text as an earlier version wrote it: without the rules that came later and without switches.
func older() string {
	text := defaultText()
	for _, id := range []string{"usual-effort", "forecast"} {
		text = strings.Replace(text, block(id), "", 1)
	}
	text = strings.ReplaceAll(text, "on = true\n", "")
	return strings.ReplaceAll(text, "on = false\n", "")
}

// TestOlderFilesKeepTheirMeaning: a file without the later rules loads, decides by the rules that it has, and can be edited.
func TestOlderFilesKeepTheirMeaning(t *testing.T) {
	p, err := policy.Parse([]byte(older()))
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[policy.ID]bool{"effort": true, "bout-effort": true, "longer-bouts": true, "usual-effort": false, "forecast": false} {
		if p.On(id) != want {
			t.Errorf("%s is on: %v, want %v", id, p.On(id), want)
		}
	}
	if d := p.Doubts(); len(d) != 0 {
		t.Errorf("doubted: %+v", d)
	}
	for _, e := range p.Explain() {
		if absent := e.Rule == "usual-effort" || e.Rule == "forecast"; (e.Line == 0) != absent {
			t.Errorf("%s stands in line %d", e.Rule, e.Line)
		}
	}
	if len(p.Settable("forecast")) != 0 || len(p.Settable("minutes")) == 0 {
		t.Error("a number that the file does not hold is offered, or one that it holds is not")
	}
	if q, err := p.With(map[policy.ID]map[string]float64{"minutes": {"threshold": 66}}); err != nil || *q.Rule("minutes").Threshold != 66 {
		t.Errorf("an edit: %v", err)
	}
	if _, err := p.With(map[policy.ID]map[string]float64{"forecast": {"threshold": 70}}); err == nil {
		t.Error("a number of a rule that the file lacks was set")
	}
}

// TestSwitches: what can be off, and that one rule on effort has to be on in each stage.
func TestSwitches(t *testing.T) {
	all := func(effort, bouts, usual, forecast string) string {
		text := older()
		set := func(id, on string) {
			text = strings.Replace(text, "id = \""+id+"\"\n", "id = \""+id+"\"\non = "+on+"\n", 1)
		}
		text += block("usual-effort") + block("forecast")
		text = strings.ReplaceAll(strings.ReplaceAll(text, "on = true\n", ""), "on = false\n", "")
		set("effort", effort)
		set("bout-effort", bouts)
		set("usual-effort", usual)
		set("forecast", forecast)
		return text
	}
	for _, c := range []struct {
		name, text, says string
	}{
		{"only the forecast", all("false", "false", "false", "true"), ""},
		{"only the mean", all("false", "false", "true", "false"), ""},
		{"single answers in both stages", all("true", "true", "false", "false"), ""},
		{"all", all("true", "true", "true", "true"), ""},
		{"nothing in stage 2", all("true", "false", "false", "false"), "bout-effort, usual-effort, forecast must be on"},
		{"nothing in stage 1", all("false", "true", "false", "false"), "effort, usual-effort, forecast must be on"},
		{"screening off", strings.Replace(defaultText(), "id = \"screening\"\n", "id = \"screening\"\non = false\n", 1), "cannot be switched"},
		{"a switch that is no switch", strings.Replace(defaultText(), "id = \"forecast\"\n", "id = \"forecast\"\non = 1\n", 1), "line"},
		{"bouts easier than steady sessions", strings.Replace(defaultText(), "bouts = 14", "bouts = 12", 1), "bouts is below the threshold"},
		{"fewer than three answers", strings.Replace(defaultText(), "stage_2 = 85, answers = 3", "stage_2 = 85, answers = 2", 1), "more.answers must be between 3 and 100"},
	} {
		_, err := policy.Parse([]byte(c.text))
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
}

// TestSwitchesAreChanges: what was switched is among the changes, and explained.
func TestSwitchesAreChanges(t *testing.T) {
	old, err := policy.Parse([]byte(older()))
	if err != nil {
		t.Fatal(err)
	}
	p, err := policy.Parse([]byte(older() + strings.Replace(strings.Replace(block("forecast"), "on = false\n", "", 1), "on = true\n", "", 1)))
	if err != nil {
		t.Fatal(err)
	}
	changes := old.Changes(p)
	if len(changes) != 1 || changes[0] != (policy.Change{Rule: "forecast", Key: "on", Was: "false", Is: "true"}) {
		t.Errorf("%+v", changes)
	}
	for _, e := range old.Explain() {
		if off := strings.HasPrefix(e.Does, "is off"); off == old.On(e.Rule) {
			t.Errorf("%s: %s", e.Rule, e.Does)
		}
	}
}
