package policy_test

import (
	"errors"
	"strings"
	"testing"

	"nextrung/internal/policy"
)

// Every number that may be set is found in the text: set to what it is, nothing changes.
func TestEverySettableNumberHasItsPlace(t *testing.T) {
	p := policy.Default()
	n := 0
	for _, id := range policy.RuleIDs() {
		numbers := map[string]float64{}
		for _, s := range p.Settable(id) {
			numbers[s.Key] = s.Value
			if s.Value < s.Low || s.Value > s.High || s.Means == "" {
				t.Errorf("%s: %+v", id, s)
			}
			n++
		}
		same, err := p.With(map[policy.ID]map[string]float64{id: numbers})
		if err != nil || same.Text() != p.Text() {
			t.Errorf("%s: %v; the text changed: %v", id, err, same.Text() != p.Text())
		}
	}
	if n < 60 {
		t.Errorf("only %d numbers", n)
	}
}

// A changed number changes its own place in the text and nothing else, whatever block it stands in.
func TestWithChangesOneNumber(t *testing.T) {
	p := policy.Default()
	for _, x := range []struct {
		rule policy.ID
		key  string
		is   float64
	}{
		{policy.Minutes, "threshold", 90}, {policy.Minutes, "more.goal", 160.5}, {policy.Minutes, "window_days", 49}, {policy.Effort, "threshold_10", 3},
		{policy.BackInZone, "more.sessions", 3},
	} {
		other, err := p.With(map[policy.ID]map[string]float64{x.rule: {x.key: x.is}})
		if err != nil {
			t.Errorf("%s %s: %v", x.rule, x.key, err)
			continue
		}
		changes := p.Changes(other)
		if len(changes) != 1 || changes[0].Rule != x.rule || changes[0].Key != x.key {
			t.Errorf("%s %s: %+v", x.rule, x.key, changes)
		}
		was, is := strings.Split(p.Text(), "\n"), strings.Split(other.Text(), "\n")
		lines := 0
		for i := range was {
			if was[i] != is[i] {
				lines++
			}
		}
		if len(was) != len(is) || lines != 1 {
			t.Errorf("%s %s: %d lines changed", x.rule, x.key, lines)
		}
	}
}

// What a rule may not be is refused with its rule and key.
func TestWithRefusesTheImpossible(t *testing.T) {
	for _, x := range []struct {
		rule policy.ID
		key  string
		is   float64
	}{
		{policy.Adult, "threshold", 16}, {policy.Minutes, "threshold", -1}, {policy.Sessions, "threshold", 2.5}, {policy.EmergencySign, "threshold", 1},
		{policy.Sessions, "more.weeks", 50},
	} {
		_, err := policy.Default().With(map[policy.ID]map[string]float64{x.rule: {x.key: x.is}})
		var impossible *policy.Impossible
		if !errors.As(err, &impossible) || impossible.Rule != x.rule || impossible.Key != x.key {
			t.Errorf("%s %s = %g: %v", x.rule, x.key, x.is, err)
		}
	}
	if _, err := policy.Default().With(map[policy.ID]map[string]float64{policy.Minutes: {"more.nothing": 1}}); err == nil {
		t.Error("a number that is not there was set")
	}
}
