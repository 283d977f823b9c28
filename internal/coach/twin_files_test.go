package coach_test

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// realData is the folder of real recordings, for tests that see the package from outside.
// The same activity, exported in two formats by people we do not know, spends the same seconds in
// each zone: the difference is at most 1 % of the time.
func TestTwinsInTwoFormatsAgreeOnZoneSeconds(t *testing.T) {
	folder := outside.Data(t)
	body := physiology.Body{Fixed: map[workout.Mode][4]float64{"": {95, 118.5, 142, 160}}}
	one := func(name string) coach.Inspected {
		b, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		in := coach.Asked{}.Inspect(name, b, body)
		if len(in) != 1 || len(in[0].Workouts) != 1 || in[0].Workouts[0].Zones == nil {
			t.Fatalf("%s: %+v", name, in)
		}
		return in[0].Workouts[0]
	}
	for _, pair := range []struct {
		a, b string
		// slack is the seconds that may differ more, since CSV and GPX do not show the pause of the FIT
		// file: without it a gap is bridged that the pause divides.
		slack float64
	}{
		{"tcx/ride-power-recovery-01.tcx", "gpx/ride-power-recovery-01.gpx", 0},
		{"fit/run-laps-compressed-tail-01.fit", "csv/run-compressed-records-01.csv", 0},
		{"fit/run-short-hrv-01.fit", "csv/run-short-records-01.csv", 5},
		{"fit/run-tiny-no-gps-01.fit", "gpx/run-tiny-pair-01.gpx", 1},
	} {
		t.Run(filepath.Base(pair.a), func(t *testing.T) {
			a, b := one(pair.a), one(pair.b)
			t.Logf("%+v", a.Zones.ZoneTime)
			t.Logf("%+v", b.Zones.ZoneTime)
			tolerance := 0.01*float64(a.Elapsed) + pair.slack
			x := []int{a.Zones.Under, a.Zones.Zone1, a.Zones.Zone2, a.Zones.Zone3, a.Zones.Over}
			y := []int{b.Zones.Under, b.Zones.Zone1, b.Zones.Zone2, b.Zones.Zone3, b.Zones.Over}
			for i := range x {
				if d := math.Abs(float64(x[i] - y[i])); d > tolerance {
					t.Errorf("zone %d: %d and %d s", i, x[i], y[i])
				}
			}
			if a.Zones.Sum() != a.Elapsed || b.Zones.Sum() != b.Elapsed {
				t.Error("zones do not add up to the elapsed time")
			}
		})
	}
}
