package coach_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/fieldtest"
	"nextrung/internal/physiology"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// filed plays a plan and writes it as a file of the format.
func filed(t *testing.T, format string, plan workout.Plan, o simulate.Options) ([]byte, simulate.Truth) {
	t.Helper()
	o.Start = time.Date(2026, 9, 7, 6, 0, 0, 0, time.UTC)
	w, truth := simulate.Play(plan, simulate.Beginner(64, 182), o)
	b, err := recording.Encode(format, w)
	if err != nil {
		t.Fatal(err)
	}
	return b, truth
}

// only is the one workout of a file.
func only(t *testing.T, in []coach.Inspection) coach.Inspected {
	t.Helper()
	if len(in) != 1 || in[0].Error != "" || len(in[0].Workouts) != 1 {
		t.Fatalf("%+v", in)
	}
	return in[0].Workouts[0]
}

// 25 min at one load are a check session: inspect shows its rise and the heart rate at that effort.
func TestInspectShowsACheckSession(t *testing.T) {
	plan := workout.Plan{Mode: workout.Bike, Steps: []workout.Step{{Kind: workout.Steady, Seconds: 1500, Low: 118, High: 122}}}
	b, truth := filed(t, "fit", plan, simulate.Options{})
	mean := func(from, to int) float64 {
		sum := 0.0
		for _, v := range truth.BPM[from:to] {
			sum += v
		}
		return sum / float64(to-from)
	}
	w := only(t, coach.Asked{}.Inspect("check.fit", b, physiology.Body{}))
	c, e := w.Check, w.SameEffort
	if c == nil || !c.Assessable || c.Rise == nil || math.Abs(*c.Rise-(mean(1200, 1500)-mean(480, 720))) > 0.5 {
		t.Errorf("check %+v", c)
	}
	if e == nil || !e.Assessable || math.Abs(*e.Mean-mean(300, 900)) > 0.5 || math.Abs(*e.Load-truth.Steps[0].Load) > 2 || e.Unit != "W" {
		t.Errorf("same effort %+v", e)
	}
	plan.Steps[0].Seconds = 600
	b, _ = filed(t, "fit", plan, simulate.Options{})
	if w := only(t, coach.Asked{}.Inspect("short.fit", b, physiology.Body{})); w.Check != nil || w.FieldTest != nil || w.Energy != nil {
		t.Errorf("10 min: check %+v, field test %+v, energy %+v", w.Check, w.FieldTest, w.Energy)
	}
}

// A recorded step test through a file: heartbeats counted against those that the heart made.
func TestInspectReadsARecordedStepTest(t *testing.T) {
	plan := workout.Plan{Mode: workout.OtherMode, Steps: []workout.Step{
		{Kind: workout.OtherPart, Seconds: 30, Low: 1, High: 1}, {Kind: workout.Work, Seconds: 180, Low: 140, High: 150}}}
	for _, format := range []string{"fit", "tcx", "csv"} {
		b, truth := filed(t, format, plan, simulate.Options{Tail: 120, Still: true, Sensor: workout.Strap})
		want := 0.0
		for _, v := range truth.BPM[215:275] {
			want += v / 60
		}
		w := only(t, coach.Asked{Step: &fieldtest.Step{BenchCM: 30}}.Inspect("step."+format, b, physiology.Body{Age: 41, Sex: physiology.Male}))
		f := w.FieldTest
		if f == nil || !f.Enough || math.Abs(f.Figures[0].Value-want) > 1 || f.Rating == "" {
			t.Fatalf("%s: %+v, want %.1f beats", format, f, want)
		}
		out, err := json.Marshal(w)
		if err != nil || !strings.Contains(string(out), `"field_test":{"protocol":"step-test","assessable":true`) {
			t.Errorf("%s: %s, %v", format, out, err)
		}
	}
}

// A recorded mile, and the energy of it for who may have one.
func TestInspectReadsARecordedMile(t *testing.T) {
	plan := workout.Plan{Mode: workout.Walk, Steps: []workout.Step{{Kind: workout.Steady, Seconds: 894, Low: 130, High: 130}}}
	b, _ := filed(t, "tcx", plan, simulate.Options{Hold: 1.8, Tail: 60, Still: true})
	asked := coach.Asked{Walk: &fieldtest.Walk{MassKG: 70}, Energy: true, MassKG: 70}
	w := only(t, asked.Inspect("mile.tcx", b, physiology.Body{Age: 40, Sex: physiology.Female}))
	if w.FieldTest == nil || !w.FieldTest.Enough || w.Energy == nil || w.Energy.Low == nil || *w.Energy.High <= *w.Energy.Low {
		t.Errorf("field test %+v, energy %+v", w.FieldTest, w.Energy)
	}
	w = only(t, asked.Inspect("mile.tcx", b, physiology.Body{Age: 52, Sex: physiology.Female}))
	if w.Energy == nil || w.Energy.Low != nil || !strings.Contains(w.Energy.Basis, "18 to 45") {
		t.Errorf("energy at 52 years: %+v", w.Energy)
	}
}
