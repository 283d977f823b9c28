package progression_test

import (
	"testing"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

func TestStageOn(t *testing.T) {
	r := ferry(1).then(decided(progression.DoAdvance, 28, 2)).then(decided(progression.DoHold, 35, 2)).
		then(decided(progression.DoStepBack, 42, 1)).then(decided(progression.DoAdvance, 70, 2)).record()
	for _, c := range []struct {
		day, stage, since int
	}{{0, 1, 0}, {27, 1, 0}, {28, 2, 28}, {41, 2, 28}, {42, 1, 42}, {69, 1, 42}, {100, 2, 70}} {
		stage, since := r.StageOn(day(c.day))
		if stage != c.stage || since != day(c.since) {
			t.Errorf("day %d: stage %d since %s, want %d since %s", c.day, stage, since, c.stage, day(c.since))
		}
	}
}

// A hold from the very day of a move takes it back; one from another day does not.
func TestHoldTakesAMoveBack(t *testing.T) {
	moved := ferry(1).then(decided(progression.DoAdvance, 28, 2))
	if stage, since := moved.then(decided(progression.DoHold, 28, 1)).record().StageOn(day(30)); stage != 1 || since != began {
		t.Errorf("taken back: stage %d since %s", stage, since)
	}
	kept := ferry(1).then(decided(progression.DoAdvance, 28, 2)).then(decided(progression.DoHold, 29, 2))
	if stage, since := kept.record().StageOn(day(30)); stage != 2 || since != day(28) {
		t.Errorf("a later hold: stage %d since %s", stage, since)
	}
}

// TestOnlyMovesMoveTheStage: what a hold or an easing says of the stage is a record, no move.
func TestOnlyMovesMoveTheStage(t *testing.T) {
	for _, act := range []progression.Act{progression.DoHold, progression.DoEase, progression.DoRefer, progression.DoMaintain, progression.DoPause, progression.DoResume} {
		if stage, since := ferry(1).then(decided(act, 10, 3)).record().StageOn(day(20)); stage != 1 || since != began {
			t.Errorf("%s moves to stage %d since %s", act, stage, since)
		}
	}
}

func TestStateOn(t *testing.T) {
	type at struct {
		day  int
		want progression.State
	}
	recovery := func(c *progression.Client) {
		c.State, c.Purpose, c.StateEnds = progression.RecoveryOf, "after the regatta", day(13)
	}
	for _, c := range []struct {
		name string
		s    *story
		at   []at
	}{
		{"nothing said", ferry(1).who(func(c *progression.Client) { c.State = "" }), []at{{0, "active"}}},
		{"a pause with an end", ferry(1).then(paused(7, 13)), []at{{6, "active"}, {7, "paused"}, {13, "paused"}, {14, "active"}}},
		{"an open pause", ferry(1).then(decided(progression.DoPause, 7, 1)), []at{{7, "paused"}, {300, "paused"}}},
		{"a pause cut short", ferry(1).then(paused(7, 40)).then(decided(progression.DoResume, 20, 1)), []at{{19, "paused"}, {20, "active"}}},
		{"by choice", ferry(1).then(decided(progression.DoMaintain, 7, 1)), []at{{6, "active"}, {7, "maintaining"}, {90, "maintaining"}}},
		{"by choice with a pause", ferry(1).then(decided(progression.DoMaintain, 7, 1)).then(paused(14, 20)), []at{{15, "paused"}, {21, "maintaining"}}},
		{"by choice no longer", ferry(1).then(decided(progression.DoMaintain, 7, 1)).then(decided(progression.DoAdvance, 14, 2)), []at{{13, "maintaining"}, {14, "active"}}},
		{"a recovery phase", ferry(1).who(recovery), []at{{13, "recovery"}, {14, "active"}}},
		{"finished", ferry(1).who(func(c *progression.Client) { c.State = progression.Finished }).then(paused(3, 5)), []at{{4, "finished"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.s.record()
			for _, x := range c.at {
				if got := r.StateOn(day(x.day)); got != x.want {
					t.Errorf("day %d: %s, want %s", x.day, got, x.want)
				}
				if got := r.Paused(day(x.day)); got != (x.want == progression.PausedState) {
					t.Errorf("day %d: paused %v", x.day, got)
				}
			}
		})
	}
}

// TestVerdictByState: a paused or finished client has none, and one who stays by choice never moves.
func TestVerdictByState(t *testing.T) {
	recovery := func(c *progression.Client) { c.State, c.StateEnds = progression.RecoveryOf, day(60) }
	for _, c := range []struct {
		name string
		s    *story
		want progression.Verdict
	}{
		{"paused", ferry(4).then(paused(27, 40)), ""},
		{"finished", ferry(4).who(func(c *progression.Client) { c.State = progression.Finished }), ""},
		{"by choice", ferry(4).then(decided(progression.DoMaintain, 20, 1)), progression.Hold},
		{"recovery phase", ferry(4).who(recovery), progression.Hold},
		{"stage 3", newStory(8, 3), progression.Hold},
		{"no stage", newStory(4, 0), progression.NotAssessable},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.s.assess()
			if c.want == "" {
				if a.Verdict != nil || a.Plan != nil || a.To != nil || len(a.Reasons) != 0 {
					t.Errorf("%+v", a)
				}
				return
			}
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Errorf("verdict %v, want %s", a.Verdict, c.want)
			}
			if a.To != nil {
				t.Errorf("leads to stage %d", *a.To)
			}
		})
	}
}

// TestUntil: nothing that came in later counts, whatever day it tells of.
func TestUntil(t *testing.T) {
	r := ferry(4).then(func(r *progression.Record) {
		r.Recordings[0].Received = day(20)
		r.Reports = append(r.Reports, progression.Report{Date: day(1), Entered: day(15), Minutes: 30})
		r.Notes = append(r.Notes, progression.Note{Date: day(1), Entered: day(15)})
	}).then(decided(progression.DoPause, 15, 1)).who(func(c *progression.Client) { c.Clearance, c.DoseChange = day(15), day(15) }).record()
	u := r.Until(day(14))
	if len(u.Recordings) != 6 || len(u.Reports) != 0 || len(u.Notes) != 7 || len(u.Decisions) != 0 || len(u.Prescriptions) != 3 {
		t.Errorf("%d recordings, %d reports, %d notes, %d decisions, %d prescriptions", len(u.Recordings), len(u.Reports), len(u.Notes), len(u.Decisions), len(u.Prescriptions))
	}
	if u.Client.Clearance != 0 || u.Client.DoseChange != 0 || u.Client.Screening.On == 0 {
		t.Errorf("facts %+v", u.Client)
	}
	if len(r.Recordings) != 12 {
		t.Error("the record itself was changed")
	}
}

func TestBody(t *testing.T) {
	c := progression.Client{
		Born: workout.MustDate("1986-10-04"), Sex: physiology.Male, TimeZone: "Europe/Oslo", Medicine: progression.Slows,
		Zones: []progression.ZoneSet{
			{From: day(10), HRMax: map[workout.Mode]float64{"": 182, workout.Bike: 175}, HRRest: 60},
			{From: day(20), HRRest: 55, Limit: 150, T1: 130},
		},
	}
	first, last := c.Body(day(0)), c.Body(day(20))
	if first.HRMaxAny != 182 || first.HRMax[workout.Bike] != 175 || len(first.HRMax) != 1 || first.HRRest != 60 || !first.Slowed {
		t.Errorf("the first set covers what came before: %+v", first)
	}
	if last.HRRest != 55 || last.Limit != 150 || last.T1 != 130 || last.HRMaxAny != 0 {
		t.Errorf("the second set: %+v", last)
	}
	if age := c.Body(workout.MustDate("2026-10-04")).Age; age < 39.99 || age > 40.01 {
		t.Errorf("age %v", age)
	}
	if got := workout.DateOf(time.Date(2026, 9, 7, 22, 30, 0, 0, time.UTC), c.Location()); got != day(1) {
		t.Errorf("half past ten at night UTC is %s in Oslo", got)
	}
	if (progression.Client{TimeZone: "no such place"}).Location() != time.UTC {
		t.Error("an unknown time zone is not UTC")
	}
}
