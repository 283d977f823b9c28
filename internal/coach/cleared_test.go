package coach_test

import (
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/workout"
)

// A doctor who cleared a client before a pregnancy, a disease or a medicine knew nothing of it (Riebe 2015 asks for a
// clearance again when the state of health has changed; common practice for the rest, no source).
func TestAClearanceFromBeforeAFactDoesNotCoverIt(t *testing.T) {
	cleared, today := day("2026-08-01"), day("2026-09-01")
	for _, x := range []struct {
		name  string
		first coach.Facts
		then  coach.Facts
		since workout.Date
	}{
		{"pregnant", nil, coach.Facts{"conditions": "pregnant"}, today},
		{"a known day", nil, coach.Facts{"conditions": "pregnant", coach.From: "2026-08-20"}, day("2026-08-20")},
		{"one condition more", coach.Facts{"conditions": "insulin", "clearance": "2026-08-01"}, coach.Facts{"conditions": "insulin,pacemaker"}, today},
		{"one condition less", coach.Facts{"conditions": "insulin,pacemaker", "clearance": "2026-08-01"}, coach.Facts{"conditions": "insulin"}, 0},
		{"asthma", nil, coach.Facts{"conditions": "asthma"}, 0},
		{"disease", nil, coach.Facts{"disease": "heart"}, today},
		{"another disease", coach.Facts{"disease": "renal", "clearance": "2026-08-01"}, coach.Facts{"disease": "heart"}, today},
		{"the same disease", coach.Facts{"disease": "heart", "clearance": "2026-08-01"}, coach.Facts{"disease": "heart", "goal": "stairs"}, 0},
		{"medicine", nil, coach.Facts{"medicine": "slows"}, today},
		{"entered with its clearance", nil, coach.Facts{"medicine": "slows", "clearance": "2026-08-01"}, 0},
		{"a changed dose", coach.Facts{"medicine": "slows", "clearance": "2026-08-01"}, coach.Facts{"dose_change": "2026-08-28"}, day("2026-08-28")},
		{"typed again", coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "pregnant"}, today},
		{"typed again, dated before", coach.Facts{"conditions": "pregnant", coach.From: "2026-08-20"}, coach.Facts{"conditions": "pregnant"}, day("2026-08-20")},
		{"dated anew", coach.Facts{"conditions": "pregnant"}, coach.Facts{"conditions": "pregnant", coach.From: "2026-07-20"}, day("2026-07-20")},
		{"another fact after it", coach.Facts{"disease": "heart"}, coach.Facts{"goal": "stairs"}, today},
	} {
		t.Run(x.name, func(t *testing.T) {
			c := open(t)
			if _, err := c.ChangeClient(t.Context(), "Runa", coach.Facts{"disease": "none", "medicine": "none", "conditions": "none", "clearance": cleared.String()}, today); err != nil {
				t.Fatal(err)
			}
			if x.first != nil {
				if _, err := c.ChangeClient(t.Context(), "Runa", x.first, today); err != nil {
					t.Fatal(err)
				}
			}
			got, err := c.ChangeClient(t.Context(), "Runa", x.then, today)
			if err != nil {
				t.Fatal(err)
			}
			if since := got.CareSince(); since != x.since {
				t.Errorf("in a doctor's care since %v, want %v", since, x.since)
			}
		})
	}
}
