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
	slope, low, high, _ := senSlope(at(12), y, 0)
	if math.Abs(slope+0.8452) > 5e-5 || low > slope || high < slope {
		t.Errorf("slope %.4f (%.3f to %.3f), want -0.8452 inside its interval", slope, low, high)
	}
	// EPA QA/G-9S p. 109: Sen slope 1.0 a step (computed from its data).
	if slope, _, _, _ = senSlope(at(11), []float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}, 0); slope != 1 {
		t.Errorf("slope %v, want 1", slope)
	}
	line := make([]float64, 40)
	for i := range line {
		line[i] = 100 + 0.3*float64(i)
	}
	line[7], line[8] = math.NaN(), math.NaN()
	if slope, low, high, ok := senSlope(at(40), line, 0); !ok || math.Abs(slope-0.3) > 1e-9 || math.Abs(high-low) > 1e-9 {
		t.Errorf("a line: %v (%v to %v) %v", slope, low, high, ok)
	}
	if _, _, _, ok := senSlope(at(3), []float64{1, 2, 3}, 0); ok {
		t.Error("three points: told")
	}
	if _, _, _, ok := senSlope(at(5), []float64{1, 2, math.NaN(), math.NaN(), 3}, 0); ok {
		t.Error("three points and two holes: told")
	}
}

// TestSenIntervalCovers draws lines with independent and with autocorrelated noise (r1 0.6 between
// neighbours) and counts how often the 90 % interval holds the true slope. Without the correction for
// autocorrelation it would hold it in fewer than two of three.
func TestSenIntervalCovers(t *testing.T) {
	const n, trials, slope = 80, 400, 0.05
	x := make([]float64, n)
	for i := range x {
		x[i] = float64(i)
	}
	for name, c := range map[string]struct{ r1, least float64 }{"independent": {0, 0.85}, "autocorrelated": {0.6, 0.80}} {
		r := rand.New(rand.NewPCG(3, 4))
		held := 0
		for range trials {
			y, e := make([]float64, n), 0.0
			for i := range y {
				e = c.r1*e + math.Sqrt(1-c.r1*c.r1)*r.NormFloat64()
				y[i] = 120 + slope*x[i] + e
			}
			if _, low, high, ok := senSlope(x, y, 0); !ok || low <= slope && slope <= high {
				held++
			}
		}
		share := float64(held) / trials
		t.Logf("%s: held in %.0f %%", name, 100*share)
		if share < c.least || share > 0.99 {
			t.Errorf("%s: the 90 %% interval held the slope in %.0f %%", name, 100*share)
		}
	}
}
