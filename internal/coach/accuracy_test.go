package coach_test

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/workout"
)

var update = flag.Bool("update", false, "write the table of DEVELOPERS.md anew")

const (
	notes                        = "../../DEVELOPERS.md"
	accuracyBegin, accuracyAfter = "<!-- accuracy -->\n", "<!-- /accuracy -->"
)

// anyEdges are borders of zones for recordings of people we know nothing of.
var anyEdges = [4]float64{95, 118.5, 142, 160}

var anybody = physiology.Body{Fixed: map[workout.Mode][4]float64{"": anyEdges}}

// TestAccuracyTableResearch computes for each measurement how far off it is and in how many sessions it can
// be made, and holds the table in DEVELOPERS.md to that. Accept an intended change with -update.
func TestAccuracyTableResearch(t *testing.T) {
	research(t)
	folder := outside.Data(t)
	played, outside := onPlayed(), againstOthers(t, folder)
	recorded, demo := realMeasured(t, folder), demoMeasured(t)
	var b strings.Builder
	b.WriteString("| measure | error on played sessions | against recordings and figures that others made | real recordings | demo |\n|---|---|---|---|---|\n")
	for _, r := range accuracyRows() {
		tells := func(all []taken) string {
			told, among := r.tally(all)
			out := fmt.Sprintf("%d of %d", told, len(all))
			if r.of != "" {
				out += "; " + fmt.Sprintf(r.of, among)
			}
			return out
		}
		row := tells(recorded)
		if told, _ := r.tally(recorded); 2*told < len(recorded) {
			row += "; " + r.standing(t) + ": " + r.rare
		}
		cell := played.text(r.name)
		if cell == "" {
			t.Errorf("%s: nothing was found on played sessions", r.name)
		}
		others := outside.text(r.name)
		if others == "" {
			others = "none found"
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", r.name, cell, others, row, tells(demo))
	}
	text, err := os.ReadFile(notes)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(text), accuracyBegin)
	now, after, ok2 := strings.Cut(rest, accuracyAfter)
	if !ok || !ok2 {
		t.Fatalf("%s has no lines %q and %q", notes, accuracyBegin, accuracyAfter)
	}
	switch {
	case *update:
		if err := os.WriteFile(notes, []byte(before+accuracyBegin+b.String()+accuracyAfter+after), 0o644); err != nil {
			t.Fatal(err)
		}
	case now != b.String():
		t.Errorf("the table has changed; if that is right, accept it with: go test ./internal/coach -run TestAccuracyTable -update\n%s", b.String())
	}
}

// accuracyRow is one measure: told says whether a workout gives it, asked whether it belongs to those
// that could, counted by the clause of ("" for all). rare says why it is found in fewer than half of the real recordings.
type accuracyRow struct {
	name  string
	told  func(taken) bool
	of    string
	asked func(taken) bool
	rare  string
	// rule is the policy's rule that rests on the measure, "" for none; kept says why a measure that few
	// recordings show decides all the same.
	rule, kept string
}

// standing says what a measure that few real recordings show may decide: nothing, unless the row says
// what was done about it.
func (r accuracyRow) standing(t *testing.T) string {
	switch {
	case r.rule == "":
		return "**informative**, no rule rests on it"
	case policy.Default().Rule(policy.ID(r.rule)).Kind == policy.Informative:
		return "**informative**"
	case r.kept == "":
		t.Errorf("%s: found in fewer than half of the real recordings, and the rule %q decides by it", r.name, r.rule)
	}
	return "**" + r.kept + "**"
}

func (r accuracyRow) tally(all []taken) (told, asked int) {
	for _, x := range all {
		if r.told(x) {
			told++
		}
		if r.asked != nil && r.asked(x) {
			asked++
		}
	}
	return told, asked
}

// taken is one workout with what was measured in it.
type taken struct {
	s heartrate.Series
	w workout.Workout
	m physiology.Measurements
}

func takenFrom(w workout.Workout) taken {
	s := heartrate.Clean(w)
	return taken{s, w, physiology.Measure(s, w, anybody, false)}
}

// aFall says whether any fall that is good enough to judge by holds a value.
func aFall(value func(physiology.Recovery) *float64) func(taken) bool {
	return func(x taken) bool {
		return slices.ContainsFunc(x.m.Recoveries, func(r physiology.Recovery) bool { return r.Basis.Enough && value(r) != nil })
	}
}

// followed says whether a recording goes on for so many seconds, at most 120, after some stop before the
// next effort.
func followed(seconds int) func(taken) bool {
	return func(x taken) bool {
		return slices.ContainsFunc(x.m.Recoveries, func(r physiology.Recovery) bool {
			return min(r.Basis.To, x.m.HeartRate.Elapsed)-r.Stop >= seconds-2
		})
	}
}

func loaded(seconds int) func(taken) bool {
	return func(x taken) bool {
		return x.m.HeartRate.Elapsed >= seconds && (x.m.Effort == "power" || x.m.Effort == "speed")
	}
}

func drop60(r physiology.Recovery) *float64  { return r.Drop60 }
func drop120(r physiology.Recovery) *float64 { return r.Drop120 }
func tauOf(r physiology.Recovery) *float64   { return r.Tau }
func t30Of(r physiology.Recovery) *float64   { return r.T30 }

func accuracyRows() []accuracyRow {
	const atStop = "most recordings end at the stop or the next effort follows at once"
	bouts := func(x taken) bool { return len(x.m.Bouts) > 0 }
	usable := func(x taken) bool { return x.m.HeartRate.Usable }
	return []accuracyRow{
		{"time in zone", func(x taken) bool { return x.m.Zones != nil && x.s.Grade.UseZones }, "", nil, "heart rate is missing for too long", "", ""},
		{"mean heart rate", usable, "", nil, "heart rate is missing for too long", "", ""},
		{"peak heart rate", func(x taken) bool { return usable(x) && x.s.Grade.UsePeaks }, "", nil, "the sensor does not allow it", "", ""},
		{"drop in 60 s", aFall(drop60), "%d go on for 60 s after a stop", followed(60), atStop, "fall", ""},
		{"drop in 120 s", aFall(drop120), "%d go on for 120 s after a stop", followed(120), atStop, "", ""},
		{"tau of recovery", aFall(tauOf), "%d go on for 120 s after a stop", followed(120), atStop, "", ""},
		{"T30", aFall(t30Of), "%d go on for 30 s after a stop", followed(30), atStop, "", ""},
		{"drift slope", func(x taken) bool { return x.m.Drift.Enough }, "%d are of 35 min and more with a load", loaded(2100),
			"few hold one even load for 20 min after the tenth minute", "steady", "redesigned: a robust slope over any steady part"},
		{"same-effort heart rate", func(x taken) bool { return x.m.SameEffort != nil && x.m.SameEffort.Enough }, "%d are of 15 min and more with a load", loaded(900),
			"without speed or power, or with it going up and down in minutes 5 to 15, there is no load to compare at", "same-effort", "redesigned: moved to one load along its own slope"},
		{"check session rise", func(x taken) bool { return x.m.Check != nil && x.m.Check.Enough }, "%d have the shape of a check session",
			func(x taken) bool { return x.m.Check != nil }, "only a session done for it has its shape", "check-session", "prescribed where the heart rate has shown nothing"},
		{"onset tau", func(x taken) bool {
			return slices.ContainsFunc(x.m.Onsets, func(o physiology.Onset) bool { return o.Tau != nil })
		}, "%d have bouts of 2 min and more", func(x taken) bool { return len(x.m.Onsets) > 0 }, "most sessions have no bouts of 2 min", "", ""},
		{"bout edges", bouts, "", nil, "most sessions have no bouts, and then none is found", "interval-sessions", "found in nearly every session that has bouts"},
		{"sensor faults", func(x taken) bool { return len(x.s.BPM) > 0 }, "faults found in %d", func(x taken) bool { return len(x.s.Faults) > 0 }, "", "", ""},
	}
}

// realMeasured takes the measurements of every real recording of a minute and more with heart rate, those
// in the folder and those that two modules of the build keep for their own tests, each once: several files
// hold one recording.
func realMeasured(t *testing.T, folder string) []taken {
	t.Helper()
	var all []taken
	seen := map[string]bool{}
	for _, dir := range []string{folder, outside.Module(t, "github.com/muktihari/fit"), outside.Module(t, "github.com/tormoder/fit")} {
		outside.Workouts(t, dir, 1, func(_ string, w workout.Workout) {
			x := takenFrom(w)
			if x.m.HeartRate.Mean == nil || w.Seconds < 60 {
				return
			}
			key := fmt.Sprintf("%s %.0f", w.Start, *x.m.HeartRate.Mean)
			if !seen[key] {
				seen[key] = true
				all = append(all, x)
			}
		})
	}
	return all
}

// demoMeasured gives the recorded sessions of the demo as its book holds them.
func demoMeasured(t *testing.T) []taken {
	t.Helper()
	ctx := context.Background()
	c, standings := sharedDemo(t)
	var all []taken
	for _, st := range standings {
		for _, r := range st.Record.Recordings {
			if !r.Counts() || r.Measured.HeartRate.Mean == nil {
				continue
			}
			s, err := coach.SeriesOf(ctx, c, r.ID)
			if err != nil {
				t.Fatal(err)
			}
			all = append(all, taken{s, r.Workout, r.Measured})
		}
	}
	return all
}

// errorsBy collects by measure how far off it was, by how that was found, and what stands beside the figures.
type errorsBy struct {
	order map[string][]string
	off   map[string][]float64 // by measure and heading
	unit  map[string]string
	all   map[string]int // cases of which those in off were found
	plain map[string][]string
}

func newErrors() *errorsBy {
	return &errorsBy{map[string][]string{}, map[string][]float64{}, map[string]string{}, map[string]int{}, map[string][]string{}}
}

// miss notes that there was a case; add that it was found, so far off.
func (e *errorsBy) miss(measure, heading, unit string) {
	key := measure + "|" + heading
	if e.all[key] == 0 {
		e.order[measure], e.unit[key] = append(e.order[measure], heading), unit
	}
	e.all[key]++
}

func (e *errorsBy) add(measure, heading, unit string, off float64) {
	e.miss(measure, heading, unit)
	key := measure + "|" + heading
	e.off[key] = append(e.off[key], math.Abs(off))
}

func (e *errorsBy) say(measure, text string) { e.plain[measure] = append(e.plain[measure], text) }

func (e *errorsBy) text(measure string) string {
	var out []string
	for _, h := range e.order[measure] {
		key := measure + "|" + h
		head := h
		if head != "" {
			head += ": "
		}
		out = append(out, head+spreadOf(e.off[key], e.unit[key], e.all[key]))
	}
	return strings.Join(append(out, e.plain[measure]...), "; ")
}

// spreadOf is the median and the 95th percentile, or the largest of fewer than ten.
func spreadOf(v []float64, unit string, all int) string {
	if len(v) == 0 {
		return fmt.Sprintf("found in none of %d", all)
	}
	slices.Sort(v)
	if all == 1 {
		return fmt.Sprintf("%.1f %s (n = 1)", v[0], unit)
	}
	n := strconv.Itoa(len(v))
	if all > len(v) {
		n += fmt.Sprintf(" of %d", all)
	}
	median := (v[(len(v)-1)/2] + v[len(v)/2]) / 2
	high, what := v[(95*len(v)+99)/100-1], "95 % within"
	if len(v) < 10 {
		high, what = v[len(v)-1], "at most"
	}
	return fmt.Sprintf("median %.1f, %s %.1f %s (n = %s)", median, what, high, unit, n)
}

// number is a cell, NaN for "" and "NA".
func number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}
