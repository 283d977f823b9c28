package fault_test

import (
	"errors"
	"fmt"
	"testing"

	"nextrung/internal/fault"
)

func TestAFaultNamesItsInputAsItIsCalledThere(t *testing.T) {
	for _, x := range []struct {
		err         *fault.Error
		plain, said string
	}{
		{fault.In("hr_max", 40, "is outside %d to %d bpm", 100, 230), "hr max 40 is outside 100 to 230 bpm", "--hr-max 40 is outside 100 to 230 bpm"},
		{fault.In("signs", "grumpy", "is not on the list"), `signs "grumpy" is not on the list`, `--hr-max "grumpy" is not on the list`},
		{fault.In("born", "", "is missing"), "born is missing", "--hr-max is missing"},
		{fault.New(fault.Refused, "a doctor comes first"), "a doctor comes first", "a doctor comes first"},
		{fault.In("name", "a\x1b[2J", "is no name"), `name "a\x1b[2J" is no name`, `--hr-max "a\x1b[2J" is no name`},
	} {
		if got := x.err.Error(); got != x.plain {
			t.Errorf("got %q, want %q", got, x.plain)
		}
		if got := x.err.Say("--hr-max"); got != x.said {
			t.Errorf("got %q, want %q", got, x.said)
		}
	}
}

func TestAllFindsEveryFault(t *testing.T) {
	a, b := fault.In("sex", "x", "is no sex"), fault.New(fault.Refused, "no")
	err := fmt.Errorf("Runa: %w", errors.Join(a, fmt.Errorf("inside: %w", b), errors.New("plain")))
	if got := fault.All(err); len(got) != 2 || got[0] != a || got[1] != b {
		t.Errorf("%v", got)
	}
	if got := fault.All(errors.New("plain")); got != nil {
		t.Errorf("%v", got)
	}
	if !errors.Is(err, &fault.Error{Kind: fault.Refused}) || errors.Is(err, &fault.Error{Kind: fault.NotFound}) {
		t.Error("a kind does not stand for its faults")
	}
}
