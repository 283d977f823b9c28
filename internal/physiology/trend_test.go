package physiology_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"nextrung/internal/physiology"
)

// within compares to a number of printed digits.
func within(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

// steps is 0, 1, 2, ... n-1.
func steps(n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = float64(i)
	}
	return out
}

func TestTrend(t *testing.T) {
	for name, c := range map[string]struct {
		y       []float64
		s       int
		v, z, p float64
		exact   bool
		slope   float64
	}{
		// US EPA QA/G-9S p. 109 (as quoted by later pages): ties of 4 and 2.
		"EPA example with ties": {[]float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}, 22, 155.33, 1.685, 0.092, false, 1.0},
		// Worked from the definitions; the exact one-sided p is 0.117.
		"five values, exact": {[]float64{5, 6, 11, 8, 10}, 6, 16.67, 1.2247, 2 * 0.1167, true, 1.125},
		// Worked from the definitions.
		"ten falling sessions":  {[]float64{138, 137, 139, 135, 136, 133, 134, 131, 132, 130}, -35, 125, -3.041, 0.00095, true, -1.0},
		"twelve with many ties": {[]float64{140, 140, 139, 139, 136, 134, 134, 135, 136, 134, 131, 130}, -50, 206, -3.414, 0.00064, false, -0.8452},
		"hardly a trend":        {[]float64{1, 3, 2, 4, 1.5, 0.5}, -3, 28.33, -0.3757, 0.7194, true, -0.25},
		"all equal":             {[]float64{7, 7, 7, 7, 7}, 0, 0, 0, 1, false, 0},
	} {
		t.Run(name, func(t *testing.T) {
			k, ok := physiology.MannKendall(c.y)
			if !ok || k.S != c.s || !within(k.Var, c.v, 0.005) || !within(k.Z, c.z, 0.0005) || !within(k.P, c.p, 0.0005) || k.Exact != c.exact {
				t.Errorf("%+v %v, want S %d, Var %v, Z %v, p %v, exact %v", k, ok, c.s, c.v, c.z, c.p, c.exact)
			}
			if got, ok := physiology.TheilSen(steps(len(c.y)), c.y); !ok || !within(got, c.slope, 0.00005) {
				t.Errorf("slope %v %v, want %v", got, ok, c.slope)
			}
		})
	}
}

// Exact one-sided probabilities of S, worked from the definition.
func TestExactKendall(t *testing.T) {
	for _, c := range []struct {
		n, s int
		p    float64
	}{
		{4, 6, .0417}, {5, 8, .0417}, {6, 9, .0681}, {6, 11, .0278}, {7, 11, .0681}, {7, 13, .0345},
		{8, 14, .0543}, {8, 16, .0305}, {9, 16, .0597}, {9, 18, .0376}, {10, 19, .0542}, {10, 21, .0363},
	} {
		k, ok := physiology.MannKendall(withS(c.n, c.s))
		if !ok || k.S != c.s || !k.Exact || !within(k.P/2, c.p, 0.00005) {
			t.Errorf("n %d: S %d with one-sided p %.4f, want S %d with %.4f", c.n, k.S, k.P/2, c.s, c.p)
		}
	}
	if _, ok := physiology.MannKendall([]float64{1, 2, 3}); ok {
		t.Error("three points have a trend")
	}
}

// withS makes n different values whose S is s: rising, with the needed number of neighbours swapped.
func withS(n, s int) []float64 {
	y := steps(n)
	for down := (n*(n-1)/2 - s) / 2; down > 0; down-- {
		for i := 1; i < n; i++ {
			if y[i] > y[i-1] {
				y[i], y[i-1] = y[i-1], y[i]
				break
			}
		}
	}
	return y
}

func TestTypicalError(t *testing.T) {
	first := []float64{120, 118, 131, 125, 140, 122, 128, 135}
	second := []float64{123, 117, 128, 129, 138, 125, 126, 139}
	// Worked after Hopkins 2000: SD of the differences 3.012 bpm.
	if got, ok := physiology.TypicalError(first, second); !ok || !within(got, 2.130, 0.0005) {
		t.Errorf("typical error %v %v, want 2.130", got, ok)
	}
	if _, ok := physiology.TypicalError(first, second[:7]); ok {
		t.Error("unequal trials have a typical error")
	}
	if got, df, ok := physiology.OwnTypicalError([]float64{30, 32, 30, 32, 30}); !ok || !within(got, math.Sqrt(8.0/3), 1e-12) || !within(df, 225.0/85, 1e-12) {
		t.Errorf("own typical error %v %v, want 1.633", got, ok)
	}
	if got, _, ok := physiology.OwnTypicalError([]float64{30, 31, 32, 33, 34, 35}); !ok || got != 0 {
		t.Errorf("own typical error on a slope %v %v, want 0", got, ok)
	}
	if _, _, ok := physiology.OwnTypicalError([]float64{30, 31, 32, 33}); ok {
		t.Error("four measurements have a typical error of their own")
	}
}

// Worked from the formula with the typical errors of Buchheit 2014.
func TestDetectableChange(t *testing.T) {
	for name, c := range map[string]struct {
		te            float64
		before, after int
		want          float64
	}{
		"60-second fall of 30, single":     {physiology.TypicalErrorHRR60 * 30, 1, 1, 17.4},
		"60-second fall of 30, means of 4": {physiology.TypicalErrorHRR60 * 30, 4, 4, 8.7},
		"submaximal 130, single":           {physiology.TypicalErrorSubmax * 130, 1, 1, 9.1},
		"submaximal 130, means of 4":       {physiology.TypicalErrorSubmax * 130, 4, 4, 4.5},
		"submaximal 130, 1.3 %":            {0.013 * 130, 1, 1, 3.9},
		"rest 60, single":                  {physiology.TypicalErrorRest * 60, 1, 1, 14.0},
		"rest 60, weeks":                   {physiology.TypicalErrorRest * 60, 7, 7, 5.3},
	} {
		if got := physiology.DetectableChange(c.te, math.Inf(1), c.before, c.after); !within(got, c.want, 0.05) {
			t.Errorf("%s: %.2f bpm, want %v", name, got, c.want)
		}
	}
	// Two-sided 90 % quantiles of Student's t as every table prints them.
	for df, want := range map[float64]float64{1: 6.314, 2: 2.920, 3: 2.353, 5: 2.015, 10: 1.812, 30: 1.697, math.Inf(1): 1.645} {
		if got := physiology.DetectableChange(1, df, 2, 2); !within(got, want, 0.0005) {
			t.Errorf("%v degrees of freedom: %.4f, want %v", df, got, want)
		}
	}
	if got := physiology.DetectableChange(5, 4, 3, 0); !math.IsInf(got, 1) {
		t.Errorf("without a second side %v, want infinity", got)
	}
}

// TestDetectableChangeIsHonest draws baselines and later measurements of people who do not change, and
// counts how often the difference of the means is beyond the smallest detectable change from the
// baseline's own typical error: 10 % by definition. With the normal quantile it would be 17 % for five
// measurements. The standard deviation of differences takes their mean out but not its share of what two
// neighbours have in common, which makes the square of the typical error too large by n / (n - 1); so the
// rate stays a little under 10 %.
func TestDetectableChangeIsHonest(t *testing.T) {
	const people, last = 40000, 3
	for _, n := range []int{5, 8, 12} {
		r := rand.New(rand.NewPCG(11, uint64(n)))
		draw := func(n int) []float64 {
			out := make([]float64, n)
			for i := range out {
				out[i] = 130 + 4*r.NormFloat64()
			}
			return out
		}
		beyond, normal := 0, 0
		for range people {
			before, after := draw(n), draw(last)
			te, df, ok := physiology.OwnTypicalError(before)
			if !ok {
				t.Fatal("no typical error")
			}
			change := math.Abs(stat.Mean(after, nil) - stat.Mean(before, nil))
			beyond += count(change > physiology.DetectableChange(te, df, n, last))
			normal += count(change > physiology.DetectableChange(te, math.Inf(1), n, last))
		}
		share := 100 * float64(beyond) / people
		t.Logf("%2d measurements: chance passes for a change in %.1f %%; with the normal quantile in %.1f %%", n, share, 100*float64(normal)/people)
		if share < 6 || share > 10.5 || float64(normal) < 1.2*float64(beyond) {
			t.Errorf("%d measurements: %.1f %%", n, share)
		}
	}
}

func TestTrendProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(50, 200), 4, 20).Draw(t, "y")
		k, _ := physiology.MannKendall(y)
		slope, _ := physiology.TheilSen(steps(len(y)), y)
		turned := make([]float64, len(y))
		for i, v := range y {
			turned[len(y)-1-i] = v
		}
		back, _ := physiology.MannKendall(turned)
		slopeBack, _ := physiology.TheilSen(steps(len(y)), turned)
		if back.S != -k.S || back.Z != -k.Z || back.P != k.P || !within(slopeBack, -slope, 1e-9) {
			t.Fatalf("forth %+v slope %v, back %+v slope %v", k, slope, back, slopeBack)
		}
		if k.P < 0 || k.P > 1 {
			t.Fatalf("probability %v", k.P)
		}
	})
}
