package physiology_test

import (
	"math"
	"math/rand/v2"
	"slices"
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

func TestSenSlope(t *testing.T) {
	for name, c := range map[string]struct {
		y    []float64
		want float64
	}{
		// US EPA QA/G-9S p. 109 (as quoted by later pages): ties of 4 and 2. The others are worked from the definition.
		"EPA example with ties": {[]float64{10, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15}, 1},
		"five values":           {[]float64{5, 6, 11, 8, 10}, 1.125},
		"ten falling sessions":  {[]float64{138, 137, 139, 135, 136, 133, 134, 131, 132, 130}, -1},
		"twelve with many ties": {[]float64{140, 140, 139, 139, 136, 134, 134, 135, 136, 134, 131, 130}, -0.8452},
		"hardly a trend":        {[]float64{1, 3, 2, 4, 1.5, 0.5}, -0.25},
		"all equal":             {[]float64{7, 7, 7, 7, 7}, 0},
	} {
		if got, _, _, _ := physiology.SenSlope(steps(len(c.y)), c.y); !within(got, c.want, 0.00005) {
			t.Errorf("%s: slope %v, want %v", name, got, c.want)
		}
	}
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
		"drop of 30 in 60 s, single":     {0.25 * 30, 1, 1, 17.4},
		"drop of 30 in 60 s, means of 4": {0.25 * 30, 4, 4, 8.7},
		"submaximal 130, single":         {physiology.TypicalErrorSubmax * 130, 1, 1, 9.1},
		"submaximal 130, means of 4":     {physiology.TypicalErrorSubmax * 130, 4, 4, 4.5},
		"submaximal 130, 1.3 %":          {0.013 * 130, 1, 1, 3.9},
		"rest 60, single":                {physiology.TypicalErrorRest * 60, 1, 1, 14.0},
		"rest 60, weeks":                 {physiology.TypicalErrorRest * 60, 7, 7, 5.3},
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
	physiology.Research(t, "draws 120 000 people")
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

func TestSenSlopeTurnsWithTimeProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(50, 200), 4, 20).Draw(t, "y")
		forth, _, _, _ := physiology.SenSlope(steps(len(y)), y)
		slices.Reverse(y)
		if back, _, _, _ := physiology.SenSlope(steps(len(y)), y); !within(back, -forth, 1e-9) {
			t.Fatalf("forth %v, back %v", forth, back)
		}
	})
}
