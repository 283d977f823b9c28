package prescription_test

import (
	"strings"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// An easier week is called so only once the trainer has decided it, the second one in a row as well.
func TestEasierIsSaidAfterTheDecision(t *testing.T) {
	made := workout.MustDate("2026-10-04")
	for _, code := range []record.PlanCode{record.EasierWeek, record.EasierAgain} {
		p := record.Prescription{Made: made, From: made + 1, To: made + 7, Sessions: 1, Minutes: 20,
			Targets: []record.Target{{Mode: workout.Walk, Feel: workout.Comfortable}}, Notes: []record.PlanNote{{Code: code}}}
		r := record.Record{Client: record.Client{Name: "Lindra"}}
		said := func() string { return strings.Join(prescription.Lay(p, r, record.Assessment{}).Said(), " ") }
		if got := said(); strings.Contains(got, "easier") || !strings.Contains(got, "nothing hard") {
			t.Errorf("before the decision: %q", got)
		}
		r.Decisions = []record.Decision{{Entered: made, From: made + 1, Act: record.DoEase}}
		if got := said(); !strings.Contains(got, "easier week") {
			t.Errorf("after it: %q", got)
		}
	}
}
