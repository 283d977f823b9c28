package reports

import (
	"math"
	"math/rand/v2"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// TestDistanceAgreesWithTheRule: whatever value and limit, a rule that is met never stands on the worse side of its
// limit, nor the other way round; the bar holds the dot, and a value farther from the limit never stands nearer to it.
func TestDistanceAgreesWithTheRule(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for range 20000 {
		limit, value := math.Round(40*r.Float64()-10), math.Round(80*r.Float64()-20)
		bound := []policy.Bound{policy.AtLeast, policy.AtMost}[r.IntN(2)]
		met := policy.Within(value, bound, limit)
		low, high := value-10*r.Float64(), value+10*r.Float64()
		reason := record.Reason{Rule: policy.Steady, Kind: policy.Evidence, Observed: &value, Threshold: &limit, Is: bound, Met: &met, Low: &low, High: &high}
		d := distanceOf(reason)
		if met && d.from < 0 || !met && d.from > 0 {
			t.Fatalf("%v %v %v, met %v, stands at %v", value, bound, limit, met, d.from)
		}
		if d.low > d.from || d.high < d.from || d.low < -1 || d.high > 1 {
			t.Fatalf("%v in [%v, %v] stands at %v in [%v, %v]", value, low, high, d.from, d.low, d.high)
		}
		if value == limit && d.from != 0 {
			t.Fatalf("%v at its limit stands at %v", value, d.from)
		}
	}
}

// TestDistancesBeginWithTheWorst: within a kind the rule farthest beyond its limit comes first.
func TestDistancesBeginWithTheWorst(t *testing.T) {
	reason := func(id policy.ID, value float64, met bool) record.Reason {
		limit := 10.0
		return record.Reason{Rule: id, Kind: policy.Required, Observed: &value, Threshold: &limit, Is: policy.AtLeast, Met: &met}
	}
	all := distancesOf([]record.Reason{reason(policy.Sessions, 18, true), reason(policy.Minutes, 3, false), reason(policy.Longest, 11, true)})
	if done := distancesOf([]record.Reason{reason(policy.Break, 3, true)}); done != nil {
		t.Errorf("a rule that is met beyond its limit stands in the picture: %+v", done)
	}
	if len(all) != 1 || len(all[0].Dots) != 3 || all[0].Dots[0].Row != "row-minutes" || all[0].Dots[2].Row != "row-sessions" {
		t.Errorf("the order is %+v", all)
	}
}
