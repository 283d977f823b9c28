package coach_test

import (
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
)

// TestALimitNearRestAsks: a limit that leaves less than 20 bpm above the resting heart rate, or less than 80 bpm where that is
// not known, is refused with the question that would settle it (common practice, no source); 0 lifts a limit.
func TestALimitNearRestAsks(t *testing.T) {
	for _, x := range []struct {
		rest, limit string
		refused     bool
	}{
		{"62", "60", true}, {"62", "81", true}, {"62", "82", false}, {"62", "105", false}, {"95", "105", true}, {"95", "115", false},
		{"", "60", true}, {"", "79", true}, {"", "80", false}, {"62", "0", false},
	} {
		c := open(t)
		_, err := c.EnterClient(t.Context(), "Ines", coach.Facts{"born": "1970-04-02", coach.HRRest: x.rest, coach.Limit: x.limit}, day("2026-09-01"))
		if x.refused != (err != nil) {
			t.Errorf("rest %q, limit %s: %v", x.rest, x.limit, err)
		}
		if all := fault.All(err); x.refused && (len(all) != 1 || all[0].Field != coach.Limit || !strings.Contains(all[0].Error(), "?")) {
			t.Errorf("rest %q, limit %s: %v asks nothing", x.rest, x.limit, err)
		}
	}
	c := open(t)
	enter := func(f coach.Facts) error {
		_, err := c.ChangeClient(t.Context(), "Runa", f, day("2026-09-05"))
		return err
	}
	if err := enter(coach.Facts{coach.Limit: "105", coach.From: "2026-09-01"}); err != nil {
		t.Fatal(err)
	}
	if err := enter(coach.Facts{coach.HRRest: "90", coach.From: "2026-09-03"}); err == nil || fault.All(err)[0].Field != coach.Limit {
		t.Errorf("a resting heart rate that rises up to the limit: %v", err)
	}
	if err := enter(coach.Facts{coach.Limit: "0", coach.From: "2026-09-05"}); err != nil {
		t.Errorf("lifted: %v", err)
	}
}
