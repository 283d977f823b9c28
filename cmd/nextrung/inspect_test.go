package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
)

var update = flag.Bool("update", false, "write the expected output again")

// inspectJSON runs `inspect --json` with the facts of the invented body that testdata was played on.
func inspectJSON(t *testing.T, args ...string) []map[string]any {
	t.Helper()
	var out, errs bytes.Buffer
	args = append([]string{"inspect", "--hr-max", "185", "--hr-rest", "62", "--sex", "female", "--json"}, args...)
	code := run(context.Background(), args, surroundings{out: &out, err: &errs, now: time.Now})
	if code != done && code != refused {
		t.Fatalf("exit code %d: %s", code, errs.String())
	}
	var all []map[string]any
	for line := range strings.Lines(out.String()) {
		var v map[string]any
		if err := json.Unmarshal([]byte(line), &v); err != nil {
			t.Fatalf("%s: %v", line, err)
		}
		all = append(all, v)
	}
	return all
}

func TestInspectSaysWhatIsExpectedOfTestdata(t *testing.T) {
	files, err := filepath.Glob("../../testdata/*.*")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, file := range files {
		if filepath.Ext(file) == ".md" {
			continue
		}
		n++
		t.Run(filepath.Base(file), func(t *testing.T) {
			got, err := json.MarshalIndent(inspectJSON(t, file), "", " ")
			if err != nil {
				t.Fatal(err)
			}
			golden := filepath.Join("../../testdata/expected", filepath.Base(file)+".json")
			if *update {
				if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(golden, append(got, '\n'), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			want, err := os.ReadFile(golden)
			if err != nil {
				t.Fatalf("%v; run `go test ./cmd/nextrung -update`", err)
			}
			if diff := cmp.Diff(strings.TrimSpace(string(want)), string(got)); diff != "" {
				t.Errorf("-want +got; accept with -update:\n%s", diff)
			}
		})
	}
	if n < 6 {
		t.Fatalf("only %d recordings in testdata", n)
	}
}

// The keys are a contract with other programs: they may grow, never go.
func TestInspectKeepsItsKeys(t *testing.T) {
	v := inspectJSON(t, "../../testdata/bike-bouts.tcx")[0]
	for path, keys := range map[string]string{
		"":                        "file sha256 format error remarks workouts",
		"workouts.0":              "sport start elapsed_s paused_s heart_rate zones phases recoveries drift onset load check same_effort held_15_s remarks",
		"workouts.0.heart_rate":   "usable source coverage mean_bpm min_bpm peak_bpm rejected_s longest_gap_s",
		"workouts.0.zones":        "edges_bpm under_s zone1_s zone2_s zone3_s over_s not_recorded_s paused_s",
		"workouts.0.phases.0":     "kind from_s to_s mean_bpm",
		"workouts.0.recoveries.0": "stop_s end_bpm at_60_bpm drop_60_bpm from_peak_60_bpm at_120_bpm drop_120_bpm tau_s activity",
		"workouts.0.drift":        "assessable why from_s to_s slope_bpm_per_10min low high",
		"workouts.0.held_15_s":    "bpm from_s to_s peak why",
		"workouts.0.load":         "banister_impulse lucia_weighted_min",
	} {
		at := any(v)
		for _, step := range strings.FieldsFunc(path, func(r rune) bool { return r == '.' }) {
			if list, ok := at.([]any); ok {
				if len(list) == 0 {
					t.Fatalf("%s: the list is empty", path)
				}
				at = list[0]
			} else {
				at = at.(map[string]any)[step]
			}
		}
		fields, _ := at.(map[string]any)
		for _, k := range strings.Fields(keys) {
			if _, ok := fields[k]; !ok {
				t.Errorf("%q has no key %q: %v", path, k, at)
			}
		}
	}
}

// README shows a real run: the example is made from it, not typed.
func TestReadmeShowsARealInspection(t *testing.T) {
	file, err := os.ReadFile("../../testdata/bike-bouts.tcx")
	if err != nil {
		t.Fatal(err)
	}
	body := physiology.Body{HRMaxAny: 185, HRRest: 62, Sex: physiology.Female}
	in := coach.Asked{}.Inspect("bike-bouts.tcx", file, body)[0]
	in.Workouts[0].Phases, in.Workouts[0].Recoveries = in.Workouts[0].Phases[:1], in.Workouts[0].Recoveries[:1]
	line, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	got := regexp.MustCompile(`,("(?:workouts|heart_rate|zones|phases|recoveries|drift|onset|load|remarks|grade|faults|check|same_effort|held_15_s)":)`).ReplaceAllString(string(line), ",\n $1")
	const from, to = "<!-- inspect -->\n```json\n", "```\n<!-- /inspect -->"
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(readme), from)
	shown, after, closed := strings.Cut(rest, to)
	if !found || !closed {
		t.Fatal("README.md has lost the marks of the example")
	}
	if *update {
		if err := os.WriteFile("../../README.md", []byte(before+from+got+"\n"+to+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(strings.TrimSpace(shown), got); diff != "" {
		t.Errorf("README's example is not what inspect says; accept with -update:\n%s", diff)
	}
}
