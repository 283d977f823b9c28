package prescription_test

import (
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
)

// TestPieces: somebody who has 12 min at a time and does about 165 min a week in such pieces, comfortably. Nothing is
// needed that pieces cannot show, the minutes count, and the plan does not call them too many.
func TestPieces(t *testing.T) {
	l := lifeOf(1, func(c *record.Client) { c.Days, c.Minutes, c.Screening.Active = 5, 12, true })
	for w := range 8 {
		l.week(w)
		for d := 7 * w; d < 7*w+7; d++ { // beside the five that were planned
			l.session(story.Day(d), 12, 12, l.beats(125), 0, 0, 0)
			if d%7 < 2 {
				l.session(story.Day(d), 18, 12, l.beats(125), 0, 0, 0)
			}
		}
		a, p := l.assessed[w], l.plans[w]
		for _, lack := range a.Lacking {
			t.Errorf("week %d: needed is %q", w+1, reasons.Text(lack.Needed))
		}
		if !strings.Contains(reasons.Paragraph(a.Summary), "time for 12 min at a time") {
			t.Errorf("week %d: the summary is %q", w+1, reasons.Paragraph(a.Summary))
		}
		if w > 3 && !a.Reason(policy.Minutes).IsMet() {
			t.Errorf("week %d: %s", w+1, reasons.Text(a.Reason(policy.Minutes).Says))
		}
		if longest := a.Reason(policy.Longest); strings.Contains(reasons.Text(longest.Says), "24") {
			t.Errorf("week %d: two pieces of a day are taken for one session: %s", w+1, reasons.Text(longest.Says))
		}
		lay := prescription.Lay(p, l.record.Until(p.Made), a)
		if want := "5 sessions of 12 minutes, " + "warm-up and cool-down included"; lay.Size() != want {
			t.Errorf("week %d: planned are %s", w+1, lay.Size())
		}
		if said := fmt.Sprint(lay.Said()); w > 1 && (!strings.Contains(said, "in shorter sessions") || strings.Contains(said, "less than you did")) {
			t.Errorf("week %d: the client reads %s", w+1, said)
		}
	}
}
