package prescription_test

import (
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// TestAnOpenContradictionCountsAgainstHarderWork: whatever was decided, in every stage, the week has nothing harder than
// comfortable, and its heart rates are those of the more careful fact. Confirmed, the fact stands as it was entered.
func TestAnOpenContradictionCountsAgainstHarderWork(t *testing.T) {
	for _, x := range []struct {
		name    string
		who     func(*record.Client)
		lowest  float64 // of every recording
		top     float64 // of the comfortable band while it is open, 0 for none
		entered float64 // and once it is confirmed
		confirm record.Checked
	}{
		// The reserve of 85 from 100 gives 100 + 0.6 x 85 = 151; with the lowest recorded 70: 70 + 0.6 x 115 = 139.
		{"resting 100, recorded 70", func(c *record.Client) { c.Zones[0].HRRest = 100 }, 70, 139, 151, record.CheckedRest},
		{"resting 85, recorded 70", func(c *record.Client) { c.Zones[0].HRRest = 85 }, 70, 139, 145, record.CheckedRest},
		// Nothing recorded: the share of the maximum, 0.77 x 185 = 142.45.
		{"resting 105", func(c *record.Client) { c.Zones[0].HRRest = 105 }, 0, 142, 153, record.CheckedRest},
		// Estimate at 76 years 211 - 0.64 x 76.5 = 162; 0.77 x 162 = 124.8.
		{"maximum 205 at 76", func(c *record.Client) { c.Born, c.Zones[0].HRMax[""] = workout.MustDate("1950-05-01"), 205 }, 0, 124, 157, record.CheckedMaximum},
		{"maximum 140 at 38", func(c *record.Client) { c.Zones[0].HRMax[""] = 140 }, 0, 107, 107, record.CheckedMaximum},
		{"insulin", func(c *record.Client) { c.Conditions = []record.Condition{record.Insulin} }, 0, 142, 142, record.CheckedDisease},
		{"pacemaker", func(c *record.Client) { c.Conditions = []record.Condition{record.Pacemaker} }, 0, 0, 0, record.CheckedDisease},
		{"a limit of 150", func(c *record.Client) { c.Zones[0].Limit = 150 }, 0, 142, 142, record.CheckedDisease},
	} {
		for stage := 1; stage <= 3; stage++ {
			for _, act := range []record.Act{"", record.DoAdvance, record.DoHold, record.DoEase, record.DoStepBack, record.DoMaintain, record.DoResume} {
				for _, confirmed := range []bool{false, true} {
					s := story.Ferry(6)
					if stage > 1 {
						s = story.Intervals(6)
					}
					s.Client.Stage = stage
					s.Who(x.who)
					if confirmed {
						s.Client.Confirmed = []record.Checked{x.confirm}
					}
					r, on := s.Record(), s.Last()
					if x.lowest > 0 {
						for i := range r.Recordings {
							r.Recordings[i].Measured.HeartRate.Min = &x.lowest
						}
					}
					if act != "" {
						to := stage
						switch act {
						case record.DoAdvance:
							to = min(3, stage+1)
						case record.DoStepBack:
							to = max(1, stage-1)
						}
						r.Decisions = append(r.Decisions, record.Decision{Client: r.Client.Name, Entered: on, From: on + 1, Act: act, Stage: to})
					}
					a := progression.Assess(defaults, on, r)
					p := prescription.Prescribe(defaults, on, r, a)
					want := x.top
					if confirmed {
						want = x.entered
					}
					if p.Sessions == 0 || p.Targets[0].High != want || !confirmed && p.Intervals != nil {
						t.Errorf("%s, stage %d, decided %q, confirmed %v: %d sessions, %+v, %+v", x.name, stage, act, confirmed, p.Sessions, p.Targets[0], p.Intervals)
					}
				}
			}
		}
	}
}

// TestLivesInDoubt: week by week nobody with an open contradiction moves up, and once the trainer has cleared it up the
// move comes within weeks.
func TestLivesInDoubt(t *testing.T) {
	for name, x := range map[string]struct {
		odd, right func(*record.Client)
	}{
		"resting 100": {func(c *record.Client) { c.Zones[0].HRRest = 100 }, func(c *record.Client) { c.Zones[0].HRRest = 65 }},
		"insulin":     {func(c *record.Client) { c.Conditions = []record.Condition{record.Insulin} }, func(c *record.Client) { c.Clearance = story.Day(70) }},
		"pacemaker":   {func(c *record.Client) { c.Conditions = []record.Condition{record.Pacemaker} }, func(c *record.Client) { c.Clearance = story.Day(70) }},
		"a limit":     {func(c *record.Client) { c.Zones[0].Limit = 170 }, func(c *record.Client) { c.Clearance = story.Day(70) }},
	} {
		l := lifeOf(1, func(c *record.Client) { c.Screening.Active = true; x.odd(c) })
		moved := 0
		for w := range 16 {
			if w == 10 {
				x.right(&l.record.Client)
			}
			l.week(w)
			if story.Verdict(l.assessed[w]) == record.Advance && moved == 0 {
				moved = w + 1
			}
			if w < 10 && l.plans[w].Intervals != nil {
				t.Errorf("%s, week %d: %+v", name, w+1, l.plans[w].Intervals)
			}
		}
		if moved < 11 || moved > 13 {
			t.Errorf("%s: the first move came at the end of week %d", name, moved)
		}
	}
}
