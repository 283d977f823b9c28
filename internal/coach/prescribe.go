package coach

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// Prescribe lays next week's sessions of a client, as of a day, over its days. Nothing is stored; the
// weekly job and a decision do that.
func (c *Coach) Prescribe(ctx context.Context, client string, on workout.Date) (prescription.Week, record.Assessment, error) {
	r, err := c.book.Record(ctx, client, on)
	if err != nil {
		return prescription.Week{}, record.Assessment{}, err
	}
	a := progression.Assess(c.Policy, on, r)
	if err := c.graveSince(ctx, client, on, a); err != nil {
		return prescription.Week{}, a, err
	}
	return prescription.Lay(prescription.Prescribe(c.Policy, on, r, a), r, a), a, nil
}

// Written is a file that was asked for.
type Written struct {
	Path string
	Was  Before
}

// Before says what stood under a file's name before it was written.
type Before string

// What stood there.
const (
	New       Before = "written"
	Unchanged Before = "unchanged"
	Replaced  Before = "replaced the earlier one"
)

// WriteCalendar writes the sessions of a week as a calendar; made is the time of writing. An entry has
// the same name for good, so that a calendar given a newer file of that week moves it.
func WriteCalendar(w prescription.Week, made time.Time, path string) (Written, error) {
	var entries []recording.CalendarEntry
	who := workout.DigestOf([]byte(w.Client)).Short()
	for i, s := range w.Sessions {
		entries = append(entries, recording.CalendarEntry{
			UID: fmt.Sprintf("%s-%d-%s@nextrung", w.From, i+1, who), Day: s.Day, Summary: s.Title(), Seconds: s.Plan.Seconds(),
			Description: w.Entry(s),
		})
	}
	b, err := recording.EncodeCalendar("Sessions of "+w.Client, made, entries)
	if err != nil {
		return Written{}, err
	}
	return writeOver(path, b)
}

// WriteWorkouts writes each session of a week as a FIT workout into a folder, and names what lies there
// from an earlier prescription of the same week.
func WriteWorkouts(w prescription.Week, dir string) (written []Written, older []string, err error) {
	for i, s := range w.Sessions {
		plan := s.Plan
		plan.Name, plan.Note = s.Day.Day()+": "+string(s.Kind), signs.StopLine
		b, err := recording.EncodeWorkoutFIT(plan)
		if err != nil {
			return written, nil, err
		}
		f, err := writeOver(filepath.Join(dir, reports.SessionFile(s.Day, i+1, w.Client)), b)
		if err != nil {
			return written, nil, err
		}
		written = append(written, f)
	}
	for day := w.From; day <= w.To; day++ {
		for n := range 2 * len(w.Sessions) {
			path := filepath.Join(dir, reports.SessionFile(day, n+1, w.Client))
			if _, err := os.Stat(path); err == nil && !slices.ContainsFunc(written, func(f Written) bool { return f.Path == path }) {
				older = append(older, path)
			}
		}
	}
	return written, older, nil
}

// writeOver writes a file and says what it replaced.
func writeOver(path string, b []byte) (Written, error) {
	f := Written{Path: path, Was: New}
	if old, err := os.ReadFile(path); err == nil {
		if bytes.Equal(old, b) {
			f.Was = Unchanged
			return f, nil
		}
		f.Was = Replaced
	}
	return f, writeFile(path, b)
}
