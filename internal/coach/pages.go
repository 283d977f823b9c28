package coach

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"nextrung/internal/fault"
	"nextrung/internal/heartrate"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// Pages is the folder of the book's pages.
func (c *Coach) Pages() string { return filepath.Join(c.Dir, "pages") }

// PagesOf is the folder of the pages as of an earlier day, so that they never replace today's.
func (c *Coach) PagesOf(on workout.Date) string {
	return filepath.Join(c.Pages(), "as-of-"+on.String())
}

// clientPage is a file that a client has among the pages; of is nil for one that everybody has.
type clientPage struct {
	file   func(who string) string
	render func(*Coach, context.Context, reports.Client) ([]byte, error)
	of     func(reports.Client) bool
}

// clientPages are the files that clients have among the pages. What is listed here is written by
// Report and removed when the client is forgotten.
var clientPages = []clientPage{
	{pageFile("decision"), pure(reports.Decision), nil},
	{pageFile("progress"), pure(reports.Progress), nil},
	{reports.PictureName, pure(func(c reports.Client) ([]byte, error) { return reports.ProgressPicture(c), nil }), nil},
	{reports.TextName, pure(func(c reports.Client) ([]byte, error) { return []byte(reports.ProgressText(c)), nil }), nil},
	{pageFile("doctor"), (*Coach).DoctorPage, reports.SeesDoctor},
}

func pageFile(page string) func(string) string {
	return func(who string) string { return reports.FileName(page, who) }
}

// pure is a page that needs nothing from the book but what every page shows.
func pure(render func(reports.Client) ([]byte, error)) func(*Coach, context.Context, reports.Client) ([]byte, error) {
	return func(_ *Coach, _ context.Context, c reports.Client) ([]byte, error) { return render(c) }
}

// Report writes the pages of clients as of a day into a folder, and the roster if these are all
// clients. It returns the paths of pages whose content changed.
func (c *Coach) Report(ctx context.Context, standings []Standing, on workout.Date, dir string, roster bool) ([]string, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("cannot make the pages' folder: %w", err)
	}
	name, js, err := reports.Runtime()
	if err != nil {
		return nil, err
	}
	var changed []string
	write := func(name string, b []byte) error {
		path := filepath.Join(dir, name)
		if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, b) {
			return nil
		}
		changed = append(changed, path)
		return writeFile(path, b)
	}
	if err := write(name, js); err != nil {
		return nil, err
	}
	changed = nil // the runtime is not a page
	var all []reports.Client
	for _, s := range standings {
		if err := ctx.Err(); err != nil {
			return changed, err
		}
		client, err := c.Page(ctx, s)
		if err != nil {
			return changed, err
		}
		client.Workouts = workoutPagesIn(dir, s.Record)
		all = append(all, client)
	}
	if roster {
		page, err := reports.Roster(on, all)
		if err != nil {
			return changed, err
		}
		if err := write(reports.FileName("roster", ""), page); err != nil {
			return changed, err
		}
	}
	for _, client := range all {
		who := client.Record.Client.Name
		for _, p := range clientPages {
			if err := ctx.Err(); err != nil {
				return changed, err
			}
			if p.of != nil && !p.of(client) {
				continue
			}
			b, err := p.render(c, ctx, client)
			if err != nil {
				return changed, fmt.Errorf("%s: %w", p.file(who), err)
			}
			if err := write(p.file(who), b); err != nil {
				return changed, err
			}
		}
	}
	return changed, nil
}

// workoutPagesIn lists, by ID, the recordings whose page is in a folder.
func workoutPagesIn(dir string, r record.Record) map[string]bool {
	there := map[string]bool{}
	for _, rec := range r.Recordings {
		if _, err := os.Stat(filepath.Join(dir, reports.WorkoutFile(rec))); err == nil {
			there[rec.ID] = true
		}
	}
	return there
}

// FindRecording finds the recording that is says is meant, by client and ID; ok is false if there is none.
func (c *Coach) FindRecording(ctx context.Context, is func(client, id string) bool) (rec record.Recording, ok bool, err error) {
	id, err := c.book.FindRecording(ctx, is)
	if err != nil || id == "" {
		return rec, false, err
	}
	rec, err = c.book.Recording(ctx, id)
	return rec, err == nil, err
}

// Shown is what the roster shows of a standing; the client's own pages also look back.
func (s Standing) Shown() reports.Client {
	return reports.Client{Record: s.Record, Assessment: s.Assessment, Weeks: s.Weeks, Next: &s.Next, Known: s.Known, Proposed: s.Proposed, Peaks: s.Peaks}
}

// Page is what the pages show of a standing. Of a plan that is new it keeps what it shows.
func (c *Coach) Page(ctx context.Context, s Standing) (reports.Client, error) {
	if err := c.send(ctx, &s); err != nil {
		return reports.Client{}, err
	}
	return c.page(ctx, s)
}

// OwnPage is what a client sees of a standing without the trainer: nothing is kept, and a plan that the trainer has not
// looked at yet is not shown, since showing it would fix it.
func (c *Coach) OwnPage(ctx context.Context, s Standing) (reports.Client, error) {
	client, err := c.page(ctx, s)
	if s.fresh {
		client.Next = nil
	}
	return client, err
}

// WorkoutPage makes the page of one recording, read again from its original.
func (c *Coach) WorkoutPage(ctx context.Context, rec record.Recording, client reports.Client) ([]byte, error) {
	w, err := c.original(ctx, rec)
	if err != nil {
		return nil, err
	}
	page, err := reports.Workout(rec, heartrate.Clean(w), w, client)
	if err != nil {
		return nil, fmt.Errorf("page of workout %s: %w", rec.ID, err)
	}
	return page, nil
}

// DoctorPage makes the page for the doctor, with what was recorded then read again from its original. A damaged
// original keeps nobody from the page, which says so.
func (c *Coach) DoctorPage(ctx context.Context, client reports.Client) ([]byte, error) {
	var then *reports.Recorded
	if rec := reports.RecordedThen(client); rec != nil {
		if w, err := c.original(ctx, *rec); err == nil {
			then = &reports.Recorded{Recording: *rec, Series: heartrate.Clean(w), Workout: w}
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return reports.Doctor(client, then)
}

func (c *Coach) page(ctx context.Context, s Standing) (reports.Client, error) {
	past, err := c.history(ctx, s.Record, s.Assessment.AsOf)
	if err != nil {
		return reports.Client{}, err
	}
	changed, err := c.ChangedSince(ctx, s.Record.Client.Name, s.Assessment.AsOf)
	if err != nil {
		return reports.Client{}, err
	}
	sealed, err := c.book.HeadFor(ctx, s.Record.Client.Name)
	if err != nil {
		return reports.Client{}, err
	}
	client := s.Shown()
	client.Past, client.Changed, client.Sealed = past, changed, sealed.String()
	client.IfAccepted = c.ifAccepted(s)
	stopped, err := c.StoppedSince(ctx, s)
	if stopped != nil {
		client.Next, client.IfAccepted, client.Stopped = nil, nil, wording.Capital(stopped.What)
	}
	return client, err
}

// ifAccepted is the week that follows where the trainer accepts a recommended change; nil where none is recommended, or
// the trainer has decided. Nothing is kept.
func (c *Coach) ifAccepted(s Standing) *record.Prescription {
	on, r, a := s.Assessment.AsOf, s.Record, s.Assessment
	if a.Verdict == nil || a.Doubt() != nil || r.Decided(on) != nil {
		return nil
	}
	act := map[record.Verdict]record.Act{record.Advance: record.DoAdvance, record.Ease: record.DoEase, record.StepBack: record.DoStepBack}[*a.Verdict]
	stage, err := stageAfter(act, a)
	if err != nil || act == "" {
		return nil
	}
	r.Decisions = append(slices.Clone(r.Decisions), record.Decision{Client: r.Client.Name, Entered: on, Act: act, From: on + 1, Stage: stage, Verdict: a.Verdict})
	p, _ := prescription.Standing(c.Policy, on, r, progression.Assess(c.Policy, on, r))
	if p.Sessions == 0 {
		return nil
	}
	return &p
}

// StoppedSince says what was entered after the day of a standing and stops its week, which may lie ahead: nobody would
// send it now; nil for nothing.
func (c *Coach) StoppedSince(ctx context.Context, s Standing) (stops *fault.Error, err error) {
	err = c.enteredSince(ctx, s.Assessment.AsOf, s.Record)
	if errors.As(err, &stops) {
		return stops, nil
	}
	return nil, err
}

// ReportDoctor writes a client's page for the doctor, whatever the verdict, and gives its path.
func (c *Coach) ReportDoctor(ctx context.Context, s Standing, dir string) (string, error) {
	client, err := c.page(ctx, s)
	if err != nil {
		return "", err
	}
	page, err := c.DoctorPage(ctx, client)
	if err != nil {
		return "", err
	}
	path := filepath.Join(dir, reports.FileName("doctor", client.Record.Client.Name))
	return path, writeFile(path, page)
}

// ReportWorkout writes the page of one recording, read again from its original.
func (c *Coach) ReportWorkout(ctx context.Context, id string, on workout.Date, dir string) (string, error) {
	rec, err := c.book.Recording(ctx, id)
	if err != nil {
		return "", err
	}
	s, err := c.standing(ctx, rec.Client, on)
	if err != nil {
		return "", err
	}
	client, err := c.page(ctx, s)
	if err != nil {
		return "", err
	}
	return c.workoutPage(ctx, rec, client, dir)
}

// WorkoutPages writes the pages of the workouts of a client's last days days.
func (c *Coach) WorkoutPages(ctx context.Context, s Standing, days int, dir string) error {
	client, err := c.page(ctx, s)
	if err != nil {
		return err
	}
	for _, rec := range s.Record.Recordings {
		if rec.Date > s.Assessment.AsOf-workout.Date(days) && rec.Counts() {
			if _, err := c.workoutPage(ctx, rec, client, dir); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *Coach) workoutPage(ctx context.Context, rec record.Recording, client reports.Client, dir string) (string, error) {
	page, err := c.WorkoutPage(ctx, rec, client)
	if err != nil {
		return "", err
	}
	name, js, err := reports.Runtime()
	if err != nil {
		return "", err
	}
	if _, err := os.Stat(filepath.Join(dir, name)); errors.Is(err, fs.ErrNotExist) {
		if err := writeFile(filepath.Join(dir, name), js); err != nil {
			return "", err
		}
	}
	path := filepath.Join(dir, reports.WorkoutFile(rec))
	return path, writeFile(path, page)
}

// original decodes a recording's file again, with the sensor that the trainer named.
func (c *Coach) original(ctx context.Context, rec record.Recording) (workout.Workout, error) {
	b, name, err := c.book.Original(ctx, rec.File)
	if err != nil {
		return workout.Workout{}, err
	}
	for _, f := range recording.Decode(name, b) {
		if f.Err == nil && rec.Index < len(f.Workouts) {
			w := f.Workouts[rec.Index]
			w.Sensor, w.Start, w.Sport = rec.Workout.Sensor, rec.Workout.Start, rec.Workout.Sport // as the trainer said
			return w, nil
		}
	}
	return workout.Workout{}, fault.New(fault.Conflict, "the original of %s can no longer be read", rec.Name).Helped(fault.CheckBook, rec.Client)
}

// writeFile writes under a temporary name and renames, so that no reader sees half a page.
func writeFile(path string, b []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("cannot make the folder: %w", err)
	}
	tmp := path + ".tmp"
	if err := os.WriteFile(tmp, b, 0o600); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	if err := os.Rename(tmp, path); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	return nil
}

// removePages removes every page in the book's folder that shows a client, and the roster.
func (c *Coach) removePages(r record.Record) error {
	names := []string{reports.FileName("roster", "")}
	for _, p := range clientPages {
		names = append(names, p.file(r.Client.Name))
	}
	for _, rec := range r.Recordings {
		names = append(names, reports.WorkoutFile(rec))
	}
	folders, err := filepath.Glob(filepath.Join(c.Pages(), "as-of-*"))
	if err != nil {
		return err
	}
	for _, folder := range append(folders, c.Pages()) {
		for _, n := range names {
			for _, file := range []string{n, paperOf(n)} {
				if err := os.Remove(filepath.Join(folder, file)); err != nil && !errors.Is(err, fs.ErrNotExist) {
					return fmt.Errorf("cannot remove the page: %w", err)
				}
			}
		}
	}
	return nil
}

// Reassess measures every workout of a client again from its original, with the facts and methods
// of today.
func (c *Coach) Reassess(ctx context.Context, name string) error {
	record, err := c.book.Record(ctx, name, endOfTime)
	if err != nil {
		return err
	}
	for _, rec := range record.Recordings {
		w, err := c.original(ctx, rec)
		if err != nil {
			return err
		}
		if err := c.book.Remeasure(ctx, rec.ID, measure(record, rec.Date, heartrate.Clean(w), w)); err != nil {
			return err
		}
	}
	return nil
}
