package record_test

import (
	"testing"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

func TestStageOn(t *testing.T) {
	r := story.Ferry(1).Then(story.Decided(record.DoAdvance, 28, 2)).Then(story.Decided(record.DoHold, 35, 2)).
		Then(story.Decided(record.DoStepBack, 42, 1)).Then(story.Decided(record.DoAdvance, 70, 2)).Record()
	for _, c := range []struct {
		day, stage, since int
	}{{0, 1, 0}, {27, 1, 0}, {28, 2, 28}, {41, 2, 28}, {42, 1, 42}, {69, 1, 42}, {100, 2, 70}} {
		stage, since := r.StageOn(story.Day(c.day))
		if stage != c.stage || since != story.Day(c.since) {
			t.Errorf("day %d: stage %d since %s, want %d since %s", c.day, stage, since, c.stage, story.Day(c.since))
		}
	}
}

// A hold from the very day of a move takes it back; one from another day does not.
func TestHoldTakesAMoveBack(t *testing.T) {
	moved := story.Ferry(1).Then(story.Decided(record.DoAdvance, 28, 2))
	if stage, since := moved.Then(story.Decided(record.DoHold, 28, 1)).Record().StageOn(story.Day(30)); stage != 1 || since != story.Began {
		t.Errorf("taken back: stage %d since %s", stage, since)
	}
	kept := story.Ferry(1).Then(story.Decided(record.DoAdvance, 28, 2)).Then(story.Decided(record.DoHold, 29, 2))
	if stage, since := kept.Record().StageOn(story.Day(30)); stage != 2 || since != story.Day(28) {
		t.Errorf("a later hold: stage %d since %s", stage, since)
	}
}

// TestOnlyMovesMoveTheStage: what a hold or an easing says of the stage is a record, no move.
func TestOnlyMovesMoveTheStage(t *testing.T) {
	for _, act := range []record.Act{record.DoHold, record.DoEase, record.DoRefer, record.DoMaintain, record.DoPause, record.DoResume} {
		if stage, since := story.Ferry(1).Then(story.Decided(act, 10, 3)).Record().StageOn(story.Day(20)); stage != 1 || since != story.Began {
			t.Errorf("%s moves to stage %d since %s", act, stage, since)
		}
	}
}

func TestStateOn(t *testing.T) {
	type at struct {
		day  int
		want record.State
	}
	recovery := func(c *record.Client) {
		c.State, c.StateEnds = record.RecoveryOf, story.Day(13)
	}
	for _, c := range []struct {
		name string
		s    *story.Story
		at   []at
	}{
		{"nothing said", story.Ferry(1).Who(func(c *record.Client) { c.State = "" }), []at{{0, "active"}}},
		{"a pause with an end", story.Ferry(1).Then(story.Paused(7, 13)), []at{{6, "active"}, {7, "paused"}, {13, "paused"}, {14, "active"}}},
		{"an open pause", story.Ferry(1).Then(story.Decided(record.DoPause, 7, 1)), []at{{7, "paused"}, {300, "paused"}}},
		{"a pause cut short", story.Ferry(1).Then(story.Paused(7, 40)).Then(story.Decided(record.DoResume, 20, 1)), []at{{19, "paused"}, {20, "active"}}},
		{"by choice", story.Ferry(1).Then(story.Decided(record.DoMaintain, 7, 1)), []at{{6, "active"}, {7, "maintaining"}, {90, "maintaining"}}},
		{"by choice with a pause", story.Ferry(1).Then(story.Decided(record.DoMaintain, 7, 1)).Then(story.Paused(14, 20)), []at{{15, "paused"}, {21, "maintaining"}}},
		{"by choice no longer", story.Ferry(1).Then(story.Decided(record.DoMaintain, 7, 1)).Then(story.Decided(record.DoAdvance, 14, 2)), []at{{13, "maintaining"}, {14, "active"}}},
		{"a recovery phase", story.Ferry(1).Who(recovery), []at{{13, "recovery"}, {14, "active"}}},
		{"finished", story.Ferry(1).Who(func(c *record.Client) { c.State = record.Finished }).Then(story.Paused(3, 5)), []at{{4, "finished"}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.s.Record()
			for _, x := range c.at {
				if got := r.StateOn(story.Day(x.day)); got != x.want {
					t.Errorf("day %d: %s, want %s", x.day, got, x.want)
				}
				if got := r.Paused(story.Day(x.day)); got != (x.want == record.PausedState) {
					t.Errorf("day %d: paused %v", x.day, got)
				}
			}
		})
	}
}

// TestUntil: nothing that came in later counts, whatever day it is about.
func TestUntil(t *testing.T) {
	r := story.Ferry(4).Then(func(r *record.Record) {
		r.Recordings[0].Received = story.Day(20)
		r.Reports = append(r.Reports, record.Report{Date: story.Day(1), Entered: story.Day(15), Minutes: 30})
		r.Notes = append(r.Notes, record.Note{Date: story.Day(1), Entered: story.Day(15)})
	}).Then(story.Decided(record.DoPause, 15, 1)).Who(func(c *record.Client) { c.Clearance, c.DoseChange = story.Day(15), story.Day(15) }).Record()
	u := r.Until(story.Day(14))
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
	c := record.Client{
		Born: workout.MustDate("1986-10-04"), Sex: physiology.Male, TimeZone: "Europe/Oslo", Medicine: record.Slows,
		Zones: []record.ZoneSet{
			{From: story.Day(10), HRMax: map[workout.Mode]float64{"": 182, workout.Bike: 175}, HRRest: 60},
			{From: story.Day(20), HRRest: 55, Limit: 150, T1: 130},
		},
	}
	first, last := c.Body(story.Day(0)), c.Body(story.Day(20))
	if first.HRMaxAny != 182 || first.HRMax[workout.Bike] != 175 || len(first.HRMax) != 1 || first.HRRest != 60 || !first.Slowed {
		t.Errorf("the first set covers what came before: %+v", first)
	}
	if last.HRRest != 55 || last.Limit != 150 || last.T1 != 130 || last.HRMaxAny != 0 {
		t.Errorf("the second set: %+v", last)
	}
	if age := c.Body(workout.MustDate("2026-10-04")).Age; age < 39.99 || age > 40.01 {
		t.Errorf("age %v", age)
	}
	if got := workout.DateOf(time.Date(2026, 9, 7, 22, 30, 0, 0, time.UTC), c.Location()); got != story.Day(1) {
		t.Errorf("half past ten at night UTC is %s in Oslo", got)
	}
	if (record.Client{TimeZone: "no such place"}).Location() != time.UTC {
		t.Error("an unknown time zone is not UTC")
	}
}

// A client who has finished stays finished, whatever was decided before.
func TestFinishedStays(t *testing.T) {
	day := workout.MustDate("2026-09-01")
	for _, act := range []record.Act{record.DoAdvance, record.DoStepBack, record.DoHold, record.DoEase, record.DoRefer, record.DoMaintain, record.DoPause, record.DoResume} {
		r := record.Record{Client: record.Client{Stage: 2, Since: day - 60, State: record.Finished}, Decisions: []record.Decision{{Entered: day - 10, From: day - 9, Act: act, Stage: 2}}}
		if got := r.StateOn(day); got != record.Finished {
			t.Errorf("after %s: %s", act, got)
		}
	}
}
