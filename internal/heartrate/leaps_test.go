package heartrate_test

import (
	"math"
	"slices"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/simulate"
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

// shifted lets heart rate come so many seconds later.
func shifted(w workout.Workout, by float64) workout.Workout {
	var c workout.Channel
	for i, at := range w.HeartRate.T {
		if k := at + by; k >= 0 && k < float64(w.Seconds) {
			c.Add(k, w.HeartRate.V[i])
		}
	}
	w.HeartRate = c
	return w
}

// leapSeconds is how long heart rate leaps.
func leapSeconds(s heartrate.Series) (n int) {
	for _, f := range s.Faults {
		if f.Kind == heartrate.EvenLeap {
			n += f.Seconds()
		}
	}
	return n
}

// withLoad says whether a recording shows what heart rate follows, for long.
func (r realSeries) withLoad() bool {
	return (r.w.Sport.Mode() == workout.Run && r.w.Speed.Len() > 0 || r.w.Power.Len() > 0) && r.w.Seconds >= 1800 && r.s.Grade.UseZones && r.w.BeatHeartRate.Len() == 0
}

// moduleFiles are the recordings of two modules of the build.
func moduleFiles(t *testing.T) []realSeries {
	return append(moduleWorkouts(t, "github.com/tormoder/fit"), moduleWorkouts(t, "github.com/muktihari/fit")...)
}

// TestLeapsAgainstTheLoad lifts or lowers the heart rate of real runs and rides by 30 to 45 bpm for 8 to 19 min
// while speed, power and cadence stay what they were. What leaps for so long is good for nothing, and
// the trainer sees it. The method was made on these; on the next test's it was not.
func TestLeapsAgainstTheLoad(t *testing.T) {
	found, all := 0, 0
	for _, r := range realWorkouts(t, outside.Data(t)) {
		if !r.withLoad() || r.w.Seconds < 2400 {
			continue
		}
		for _, c := range []struct {
			from, seconds, ramp int
			by                  float64
		}{{900, 1140, 12, 45}, {1000, 480, 3, 40}, {800, 900, 25, 45}, {1200, 700, 8, -40}} {
			s := heartrate.Clean(lifted(r.w, c.from, c.from+c.seconds, c.ramp, c.by))
			all++
			seconds := leapSeconds(s)
			told := slices.ContainsFunc(s.Remarks, func(m workout.Fact) bool { return m.Code == workout.Code(heartrate.EvenLeap) })
			if seconds > 0 && !told {
				t.Errorf("%s: %d s leap and no remark", r.name, seconds)
			}
			found += min(1, seconds)
			if g := s.Grade; (10*seconds > r.w.Seconds) == (g.UseZones || s.Usable()) || seconds > 0 && (g.UseDrift || g.UseRecovery || g.UsePeaks) {
				t.Errorf("%s: %d of %d s leap, usable %v, grade %+v", r.name, seconds, r.w.Seconds, s.Usable(), g)
			}
		}
	}
	t.Logf("%d of %d found; in the others the load changes as if it were the reason", found, all)
	if found < 82 || all != 96 {
		t.Errorf("only %d of %d found", found, all)
	}
}

// TestLeapsInOtherRecordings lifts and lowers those of the modules in other places, by other amounts.
func TestLeapsInOtherRecordings(t *testing.T) {
	found, all := 0, 0
	for _, r := range moduleFiles(t) {
		if !r.withLoad() {
			continue
		}
		for _, c := range []struct {
			from, part, ramp int
			by               float64
		}{{25, 20, 5, 38}, {40, 30, 18, -42}, {55, 25, 10, 50}, {30, 12, 8, -35}} {
			all++
			s := heartrate.Clean(lifted(r.w, r.w.Seconds*c.from/100, r.w.Seconds*(c.from+c.part)/100, c.ramp, c.by))
			found += min(1, leapSeconds(s))
		}
	}
	t.Logf("%d of %d found", found, all)
	if found < 30 || all != 44 {
		t.Errorf("only %d of %d found", found, all)
	}
}

// TestNoLeapWhereTheLoadIsTheReason: neither a sensor that answers 10 s sooner or later makes a leap of a real
// recording, nor bouts on a body that follows the load within 20 s or within 90 s.
func TestNoLeapWhereTheLoadIsTheReason(t *testing.T) {
	n := 0
	for _, r := range append(realWorkouts(t, outside.Data(t)), moduleFiles(t)...) {
		if !r.withLoad() || leapSeconds(r.s) > 0 {
			continue
		}
		for _, by := range []float64{-10, 10} {
			n++
			if seconds := leapSeconds(heartrate.Clean(shifted(r.w, by))); seconds > 0 {
				t.Errorf("%s, %.0f s later: %d s leap", r.name, by, seconds)
			}
		}
	}
	if n < 60 {
		t.Errorf("only %d recordings", n)
	}
	for seed := range uint64(12) {
		for _, mode := range []workout.Mode{workout.Run, workout.Bike, workout.Row, workout.Walk} {
			p := workout.Plan{Mode: mode, Steps: []workout.Step{{Kind: workout.WarmUp, Seconds: 420, Low: 95, High: 105}}}
			for range 5 {
				p.Steps = append(p.Steps, workout.Step{Kind: workout.Work, Seconds: 60 + 30*int(seed%5), Low: 160, High: 170}, workout.Step{Kind: workout.Recovery, Seconds: 90, Low: 95, High: 105})
			}
			body := simulate.Beginner(65, 185)
			body.Rise = []float64{20, 34, 57.6, 90}[seed%4]
			w, _ := simulate.Play(p, body, simulate.Options{Seed: seed, Tail: 180, Still: seed%2 == 0, Sensor: workout.Strap})
			if seconds := leapSeconds(heartrate.Clean(w)); seconds > 0 {
				t.Errorf("%s %d: %d s leap", mode, seed, seconds)
			}
		}
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
