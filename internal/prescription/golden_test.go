package prescription_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
)

// TestGolden holds whole assessments and prescriptions for people to read, as JSON with one line for
// each rule. Numbers that decide are tested by themselves elsewhere; the charts' points and the
// policy's digest are left out.
func TestGolden(t *testing.T) {
	stories := map[string]*story.Story{
		"building":       story.Ferry(2),
		"ready":          story.Ferry(4),
		"ready-for-3":    story.Intervals(4),
		"not-assessable": story.Ferry(4).Each(func(_ int, d *story.Done) { d.Fall, d.Effort, d.Drift = nil, nil, nil }).Each(story.Only(10, 12)),
		"easier-week":    story.Ferry(4).Then(story.Rested(60, 70)).Then(story.Note(24, signs.PoorSleep)),
		"step-back":      story.Intervals(4).Each(story.Failing(3)),
		"doctor-first":   story.Ferry(4).Then(story.Note(24, signs.Palpitations)),
		"return":         story.Away(story.Ferry(7), 25, story.Never),
		"by-effort":      story.Ferry(4).Who(story.Slowed(story.Day(10))),
		"paused":         story.Ferry(4).Then(story.Paused(27, 40)),
	}
	for name, s := range stories {
		t.Run(name, func(t *testing.T) {
			p, a := next(s)
			a.Robustness = progression.AssessOften(defaults, s.Last(), s.Record()).Robustness
			for i, n := range p.Notes {
				p.Notes[i].Text = prescription.Say(n)
			}
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
				t.Fatalf("%v; accept it with: go test ./internal/prescription -run TestGolden -update", err)
			}
			if diff := cmp.Diff(string(want), string(got)); diff != "" {
				t.Errorf("%s has changed (- before, + now); read it, then accept it with -update:\n%s", file, diff)
			}
		})
	}
}

// readable writes an assessment and a prescription as JSON, reasons on one line each.
func readable(t *testing.T, a record.Assessment, p record.Prescription) []byte {
	var lines []string
	w := reasons.Write(a)
	for _, r := range w.Reasons {
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
	w.Reasons, w.Policy = nil, ""
	b, err := json.MarshalIndent(struct {
		Assessment   reasons.Written     `json:"assessment"`
		Prescription record.Prescription `json:"prescription"`
	}{w, p}, "", "\t")
	if err != nil {
		t.Fatal(err)
	}
	rules := `"reasons": [` + "\n" + strings.Join(lines, ",\n") + "\n\t\t]"
	return append([]byte(strings.Replace(string(b), `"reasons": null`, rules, 1)), '\n')
}

// TestJSON holds the keys of an assessment and how nothing is written: lists are [], what does not
// apply is null.
func TestJSON(t *testing.T) {
	encode := func(a record.Assessment) map[string]json.RawMessage {
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
		s := map[string]*story.Story{"hold": story.Ferry(2), "advance": story.Ferry(4), "paused": story.Ferry(4).Then(story.Paused(27, 40))}[name]
		got := encode(assess(s))
		for key, w := range want {
			if string(got[key]) != w {
				t.Errorf("%s: %s is %s, want %s", name, key, got[key], w)
			}
		}
	}
	s := story.Ferry(4)
	var robustness map[string]any
	if err := json.Unmarshal(encode(progression.AssessOften(defaults, s.Last(), s.Record()))["robustness"], &robustness); err != nil {
		t.Fatal(err)
	}
	if robustness["draws"] != 400.0 || robustness["same_verdict"] == nil || robustness["hangs_on"] == nil {
		t.Errorf("robustness is %v", robustness)
	}
	var reasons []map[string]any
	if err := json.Unmarshal(encode(assess(s))["reasons"], &reasons); err != nil {
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

// TestOtherWordsAreShown: a word that the program does not know is kept as a caution for four weeks
// and decides nothing.
func TestOtherWordsAreShown(t *testing.T) {
	a := assess(story.Ferry(4).Then(story.Note(20, "homesick")))
	if len(a.Cautions) != 1 || reasons.Text(a.Cautions[0]) != "Noted on 27 September 2026: homesick." || story.Verdict(a) != record.Advance {
		t.Errorf("%s with %v", story.Verdict(a), a.Cautions)
	}
	if a := assess(story.Ferry(8).Then(story.Note(20, "homesick"))); len(a.Cautions) != 0 {
		t.Errorf("five weeks later: %v", a.Cautions)
	}
}

func TestEachConditionHasItsCaution(t *testing.T) {
	for _, x := range []record.Condition{record.Pregnant, record.Pacemaker, record.Irregular, record.Insulin, record.Asthma} {
		a := assess(story.Ferry(2).Who(func(c *record.Client) { c.Conditions = []record.Condition{x} }))
		if len(a.Cautions) != 1 {
			t.Errorf("%s: %v", x, a.Cautions)
		}
	}
	a := assess(story.Ferry(2).Who(func(c *record.Client) { c.Medicine, c.DoseChange = record.Raises, story.Day(3) }))
	if len(a.Cautions) != 2 {
		t.Errorf("a medicine that raises, changed last week: %v", a.Cautions)
	}
	for _, text := range slices.Concat(signs.Cautions(signs.Client), signs.Cautions(signs.Trainer), signs.StopSigns()) {
		if text == "" || text[len(text)-1] != '.' {
			t.Errorf("%q is no sentence", text)
		}
	}
}
