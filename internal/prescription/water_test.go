package prescription_test

import (
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// TestWaterHidesThePulse: of a swimmer whose heart rate is lost under water nothing is asked that no swim can show: minutes,
// effort and talk at the wall decide, and the plan has no heart rates but a doctor's limit. Of one whose strap
// keeps the heart rate, and of one who loses it elsewhere, everything is asked as of others.
func TestWaterHidesThePulse(t *testing.T) {
	for _, x := range []struct {
		name   string
		swims  func(i int) bool // which sessions are swims
		lost   func(i int) bool // and which have no heart rate
		limit  float64
		hidden bool // heart rate leads nothing
		beats  bool // of swims are planned
	}{
		{"all lost", always, always, 0, true, false},
		{"two of three lost", always, third(false), 0, true, false},
		{"one of three lost", always, third(true), 0, false, true},
		{"none lost", always, never, 0, false, true},
		{"runs, lost", never, always, 0, false, true},
		{"every third a swim, lost", third(true), third(true), 0, false, false},
		{"all lost, a limit", always, always, 130, true, true},
	} {
		for _, stage := range []int{1, 2} {
			s := story.Ferry(8)
			if stage == 2 {
				s = story.Intervals(8)
			}
			s.Who(func(c *record.Client) {
				c.Modes = []workout.Mode{workout.Swim}
				if !x.swims(1) || !x.swims(0) {
					c.Modes = []workout.Mode{workout.Run, workout.Swim}
				}
				c.Zones[0].Limit, c.Clearance = x.limit, story.Began
			})
			r := s.Each(func(i int, d *story.Done) {
				if x.swims(i) {
					d.Sport = workout.Swimming
				}
				d.NoHeart = x.lost(i)
			}).Record()
			a := progression.Assess(defaults, s.Last(), r)
			p := prescription.Prescribe(defaults, s.Last(), r, a)
			w := prescription.Lay(p, r, a)
			bad := func(what string) {
				t.Errorf("%s, stage %d: %s: %s\n%s", x.name, stage, what, story.Verdict(a), w.Text())
			}
			if got := a.Reason(policy.Steady) == nil; got != x.hidden {
				bad("rules on heart rate")
			}
			if x.hidden && (a.Lacks(policy.Zone, policy.Steady, policy.SameEffort, policy.EnoughEvidence) || p.Check > 0 || stage == 1 && x.limit == 0 && story.Verdict(a) != record.Advance) {
				bad("asks for what no swim shows")
			}
			for _, target := range p.Targets {
				if target.Mode == workout.Swim && (target.High > 0) != x.beats || x.hidden && target.Low > 0 {
					bad("heart rates")
				}
			}
			says := strings.Contains(w.Text(), "at the wall") && strings.Contains(w.Text(), "strap that stores")
			if says != (x.hidden || !x.beats) || x.hidden && strings.Contains(w.Text(), "Keep recording") {
				bad("words")
			}
		}
	}
}

func always(int) bool { return true }
func never(int) bool  { return false }

// third is every third session, or every other than that.
func third(is bool) func(int) bool { return func(i int) bool { return (i%3 == 0) == is } }

// TestASwimmersLife: week by week, without a single heart rate, a swimmer who answers moves up like others, and one whose
// swims are hard does not.
func TestASwimmersLife(t *testing.T) {
	for name, hard := range map[string]bool{"easy": false, "hard": true} {
		l := lifeOf(1, func(c *record.Client) {
			c.Modes, c.Screening.Active = []workout.Mode{workout.Swim}, true
		})
		l.sport, l.unseen = workout.Swimming, true
		if hard {
			l.aim = func(int, float64, float64) float64 { return l.easyUpTo + 12 }
		}
		moved := 0
		for w := range 12 {
			l.week(w)
			if story.Verdict(l.assessed[w]) == record.Advance && moved == 0 {
				moved = w + 1
			}
		}
		if !hard && (moved < 4 || moved > 7) || hard && moved > 0 {
			t.Errorf("%s: the first move came at the end of week %d", name, moved)
		}
	}
}
