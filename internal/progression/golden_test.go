package progression_test

import (
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/progression"
)

var update = flag.Bool("update", false, "write what the program says now to testdata")

// TestGolden holds whole assessments and prescriptions for people to read, as JSON with one line for
// each rule. Numbers that decide are tested by themselves elsewhere; the charts' points and the
// policy's digest are left out.
func TestGolden(t *testing.T) {
	stories := map[string]*story{
		"building":       ferry(2),
		"ready":          ferry(4),
		"ready-for-3":    intervals(4),
		"not-assessable": ferry(4).each(func(_ int, d *done) { d.fall, d.effort, d.drift = nil, nil, nil }).each(only(10, 12)),
		"easier-week":    ferry(4).then(rested(60, 70)).then(note(24, progression.PoorSleep)),
		"step-back":      intervals(4).each(failing(3)),
		"doctor-first":   ferry(4).then(note(24, progression.Palpitations)),
		"return":         away(ferry(7), 25, never),
		"by-effort":      ferry(4).who(slowed(day(10))),
		"paused":         ferry(4).then(paused(27, 40)),
	}
	for name, s := range stories {
		t.Run(name, func(t *testing.T) {
			p, a := s.next()
			a.Robustness = policy.AssessOften(s.last(), s.record()).Robustness
			got := readable(t, a, p)
			file := filepath.Join("testdata", name+".json")
			if *update {
				if err := os.MkdirAll("testdata", 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(file, got, 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(file)
			if err != nil {
				t.Fatalf("%v; accept it with: go test ./internal/progression -run TestGolden -update", err)
			}
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("%s has changed (- before, + now); read it, then accept it with -update:\n%s", file, diff)
			}
		})
	}
}

// readable writes an assessment and a prescription as JSON, reasons on one line each.
func readable(t *testing.T, a progression.Assessment, p progression.Prescription) []byte {
	var lines []string
	for _, r := range a.Reasons {
		for _, v := range []*float64{r.Observed, r.Low, r.High, r.Threshold} {
			if v != nil {
				*v = math.Round(*v*100) / 100
			}
		}
		r.Points, r.Source = nil, ""
		r.Workouts = []string{fmt.Sprint(len(r.Workouts))}
		b, err := json.Marshal(r)
		if err != nil {
			t.Fatal(err)
		}
		lines = append(lines, "\t\t\t"+string(b))
	}
	a.Reasons, a.Policy = nil, ""
	b, err := json.MarshalIndent(struct {
		Assessment   progression.Assessment   `json:"assessment"`
		Prescription progression.Prescription `json:"prescription"`
	}{a, p}, "", "\t")
	if err != nil {
		t.Fatal(err)
	}
	reasons := `"reasons": [` + "\n" + strings.Join(lines, ",\n") + "\n\t\t]"
	return append([]byte(strings.Replace(string(b), `"reasons": null`, reasons, 1)), '\n')
}

// TestJSON holds the keys of an assessment and how nothing is written: lists are [], what does not
// apply is null.
func TestJSON(t *testing.T) {
	encode := func(a progression.Assessment) map[string]json.RawMessage {
		b, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var out map[string]json.RawMessage
		if err := json.Unmarshal(b, &out); err != nil {
			t.Fatal(err)
		}
		return out
	}
	for name, want := range map[string]map[string]string{
		"hold":    {"verdict": `"hold"`, "plan": `"build"`, "to": "null", "as_of": `"2026-09-20"`, "stage": "1", "state": `"active"`, "robustness": "null", "cautions": "[]"},
		"advance": {"verdict": `"advance"`, "plan": "null", "to": "2", "lacking": "[]"},
		"paused":  {"verdict": "null", "plan": "null", "to": "null", "reasons": "[]", "lacking": "[]", "cautions": "[]", "state": `"paused"`},
	} {
		s := map[string]*story{"hold": ferry(2), "advance": ferry(4), "paused": ferry(4).then(paused(27, 40))}[name]
		got := encode(s.assess())
		for key, w := range want {
			if string(got[key]) != w {
				t.Errorf("%s: %s is %s, want %s", name, key, got[key], w)
			}
		}
	}
	s := ferry(4)
	var robustness map[string]any
	if err := json.Unmarshal(encode(policy.AssessOften(s.last(), s.record()))["robustness"], &robustness); err != nil {
		t.Fatal(err)
	}
	if robustness["draws"] != 400.0 || robustness["same_verdict"] == nil || robustness["hangs_on"] == nil {
		t.Errorf("robustness is %v", robustness)
	}
	var reasons []map[string]any
	if err := json.Unmarshal(encode(s.assess())["reasons"], &reasons); err != nil {
		t.Fatal(err)
	}
	for _, r := range reasons {
		for _, key := range []string{"rule", "kind", "text", "observed", "low", "high", "is", "threshold", "unit", "from", "to", "enough", "met", "workouts", "source"} {
			if _, ok := r[key]; !ok {
				t.Errorf("reason %v has no %s", r["rule"], key)
			}
		}
	}
}

func TestSymptomTiers(t *testing.T) {
	want := map[progression.Tier][]progression.Symptom{
		progression.Emergency: {"chest", "faint", "breathless-at-rest", "confusion"},
		progression.Doctor:    {"breathless-at-mild-effort", "breathless-lying", "dizzy", "palpitations", "swollen-ankles", "calf-pain-walking", "nausea"},
		progression.AskAgain:  {"unusually-tired", "poor-sleep", "cold", "sore"},
		progression.Illness:   {"fever", "chest-illness"},
		progression.OtherSign: {"homesick", ""},
	}
	known := 0
	for tier, all := range want {
		for _, s := range all {
			if s.Tier() != tier {
				t.Errorf("%s is of tier %d, want %d", s, s.Tier(), tier)
			}
			if tier != progression.OtherSign {
				known++
			}
		}
	}
	if got := len(progression.Symptoms()); got != known {
		t.Errorf("%d symptoms are listed, %d known", got, known)
	}
}

// TestOtherWordsAreShown: a word that the program does not know is kept as a caution for four weeks
// and decides nothing.
func TestOtherWordsAreShown(t *testing.T) {
	a := ferry(4).then(note(20, "homesick")).assess()
	if len(a.Cautions) != 1 || a.Cautions[0] != "Noted on 27 September 2026: homesick." || verdict(a) != progression.Advance {
		t.Errorf("%s with %q", verdict(a), a.Cautions)
	}
	if a := ferry(8).then(note(20, "homesick")).assess(); len(a.Cautions) != 0 {
		t.Errorf("five weeks later: %q", a.Cautions)
	}
}

func TestEachConditionHasItsCaution(t *testing.T) {
	for _, x := range []progression.Condition{progression.Pregnant, progression.Pacemaker, progression.Irregular, progression.Insulin, progression.Asthma} {
		a := ferry(2).who(func(c *progression.Client) { c.Conditions = []progression.Condition{x} }).assess()
		if len(a.Cautions) != 1 {
			t.Errorf("%s: %q", x, a.Cautions)
		}
	}
	a := ferry(2).who(func(c *progression.Client) { c.Medicine, c.DoseChange = progression.Raises, day(3) }).assess()
	if len(a.Cautions) != 2 {
		t.Errorf("a medicine that raises, changed last week: %q", a.Cautions)
	}
	for _, text := range append(progression.Cautions(), progression.StopSigns()...) {
		if text == "" || text[len(text)-1] != '.' {
			t.Errorf("%q is no sentence", text)
		}
	}
}
