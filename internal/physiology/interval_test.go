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

// TestTauIntervalHoldsTheTruth: the 90 % interval of the time constant holds the one that was put in 85 to
// 95 of 100 falls, whatever the noise is like from second to second: independent or alike, rounded to
// whole beats as devices write them.
func TestTauIntervalHoldsTheTruth(t *testing.T) {
	physiology.Research(t, "fits some thousand falls")
	const draws = 600
	for _, c := range []struct {
		name              string
		tau, seconds, rho float64
		every             int
	}{
		{"independent", 50, 300, 0, 1},
		{"a little alike", 50, 300, 0.5, 1},
		{"alike", 50, 300, 0.8, 1},
		{"alike, recorded for 180 s", 50, 180, 0.8, 1},
		{"alike, slow", 90, 300, 0.8, 1},
		{"alike, fast", 25, 240, 0.8, 1},
		{"very alike", 50, 300, 0.9, 1},
		{"a reading every 5 s", 60, 300, 0.3, 5},
	} {
		held, wide := 0, 0.0
		for i := range draws {
			rng := rand.New(rand.NewPCG(uint64(i), 7))
			var at, hr []float64
			noise := rng.NormFloat64()
			for k := 0; k <= int(c.seconds); k += c.every {
				at = append(at, float64(k))
				hr = append(hr, math.Round(95+55*math.Exp(-float64(k)/c.tau)+noise))
				noise = c.rho*noise + math.Sqrt(1-c.rho*c.rho)*rng.NormFloat64()
			}
			e, ok := physiology.FitRecovery(at, hr)
			if !ok {
				continue
			}
			held += count(e.Low <= c.tau && c.tau <= e.High)
			wide += (e.High - e.Low) / draws
		}
		share := float64(held) / draws
		t.Logf("%-28s tau %3.0f s: held in %.3f, mean width %.1f s", c.name, c.tau, share, wide)
		if share < 0.85 || share > 0.95 {
			t.Errorf("%s: the interval holds the truth in %.3f of falls, want 0.85 to 0.95", c.name, share)
		}
	}
}

// TestTauIntervalOfPlayedFalls asks the same of whole sessions, from the recording to the measurement, on
// an invented body whose heart falls with one time constant.
func TestTauIntervalOfPlayedFalls(t *testing.T) {
	physiology.Research(t, "plays 900 sessions")
	const draws = 300
	for _, tail := range []int{180, 240, 300} {
		held, n, sum := 0, 0, 0.0
		for seed := range uint64(draws) {
			body := simulate.Beginner(65, 180)
			body.FastShare, body.Fast, body.FallDay, body.Drift = 1, 50.6, 0, 0
			plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{planned(workout.Steady, 600, 140, 150)}}
			w, _ := simulate.Play(plan, body, simulate.Options{Seed: seed, Tail: tail, Still: true})
			for _, r := range physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false).Recoveries {
				if r.Tau == nil || r.TauLow == nil {
					continue
				}
				n++
				sum += *r.Tau
				held += count(*r.TauLow <= 50.6 && 50.6 <= *r.TauHigh)
			}
		}
		share := float64(held) / float64(max(1, n))
		t.Logf("recorded for %d s: %d falls, mean tau %.1f s, held in %.3f", tail, n, sum/float64(n), share)
		if n < draws*9/10 || share < 0.85 || share > 0.95 {
			t.Errorf("recorded for %d s: the interval holds the truth in %.3f of %d falls", tail, share, n)
		}
	}
}
