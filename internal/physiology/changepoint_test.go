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
