package progression_test

import (
	"slices"
	"strings"
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// next assesses a story and prescribes the week after it.
func (s *story) next() (progression.Prescription, progression.Assessment) {
	r := s.record()
	a := policy.Assess(s.last(), r)
	return policy.Prescribe(s.last(), r, a), a
}

// bare is a story without stored prescriptions.
func bare(s *story) *story {
	s.plans = false
	return s
}

// onLast is a decision entered on the last day of a story, that holds from the day after.
func onLast(s *story, act progression.Act, stage int) *story {
	return s.then(func(r *progression.Record) {
		r.Decisions = append(r.Decisions, progression.Decision{Entered: s.last(), From: s.last() + 1, Act: act, Stage: stage})
	})
}

func TestPrescribeVolume(t *testing.T) {
	for _, c := range []struct {
		name              string
		story             *story
		sessions, minutes int
		reduced           bool
	}{
		{"build grows the minutes first", ferry(2), 3, 40, false},
		{"then the sessions", ferry(2).who(func(c *progression.Client) { c.Minutes, c.Days = 35, 4 }), 4, 30, false},
		{"less time was named since", ferry(2).who(func(c *progression.Client) { c.Minutes, c.Days = 25, 2 }), 2, 25, false},
		{"and stops at the time there is", ferry(2).who(func(c *progression.Client) { c.Minutes, c.Days = 35, 3 }), 3, 35, false},
		{"an unfulfilled plan goes by what was done", ferry(2).each(lasting(20)), 3, 25, false},
		{"too hard changes nothing", ferry(2).each(feeling(rpe20(15), progression.TalkHard)), 3, 35, false},
		{"ease is 40 % less", ferry(2).then(note(12, progression.Cold)), 3, 21, true},
		{"a return is 75 %", away(ferry(6), 25, never).later(-6), 3, 26, true},
		{"an advance that is not decided waits", ferry(4), 3, 35, false},
		{"start, inactive before", bare(without(ferry(1))).who(inactive), 3, 20, false},
		{"start, active before", bare(without(ferry(1))), 3, 30, false},
		{"start with little time", bare(without(ferry(1))).who(func(c *progression.Client) { c.Minutes, c.Days = 25, 2 }), 2, 25, false},
		{"from what was done, one step more", bare(ferry(4).each(func(_ int, d *done) { d.minutes, d.rpe = 38, rpe20(14) })), 3, 40, false},
		{"from one week of three sessions, not a quarter of them", bare(ferry(1).each(func(_ int, d *done) { d.minutes, d.rpe = 38, rpe20(14) })), 3, 40, false},
		{"by choice it stays", ferry(4).then(decided(progression.DoMaintain, 20, 1)), 3, 35, false},
		{"the trainer eases", onLast(ferry(2), progression.DoEase, 1), 3, 21, true},
		{"the trainer overrules an easing", onLast(ferry(2).then(note(12, progression.Cold)), progression.DoHold, 1), 3, 35, false},
		{"the trainer eased in the middle of the week", ferry(2).then(func(r *progression.Record) {
			r.Decisions = append(r.Decisions, progression.Decision{Entered: day(10), From: day(14), Act: progression.DoEase, Stage: 1})
		}), 3, 21, true},
		{"back from a pause of three weeks", onLast(ferry(5).then(paused(14, 40)).each(func(i int, d *done) { d.skip = i > 5 }), progression.DoResume, 1), 3, 26, true},
		{"a pause that ends with the week", ferry(5).then(paused(14, 34)).each(func(i int, d *done) { d.skip = i > 5 }), 3, 26, true},
		{"a pause that ends in the week to come", ferry(5).then(paused(14, 37)).each(func(i int, d *done) { d.skip = i > 5 }), 0, 0, false},
		{"a return of one week is over", away(ferry(6), 25, 35), 3, 35, false},
		{"a return of one week that began on a Wednesday goes on", away(ferry(6), 25, 37), 3, 26, true},
		{"after two weeks and more the second week back", away(ferry(6), 18, 35), 3, 26, true},
		{"after two weeks and more a return of two weeks is over", away(ferry(7), 18, 35), 3, 35, false},
		{"after an eased week the full one comes back", ferry(3).then(func(r *progression.Record) {
			r.Prescriptions[2].Minutes, r.Prescriptions[2].Reduced = 21, true
		}), 3, 40, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := c.story.next()
			if p.Sessions != c.sessions || p.Minutes != c.minutes || p.Reduced != c.reduced {
				t.Errorf("%d x %d min, reduced %v; want %d x %d, %v (%s)", p.Sessions, p.Minutes, p.Reduced, c.sessions, c.minutes, c.reduced, a.Summary)
			}
			if p.From != c.story.last()+1 || p.To != c.story.last()+7 || p.Made != c.story.last() {
				t.Errorf("for %s to %s, made %s", p.From, p.To, p.Made)
			}
		})
	}
}

// TestNoTraining: nothing is prescribed while a doctor, a screening or a pause stands before it.
func TestNoTraining(t *testing.T) {
	for name, s := range map[string]*story{
		"a sign":             ferry(2).then(note(12, progression.Chest)),
		"disease, inactive":  ferry(1).who(ill(false, 0)),
		"not screened":       ferry(2).who(func(c *progression.Client) { c.Screening = progression.Screening{} }),
		"under 18":           ferry(2).who(func(c *progression.Client) { c.Born = workout.MustDate("2010-01-01") }),
		"paused":             ferry(2).then(paused(13, 30)),
		"paused from now on": onLast(ferry(2), progression.DoPause, 1),
		"finished":           ferry(2).who(func(c *progression.Client) { c.State = progression.Finished }),
		"the trainer refers": onLast(ferry(2), progression.DoRefer, 1),
		"no stage":           newStory(2, 0),
	} {
		t.Run(name, func(t *testing.T) {
			p, a := s.next()
			if p.Sessions != 0 || p.Minutes != 0 || len(p.Targets) != 0 || p.Intervals != nil {
				t.Errorf("prescribes %+v (%s)", p, a.Summary)
			}
			if len(p.Notes) == 0 || p.Plans() != nil {
				t.Errorf("notes %q, plans %v", p.Notes, p.Plans())
			}
		})
	}
}

// TestReturnAfterAFever: an easy week without intervals, however short the break was.
func TestReturnAfterAFever(t *testing.T) {
	back := func() *story { return away(intervals(6), 25, never).later(-6) }
	if p, a := back().next(); *a.Plan != progression.Return || !p.Reduced || p.Intervals == nil {
		t.Errorf("a break alone: %s, %+v", a.Summary, p)
	}
	if p, a := back().then(note(26, progression.Fever)).next(); a.Plan == nil || !p.Reduced || p.Intervals != nil {
		t.Errorf("after a fever: %s, %+v", a.Summary, p)
	}
	if p, a := back().then(note(20, progression.Fever)).next(); p.Intervals == nil {
		t.Errorf("a fever before the last session: %s, %+v", a.Summary, p)
	}
}

// TestModerateGoesOn: without a fresh clearance vigorous work waits, comfortable sessions do not.
func TestModerateGoesOn(t *testing.T) {
	for name, s := range map[string]*story{
		"before stage 2": ferry(4).who(ill(true, 0)),
		"in stage 2":     intervals(4).who(ill(true, day(27)-400)),
	} {
		p, a := s.next()
		if *a.Verdict != progression.Refer || p.Sessions != 3 || p.Minutes != 35 || p.Intervals != nil {
			t.Errorf("%s: %s, %+v", name, *a.Verdict, p)
		}
	}
}

func TestIntervalSteps(t *testing.T) {
	set := func(bouts, work, rest int) func(*progression.Record) {
		return func(r *progression.Record) {
			for i := range r.Prescriptions {
				r.Prescriptions[i].Intervals.Bouts, r.Prescriptions[i].Intervals.Work, r.Prescriptions[i].Intervals.Rest = bouts, work, rest
			}
		}
	}
	two := func() *story { return intervals(2) }
	bouts := func(bouts, work int) func(int, *done) {
		return func(_ int, d *done) {
			if d.bouts > 0 {
				d.bouts, d.bout = bouts, work
			}
		}
	}
	for _, c := range []struct {
		name                     string
		story                    *story
		stage, count             int
		bouts, work, rest        int
		low, high                bool
		wantFeel                 workout.Feel
		sessionsMinutesUnchanged bool
	}{
		{"first week of stage 2", onLast(ferry(4), progression.DoAdvance, 2), 2, 1, 4, 60, 240, false, true, workout.Brisk, true},
		{"then shorter rest", two(), 2, 2, 4, 60, 180, false, true, workout.Brisk, true},
		{"repeated when not done", two().each(failing(0)).each(func(i int, d *done) { d.skip = i > 4 }), 2, 2, 4, 60, 240, false, true, workout.Brisk, true},
		{"longer bouts get a lower limit", two().each(bouts(6, 120)).then(set(6, 120, 120)), 2, 2, 5, 180, 180, true, true, workout.Brisk, true},
		{"the last step stays, the minutes grow", two().each(bouts(5, 180)).then(set(5, 180, 180)), 2, 2, 5, 180, 180, true, true, workout.Brisk, false},
		{"first week of stage 3", onLast(intervals(4), progression.DoAdvance, 3), 3, 1, 4, 60, 180, false, true, workout.Hard, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := c.story.next()
			i := p.Intervals
			if i == nil {
				t.Fatalf("no intervals (%s)", a.Summary)
			}
			if p.Stage != c.stage || i.Count != c.count || i.Bouts != c.bouts || i.Work != c.work || i.Rest != c.rest || i.Feel != c.wantFeel {
				t.Errorf("stage %d, %+v", p.Stage, *i)
			}
			if (i.Low > 0) != c.low || (i.High > 0) != c.high {
				t.Errorf("beats %v to %v", i.Low, i.High)
			}
			if c.sessionsMinutesUnchanged != (p.Minutes == 35) {
				t.Errorf("%d min", p.Minutes)
			}
		})
	}
	again, _ := onLast(intervals(4).then(set(6, 120, 120)).then(decided(progression.DoStepBack, 14, 1)), progression.DoAdvance, 2).next()
	if i := again.Intervals; i == nil || i.Bouts != 4 || i.Work != 60 || i.Rest != 240 || i.Count != 1 {
		t.Errorf("back in stage 2 it starts with %+v", i)
	}
	short, _ := away(intervals(5).each(bouts(6, 60)), 25, never).then(set(6, 60, 180)).next()
	if i := short.Intervals; i == nil || i.Bouts != 5 || i.Count != 1 || !short.Reduced {
		t.Errorf("after nine days off it goes on with %+v", i)
	}
	for name, s := range map[string]*story{
		"stage 1":             ferry(4),
		"an easier week":      two().then(note(12, progression.Cold)),
		"a long return":       away(intervals(7), 25, never),
		"a step back":         intervals(4).each(failing(3)),
		"a recovery phase":    two().who(func(c *progression.Client) { c.State = progression.RecoveryOf }),
		"not decided to move": ferry(5),
	} {
		if p, a := s.next(); p.Intervals != nil {
			t.Errorf("%s: intervals %+v (%s)", name, *p.Intervals, a.Summary)
		}
	}
}

// TestBeats holds the bands against the published edges of 64, 77 and 96 % of the maximum (position
// stand 2011) and the split at 86.5 %: with 185 bpm 118.4, 142.45, 160.0 and 177.6.
func TestBeats(t *testing.T) {
	p, _ := onLast(ferry(4), progression.DoAdvance, 2).next()
	if got := p.Targets[0]; got.Mode != workout.Run || got.Low != 119 || got.High != 142 {
		t.Errorf("zone 1 is %+v, want 119 to 142", got)
	}
	if got := p.Intervals.High; got != 160 {
		t.Errorf("bouts up to %v, want 160", got)
	}
	// An estimated maximum, 211 - 0.64 x 38.6 = 186.3 (Nes 2013): stage 3 stops at 90 % of it.
	estimated := intervals(4).who(func(c *progression.Client) { c.Zones = nil })
	p, _ = onLast(estimated, progression.DoAdvance, 3).next()
	if got := p.Intervals.High; got != 167 {
		t.Errorf("bouts up to %v, want 167", got)
	}
	p, _ = onLast(intervals(4), progression.DoAdvance, 3).next()
	// With a measured one short bouts stop in the middle of the zone, (160.0 + 177.6) / 2.
	if got := p.Intervals.High; got != 168 {
		t.Errorf("with a measured maximum up to %v, want 168", got)
	}
}

// TestEachModeHasItsBand: the estimate has an offset of -8 bpm on the bike, and the limit of bouts
// is safe in both modes.
func TestEachModeHasItsBand(t *testing.T) {
	both := func(c *progression.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Run, workout.Bike} }
	p, _ := onLast(ferry(4).who(both), progression.DoAdvance, 2).next()
	if len(p.Targets) != 2 || p.Targets[1].Mode != workout.Bike || p.Targets[1].High >= p.Targets[0].High {
		t.Fatalf("targets %+v", p.Targets)
	}
	alone, _ := onLast(ferry(4).who(func(c *progression.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Bike} }), progression.DoAdvance, 2).next()
	swapped, _ := onLast(ferry(4).who(func(c *progression.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Bike, workout.Run} }), progression.DoAdvance, 2).next()
	if p.Intervals.High != alone.Intervals.High || swapped.Intervals.High != alone.Intervals.High {
		t.Errorf("bouts up to %v and %v, on the bike alone %v", p.Intervals.High, swapped.Intervals.High, alone.Intervals.High)
	}
	none, _ := ferry(2).who(func(c *progression.Client) { c.Modes = nil }).next()
	if len(none.Targets) != 5 || slices.ContainsFunc(none.Targets, func(t progression.Target) bool { return t.Mode == workout.Walk }) {
		t.Errorf("without modes: %+v", none.Targets)
	}
}

func TestNotesForTheClient(t *testing.T) {
	contains := func(p progression.Prescription, part string) bool {
		return slices.ContainsFunc(p.Notes, func(n string) bool { return strings.Contains(n, part) })
	}
	for name, s := range map[string]*story{"stage 1": ferry(2), "stage 2": intervals(2), "eased": ferry(2).then(note(12, progression.Fever))} {
		p, _ := s.next()
		if p.Notes[len(p.Notes)-1] != "Keep recording and keep walking easily for 3 minutes after your last effort." {
			t.Errorf("%s: the last note is %q", name, p.Notes[len(p.Notes)-1])
		}
		for _, n := range p.Notes {
			if !strings.HasSuffix(n, ".") || strings.Contains(strings.ToLower(n), "stand still") {
				t.Errorf("%s: note %q", name, n)
			}
			for _, word := range []string{"verdict", "hold ", "refer", "step back", "not assessable", "advance"} {
				if strings.Contains(n, word) {
					t.Errorf("%s: %q in %q is a word for the trainer", name, word, n)
				}
			}
		}
	}
	if p, _ := ferry(2).then(note(12, progression.Fever)).next(); !contains(p, "48 hours") {
		t.Errorf("after a fever: %q", p.Notes)
	}
	const slower = "felt harder than it should"
	if p, _ := ferry(2).each(feeling(rpe20(15), progression.TalkHard)).next(); !contains(p, slower) || !p.Slower {
		t.Errorf("after a week that was too hard: %q, slower %v", p.Notes, p.Slower)
	}
	if p, _ := ferry(3).each(func(_ int, d *done) { d.below = 39 }).next(); !contains(p, "harder than planned") || !p.Slower || p.Targets[0].Low == 0 {
		t.Errorf("after weeks above zone 1: %q, slower %v, %+v", p.Notes, p.Slower, p.Targets)
	}
	if p, _ := ferry(2).next(); contains(p, slower) || p.Slower {
		t.Errorf("after a week that was not too hard: %q", p.Notes)
	}
	if p, _ := away(ferry(7), 25, never).next(); !contains(p, "check session") {
		t.Errorf("after three weeks: %q", p.Notes)
	}
	if p, _ := ferry(2).who(slowed(day(1))).next(); !contains(p, "not by the pulse") {
		t.Errorf("under a medicine that slows the heart: %q", p.Notes)
	}
}

func TestPlans(t *testing.T) {
	p, _ := onLast(ferry(4), progression.DoAdvance, 2).next()
	plans := p.Plans()
	if len(plans) != 3 {
		t.Fatalf("%d plans", len(plans))
	}
	for i, plan := range plans {
		steps := plan.Steps
		if steps[0].Kind != workout.WarmUp || steps[0].Seconds != 300 || steps[len(steps)-1].Kind != workout.CoolDown || steps[len(steps)-1].Seconds != 300 {
			t.Errorf("plan %d begins with %+v and ends with %+v", i, steps[0], steps[len(steps)-1])
		}
		if plan.Seconds() != 35*60 || plan.Mode != workout.Run {
			t.Errorf("plan %d: %s for %d s", i, plan.Mode, plan.Seconds())
		}
		if want := 4 * (1 - min(i, 1)); len(plan.Bouts()) != want {
			t.Errorf("plan %d has %d bouts, want %d", i, len(plan.Bouts()), want)
		}
	}
	rests := 0
	for _, s := range plans[0].Steps {
		if s.Kind == workout.Recovery {
			rests++
			if s.Seconds != 240 || s.High != 142 {
				t.Errorf("rest %+v", s)
			}
		}
	}
	if rests != 3 {
		t.Errorf("%d rests between 4 bouts", rests)
	}
	if plans[0].Name != "Session 1 of 3: intervals" || plans[1].Name != "Session 2 of 3: steady" {
		t.Errorf("names %q, %q", plans[0].Name, plans[1].Name)
	}
}

// TestIntervalSessionsLieApart: two of three or more sessions are never neighbours.
func TestIntervalSessionsLieApart(t *testing.T) {
	for sessions := 3; sessions <= 6; sessions++ {
		p := progression.Prescription{
			Sessions: sessions, Minutes: 20, Targets: []progression.Target{{Mode: workout.Bike}},
			Intervals: &progression.Intervals{Count: 2, Bouts: 5, Work: 180, Rest: 180},
		}
		last, n := -2, 0
		for i, plan := range p.Plans() {
			if len(plan.Bouts()) > 0 {
				if i-last < 2 {
					t.Errorf("of %d sessions number %d and %d have intervals", sessions, last+1, i+1)
				}
				last, n = i, n+1
				if plan.Seconds() != 600+5*180+4*180 {
					t.Errorf("%d s: longer bouts than the session's minutes take the time they need", plan.Seconds())
				}
			}
		}
		if n != 2 {
			t.Errorf("of %d sessions %d have intervals", sessions, n)
		}
	}
}
