package coach

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"time"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// Prescribe lays the plan that stands for a client, as of a day, over its days, and keeps it if it is new: what
// goes out stays as it is.
func (c *Coach) Prescribe(ctx context.Context, client string, on workout.Date) (prescription.Week, record.Assessment, error) {
	return c.prescribe(ctx, client, on, prescription.Standing)
}

// PrescribeAnew is Prescribe with a plan that is written afresh and replaces what was sent.
func (c *Coach) PrescribeAnew(ctx context.Context, client string, on workout.Date) (prescription.Week, record.Assessment, error) {
	return c.prescribe(ctx, client, on, prescription.Anew)
}

// planning finds the plan that stands after an assessment, and says whether it is new.
type planning func(policy.Policy, workout.Date, record.Record, record.Assessment) (record.Prescription, bool)

func (c *Coach) prescribe(ctx context.Context, client string, on workout.Date, plan planning) (prescription.Week, record.Assessment, error) {
	none := prescription.Week{}
	r, err := c.book.Record(ctx, client, on)
	if err != nil {
		return none, record.Assessment{}, err
	}
	s := Standing{Record: r, Assessment: progression.Assess(c.Policy, on, r)}
	if err := c.enteredSince(ctx, on, r); err != nil {
		return none, s.Assessment, err
	}
	s.Next, s.fresh = plan(c.Policy, on, r, s.Assessment)
	if err := c.send(ctx, &s); err != nil {
		return none, s.Assessment, err
	}
	return prescription.Lay(s.Next, s.Known, s.Assessment), s.Assessment, nil
}

// send keeps the plan of a standing if it is new, before anybody reads it, and recalls what was known when it
// was made, so that its days are laid as they were.
func (c *Coach) send(ctx context.Context, s *Standing) error {
	client, on := s.Record.Client.Name, s.Assessment.AsOf
	if s.fresh && began(s.Record, on) {
		now, err := c.book.Record(ctx, client, endOfTime)
		if err != nil {
			return err
		}
		// Looking back to a day before later plans changes nothing.
		if !slices.ContainsFunc(now.Prescriptions, func(p record.Prescription) bool { return p.Made > on }) {
			if err := c.book.AddPrescription(ctx, client, s.Next); err != nil {
				return err
			}
		}
		s.fresh = false
	}
	return c.recall(ctx, s)
}

// recall gives a standing what was known when its plan was made.
func (c *Coach) recall(ctx context.Context, s *Standing) (err error) {
	if s.Known = s.Record; s.Next.Made != s.Assessment.AsOf {
		s.Known, err = c.book.Record(ctx, s.Record.Client.Name, s.Next.Made)
	}
	return err
}

// Written is a file that was written on request.
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

// Calendar is the sessions of a week as a calendar file; made is the time of writing. An entry keeps its name
// for good, so that a calendar that is given a newer file for that week moves it.
func Calendar(w prescription.Week, made time.Time) ([]byte, error) {
	var entries []recording.CalendarEntry
	who := workout.DigestOf([]byte(w.Client)).Short()
	for i, s := range w.Sessions {
		entries = append(entries, recording.CalendarEntry{
			UID: fmt.Sprintf("%s-%d-%s@nextrung", w.From, w.Done+i+1, who), Day: s.Day, Summary: s.Title(), Seconds: s.Plan.Seconds(),
			Description: w.Entry(s),
		})
	}
	return recording.EncodeCalendar("Sessions of "+w.Client, made, entries)
}

// WriteCalendar writes the sessions of a week as a calendar file.
func WriteCalendar(w prescription.Week, made time.Time, path string) (Written, error) {
	b, err := Calendar(w, made)
	if err != nil {
		return Written{}, err
	}
	return writeOver(path, b)
}

// WatchWorkout is one planned session of a week as a FIT workout for a watch.
func WatchWorkout(w prescription.Week, s prescription.Session) ([]byte, error) {
	plan := s.Plan
	plan.Name, plan.Note = s.Day.Day()+": "+string(s.Kind), w.WatchNote()
	return recording.EncodeWorkoutFIT(plan)
}

// WriteWorkouts writes each session of a week as a FIT workout into a folder, and names what lies there
// from an earlier prescription of the same week.
func WriteWorkouts(w prescription.Week, dir string) (written []Written, older []string, err error) {
	for i, s := range w.Sessions {
		b, err := WatchWorkout(w, s)
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
