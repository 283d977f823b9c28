package physiology_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// outing is a run of 50 min as the roads make it: what the body does differs from what speed says.
type outing struct {
	load   func(minute int) float64 // of the load, relative to an even one; the body does it
	shown  func(k int) float64      // of the speed, relative to the load; the recording shows it
	gps    float64                  // coefficient of variation of speed from positions, alike over 8 s
	wander float64                  // bpm, standard deviation of a slow unrest of heart rate, alike over 2 min
	breaks int                      // minutes of easy walking
}

// go plays the outing on an invented beginner and tells the true drift.
func (o outing) play(seed uint64) (workout.Workout, float64) {
	body := simulate.Beginner(65, 180)
	body.Drift = 0.4 * float64(seed%6) // 0 to 2 bpm per 10 min at half of the reserve
	rng := rand.New(rand.NewPCG(seed, 77))
	plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{planned(workout.Steady, 900, 125, 135)}}
	for minute := 15; minute < 50; minute++ {
		// 130 bpm is 53 bpm over this body's heart rate of standing.
		bpm := 130.0
		if o.load != nil {
			bpm += 53 * o.load(minute)
		}
		plan.Steps = append(plan.Steps, planned(workout.Steady, 60, bpm-5, bpm+5))
	}
	for range o.breaks {
		plan.Steps[2+rng.IntN(33)] = planned(workout.Recovery, 60, 0, 0)
	}
	w, truth := simulate.Play(plan, body, simulate.Options{Seed: seed, HeatC: 22})
	noise, slow := 0.0, 0.0
	for i := range w.Speed.V {
		noise = math.Exp(-1.0/8)*noise + math.Sqrt(1-math.Exp(-2.0/8))*o.gps*rng.NormFloat64()
		w.Speed.V[i] *= 1 + noise
		if o.shown != nil {
			w.Speed.V[i] *= 1 + o.shown(int(w.Speed.T[i]))
		}
	}
	for i := range w.HeartRate.V {
		slow = math.Exp(-1.0/120)*slow + math.Sqrt(1-math.Exp(-2.0/120))*o.wander*rng.NormFloat64()
		w.HeartRate.V[i] = math.Round(w.HeartRate.V[i] + slow)
	}
	return w, truth.Drift
}

func hills(k int) float64 {
	return 0.07*math.Sin(2*math.Pi*float64(k)/420) + 0.04*math.Sin(2*math.Pi*float64(k)/150)
}

// TestDriftOutdoors: on outings as roads make them the slope is unbiased where speed tells the load, and
// the 90 % interval holds the true drift in at least 85 % of what is told, however speed misleads.
func TestDriftOutdoors(t *testing.T) {
	if testing.Short() {
		t.Skip("plays some hundred outings")
	}
	const outings = 120
	for _, c := range []struct {
		name string
		outing
		told int     // at least
		bias float64 // at most
	}{
		{"machine", outing{}, 114, 0.1},
		{"speed from positions", outing{gps: 0.08}, 114, 0.1},
		{"slower unrest of heart rate", outing{gps: 0.08, wander: 3}, 60, 0.3},
		{"slow unrest of heart rate", outing{gps: 0.08, wander: 2}, 100, 0.2},
		{"hills at an even effort", outing{gps: 0.08, wander: 1, shown: hills}, 100, 0.3},
		{"hills at an even speed", outing{gps: 0.08, wander: 1, load: func(m int) float64 { return hills(60 * m) },
			shown: func(k int) float64 { return -hills(k / 60 * 60) }}, 100, 0.3},
		{"four walking breaks of a minute", outing{gps: 0.08, wander: 1, breaks: 4}, 100, 0.3},
		{"6 % quicker in the end", outing{gps: 0.08, wander: 1, load: func(m int) float64 { return 0.06 * float64(m-15) / 35 }}, 100, 1},
		{"a long climb at an even effort", outing{gps: 0.08, wander: 1, shown: func(k int) float64 { return -0.06 * float64(k) / 3000 }}, 100, 1},
	} {
		told, held, bias, width := 0, 0, 0.0, 0.0
		for seed := range uint64(outings) {
			w, truth := c.play(seed)
			s := heartrate.Clean(w)
			d := physiology.Measure(s, w, physiology.Body{}, false).Drift
			if !d.Enough {
				continue
			}
			told++
			bias += d.Slope - truth
			width += d.High - d.Low
			held += count(d.Low <= truth && truth <= d.High)
		}
		n := float64(told)
		t.Logf("%-32s told %3d of %d, bias %+.2f bpm per 10 min, interval %.1f wide, holds the truth in %.0f %%",
			c.name, told, outings, bias/n, width/n, 100*float64(held)/n)
		if told < c.told || math.Abs(bias/n) > c.bias || float64(held) < 0.85*n {
			t.Errorf("%s: told %d, bias %.2f, held %d", c.name, told, bias/n, held)
		}
	}
}
