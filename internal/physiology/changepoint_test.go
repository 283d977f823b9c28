package physiology

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// plateaus writes levels of the given lengths.
func plateaus(pairs ...float64) []float64 {
	var out []float64
	for i := 0; i < len(pairs); i += 2 {
		for range int(pairs[i+1]) {
			out = append(out, pairs[i])
		}
	}
	return out
}

func TestChangePointsFindPlantedSteps(t *testing.T) {
	for name, c := range map[string]struct {
		y    []float64
		want []segment
	}{
		"nothing":          {nil, nil},
		"one value":        {[]float64{3}, []segment{{0, 1, 3}}},
		"level":            {plateaus(5, 40), []segment{{0, 40, 5}}},
		"one step":         {plateaus(5, 20, 9, 30), []segment{{0, 20, 5}, {20, 50, 9}}},
		"up and down":      {plateaus(5, 10, 9, 4, 5, 10), []segment{{0, 10, 5}, {10, 14, 9}, {14, 24, 5}}},
		"a hole in a step": {[]float64{1, 1, 1, 1, math.NaN(), math.NaN(), 7, 7, 7, 7}, []segment{{0, 6, 1}, {6, 10, 7}}},
	} {
		t.Run(name, func(t *testing.T) {
			got := changePoints(c.y, 2, 3)
			if len(got) != len(c.want) {
				t.Fatalf("got %v, want %v", got, c.want)
			}
			for i, w := range c.want {
				// A hole costs nothing on either side: its edge may lie anywhere in it.
				hole := name == "a hole in a step"
				if !hole && got[i] != w || hole && got[i].level != w.level {
					t.Errorf("stretch %d is %v, want %v", i, got[i], w)
				}
			}
		})
	}
}

// TestChangePointsAreOptimal compares the pruned search with the plain one over all partitions (optimal
// partitioning, Jackson et al. 2005, which PELT reproduces exactly: Killick et al. 2012, theorem 3.1).
func TestChangePointsAreOptimal(t *testing.T) {
	cost := func(y []float64) float64 {
		var m moments
		for _, v := range y {
			m.add(0, v)
		}
		return m.spread()
	}
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(-10, 10), 1, 60).Draw(t, "y")
		penalty := rapid.Float64Range(0.1, 60).Draw(t, "penalty")
		const shortest = 3
		best := make([]float64, len(y)+1)
		for to := 1; to <= len(y); to++ {
			best[to] = math.Inf(1)
			for from := 0; from < to; from++ {
				if to-from >= min(shortest, len(y)) {
					best[to] = min(best[to], best[from]+cost(y[from:to])+penalty)
				}
			}
		}
		got, at := 0.0, 0
		for _, s := range changePoints(y, penalty, shortest) {
			if s.from != at || s.to-s.from < min(shortest, len(y)) {
				t.Fatalf("stretch %v after %d", s, at)
			}
			got += cost(y[s.from:s.to]) + penalty
			at = s.to
		}
		if at != len(y) || math.Abs(got-best[len(y)]) > 1e-6 {
			t.Fatalf("cost %v up to %d, the best is %v up to %d", got, at, best[len(y)], len(y))
		}
	})
}

// TestNoiseIsAStandardDeviation: on Gaussian noise it is the standard deviation, and neither a slope nor a
// few steps change that (0.6745 is the normal quartile).
func TestNoiseIsAStandardDeviation(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var plain, stepped []float64
	for i := range 4000 {
		v := 3 * r.NormFloat64()
		plain = append(plain, v)
		stepped = append(stepped, v+float64(i)/100+50*float64(i/500%2))
	}
	for name, y := range map[string][]float64{"noise": plain, "noise on a slope with steps": stepped} {
		if got := noise(y); math.Abs(got-3) > 0.15 {
			t.Errorf("%s: %v, want 3", name, got)
		}
	}
	if got := noise(nil); got != 0 {
		t.Errorf("nothing: %v", got)
	}
}

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
	slope, low, high, _ := senSlope(at(12), y)
	if math.Abs(slope+0.8452) > 5e-5 || low > slope || high < slope {
		t.Errorf("slope %.4f (%.3f to %.3f), want -0.8452 inside its interval", slope, low, high)
	}
	// EPA QA/G-9S p. 109: Sen slope 1.0 a step (computed from its data).
	if slope, _, _, _ = senSlope(at(11), []float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}); slope != 1 {
		t.Errorf("slope %v, want 1", slope)
	}
	line := make([]float64, 40)
	for i := range line {
		line[i] = 100 + 0.3*float64(i)
	}
	line[7], line[8] = math.NaN(), math.NaN()
	if slope, low, high, ok := senSlope(at(40), line); !ok || math.Abs(slope-0.3) > 1e-9 || math.Abs(high-low) > 1e-9 {
		t.Errorf("a line: %v (%v to %v) %v", slope, low, high, ok)
	}
	if _, _, _, ok := senSlope(at(3), []float64{1, 2, 3}); ok {
		t.Error("three points: told")
	}
	if _, _, _, ok := senSlope(at(5), []float64{1, 2, math.NaN(), math.NaN(), 3}); ok {
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
			if _, low, high, ok := senSlope(x, y); !ok || low <= slope && slope <= high {
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

func BenchmarkChangePointsHour(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	y := make([]float64, 720)
	for i := range y {
		y[i] = 3 + 0.1*r.NormFloat64()
	}
	for b.Loop() {
		changePoints(y, 1, 3)
	}
}
