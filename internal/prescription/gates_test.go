package prescription_test

import (
	"fmt"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// TestNoDecisionOpensAGate: whatever the trainer decided, on the day or for the week to come, in every stage and
// with a cold on record too.
func TestNoDecisionOpensAGate(t *testing.T) {
	type most int
	const (
		nothing most = iota // no session
		easy                // nothing harder than comfortable
		anything
	)
	day := func(n int) workout.Date { return story.Day(n) }
	screened := func(c *record.Client) {
		c.Screening = record.Screening{On: story.Began - 3, Active: true, Disease: "none"}
	}
	has := func(x record.Condition) func(*record.Client) {
		return func(c *record.Client) { screened(c); c.Conditions = []record.Condition{x} }
	}
	ill := func(c *record.Client) { screened(c); c.Screening.Disease = "heart" }
	cleared := func(f func(*record.Client), on workout.Date) func(*record.Client) {
		return func(c *record.Client) { f(c); c.Clearance = on }
	}
	for name, gate := range map[string]struct {
		who  func(*record.Client)
		most most
	}{
		"17 years old":                     {func(c *record.Client) { screened(c); c.Born = day(-17 * 365) }, nothing},
		"unscreened":                       {func(c *record.Client) { c.Screening = record.Screening{} }, nothing},
		"no birth date":                    {func(c *record.Client) { screened(c); c.Born = 0 }, nothing},
		"a known disease, inactive":        {func(c *record.Client) { ill(c); c.Screening.Active = false }, nothing},
		"a known disease, active":          {ill, easy},
		"a disease, cleared 13 months ago": {cleared(ill, day(-390)), easy},
		"a disease, cleared":               {cleared(ill, day(-30)), anything},
		"pregnant":                         {has(record.Pregnant), easy},
		"pregnant, cleared":                {cleared(has(record.Pregnant), day(-30)), anything},
		"a pacemaker":                      {has(record.Pacemaker), easy},
		"an irregular rhythm":              {has(record.Irregular), easy},
		"insulin":                          {has(record.Insulin), easy},
		"insulin, cleared":                 {cleared(has(record.Insulin), day(-30)), anything},
		"a medicine that slows":            {func(c *record.Client) { screened(c); c.Medicine = record.Slows }, easy},
		"nothing of the kind":              {screened, anything},
		"a fever yesterday":                {screened, easy},
	} {
		hardest := nothing
		for stage := 1; stage <= 3; stage++ {
			for _, weeks := range []int{0, 1, 4} {
				for _, cold := range []bool{false, true} {
					for _, act := range []record.Act{"", record.DoAdvance, record.DoHold, record.DoEase, record.DoStepBack, record.DoMaintain, record.DoResume} {
						s := story.Ferry(weeks)
						if stage > 1 && weeks > 0 {
							s = story.Intervals(weeks)
						}
						s.Client.Stage = stage
						s.Who(gate.who)
						if act == record.DoResume {
							s.Client.State = record.PausedState
						}
						if cold && weeks > 0 {
							s.Then(story.Note(7*weeks-1, signs.Cold))
						}
						on := story.Day(7*weeks - 1)
						if name == "a fever yesterday" {
							s.Then(story.Note(7*weeks-2, signs.Fever))
						}
						r := s.Record()
						if act != "" {
							to := map[record.Act]int{record.DoAdvance: min(3, stage+1), record.DoStepBack: max(1, stage-1)}[act]
							if to == 0 {
								to = stage
							}
							r.Decisions = append(r.Decisions, record.Decision{Client: r.Client.Name, Entered: on, From: on + 1, Act: act, Stage: to})
						}
						a := progression.Assess(defaults, on, r)
						p := prescription.Prescribe(defaults, on, r, a)
						is := nothing
						switch {
						case p.Sessions > 0 && p.Intervals != nil:
							is = anything
						case p.Sessions > 0:
							is = easy
						}
						hardest = max(hardest, is)
						if is > gate.most {
							t.Errorf("%s", fmt.Sprintf("%s: stage %d, week %d, cold %v, decided %q, %s: %d x %d min, %+v", name, stage, weeks, cold, act, story.Verdict(a), p.Sessions, p.Minutes, p.Intervals))
						}
					}
				}
			}
		}
		if hardest != gate.most {
			t.Errorf("%s: at most %d in all these weeks, want %d", name, hardest, gate.most)
		}
	}
}

// TestAnIllnessBesideAGate: what else holds a client back to comfortable sessions makes the week after a fever no longer, and
// its note says to rest first.
func TestAnIllnessBesideAGate(t *testing.T) {
	for name, who := range map[string]func(*record.Client){
		"nothing": func(*record.Client) {},
		"a disease, cleared 13 months ago": func(c *record.Client) {
			c.Screening.Active, c.Screening.Disease, c.Clearance = true, "heart", story.Day(-390)
		},
		"a resting rate of 100": func(c *record.Client) { c.Zones[0].HRRest = 100 },
	} {
		for stage := 1; stage <= 3; stage++ {
			s := story.Intervals(6)
			s.Client.Stage = stage
			s.Who(who)
			well := s.Record()
			on := s.Last()
			whole := prescription.Prescribe(defaults, on, well, progression.Assess(defaults, on, well))
			s.Then(story.Note(41, signs.Fever))
			r := s.Record()
			p := prescription.Prescribe(defaults, on, r, progression.Assess(defaults, on, r))
			if !p.Says(record.RestFirst) || !p.Reduced || p.Intervals != nil || p.Sessions*p.Minutes >= whole.Sessions*whole.Minutes {
				t.Errorf("%s, stage %d: %d x %d min after %d x %d, %+v", name, stage, p.Sessions, p.Minutes, whole.Sessions, whole.Minutes, p.Notes)
			}
		}
	}
}
