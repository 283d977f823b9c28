package coach

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"nextrung/internal/workout"
)

// DemoDay is the demo's last day, a Sunday.
var DemoDay = workout.MustDate("2026-10-04")

// demoMark is a file that only a demo's folder holds, so that nothing else is ever cleared away.
const demoMark = "this-is-the-demo.txt"

// Demo makes a book in dir with the invented crew of a ferry and plays their weeks through the
// ordinary way: files received week by week, notes entered, the weekly job run, decisions taken.
// A folder with an earlier demo is made anew; any other folder that is not empty is refused.
func Demo(ctx context.Context, dir string, progress func(done, all int)) (*Coach, []Standing, error) {
	if err := clearDemo(dir); err != nil {
		return nil, nil, err
	}
	c, err := Open(ctx, dir)
	if err != nil {
		return nil, nil, err
	}
	standings, err := c.playCrew(ctx, progress)
	if err != nil {
		c.Close()
		return nil, nil, err
	}
	return c, standings, nil
}

func clearDemo(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("open the demo's folder: %w", err)
	}
	if len(entries) > 0 {
		if _, err := os.Stat(filepath.Join(dir, demoMark)); err != nil {
			return fmt.Errorf("%s is not empty and holds no earlier demo; name another folder with --dir", dir)
		}
		if err := os.RemoveAll(dir); err != nil {
			return fmt.Errorf("clear the earlier demo: %w", err)
		}
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("make the demo's folder: %w", err)
	}
	return os.WriteFile(filepath.Join(dir, demoMark), []byte("This folder is made by `nextrung demo` and is made anew each time. Everybody in it is invented.\n"), 0o600)
}

// playCrew plays every member's weeks in the order of the calendar.
func (c *Coach) playCrew(ctx context.Context, progress func(done, all int)) ([]Standing, error) {
	members := crew()
	first, all := DemoDay, 0
	for _, m := range members {
		start := m.ends(0)
		first = min(first, start)
		all += m.length()
		if err := c.AddClient(ctx, m.client(), start-6); err != nil {
			return nil, err
		}
	}
	var standings []Standing
	done := 0
	for day := first; day <= DemoDay; day += 7 {
		for _, m := range members {
			i := int(day-m.ends(0)) / 7
			if day < m.ends(0) || i >= m.length() {
				continue
			}
			s, err := c.playWeek(ctx, m, i)
			if err != nil {
				return nil, fmt.Errorf("%s, week %d: %w", m.name(), i+1, err)
			}
			if day == DemoDay {
				standings = append(standings, s)
			}
			if done++; progress != nil {
				progress(done, all)
			}
		}
	}
	return standings, nil
}

// playWeek is one week of one member: recordings in, notes, the weekly job, the trainer's decisions.
func (c *Coach) playWeek(ctx context.Context, m crewMember, i int) (Standing, error) {
	name, on := m.name(), m.ends(i)
	record, err := c.book.Record(ctx, name, on)
	if err != nil {
		return Standing{}, err
	}
	week := m.week(i, record.PlanFor(on-6, on))
	for _, f := range week.Files {
		receipts, err := c.Receive(ctx, Intake{Client: name, On: on}, f.Name, f.Bytes)
		if err != nil {
			return Standing{}, err
		}
		for _, r := range receipts {
			if r.Status == Refused {
				return Standing{}, fmt.Errorf("%s refused: %s", r.Name, r.Why)
			}
		}
	}
	for _, n := range week.Notes {
		n.Entered = on
		if err := c.AddNote(ctx, name, n); err != nil {
			return Standing{}, err
		}
	}
	for _, r := range week.Reports {
		r.Entered = on
		if err := c.AddReport(ctx, name, r, false); err != nil {
			return Standing{}, err
		}
	}
	s, err := c.weekOf(ctx, name, on)
	if err != nil {
		return s, err
	}
	for _, d := range week.Decisions {
		d.Client, d.Entered = name, on
		if _, err := c.Decide(ctx, d); err != nil {
			return s, err
		}
	}
	if len(week.Decisions) > 0 {
		return c.standing(ctx, name, on)
	}
	return s, nil
}
