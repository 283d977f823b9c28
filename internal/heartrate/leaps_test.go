package heartrate_test

import (
	"math"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/workout"
)

// lifted changes heart rate by so many bpm between two seconds, going there and back within some seconds.
func lifted(w workout.Workout, from, to, ramp int, by float64) workout.Workout {
	var c workout.Channel
	for i, at := range w.HeartRate.T {
		share := math.Min(math.Min(1, math.Max(0, (at-float64(from))/float64(ramp))), math.Max(0, (float64(to)-at)/float64(ramp)))
		c.Add(at, math.Round(w.HeartRate.V[i]+by*math.Min(1, share)))
	}
	w.HeartRate = c
	return w
}

// TestLeapsAtEvenLoad lifts or lowers the heart rate of real runs and rides by 30 to 45 bpm for 8 to 19 min
// while speed, power and cadence stay what they were. What leaps for so long is good for nothing, and
// the trainer sees it.
func TestLeapsAtEvenLoad(t *testing.T) {
	found, all := 0, 0
	for _, r := range realWorkouts(t, outside.Data(t)) {
		even := r.w.Sport.Mode() == workout.Run && r.w.Speed.Len() > 0 || r.w.Power.Len() > 0
		if !even || r.w.Seconds < 2400 || !r.s.Grade.UseZones || r.w.BeatHeartRate.Len() > 0 {
			continue
		}
		for _, c := range []struct {
			from, seconds, ramp int
			by                  float64
		}{{900, 1140, 12, 45}, {1000, 480, 3, 40}, {800, 900, 25, 45}, {1200, 700, 8, -40}} {
			s := heartrate.Clean(lifted(r.w, c.from, c.from+c.seconds, c.ramp, c.by))
			all++
			seconds := 0
			for _, f := range s.Faults {
				if f.Kind == heartrate.EvenLeap {
					seconds += f.Seconds()
				}
			}
			told := false
			for _, m := range s.Remarks {
				told = told || m.Code == workout.Code(heartrate.EvenLeap)
			}
			if seconds > 0 && !told {
				t.Errorf("%s: %d s leap and no remark", r.name, seconds)
			}
			if seconds > 0 {
				found++
			}
			if g := s.Grade; (10*seconds > r.w.Seconds) == (g.UseZones || s.Usable()) || seconds > 0 && (g.UseDrift || g.UseRecovery || g.UsePeaks) {
				t.Errorf("%s: %d of %d s leap, usable %v, grade %+v", r.name, seconds, r.w.Seconds, s.Usable(), g)
			}
		}
	}
	t.Logf("%d of %d found; in the others load goes up and down around the leap", found, all)
	if 2*found < all {
		t.Errorf("only %d of %d found", found, all)
	}
}

// TestDryStartEndsWithItsLastSpike: a device that leaves seconds out all the time has losses in every window; the
// spikes of a dry strap end at 150 s in a real run, and the smooth heart rate after them stays.
func TestDryStartEndsWithItsLastSpike(t *testing.T) {
	for _, r := range realWorkouts(t, outside.Data(t)) {
		if r.name != "run-56min-steady-01.fit" {
			continue
		}
		var c workout.Channel
		for i, at := range r.w.HeartRate.T {
			k := int(at)
			switch {
			case k%4 == 3: // left out
			case k < 150 && k%9 < 2:
				c.Add(at, r.w.HeartRate.V[i]+50)
			default:
				c.Add(at, r.w.HeartRate.V[i])
			}
		}
		r.w.HeartRate = c
		s := heartrate.Clean(r.w)
		end := 0
		for _, f := range s.Faults {
			if f.Kind == heartrate.DryStart {
				end = max(end, f.To)
			}
		}
		if end < 120 || end > 165 {
			t.Errorf("the dry start ends at %d s, want about 150: %v", end, s.Faults)
		}
		return
	}
	t.Fatal("run-56min-steady-01.fit was not read")
}
