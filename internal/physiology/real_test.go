package physiology_test

import (
	"encoding/json"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// TestMeasureRealRecordings takes every measurement of every recording at hand. The figures in the
// log are for people; what must hold for each is checked.
func TestMeasureRealRecordings(t *testing.T) {
	dirs := []string{outside.Data(t), outside.Module(t, "github.com/muktihari/fit"), outside.Module(t, "github.com/tormoder/fit")}
	workouts, withHeart, drift, fall := 0, 0, 0, 0
	t.Logf("%-44s %-8s %6s %5s %5s %5s %4s %5s %-5s %s", "file", "sport", "s", "cover", "mean", "peak", "out", "gap", "drift", "60-s falls")
	for _, dir := range dirs {
		outside.Workouts(t, dir, physiology.OneIn(), func(name string, w workout.Workout) {
			s := heartrate.Clean(w)
			m := physiology.Measure(s, w, knownBody(), false)
			workouts++
			falls := 0
			for _, r := range m.Recoveries {
				falls += count(r.Drop60 != nil)
			}
			if m.HeartRate.Usable {
				withHeart++
				drift += count(m.Drift.Enough)
				fall += count(falls > 0)
				t.Logf("%-44s %-8s %6d %5.3f %5.1f %5.1f %4d %5d %-5v %d of %d", name, w.Sport, w.Seconds, orZero(m.HeartRate.Coverage),
					orZero(m.HeartRate.Mean), orZero(m.HeartRate.Peak), m.HeartRate.Rejected, m.HeartRate.Gap, m.Drift.Enough, falls, len(m.Recoveries))
			}
			holds(t, name, w.Seconds, m)
		})
	}
	t.Logf("%d workouts, %d with heart rate: drift in %d, a drop in 60 s in %d", workouts, withHeart, drift, fall)
	if withHeart < 60/physiology.OneIn() {
		t.Errorf("only %d workouts with heart rate were found", withHeart)
	}
}

// holds checks what is true of the measurements of any workout.
func holds(t *testing.T, name string, seconds int, m physiology.Measurements) {
	t.Helper()
	if m.Zones.Sum() != seconds || m.HeartRate.Elapsed != seconds {
		t.Errorf("%s: zones add up to %d s, elapsed %d s, of %d s", name, m.Zones.Sum(), m.HeartRate.Elapsed, seconds)
	}
	if got := m.PerBPM.Total(); got != seconds-m.Zones.Paused-m.Zones.NotRecorded {
		t.Errorf("%s: %d s by beat", name, got)
	}
	at := 0
	for _, p := range m.Phases {
		if p.From != at || p.To <= p.From {
			t.Errorf("%s: phases do not cover the workout at %d s", name, at)
		}
		at = p.To
	}
	if at != seconds && len(m.Phases) > 0 {
		t.Errorf("%s: phases end at %d s of %d s", name, at, seconds)
	}
	if h := m.HeartRate; h.Mean != nil && h.Peak != nil && (*h.Min > *h.Mean || *h.Peak < *h.Min || *h.Peak > heartrate.Highest) {
		t.Errorf("%s: min %v, mean %v, peak %v", name, *h.Min, *h.Mean, *h.Peak)
	}
	for _, r := range m.Recoveries {
		if r.Drop60 != nil && (r.At60 == nil || r.End == nil || *r.Drop60 <= 0 || *r.Drop60Low > *r.Drop60 || *r.Drop60High < *r.Drop60) || r.Drop60 == nil && r.Basis.Enough {
			t.Errorf("%s: recovery at %d s has a fall without its values, or none above 0", name, r.Stop)
		}
	}
	if m.Drift.Enough != (len(m.Drift.Why) == 0) {
		t.Errorf("%s: drift %+v neither a number nor a reason", name, m.Drift)
	}
	if _, err := json.Marshal(m); err != nil {
		t.Errorf("%s: %v", name, err)
	}
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}

func orZero(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}
