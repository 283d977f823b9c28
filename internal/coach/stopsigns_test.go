package coach_test

import (
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/prescription"
	"nextrung/internal/signs"
	"nextrung/reports"
)

// What concerns one client stands among the signs at which to stop, in the plan as it is sent and on the client's page,
// behind what needs emergency help, and on nobody else's.
func TestStopSignsOfOneClient(t *testing.T) {
	on := day("2026-09-20")
	for _, conditions := range []string{"pregnant", "pacemaker", "asthma"} {
		c := open(t)
		if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"conditions": conditions, "clearance": on.String()}, on); err != nil {
			t.Fatal(err)
		}
		s, err := c.WeekOf(t.Context(), "Runa", on)
		if err != nil {
			t.Fatal(err)
		}
		week := prescription.Lay(s.Next, s.Known, s.Assessment)
		for place, text := range map[string]string{"plan": week.Text(), "page": reports.ProgressText(reports.Client{Record: s.Record, Assessment: s.Assessment, Weeks: s.Weeks})} {
			emergency := strings.Index(text, signs.StopSigns()[0])
			for x, line := range map[string]string{"pregnant": signs.InPregnancy.Text(), "pacemaker": signs.WithDevice.Text()} {
				if at := strings.Index(text, line); (at > emergency && emergency >= 0) != (x == conditions) {
					t.Errorf("%s, %s: the line for %s stands at %d, emergency at %d", conditions, place, x, at, emergency)
				}
			}
		}
	}
}
