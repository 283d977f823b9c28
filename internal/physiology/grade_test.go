package physiology_test

import (
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// What a series must not be used for is withheld with the reason: falls and peaks of a wrist sensor, and
// drift where much of the heart rate is faulty.
func TestMeasureHeedsTheGrade(t *testing.T) {
	plan := workout.Plan{Mode: workout.Bike, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, Low: 100, High: 104},
		{Kind: workout.Work, Seconds: 180, Low: 146, High: 150}, {Kind: workout.Recovery, Seconds: 180, Low: 98, High: 102},
		{Kind: workout.Work, Seconds: 180, Low: 146, High: 150}, {Kind: workout.Recovery, Seconds: 180, Low: 98, High: 102},
		{Kind: workout.Steady, Seconds: 2400, Low: 120, High: 124},
	}}
	lock := []simulate.Fault{{Kind: simulate.Lock, Span: workout.Span{From: 400, To: 900}}}
	for name, c := range map[string]struct {
		o                   simulate.Options
		falls, peaks, drift bool
		why                 workout.Code
	}{
		"strap":                {simulate.Options{Sensor: workout.Strap}, true, true, true, ""},
		"sensor unknown":       {simulate.Options{}, true, true, true, ""},
		"wrist":                {simulate.Options{Sensor: workout.Wrist}, false, false, true, heartrate.OnWrist},
		"strap, locked 8 min":  {simulate.Options{Sensor: workout.Strap, Faults: lock}, false, false, false, heartrate.Faulty},
		"strap, half a minute": {simulate.Options{Sensor: workout.Strap, Faults: []simulate.Fault{{Kind: simulate.Dropout, Span: workout.Span{From: 60, To: 90}}}}, true, true, true, ""},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Seed = 5
			w, _ := simulate.Play(plan, simulate.Beginner(64, 182), c.o)
			m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
			told := 0
			for _, r := range m.Recoveries {
				if r.Basis.Enough {
					told++
				} else if !saysCode(r.Basis.Why, c.why) {
					t.Errorf("fall at %d: %v, want the reason %q", r.Stop, r.Basis.Why, c.why)
				}
			}
			peaks := 0
			for _, b := range m.Bouts {
				peaks += count(b.Peak != nil)
			}
			if (told > 0) != c.falls || (peaks > 0) != c.peaks || m.Drift.Enough != c.drift {
				t.Errorf("falls %d, peaks %d, drift %v (%v)", told, peaks, m.Drift.Enough, m.Drift.Why)
			}
			if !m.Drift.Enough && (m.Drift.Slope != 0 || !saysCode(m.Drift.Why, c.why)) {
				t.Errorf("drift %+v", m.Drift)
			}
		})
	}
}
