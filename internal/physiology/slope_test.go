package physiology

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestSenSlope(t *testing.T) {
	at := func(n int) []float64 {
		x := make([]float64, n)
		for i := range x {
			x[i] = float64(i)
		}
		return x
	}
	// A series whose Newey-West error is a trap: Sen slope -0.8452 (worked from all 66 pairs).
	y := []float64{140, 140, 139, 139, 136, 134, 134, 135, 136, 134, 131, 130}
	slope, low, high, _ := senSlope(at(12), y, prior{})
	if math.Abs(slope+0.8452) > 5e-5 || low > slope || high < slope {
		t.Errorf("slope %.4f (%.3f to %.3f), want -0.8452 inside its interval", slope, low, high)
	}
	// EPA QA/G-9S p. 109: Sen slope 1.0 a step (computed from its data).
	if slope, _, _, _ = senSlope(at(11), []float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}, prior{}); slope != 1 {
		t.Errorf("slope %v, want 1", slope)
	}
	line := make([]float64, 40)
	for i := range line {
		line[i] = 100 + 0.3*float64(i)
	}
	line[7], line[8] = math.NaN(), math.NaN()
	if slope, low, high, ok := senSlope(at(40), line, prior{}); !ok || math.Abs(slope-0.3) > 1e-9 || math.Abs(high-low) > 1e-9 {
		t.Errorf("a line: %v (%v to %v) %v", slope, low, high, ok)
	}
	if _, _, _, ok := senSlope(at(3), []float64{1, 2, 3}, prior{}); ok {
		t.Error("three points: told")
	}
	if _, _, _, ok := senSlope(at(5), []float64{1, 2, math.NaN(), math.NaN(), 3}, prior{}); ok {
		t.Error("three points and two holes: told")
	}
}

// TestSenIntervalCovers draws heart rates of 20, 30 and 40 min at one load, whose slow unrest is alike over
// half a minute to more than 3 min, and counts how often the 90 % interval holds the true slope where it is at
// most 10 bpm per 10 min wide. It falls short where a short stretch meets slow unrest: that looks like drift.
func TestSenIntervalCovers(t *testing.T) {
	Research(t, "draws some thousand sessions")
	const trials, slope = 400, 1.0
	for _, c := range []struct {
		n    int
		tau  float64 // s
		held float64 // % at least
	}{
		{40, 30, 90}, {40, 60, 88}, {40, 120, 80}, {40, 200, 74},
		{60, 30, 90}, {60, 60, 90}, {60, 120, 88}, {60, 200, 85},
		{80, 30, 90}, {80, 60, 90}, {80, 120, 88}, {80, 200, 86},
	} {
		r := rand.New(rand.NewPCG(1, uint64(c.n)))
		told, held, width := 0, 0, 0.0
		for range trials {
			x, y := make([]float64, c.n), make([]float64, c.n)
			keep := math.Exp(-30 / c.tau)
			slow := 2 * r.NormFloat64()
			for i := range y {
				slow = keep*slow + 2*math.Sqrt(1-keep*keep)*r.NormFloat64()
				x[i] = float64(i) / 20
				y[i] = 130 + slope*x[i] + slow + 0.3*r.NormFloat64()
			}
			_, low, high, ok := senSlope(x, y, heartAlike)
			if !ok || high-low > driftWidest {
				continue
			}
			told++
			width += high - low
			if low <= slope && slope <= high {
				held++
			}
		}
		share := 100 * float64(held) / float64(told)
		t.Logf("%2d min, alike over %3.0f s: found %3d of %d, %.1f wide, held in %.0f %%", c.n/2, c.tau, told, trials, width/float64(told), share)
		if share < c.held || told < trials/2 {
			t.Errorf("%d min, alike over %.0f s: found %d times, held in %.0f %%", c.n/2, c.tau, told, share)
		}
	}
}
