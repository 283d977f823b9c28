package physiology_test

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"

	"nextrung/internal/outside"
	"nextrung/internal/physiology"
)

// TestErrorToJudgeBy: the larger of the person's own typical error and the published one.
func TestErrorToJudgeBy(t *testing.T) {
	wild := []float64{30, 45, 28, 44, 30, 46} // differences 15, -17, 16, -14, 16: SD 17.11, over the root of 2 12.10
	calm := []float64{30, 31, 30, 31, 30, 31}
	for name, c := range map[string]struct {
		values    []float64
		published float64
		want      float64
		own       bool
	}{
		"own is larger":       {wild, 7.5, 12.10, true},
		"own is smaller":      {calm, 7.5, 7.5, false},
		"too few of the own":  {wild[:4], 7.5, 7.5, false},
		"nothing of the own":  {nil, 3.9, 3.9, false},
		"the own hardly more": {wild, 12.05, 12.10, true},
	} {
		te, df, own := physiology.ErrorToJudgeBy(c.values, c.published)
		if math.Abs(te-c.want) > 0.01 || own != c.own || own == math.IsInf(df, 1) {
			t.Errorf("%s: %.3f with %v degrees of freedom, own %v; want %.2f, %v", name, te, df, own, c.want, c.own)
		}
	}
}

// TestSpreadOfOneRunner: between two runs of one runner's month, moved to one speed, heart rate at the same effort
// differs by chance; 1 in 10 pairs of neighbours goes beyond the smallest detectable change by definition, 1 in 5
// is allowed for so few.
func TestSpreadOfOneRunner(t *testing.T) {
	var all []physiology.SameEffort
	for i := 1; i <= 17; i++ {
		_, w := outside.Recorded(t, fmt.Sprintf("tcx/run-series-%02d.tcx.gz", i))
		if e := measured(w, false).SameEffort; e != nil && e.Enough {
			all = append(all, *e)
		}
	}
	var v []float64
	for _, e := range all {
		v = append(v, e.At(all[0].Load))
	}
	published := physiology.TypicalErrorSubmax * stat.Mean(v, nil)
	te, df, own := physiology.ErrorToJudgeBy(v, published)
	change := physiology.DetectableChange(te, df, 1, 1)
	beyond := 0
	for i := 1; i < len(v); i++ {
		beyond += count(math.Abs(v[i]-v[i-1]) > change)
	}
	t.Logf("%d runs, typical error %.1f bpm (own %v, published %.1f): a change of %.1f bpm can be chance; %d of %d pairs go beyond it", len(v), te, own, published, change, beyond, len(v)-1)
	if len(v) < 8 || 5*beyond > len(v)-1 || te < published {
		t.Errorf("%d of %d pairs beyond %.1f bpm", beyond, len(v)-1, change)
	}
}
