package reasons_test

import (
	"regexp"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
)

// TestEveryUnitHasItsSingular: a rule that counts something says "1 session", not "1 sessions".
func TestEveryUnitHasItsSingular(t *testing.T) {
	plural := regexp.MustCompile(`^(low )?[a-z]+s\b`)
	for _, r := range policy.Default().Rules {
		if got := reasons.Value(1, record.Reason{Rule: r.ID, Unit: r.Unit}); plural.MatchString(string(r.Unit)) && got == "1 "+string(r.Unit) {
			t.Errorf("%s says %q", r.ID, got)
		}
	}
	if got := reasons.Value(1, record.Reason{Rule: policy.TirednessAgain, Unit: policy.UnitTimes}); got != "once" {
		t.Errorf("how often is %q, want once", got)
	}
}
