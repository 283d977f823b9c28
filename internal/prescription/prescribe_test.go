package prescription_test

import (
	"slices"
	"strings"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// defaults is the policy that every story is assessed by.
var defaults = story.Policy()

// next assesses a story and prescribes the week after it.
func next(s *story.Story) (record.Prescription, record.Assessment) {
	r := s.Record()
	a := progression.Assess(defaults, s.Last(), r)
	return prescription.Prescribe(defaults, s.Last(), r, a), a
}

// assess is the assessment of a story alone.
func assess(s *story.Story) record.Assessment {
	_, a := next(s)
	return a
}

// onLast is a decision entered on the last day of a story, that holds from the day after.
func onLast(s *story.Story, act record.Act, stage int) *story.Story {
	return s.Then(func(r *record.Record) {
		r.Decisions = append(r.Decisions, record.Decision{Entered: s.Last(), From: s.Last() + 1, Act: act, Stage: stage})
	})
}

func TestPrescribeVolume(t *testing.T) {
	for _, c := range []struct {
		name              string
		story             *story.Story
		sessions, minutes int
		reduced           bool
	}{
		{"build grows the minutes first", story.Ferry(2), 3, 40, false},
		{"then the sessions", story.Ferry(2).Who(func(c *record.Client) { c.Minutes, c.Days = 35, 4 }), 4, 30, false},
		{"less time was named since", story.Ferry(2).Who(func(c *record.Client) { c.Minutes, c.Days = 25, 2 }), 2, 25, false},
		{"and stops at the time there is", story.Ferry(2).Who(func(c *record.Client) { c.Minutes, c.Days = 35, 3 }), 3, 35, false},
		{"an unfulfilled plan goes by what was done", story.Ferry(2).Each(story.Lasting(20)), 3, 25, false},
		{"too hard makes it shorter", story.Ferry(2).Each(story.Feeling(story.RPE20(15), record.TalkHard)), 3, 30, false},
		{"a little above the limit changes nothing", story.Ferry(2).Each(story.Feeling(story.RPE20(14), record.TalkComfortable)), 3, 35, false},
		{"ease is 40 % less", story.Ferry(2).Then(story.Note(12, signs.Cold)), 3, 21, true},
		{"a return is 75 %", story.Away(story.Ferry(6), 25, story.Never).Later(-6), 3, 26, true},
		{"an advance that nobody decides holds nothing back", story.Ferry(4), 3, 40, false},
		{"nor after a week that was not done", story.Ferry(4).Each(func(i int, d *story.Done) { d.Skip = i == 9 }), 3, 35, false},
		{"start, inactive before", story.Bare(story.Without(story.Ferry(1))).Who(story.Inactive), 3, 20, false},
		{"start, active before", story.Bare(story.Without(story.Ferry(1))), 3, 30, false},
		{"start with little time", story.Bare(story.Without(story.Ferry(1))).Who(func(c *record.Client) { c.Minutes, c.Days = 25, 2 }), 2, 25, false},
		{"from what was done, one step more", story.Bare(story.Ferry(4).Each(func(_ int, d *story.Done) { d.Minutes, d.Rpe = 38, story.RPE20(14) })), 3, 40, false},
		{"from one week of three sessions, not a quarter of them", story.Bare(story.Ferry(1).Each(func(_ int, d *story.Done) { d.Minutes, d.Rpe = 38, story.RPE20(14) })), 3, 40, false},
		{"by choice it stays", story.Ferry(4).Then(story.Decided(record.DoMaintain, 20, 1)), 3, 35, false},
		{"the trainer eases", onLast(story.Ferry(2), record.DoEase, 1), 3, 21, true},
		{"the trainer overrules an easing", onLast(story.Ferry(2).Then(story.Note(12, signs.Cold)), record.DoHold, 1), 3, 35, false},
		{"the trainer eased in the middle of the week", story.Ferry(2).Then(func(r *record.Record) {
			r.Decisions = append(r.Decisions, record.Decision{Entered: story.Day(10), From: story.Day(14), Act: record.DoEase, Stage: 1})
		}), 3, 21, true},
		{"back from a pause of three weeks", onLast(story.Ferry(5).Then(story.Paused(14, 40)).Each(func(i int, d *story.Done) { d.Skip = i > 5 }), record.DoResume, 1), 3, 26, true},
		{"a pause that ends with the week", story.Ferry(5).Then(story.Paused(14, 34)).Each(func(i int, d *story.Done) { d.Skip = i > 5 }), 3, 26, true},
		{"a pause that ends in the week to come", story.Ferry(5).Then(story.Paused(14, 37)).Each(func(i int, d *story.Done) { d.Skip = i > 5 }), 0, 0, false},
		{"a return of one week is over", story.Away(story.Ferry(6), 25, 35), 3, 35, false},
		{"a return of one week that began on a Wednesday goes on", story.Away(story.Ferry(6), 25, 37), 3, 26, true},
		{"after two weeks and more the second week back", story.Away(story.Ferry(6), 18, 35), 3, 26, true},
		{"after two weeks and more a return of two weeks is over", story.Away(story.Ferry(7), 18, 35), 3, 35, false},
		{"after an eased week the full one comes back", story.Ferry(3).Then(func(r *record.Record) {
			r.Prescriptions[2].Minutes, r.Prescriptions[2].Reduced = 21, true
		}), 3, 40, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := next(c.story)
			if p.Sessions != c.sessions || p.Minutes != c.minutes || p.Reduced != c.reduced {
				t.Errorf("%d x %d min, reduced %v; want %d x %d, %v (%s)", p.Sessions, p.Minutes, p.Reduced, c.sessions, c.minutes, c.reduced, reasons.Paragraph(a.Summary))
			}
			if p.From != c.story.Last()+1 || p.To != c.story.Last()+7 || p.Made != c.story.Last() {
				t.Errorf("for %s to %s, made %s", p.From, p.To, p.Made)
			}
		})
	}
}

// TestNoTraining: nothing is prescribed while a doctor, a screening or a pause stands before it.
func TestNoTraining(t *testing.T) {
	for name, s := range map[string]*story.Story{
		"a sign":             story.Ferry(2).Then(story.Note(12, signs.Chest)),
		"disease, inactive":  story.Ferry(1).Who(story.Ill(false, 0)),
		"not screened":       story.Ferry(2).Who(func(c *record.Client) { c.Screening = record.Screening{} }),
		"under 18":           story.Ferry(2).Who(func(c *record.Client) { c.Born = workout.MustDate("2010-01-01") }),
		"paused":             story.Ferry(2).Then(story.Paused(13, 30)),
		"paused from now on": onLast(story.Ferry(2), record.DoPause, 1),
		"finished":           story.Ferry(2).Who(func(c *record.Client) { c.State = record.Finished }),
		"the trainer refers": onLast(story.Ferry(2), record.DoRefer, 1),
		"no stage":           story.New(2, 0),
	} {
		t.Run(name, func(t *testing.T) {
			p, a := next(s)
			if p.Sessions != 0 || p.Minutes != 0 || len(p.Targets) != 0 || p.Intervals != nil {
				t.Errorf("prescribes %+v (%s)", p, reasons.Paragraph(a.Summary))
			}
			if len(p.Notes) == 0 || p.Plans() != nil {
				t.Errorf("notes %v, plans %v", p.Notes, p.Plans())
			}
		})
	}
}

// TestReturnAfterAFever: an easy week without intervals, however short the break was.
func TestReturnAfterAFever(t *testing.T) {
	back := func() *story.Story { return story.Away(story.Intervals(6), 25, story.Never).Later(-6) }
	if p, a := next(back()); *a.Plan != record.Return || !p.Reduced || p.Intervals == nil {
		t.Errorf("a break alone: %s, %+v", reasons.Paragraph(a.Summary), p)
	}
	if p, a := next(back().Then(story.Note(26, signs.Fever))); a.Plan == nil || !p.Reduced || p.Intervals != nil {
		t.Errorf("after a fever: %s, %+v", reasons.Paragraph(a.Summary), p)
	}
	if p, a := next(back().Then(story.Note(20, signs.Fever))); p.Intervals == nil {
		t.Errorf("a fever before the last session: %s, %+v", reasons.Paragraph(a.Summary), p)
	}
}

// TestModerateGoesOn: without a fresh clearance vigorous work waits, comfortable sessions do not.
func TestModerateGoesOn(t *testing.T) {
	for name, s := range map[string]*story.Story{
		"before stage 2": story.Ferry(4).Who(story.Ill(true, 0)),
		"in stage 2":     story.Intervals(4).Who(story.Ill(true, story.Day(27)-400)),
	} {
		p, a := next(s)
		if *a.Verdict != record.Refer || p.Sessions != 3 || p.Minutes != 35 || p.Intervals != nil {
			t.Errorf("%s: %s, %+v", name, *a.Verdict, p)
		}
	}
}

func TestIntervalSteps(t *testing.T) {
	set := func(bouts, work, rest int) func(*record.Record) {
		return func(r *record.Record) {
			for i := range r.Prescriptions {
				r.Prescriptions[i].Intervals.Bouts, r.Prescriptions[i].Intervals.Work, r.Prescriptions[i].Intervals.Rest = bouts, work, rest
			}
		}
	}
	two := func() *story.Story { return story.Intervals(2) }
	bouts := func(bouts, work int) func(int, *story.Done) {
		return func(_ int, d *story.Done) {
			if d.Bouts > 0 {
				d.Bouts, d.Bout = bouts, work
			}
		}
	}
	for _, c := range []struct {
		name                     string
		story                    *story.Story
		stage, count             int
		bouts, work, rest        int
		low, high                bool
		wantFeel                 workout.Feel
		sessionsMinutesUnchanged bool
	}{
		{"first week of stage 2", onLast(story.Ferry(4), record.DoAdvance, 2), 2, 1, 4, 60, 240, false, true, workout.Brisk, true},
		{"then half as much again", two(), 2, 2, 6, 60, 180, false, true, workout.Brisk, true},
		{"a step back that nobody decided leaves the stage and asks for less", story.Intervals(4).Each(story.Failing(3)), 2, 2, 6, 60, 180, false, true, workout.Brisk, true},
		{"repeated when not done", two().Each(story.Failing(0)).Each(func(i int, d *story.Done) { d.Skip = i > 4 }), 2, 2, 4, 60, 240, false, true, workout.Brisk, true},
		{"longer bouts get a lower limit", two().Each(bouts(6, 120)).Then(set(6, 120, 120)), 2, 2, 5, 180, 180, true, true, workout.Brisk, true},
		{"the last step stays, the minutes grow", two().Each(bouts(5, 180)).Then(set(5, 180, 180)), 2, 2, 5, 180, 180, true, true, workout.Brisk, false},
		{"first week of stage 3", onLast(story.Intervals(4), record.DoAdvance, 3), 3, 1, 4, 60, 180, false, true, workout.Hard, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := next(c.story)
			i := p.Intervals
			if i == nil {
				t.Fatalf("no intervals (%s)", reasons.Paragraph(a.Summary))
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
	again, _ := next(onLast(story.Intervals(4).Then(set(6, 120, 120)).Then(story.Decided(record.DoStepBack, 14, 1)), record.DoAdvance, 2))
	if i := again.Intervals; i == nil || i.Bouts != 4 || i.Work != 60 || i.Rest != 240 || i.Count != 1 {
		t.Errorf("back in stage 2 it starts with %+v", i)
	}
	short, _ := next(story.Away(story.Intervals(5).Each(bouts(6, 60)), 25, story.Never).Then(set(6, 60, 180)))
	if i := short.Intervals; i == nil || i.Bouts != 5 || i.Count != 1 || !short.Reduced {
		t.Errorf("after nine days off it goes on with %+v", i)
	}
	for name, s := range map[string]*story.Story{
		"stage 1":             story.Ferry(4),
		"an easier week":      two().Then(story.Note(12, signs.Cold)),
		"a long return":       story.Away(story.Intervals(7), 25, story.Never),
		"a step back":         onLast(story.Intervals(4).Each(story.Failing(3)), record.DoStepBack, 1),
		"a recovery phase":    two().Who(func(c *record.Client) { c.State = record.RecoveryOf }),
		"not decided to move": story.Ferry(5),
	} {
		if p, a := next(s); p.Intervals != nil {
			t.Errorf("%s: intervals %+v (%s)", name, *p.Intervals, reasons.Paragraph(a.Summary))
		}
	}
}

// TestBeats holds the bands against the published edges of 64, 77 and 96 % of the maximum (position
// stand 2011) and the split at 86.5 %: with 185 bpm 118.4, 142.45, 160.0 and 177.6.
func TestBeats(t *testing.T) {
	p, _ := next(onLast(story.Ferry(4), record.DoAdvance, 2))
	if got := p.Targets[0]; got.Mode != workout.Run || got.Low != 119 || got.High != 142 {
		t.Errorf("zone 1 is %+v, want 119 to 142", got)
	}
	if got := p.Intervals.High; got != 160 {
		t.Errorf("bouts up to %v, want 160", got)
	}
	// An estimated maximum, 211 - 0.64 x 38.6 = 186.3 (Nes 2013): stage 3 stops at 90 % of it.
	estimated := story.Intervals(4).Who(func(c *record.Client) { c.Zones = nil })
	p, _ = next(onLast(estimated, record.DoAdvance, 3))
	if got := p.Intervals.High; got != 167 {
		t.Errorf("bouts up to %v, want 167", got)
	}
	p, _ = next(onLast(story.Intervals(4), record.DoAdvance, 3))
	// With a measured one short bouts stop in the middle of the zone, (160.0 + 177.6) / 2.
	if got := p.Intervals.High; got != 168 {
		t.Errorf("with a measured maximum up to %v, want 168", got)
	}
}

// TestEachModeHasItsBand: the estimate has an offset of -8 bpm on the bike, and the limit of bouts
// is safe in both modes.
func TestEachModeHasItsBand(t *testing.T) {
	both := func(c *record.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Run, workout.Bike} }
	p, _ := next(onLast(story.Ferry(4).Who(both), record.DoAdvance, 2))
	if len(p.Targets) != 2 || p.Targets[1].Mode != workout.Bike || p.Targets[1].High >= p.Targets[0].High {
		t.Fatalf("targets %+v", p.Targets)
	}
	alone, _ := next(onLast(story.Ferry(4).Who(func(c *record.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Bike} }), record.DoAdvance, 2))
	swapped, _ := next(onLast(story.Ferry(4).Who(func(c *record.Client) { c.Zones, c.Modes = nil, []workout.Mode{workout.Bike, workout.Run} }), record.DoAdvance, 2))
	if p.Intervals.High != alone.Intervals.High || swapped.Intervals.High != alone.Intervals.High {
		t.Errorf("bouts up to %v and %v, on the bike alone %v", p.Intervals.High, swapped.Intervals.High, alone.Intervals.High)
	}
	none, _ := next(story.Ferry(2).Who(func(c *record.Client) { c.Modes = nil }))
	if len(none.Targets) != 5 || slices.ContainsFunc(none.Targets, func(t record.Target) bool { return t.Mode == workout.Walk }) {
		t.Errorf("without modes: %+v", none.Targets)
	}
}

func TestNotesForTheClient(t *testing.T) {
	for name, s := range map[string]*story.Story{"stage 1": story.Ferry(2), "stage 2": story.Intervals(2), "eased": story.Ferry(2).Then(story.Note(12, signs.Fever))} {
		p, _ := next(s)
		if last := prescription.Say(p.Notes[len(p.Notes)-1]); last != "Keep recording and keep walking easily for 3 minutes after your last effort." {
			t.Errorf("%s: the last note is %q", name, last)
		}
		for _, note := range p.Notes {
			n := prescription.Say(note)
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
	if p, _ := next(story.Ferry(2).Then(story.Note(12, signs.Fever))); !p.Says(record.RestFirst) {
		t.Errorf("after a fever: %v", p.Notes)
	}
	if p, _ := next(story.Ferry(2).Each(story.Feeling(story.RPE20(15), record.TalkHard))); !p.Says(record.FeltTooHard) || !p.Slower {
		t.Errorf("after a week that was too hard: %v, slower %v", p.Notes, p.Slower)
	}
	if p, _ := next(story.Ferry(3).Each(func(_ int, d *story.Done) { d.Below = 39 })); !p.Says(record.AbovePlan) || !p.Slower || p.Targets[0].Low == 0 {
		t.Errorf("after weeks above zone 1: %v, slower %v, %+v", p.Notes, p.Slower, p.Targets)
	}
	if p, _ := next(story.Ferry(2)); p.Says(record.FeltTooHard) || p.Slower {
		t.Errorf("after a week that was not too hard: %v", p.Notes)
	}
	if p, _ := next(story.Away(story.Ferry(7), 25, story.Never)); !p.Says(record.CheckLater) {
		t.Errorf("after three weeks: %v", p.Notes)
	}
	if p, _ := next(story.Ferry(2).Who(story.Slowed(story.Day(1)))); !p.Says(record.ByFeel) {
		t.Errorf("under a medicine that slows the heart: %v", p.Notes)
	}
}

func TestPlans(t *testing.T) {
	p, _ := next(onLast(story.Ferry(4), record.DoAdvance, 2))
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

// TestIntervalSessionsAreSpaced: two of three or more sessions are never neighbours.
func TestIntervalSessionsAreSpaced(t *testing.T) {
	for sessions := 3; sessions <= 6; sessions++ {
		p := record.Prescription{
			Sessions: sessions, Minutes: 20, Targets: []record.Target{{Mode: workout.Bike}},
			Intervals: &record.Intervals{Count: 2, Bouts: 5, Work: 180, Rest: 180},
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

// TestNothingOnADoubt: while somebody has to be asked about a possible grave sign nothing is prescribed.
func TestNothingOnADoubt(t *testing.T) {
	p, _ := next(story.Ferry(4).Then(func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: story.Day(24), Entered: story.Day(24), Text: "tight across the chest on the last hill"}.Read())
	}))
	if p.Sessions != 0 || !has(p.Notes, "call emergency help") {
		t.Errorf("prescribes %d sessions, notes %v", p.Sessions, p.Notes)
	}
}
