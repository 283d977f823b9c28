package hindsight_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/hindsight"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// What came of a decision, from what is on record alone. Every story begins with six weeks of stage 1
// at effort 12, and the first decision is on the last day of the sixth week, day 41.
func TestOutcome(t *testing.T) {
	for _, c := range []struct {
		name string
		make *story
		on   int // the day from which is looked back
		of   int // the decision
		want string
	}{
		{"an advance that went well", newStory().weeks(0, 6, 12).decide(41, record.DoAdvance, record.Advance).weeks(6, 11, 12, 13, 14).plan(11, 3), 90, 0,
			"In the six weeks after: 15 of 18 sessions, 30 min each, effort 12 to 14 (median 13, 12 before), enjoyment 4 of 5, no signs; still in stage 2."},
		{"too early: harder, then nobody came", newStory().weeks(0, 6, 12).decide(41, record.DoAdvance, record.Hold).
			weeks(6, 8, 16, 17, 18).note(50, record.Note{Symptoms: []signs.Sign{signs.PoorSleep}}).note(52, record.Note{Symptoms: []signs.Sign{signs.PoorSleep}}).
			plan(8, 3).plan(9, 3).plan(10, 3).plan(11, 3), 90, 0,
			"In the six weeks after: 6 of 18 sessions, 30 min each, effort 16 to 18 (median 17, 12 before), enjoyment 4 of 5, reported: slept badly (twice); no session on record in the last 30 days, no pause entered; " +
				"the policy recommended an easier week (from 26 Apr), then a step back (from 24 May); still in stage 2."},
		{"until the step back", newStory().weeks(0, 6, 12).decide(41, record.DoAdvance, record.Hold).weeks(6, 8, 17).decide(55, record.DoStepBack, record.StepBack).weeks(8, 12, 12), 100, 0,
			"In the two weeks until the next move: 6 of 6 sessions, 30 min each, effort 17 (12 before), enjoyment 4 of 5, no signs; one stage down on 26 Apr."},
		{"a hold, and the advance after it", newStory().weeks(0, 6, 12).decide(41, record.DoHold, record.Advance).weeks(6, 9, 11).decide(62, record.DoAdvance, record.Advance).weeks(9, 15, 13), 110, 0,
			"In the three weeks until the next move: 9 of 9 sessions, 30 min each, effort 11 (12 before), enjoyment 4 of 5, no signs; moved up to stage 2 on 3 May."},
		{"the advance after the hold", newStory().weeks(0, 6, 12).decide(41, record.DoHold, record.Advance).weeks(6, 9, 11).decide(62, record.DoAdvance, record.Advance).weeks(9, 15, 13), 110, 1,
			"In the six weeks after: 18 of 18 sessions, 30 min each, effort 13 (11.5 before), enjoyment 4 of 5, no signs; still in stage 2."},
		{"cut by today, in the middle of a week", newStory().weeks(0, 6, 12).decide(41, record.DoHold).weeks(6, 9, 12), 51, 0,
			"In the 10 days since: 5 sessions (3 of 3 in the one week with a plan), 30 min each, effort 12 (12 before), enjoyment 4 of 5, no signs; still in stage 1."},
		{"holds from tomorrow", newStory().weeks(0, 6, 12).decide(41, record.DoAdvance), 41, 0, "Too early to say: it starts on 13 April 2026."},
		{"nothing was asked", newStory().weeks(0, 6, 12).decide(41, record.DoHold).weeks(6, 12, 0), 90, 0,
			"In the six weeks after: 18 of 18 sessions, 30 min each, effort not recorded, enjoyment not asked about, signs not asked about; still in stage 1."},
		{"nothing came in", newStory().weeks(0, 6, 12).decide(41, record.DoHold).plan(6, 3).plan(7, 3).plan(8, 3), 62, 0,
			"In the three weeks since: no session on record (9 prescribed), effort not recorded, enjoyment not asked about, signs not asked about; nothing has come in and no pause was entered; still in stage 1."},
		{"nothing came in, and the plan is known of one week only", newStory().weeks(0, 6, 12).decide(41, record.DoHold).plan(6, 3), 62, 0,
			"In the three weeks since: no session on record (3 prescribed in the one week with a plan), effort not recorded, enjoyment not asked about, signs not asked about; nothing has come in and no pause was entered; still in stage 1."},
		{"no plan either", newStory().weeks(0, 6, 12).decide(41, record.DoHold).ride(43, 13).ride(45, 13), 48, 0,
			"In the week since: 2 sessions, no plan on record, 30 min each, effort 13 (12 before), enjoyment 4 of 5, no signs; still in stage 1."},
		{"more than prescribed", newStory().weeks(0, 6, 12).decide(41, record.DoHold).weeks(6, 7, 12).ride(47, 12), 48, 0,
			"In the week since: 4 sessions (3 prescribed), 30 min each, effort 12 (12 before), enjoyment 4 of 5, no signs; still in stage 1."},
		{"a pause is no dropping out", newStory().weeks(0, 6, 12).decide(41, record.DoPause).plan(6, 0).plan(7, 0).plan(8, 0), 62, 0,
			"In the three weeks since: no session on record, none prescribed, effort not recorded, enjoyment not asked about, signs not asked about; still in stage 1."},
		{"taken back", newStory().weeks(0, 6, 12).decide(41, record.DoAdvance).decide(41, record.DoHold).weeks(6, 8, 12), 60, 0, "Undone before anything could come of it."},
		{"a grave sign stands first", newStory().weeks(0, 6, 12).decide(41, record.DoHold).weeks(6, 7, 12).note(45, record.Note{Symptoms: []signs.Sign{signs.Sore, signs.Dizzy}}), 48, 0,
			"In the week since: 3 of 3 sessions, 30 min each, effort 12 (12 before), enjoyment 4 of 5, reported: dizzy, sore; the policy recommended seeing a doctor first (from 19 Apr); still in stage 1."},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := c.make.back(c.on).Decisions[c.of].Came(); got != c.want {
				t.Errorf("\n got %s\nwant %s", got, c.want)
			}
		})
	}
}

// What is not on record is nil and never 0; what is there is counted by hand.
func TestOutcomeFigures(t *testing.T) {
	e := newStory().weeks(0, 6, 12).decide(41, record.DoHold).plan(6, 3).back(48).Decisions[0].Outcome
	if e.Sessions != nil || e.Minutes != nil || e.Enjoyment != nil || e.Signs != nil || len(e.Effort) != 0 || e.Dropped != nil || e.Weekly[0].Tired != nil {
		t.Errorf("something was made of nothing: %+v", e)
	}
	if e.Prescribed == nil || *e.Prescribed != 3 || *e.Done != 0 {
		t.Errorf("prescribed %v, done %v", e.Prescribed, e.Done)
	}
	s := newStory().weeks(0, 6, 12).decide(41, record.DoHold).weeks(6, 8, 12, 15).
		note(55, record.Note{Symptoms: []signs.Sign{signs.Cold}})
	s.r.Reports = append(s.r.Reports,
		record.Report{ID: "r1", Date: day(54), Entered: day(60), Minutes: 20, Sport: workout.Cycling, RPE: &workout.RPE{Value: 6, Scale: 10}},
		record.Report{ID: "r2", Date: day(55), Entered: day(60), Minutes: 25, Sport: workout.Cycling, RPE: &workout.RPE{Value: 3, Scale: 10}})
	e = s.back(62).Decisions[0].Outcome
	if *e.Sessions != 8 || *e.Minutes != 6*30+20+25 || e.Days != 21 || e.Weeks != 2 || *e.Prescribed != 6 || *e.Done != 8 {
		t.Errorf("sessions %d, minutes %g, days %d, weeks %d, prescribed %d, done %d", *e.Sessions, *e.Minutes, e.Days, e.Weeks, *e.Prescribed, *e.Done)
	}
	want := []hindsight.Effort{
		{Scale: 20, Answers: hindsight.Answers{Answers: 6, Lowest: 12, Median: 13.5, Highest: 15}},
		{Scale: 10, Answers: hindsight.Answers{Answers: 2, Lowest: 3, Median: 4.5, Highest: 6}},
	}
	if !reflect.DeepEqual(e.Effort, want) {
		t.Errorf("effort %+v, want %+v", e.Effort, want)
	}
	if len(e.Signs) != 1 || e.Signs[0] != (hindsight.Sign{Symptom: signs.Cold, Tier: "ease", Times: 1, Last: day(55)}) {
		t.Errorf("signs %+v", e.Signs)
	}
}

// Fourteen days without a session are dropping out, thirteen are not, and fewer than fourteen days
// cannot show.
func TestDroppedOut(t *testing.T) {
	for _, c := range []struct {
		name string
		last int // day of the last session
		on   int
		want *bool
	}{
		{"13 days", 42, 55, ptr(false)}, {"14 days", 42, 56, ptr(true)}, {"none at all", 40, 55, ptr(true)}, {"too early to tell", 40, 54, nil},
	} {
		s := newStory().weeks(0, 6, 12).decide(41, record.DoHold)
		if c.last > 41 {
			s.ride(c.last, 12)
		}
		if got := s.back(c.on).Decisions[0].Outcome.Dropped; !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v", c.name, got)
		}
	}
	s := newStory().weeks(0, 6, 12).decide(41, record.DoHold).decide(44, record.DoPause)
	s.last(func(d *record.Decision) { d.To = day(60) })
	if o := s.back(62).Decisions[0].Outcome; o.Dropped != nil || o.Without != 5 {
		t.Errorf("with 16 of 21 days paused: dropped %v, %d days without", o.Dropped, o.Without)
	}
}

func ptr[T any](v T) *T { return &v }

// The tiredness pattern is read from the rule of the policy: a report, and a resting heart rate that is
// up by 5 and more.
func TestTirednessInTheWeeksAfter(t *testing.T) {
	s := newStory().weeks(0, 6, 12).decide(41, record.DoAdvance).weeks(6, 9, 13)
	for d := range 63 {
		rest := 60.0
		if d >= 49 && d < 56 {
			rest = 68
		}
		s.note(d, record.Note{HRRest: rest})
	}
	s.note(52, record.Note{Symptoms: []signs.Sign{signs.PoorSleep}})
	e := s.back(62).Decisions[0]
	var tired []bool
	for _, w := range e.Outcome.Weekly {
		tired = append(tired, w.Tired != nil && *w.Tired)
	}
	if !reflect.DeepEqual(tired, []bool{false, true, false}) {
		t.Errorf("tired %v", tired)
	}
	if !strings.Contains(e.Came(), "tiredness pattern in the week to 26 Apr;") {
		t.Error(e.Came())
	}
}

// An outcome reads nothing after its last day, and what it counts nothing before its first.
func TestOutcomeReadsItsDaysOnly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newStory().weeks(0, 6, 12, 13)
		acts := []record.Act{record.DoAdvance, record.DoHold, record.DoEase, record.DoPause, record.DoResume, record.DoMaintain}
		s.decide(41, rapid.SampledFrom(acts).Draw(t, "act"))
		something(t, s, 42, 84)
		s.decide(rapid.IntRange(42, 80).Draw(t, "day of the next"), rapid.SampledFrom(acts).Draw(t, "next"))
		on := rapid.IntRange(45, 90).Draw(t, "on")
		was := s.back(on).Decisions[0].Outcome

		later := *s
		later.r.Recordings, later.r.Notes, later.r.Prescriptions = slices.Clone(s.r.Recordings), slices.Clone(s.r.Notes), slices.Clone(s.r.Prescriptions)
		something(t, &later, int(was.To-began)+1, 95)
		if got := later.back(on).Decisions[0].Outcome; !reflect.DeepEqual(got, was) {
			t.Fatalf("what came later changes it:\n%+v\n%+v", got, was)
		}
		other := newStory()
		something(t, other, 0, 41)
		from := func(d workout.Date) bool { return d >= was.From }
		for _, x := range s.r.Recordings {
			if from(x.Date) {
				other.r.Recordings = append(other.r.Recordings, x)
			}
		}
		for _, x := range s.r.Notes {
			if from(x.Date) {
				other.r.Notes = append(other.r.Notes, x)
			}
		}
		for _, x := range s.r.Prescriptions {
			if from(x.From) {
				other.r.Prescriptions = append(other.r.Prescriptions, x)
			}
		}
		other.r.Decisions = s.r.Decisions
		if got := other.back(on).Decisions[0].Outcome.Stretch; !reflect.DeepEqual(got, was.Stretch) {
			t.Fatalf("what was before changes it:\n%+v\n%+v", got, was.Stretch)
		}
	})
}

// something writes down what might happen from one day to another.
func something(t *rapid.T, s *story, from, to int) {
	for d := from; d <= to; d++ {
		switch rapid.IntRange(0, 5).Draw(t, "what happens") {
		case 0:
			s.ride(d, float64(rapid.IntRange(0, 1).Draw(t, "asked")*rapid.IntRange(9, 19).Draw(t, "effort")))
		case 1:
			s.note(d, record.Note{HRRest: float64(rapid.IntRange(55, 75).Draw(t, "rest")), Symptoms: []signs.Sign{rapid.SampledFrom(signs.All()).Draw(t, "sign")}})
		case 2:
			if d%7 == 0 {
				s.plan(d/7, rapid.IntRange(0, 4).Draw(t, "planned"))
			}
		}
	}
}
