package rehearsal

import (
	"context"
	"nextrung/internal/policy"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// The unchanged threshold gives what the policy gives; one that nobody can keep moves nobody up.
func TestVary(t *testing.T) {
	o := Options{Policy: defaults, Clients: 6, Weeks: 10, Seed: 5, Workers: 2, Tidy: true, KeepZones: true}
	told := 0
	got, err := Vary(context.Background(), o, "longest", []float64{600, *defaults.Rule(policy.Longest).Threshold, 10}, func(done, all int) {
		if told++; done != told || all != 18 {
			t.Errorf("%d of %d, want %d of 18", done, all, told)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(rehearse(t, o).Ways[0].Groups[0], got[1].Group); diff != "" {
		t.Errorf("the threshold as it is differs from the policy:\n%s", diff)
	}
	if never, as := got[0].Counts.Advanced, got[1].Counts.Advanced; never != 0 || as == 0 {
		t.Errorf("moved up with sessions of 10 hours: %d, as it is: %d", never, as)
	}
}

func TestWithChangesOneThresholdOnly(t *testing.T) {
	got, err := with(defaults, "minutes", 75)
	if err != nil {
		t.Fatal(err)
	}
	if got.Digest() == defaults.Digest() {
		t.Error("another policy has the same digest")
	}
	for _, id := range policy.RuleIDs() {
		want := defaults.Rule(id)
		if id == policy.Minutes {
			want.Threshold = new(75.0)
		}
		if diff := cmp.Diff(want, got.Rule(id)); diff != "" {
			t.Errorf("%s: %s", id, diff)
		}
	}
}

func TestVaryRefuses(t *testing.T) {
	cases := map[string]struct {
		rule  policy.ID
		value float64
		want  string
	}{
		"no such rule": {"courage", 1, `there is no rule "courage"`},
		"impossible":   {"effort", 40, "threshold must be between 6 and 20"},
	}
	for name, c := range cases {
		if _, err := Vary(context.Background(), Options{Policy: defaults, Clients: 1, Weeks: 6}, c.rule, []float64{c.value}, nil); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := Vary(context.Background(), Options{Policy: defaults, Clients: 1, Weeks: 2}, "effort", []float64{13}, nil); err == nil {
		t.Error("two weeks were rehearsed")
	}
}

// The effort that no answer may be above moves with the threshold, as far as the scale goes.
func TestWithMovesTheHardestEffort(t *testing.T) {
	for value, want := range map[float64]float64{11: 12, 15: 16, 19.5: 20, 20: 20} {
		got, err := with(defaults, "effort", value)
		if err != nil {
			t.Fatal(err)
		}
		if hard := got.Rule(policy.Effort).More["hardest"]; hard != want {
			t.Errorf("threshold %g: hardest %g, want %g", value, hard, want)
		}
	}
}
