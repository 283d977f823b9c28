package hindsight_test

import (
	"fmt"
	"time"

	"nextrung/internal/hindsight"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// story is the record of one invented deckhand, written down day by day. Day 0 is a Monday.
type story struct{ r record.Record }

var (
	began    = workout.MustDate("2026-03-02")
	defaults = policy.Default()
)

func day(n int) workout.Date { return began + workout.Date(n) }

func newStory() *story {
	return &story{record.Record{Client: record.Client{
		Name: "Ondrel", Born: workout.MustDate("1986-12-11"), Sex: "male", Stage: 1, Since: began, State: record.Active,
		Modes: []workout.Mode{workout.Bike}, Zones: []record.ZoneSet{{HRRest: 64}},
		Screening: record.Screening{On: began - 3, Active: true},
	}}}
}

// weeks writes down weeks of three rides of 30 min each, with a plan for three, reported on the same day. The
// effort of each comes from the list, in turn; 0 is not asked.
func (s *story) weeks(from, to int, effort ...float64) *story {
	n := 0
	for w := from; w < to; w++ {
		s.plan(w, 3)
		for _, d := range []int{0, 2, 4} {
			s.ride(7*w+d, effort[n%len(effort)])
			n++
		}
	}
	return s
}

func (s *story) ride(d int, effort float64) *story {
	at := day(d).Time().Add(7 * time.Hour)
	s.r.Recordings = append(s.r.Recordings, record.Recording{
		ID: fmt.Sprintf("ride%d#0", d), File: file(d), Client: s.r.Client.Name, Received: day(d), Date: day(d), Format: "fit",
		Workout: workout.Workout{Sport: workout.Cycling, Start: at, Seconds: 1800},
	})
	if effort > 0 {
		s.note(d, record.Note{RPE: &workout.RPE{Value: effort, Scale: 20}, Talk: record.TalkComfortable, Enjoyment: 4})
	}
	return s
}

func file(d int) workout.Digest { return workout.DigestOf(fmt.Append(nil, d)) }

func (s *story) note(d int, n record.Note) *story {
	n.ID, n.Date, n.Entered = fmt.Sprintf("n%d", len(s.r.Notes)+1), day(d), day(d)
	s.r.Notes = append(s.r.Notes, n)
	return s
}

func (s *story) plan(week, sessions int) *story {
	s.r.Prescriptions = append(s.r.Prescriptions, record.Prescription{From: day(7 * week), To: day(7*week + 6), Made: day(7*week - 1), Sessions: sessions, Minutes: 30})
	return s
}

// decide enters a decision at the end of a day with what the policy would have said, or with another
// verdict.
func (s *story) decide(d int, act record.Act, said ...record.Verdict) *story {
	stage, _ := s.r.StageOn(day(d))
	switch act {
	case record.DoAdvance:
		stage++
	case record.DoStepBack:
		stage--
	}
	then := s.r.Until(day(d))
	a := progression.Assess(defaults, day(d), then)
	x := record.Decision{
		Client: s.r.Client.Name, Entered: day(d), Act: act, From: day(d + 1), Stage: stage, Because: "we talked about it", By: "Corvane",
		Verdict: a.Verdict, Policy: defaults.Digest(),
	}
	if len(said) > 0 {
		x.Verdict = &said[0]
	}
	for _, r := range then.Recordings {
		x.Files = append(x.Files, r.File)
	}
	var before *record.Decision
	if n := len(s.r.Decisions); n > 0 {
		before = &s.r.Decisions[n-1]
	}
	s.r.Decisions = append(s.r.Decisions, x.Seal(before))
	return s
}

// last changes the last decision before it is looked at.
func (s *story) last(f func(*record.Decision)) *story {
	f(&s.r.Decisions[len(s.r.Decisions)-1])
	return s
}

// back looks back from a day.
func (s *story) back(on int) hindsight.History {
	return hindsight.Back(hindsight.Known{On: day(on), Now: s.r}, defaults)
}
