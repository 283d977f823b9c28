package coach_test

import (
	"context"
	"fmt"
	"math"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/outside"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// TestALeapingSensorIsNamedFirst takes three real runs as the sessions of four weeks, once as recorded and once
// with a heart rate that is 45 bpm higher for 19 min while the pace stays as it was.
func TestALeapingSensorIsNamedFirst(t *testing.T) {
	ctx := context.Background()
	var runs []workout.Workout
	for _, name := range []string{"fit/run-1s-laps-01.fit", "fit/run-56min-steady-01.fit", "tcx/run-laps-irregular-01.tcx"} {
		_, w := outside.Recorded(t, name)
		runs = append(runs, w)
	}
	for _, leaps := range []bool{false, true} {
		c := open(t)
		who := record.Client{
			Name: "Fenja", Born: day("1988-03-02"), Sex: "female", Stage: 1, Since: day("2026-08-31"), State: record.Active,
			Modes: []workout.Mode{workout.Run}, Zones: []record.ZoneSet{{HRMax: map[workout.Mode]float64{"": 195}}},
			Screening: record.Screening{On: day("2026-08-30"), Active: true, Disease: "none"},
		}
		if err := c.AddClient(ctx, who, who.Since); err != nil {
			t.Fatal(err)
		}
		for i := range 12 {
			on := who.Since + workout.Date(7*(i/3)+2*(i%3))
			w := runs[i%3]
			w.Start = on.Time().Add(7 * time.Hour)
			if leaps {
				w.HeartRate = leaping(w.HeartRate)
			}
			for _, r := range receive(t, c, coach.Intake{Client: "Fenja", On: on, Sensor: workout.Wrist}, fmt.Sprintf("%d.tcx", i), encode(t, "tcx", w)) {
				if r.Status != coach.Entered {
					t.Fatalf("session %d: %s", i, r.Status)
				}
			}
		}
		a, err := c.Assess(ctx, "Fenja", who.Since+27, false)
		if err != nil {
			t.Fatal(err)
		}
		if said := len(a.Summary) > 1 && a.Summary[1].Code == progression.SensorDoubted; said != leaps {
			t.Errorf("leaps %v: the verdict begins %v", leaps, a.Summary)
		}
	}
}

// leaping raises the heart rate by 45 bpm between minutes 15 and 34, within 12 s on either side.
func leaping(from workout.Channel) workout.Channel {
	var c workout.Channel
	for i, at := range from.T {
		up := math.Max(0, math.Min(1, math.Min((at-900)/12, (2040-at)/12)))
		c.Add(at, math.Round(from.V[i]+45*up))
	}
	return c
}
