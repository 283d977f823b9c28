package reasons_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// TestEveryCodeOfARecordingHasASentence reads the codes from the source, so that none is forgotten.
func TestEveryCodeOfARecordingHasASentence(t *testing.T) {
	n := 0
	for _, pkg := range []string{"heartrate", "recording", "physiology", "fieldtest", "record"} {
		files, err := filepath.Glob(filepath.Join("..", pkg, "*.go"))
		if err != nil {
			t.Fatal(err)
		}
		for _, file := range files {
			parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(parsed, func(x ast.Node) bool {
				v, ok := x.(*ast.ValueSpec)
				if !ok || len(v.Values) != 1 {
					return true
				}
				of := ""
				switch x := v.Type.(type) {
				case *ast.Ident:
					of = x.Name
				case *ast.SelectorExpr:
					of = x.Sel.Name
				}
				text, ok := v.Values[0].(*ast.BasicLit)
				if of != "Code" && (of != "FaultKind" || pkg != "heartrate") || !ok {
					return true
				}
				n++
				code, _ := strconv.Unquote(text.Value)
				if _, ok := reasons.Sentence(record.Code(code)); !ok {
					t.Errorf("%s: code %q has no sentence", file, code)
				}
				return true
			})
		}
	}
	if n < 80 {
		t.Errorf("only %d codes read", n)
	}
}

// readable is a sentence whose arguments were all there.
func readable(text string) bool {
	return strings.Contains(text, " ") && !strings.Contains(text, "<no value>")
}

// TestFactsOfARecordingRead: what is said of a played recording reads the same from JSON, figures and all.
func TestFactsOfARecordingRead(t *testing.T) {
	plan := workout.Plan{Mode: workout.Bike, Steps: []workout.Step{{Kind: workout.WarmUp, Seconds: 300, Low: 100, High: 104},
		{Kind: workout.Work, Seconds: 180, Low: 146, High: 150}, {Kind: workout.Recovery, Seconds: 180, Low: 98, High: 102}, {Kind: workout.Steady, Seconds: 1500, Low: 120, High: 124}}}
	seen := map[record.Code]bool{}
	for _, kind := range []simulate.FaultKind{simulate.Dropout, simulate.Frozen, simulate.Lock, simulate.Doubled, simulate.DryStart, simulate.Lag} {
		for _, sensor := range []workout.Sensor{workout.Strap, workout.Wrist} {
			w, _ := simulate.Play(plan, simulate.Beginner(64, 182), simulate.Options{Seed: 3, Sensor: sensor, Tail: 20,
				Faults: []simulate.Fault{{Kind: kind, Span: workout.Span{From: 350, To: 900}}}})
			s := heartrate.Clean(w)
			m := physiology.Measure(s, w, physiology.Body{}, false)
			all := slices.Concat(m.Remarks, m.Drift.Why, s.Grade.Why(heartrate.Peaks), physiology.EnergyOf(s, physiology.Body{}, 0, false).Says.Facts("why"))
			for _, f := range s.Faults {
				all = append(all, f.Says())
			}
			for _, r := range m.Recoveries {
				all = append(all, r.Basis.Why...)
			}
			for _, f := range all {
				text := reasons.Text(f)
				b, err := json.Marshal(f)
				if err != nil {
					t.Fatal(err)
				}
				var back workout.Fact
				if err := json.Unmarshal(b, &back); err != nil || reasons.Text(back) != text || !back.Equal(f) || !readable(text) {
					t.Errorf("%s: %q, from JSON %q, %v", f.Code, text, reasons.Text(back), err)
				}
				seen[f.Code] = true
			}
		}
	}
	if len(seen) < 12 {
		t.Errorf("only %d codes seen: %v", len(seen), seen)
	}
}

// TestSentencesOfRecordings are those with figures, and those of earlier books.
func TestSentencesOfRecordings(t *testing.T) {
	gap := func(args workout.Args) workout.Fact { return workout.Say(heartrate.Gap, args) }
	for _, c := range []struct {
		fact workout.Fact
		want string
	}{
		{gap(workout.Args{"where": "first", "seconds": 40}), "no heart rate in the first 40 s"},
		{gap(workout.Args{"where": "between", "seconds": 43, "at": 730}), "heart rate lost for 43 s at 12:10"},
		{gap(workout.Args{"where": "more", "times": 5, "seconds": 300}), "heart rate lost 5 more times, 300 s in all"},
		{workout.Say(workout.Code(heartrate.Lock), nil), "the sensor follows the step, pedal or stroke rate instead of the heart"},
		{workout.Say(workout.Code(heartrate.Lock), workout.Args{"seconds": 120, "at": 61}), "the sensor follows the step, pedal or stroke rate instead of the heart for 120 s at 1:01"},
		{workout.Say(workout.Code(heartrate.Doubled), workout.Args{"times": 3, "seconds": 90}), "twice the true heart rate was recorded 3 more times, 90 s in all"},
		{workout.Say(workout.Code(heartrate.Doubled), workout.Args{"times": 1, "seconds": 30}), "twice the true heart rate was recorded 1 more time, 30 s in all"},
		{workout.Say(workout.Code(heartrate.EvenLeap), workout.Args{"bpm": 64, "seconds": 245, "at": 0}), "heart rate leaps by 64 bpm at a steady load for 245 s at 0:00, as no heart does"},
		{workout.Say(workout.Code(heartrate.EvenLeap), workout.Args{"times": 2, "seconds": 60}), "heart rate leaps at a steady load 2 more times, 60 s in all, as no heart does"},
		{workout.Say(workout.Code(heartrate.DryStart), workout.Args{"seconds": 60, "at": 0}), "spikes and dropouts for 60 s at 0:00, as with a dry strap"},
		{workout.Say(workout.Code(heartrate.Lag), workout.Args{"delay": 21.0, "seconds": 300, "at": 60}), "the sensor lags for 300 s at 1:00: heart rate begins to drop only 21 s after efforts end"},
		{workout.Say(workout.Code(heartrate.Lag), workout.Args{"times": 2, "seconds": 60}), "the sensor lags 2 more times, 60 s in all"},
		{workout.Say(workout.Code(heartrate.Disagree), workout.Args{"times": 2, "seconds": 60}), "two sources of heart rate differ 2 more times, 60 s in all"},
		{heartrate.TooLittle(0), "heart rate was recorded for less than 1 % of the time (80 % needed)"},
		{workout.Say(physiology.LoadVaries, workout.Args{"by": "speed", "percent": 33.9, "most": 25}), "the load varied: speed varies by 34 % between half minutes (at most 25 %)"},
		{heartrate.TooLittle(0.5), "heart rate was recorded for only 50 % of the time (80 % needed)"},
		{workout.Fact{Code: "gap", Text: "heart rate was away"}, "heart rate was away"},
		{record.SetAside(record.Excluded, "worn by her brother"), "excluded: worn by her brother"},
		{record.SetAside(record.SameWorkout, "pier.fit"), "the same workout as pier.fit"},
		{record.SetAside(record.Written, "a sentence of an earlier version"), "a sentence of an earlier version"},
	} {
		if got := reasons.Text(c.fact); got != c.want {
			t.Errorf("%v reads %q, want %q", c.fact, got, c.want)
		}
	}
	if got := reasons.Why(workout.Facts{{Code: heartrate.Lagging}, {Code: heartrate.DryStrap}}, "old"); got != "the sensor lags behind the heart; the start looks like a dry strap" {
		t.Errorf("two reasons read %q", got)
	}
	if got := reasons.Why(nil, "old"); got != "old" {
		t.Errorf("an earlier book reads %q", got)
	}
}

// TestWrittenRecordings: the texts stand in the keys that JSON always had, and the original keeps its facts alone.
func TestWrittenRecordings(t *testing.T) {
	var r record.Recording
	r.Workout.Remarks = []workout.Fact{workout.Say(heartrate.Rejected, workout.Args{"seconds": 7})}
	r.Measured.Drift.Why = workout.Facts{{Code: physiology.LoadNotKnown}}
	r.Measured.Check = &physiology.Check{Basis: physiology.Basis{Why: workout.Facts{heartrate.TooLittle(math.Sqrt2 / 2)}}}
	r.Aside = record.SetAside(record.Excluded, "worn by her brother")
	b, err := json.Marshal(reasons.WriteRecording(r))
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"text":"7 s of implausible heart rate were removed"`, `"why":"without speed or power, nothing shows that the load was steady"`,
		`"why":"heart rate was recorded for only 71 % of the time`, `"aside":"excluded: worn by her brother"`, `"code":"excluded"`} {
		if !strings.Contains(string(b), want) {
			t.Errorf("%s is not in %s", want, b)
		}
	}
	if r.Workout.Remarks[0].Text != "" || r.Measured.Check.Clause != "" {
		t.Errorf("writing changed the recording: %+v", r)
	}
}
