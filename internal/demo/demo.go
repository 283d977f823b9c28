// Package demo owns the invented crew of a ferry and their weeks, and plays them into a book the
// ordinary way: through the verbs of package coach and nothing else.
package demo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Day is the demo's last day, a Sunday.
var Day = workout.MustDate("2026-10-04")

// demoMark is a file that only a demo's folder holds, so that nothing else is ever cleared away.
const demoMark = "this-is-the-demo.txt"

// Make makes a book in dir with the invented crew of a ferry and plays their weeks through the
// ordinary way: files received week by week, notes entered, the weekly job run, decisions made.
// A folder with an earlier demo is rebuilt; any other folder that is not empty is refused.
func Make(ctx context.Context, dir string, progress func(done, all int)) (*coach.Coach, []coach.Standing, error) {
	if err := clearDemo(dir); err != nil {
		return nil, nil, err
	}
	c, err := coach.Open(ctx, dir)
	if err != nil {
		return nil, nil, err
	}
	standings, err := play(ctx, c, func(_ coach.Standing, done, all int) {
		if progress != nil {
			progress(done, all)
		}
	})
	if err != nil {
		c.Close()
		return nil, nil, err
	}
	return c, standings, nil
}

func clearDemo(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("cannot open the demo's folder: %w", err)
	}
	if len(entries) > 0 {
		if _, err := os.Stat(filepath.Join(dir, demoMark)); err != nil {
			return fault.In("dir", dir, "is not empty and holds no earlier demo; name another folder").Of(fault.Conflict)
		}
		for _, e := range entries {
			if e.Name() == demoMark { // stays, so that a demo that was cleared halfway is still known as one
				continue
			}
			if err := os.RemoveAll(filepath.Join(dir, e.Name())); err != nil {
				return fmt.Errorf("cannot clear the earlier demo: %w", err)
			}
		}
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("cannot make the demo's folder: %w", err)
	}
	return os.WriteFile(filepath.Join(dir, demoMark), []byte("This folder holds the demo and is rebuilt each time. Everybody in it is invented.\n"), 0o600)
}

// play plays every member's weeks in the order of the calendar, and hands on what each week's job said,
// before the trainer's decisions, and how many weeks of all are done.
func play(ctx context.Context, c *coach.Coach, played func(s coach.Standing, done, all int)) ([]coach.Standing, error) {
	members := crew()
	first, all := Day, 0
	for _, m := range members {
		start := m.ends(0)
		first = min(first, start)
		all += m.Weeks
		if err := c.AddClient(ctx, m.Facts, start-6); err != nil {
			return nil, err
		}
	}
	var standings []coach.Standing
	done := 0
	for day := first; day <= Day; day += 7 {
		for _, m := range members {
			i := int(day-m.ends(0)) / 7
			if day < m.ends(0) || i >= m.Weeks {
				continue
			}
			before, decisions, err := m.bring(ctx, c, i)
			s := before
			if err == nil && len(decisions) > 0 {
				s, err = m.decide(ctx, c, day, decisions)
			}
			if err != nil {
				return nil, fmt.Errorf("%s, week %d: %w", m.Facts.Name, i+1, err)
			}
			if day == Day {
				standings = append(standings, s)
			}
			done++
			played(before, done, all)
		}
	}
	return standings, nil
}

// bring is one week of one member: recordings in, notes, the weekly job. The decisions that the
// trainer then makes are left to decide.
func (m crewMember) bring(ctx context.Context, c *coach.Coach, i int) (coach.Standing, []record.Decision, error) {
	none := coach.Standing{}
	name, on := m.Facts.Name, m.ends(i)
	known, err := c.Record(ctx, name, on, false)
	if err != nil {
		return none, nil, err
	}
	week := m.week(i, known.PlanFor(on-6, on))
	for _, f := range week.Files {
		receipts, err := c.Receive(ctx, coach.Intake{Client: name, On: on}, f.Name, f.Bytes)
		if err != nil {
			return none, nil, err
		}
		for _, r := range receipts {
			if r.Status == coach.Refused {
				return none, nil, fmt.Errorf("%s refused: %s", r.Name, r.Why)
			}
		}
	}
	if _, err := c.AddNotes(ctx, name, week.Notes...); err != nil {
		return none, nil, err
	}
	for _, r := range week.Reports {
		if err := c.AddReport(ctx, name, r, false); err != nil {
			return none, nil, err
		}
	}
	s, err := c.WeekOf(ctx, name, on)
	return s, week.Decisions, err
}

// decide enters the trainer's decisions at the end of a week and gives where they lead.
func (m crewMember) decide(ctx context.Context, c *coach.Coach, on workout.Date, decisions []record.Decision) (coach.Standing, error) {
	for _, d := range decisions {
		if _, err := c.Decide(ctx, d); err != nil {
			return coach.Standing{}, err
		}
	}
	return c.WeekOf(ctx, m.Facts.Name, on)
}
