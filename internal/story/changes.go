package story

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Lasting sets the length of every session in minutes.
func Lasting(minutes ...int) func(int, *Done) {
	return func(i int, d *Done) { d.Minutes = minutes[i%len(minutes)] }
}

// Without drops every session of a story.
func Without(s *Story) *Story {
	return s.Each(func(_ int, d *Done) { d.Skip = true })
}

func Inactive(c *record.Client) { c.Screening.Active = false }

// Never is later than every session of a story.
const Never = 10000

// Away leaves out the sessions from one on; the last one before was on the day it names.
func Away(s *Story, last, back int) *Story {
	return s.Each(func(_ int, d *Done) { d.Skip = d.Day > Day(last) && d.Day < Day(back) })
}

// Feeling sets what the client answers after every session.
func Feeling(e *workout.RPE, talk record.Talk) func(int, *Done) {
	return func(_ int, d *Done) { d.Rpe, d.Talk = e, talk }
}

func Ill(active bool, clearance workout.Date) func(*record.Client) {
	return func(c *record.Client) {
		c.Screening.Active, c.Screening.Disease, c.Clearance = active, "heart", clearance
	}
}

func Slowed(clearance workout.Date) func(*record.Client) {
	return func(c *record.Client) { c.Medicine, c.Clearance = record.Slows, clearance }
}

// Failing lets the last n interval sessions be broken off after two bouts.
func Failing(n int) func(int, *Done) {
	last := map[int]int{11: 1, 9: 2, 8: 3, 6: 4}
	return func(i int, d *Done) {
		if at, ok := last[i]; ok && at <= n {
			d.Bouts = 2
		}
	}
}

func Modes(all ...workout.Mode) func(*record.Client) {
	return func(c *record.Client) { c.Modes = all }
}

// Drifts sets the slopes of the last sessions, the others show nothing.
func Drifts(last ...float64) func(int, *Done) {
	return func(i int, d *Done) {
		d.Drift = nil
		if at := i - (12 - len(last)); at >= 0 {
			d.Drift = Num(last[at])
		}
	}
}

// Bare is a story without stored prescriptions.
func Bare(s *Story) *Story {
	s.Plans = false
	return s
}

// Reason finds a rule's reason.
func Reason(a record.Assessment, rule policy.ID) (record.Reason, bool) {
	if r := a.Reason(rule); r != nil {
		return *r, true
	}
	return record.Reason{}, false
}

// Met spells a verdict on a rule.
func Met(r record.Reason) string {
	switch {
	case r.Met == nil:
		return "untold"
	case *r.Met:
		return "met"
	}
	return "unmet"
}

func Verdict(a record.Assessment) record.Verdict {
	if a.Verdict == nil {
		return ""
	}
	return *a.Verdict
}

// Only keeps an answer in some sessions.
func Only(from, to int) func(int, *Done) {
	return func(i int, d *Done) {
		if i < from || i >= to {
			d.Rpe, d.Talk = nil, record.NotAsked
		}
	}
}

// Rested puts resting heart rates before and in the last week of a story of four weeks.
func Rested(before, now float64) func(*record.Record) {
	return func(r *record.Record) {
		Mornings(before, 1, 5, 9, 13, 17)(r)
		Mornings(now, 22, 24, 26)(r)
	}
}
