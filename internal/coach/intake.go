package coach

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"nextrung/internal/fault"
	"nextrung/internal/heartrate"
	"nextrung/internal/logbook"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// Intake says for whom and how files are received.
type Intake struct {
	Client string
	// On is the day of receipt. With Backlog each workout counts as received on the day it was recorded;
	// so does what is older than four weeks, but with Fixed, when the trainer named the day of receipt.
	On             workout.Date
	Backlog, Fixed bool
	// Day is the day of workouts whose file has no date, or one that lies in the future; with 0 they wait.
	Day workout.Date
	// Sensor is the heart-rate sensor that the trainer names; it overrides the file.
	Sensor workout.Sensor
}

// longAgo is the age in days beyond which a recording that comes in counts from its own day, and the
// time before the programme beyond which one is not entered without a question.
const longAgo = 28

// Receipt is what became of one file.
type Receipt struct {
	Name   string         `json:"file"`
	Digest workout.Digest `json:"sha256"`
	Status Status         `json:"status"`
	// Why says, for a refused file, what is wrong and what to do.
	Why        string             `json:"why,omitempty"`
	Help       fault.Help         `json:"help,omitempty"` // what would let the file in
	Holder     string             `json:"-"`              // of a file in the book of which nobody has said whose it is
	Recordings []record.Recording `json:"recordings,omitempty"`
	Remarks    workout.Facts      `json:"remark_facts,omitempty"`
}

// MarshalJSON puts the sentences beside the facts.
func (r Receipt) MarshalJSON() ([]byte, error) {
	type plain Receipt
	out := struct {
		plain
		Recordings []reasons.WrittenRecording `json:"recordings,omitempty"`
		Remarks    []string                   `json:"remarks,omitempty"`
	}{plain: plain(r), Remarks: reasons.Texts(r.Remarks)}
	for _, rec := range r.Recordings {
		out.Recordings = append(out.Recordings, reasons.WriteRecording(rec))
	}
	return json.Marshal(out)
}

// Status is the fate of a received file.
type Status string

// The fates: entered now, in the book already, not entered before a question is answered, or refused.
const (
	Entered Status = "entered"
	Known   Status = "already in the book"
	Waits   Status = "not entered yet"
	Refused Status = "refused"
	// Unclaimed is a file that is kept until somebody says whose it is.
	Unclaimed Status = "whose is it?"
)

// Receive enters one file, or every file of an archive, for a client: decode, clean, measure and
// store, one transaction a file. A refused file is a receipt with its reason, not an error; an
// error means that the book could not be used.
func (c *Coach) Receive(ctx context.Context, in Intake, name string, b []byte) ([]Receipt, error) {
	return c.receiveAll(ctx, in, func(each func(recording.File) error) error {
		return recording.Read(ctx, name, bytes.NewReader(b), int64(len(b)), each)
	})
}

// ReceiveFile enters a file on disk, under its own name. One that cannot be read gives a [FileTrouble].
func (c *Coach) ReceiveFile(ctx context.Context, in Intake, path string) ([]Receipt, error) {
	return c.receiveAll(ctx, in, func(each func(recording.File) error) error { return readFile(ctx, path, each) })
}

func (c *Coach) receiveAll(ctx context.Context, in Intake, read func(each func(recording.File) error) error) (out []Receipt, err error) {
	if in.Sensor, err = Word("sensor", string(in.Sensor), workout.Strap, workout.Wrist); err != nil {
		return nil, err
	}
	record, err := c.book.Record(ctx, in.Client, endOfTime)
	if err != nil {
		return nil, err
	}
	err = read(func(f recording.File) error {
		r, err := c.receive(ctx, in, &record, f)
		if err != nil {
			return fmt.Errorf("%s: %w", f.Name, err)
		}
		out = append(out, r)
		return nil
	})
	return out, err
}

// FileTrouble says that one file, or what became of it, could not be read, moved or removed. It stops no other.
type FileTrouble struct {
	Name string
	Err  error
}

func (t *FileTrouble) Error() string { return t.Name + ": " + t.Err.Error() }

func (t *FileTrouble) Unwrap() error { return t.Err }

// readFile reads a recording, or an archive of them, from the disk.
func readFile(ctx context.Context, path string, each func(recording.File) error) error {
	name := filepath.Base(path)
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = errors.New("it is no file")
	}
	if err != nil {
		return &FileTrouble{name, plainPath(err)}
	}
	f, err := os.Open(path)
	if err != nil {
		return &FileTrouble{name, plainPath(err)}
	}
	defer f.Close()
	err = recording.Read(ctx, name, f, info.Size(), each)
	if unreadable := new(*recording.Unreadable); errors.As(err, unreadable) {
		return &FileTrouble{name, plainPath((*unreadable).Err)}
	}
	return err
}

// plainPath takes the path off an error about a file that is named beside it.
func plainPath(err error) error {
	if at := new(*fs.PathError); errors.As(err, at) {
		return (*at).Err
	}
	return err
}

func (c *Coach) receive(ctx context.Context, in Intake, known *record.Record, f recording.File) (Receipt, error) {
	r := Receipt{Name: f.Name, Digest: f.Digest, Remarks: f.Remarks}
	refuse := func(why string) (Receipt, error) {
		r.Status, r.Why = Refused, why
		return r, nil
	}
	if f.Err != nil {
		return refuse(f.Err.Error())
	}
	if holder, on, ok, err := c.book.Holder(ctx, f.Digest); err != nil {
		return r, err
	} else if ok {
		return alreadyIn(r, in, holder, on), nil
	}
	var items []logbook.Item
	for i, w := range f.Workouts {
		zone := known.Client.Location()
		if in.Day != 0 && (w.Start.IsZero() || in.ahead(workout.DateOf(w.Start, zone))) {
			w.Start = in.Day.Noon(zone)
		} else if w.Start.IsZero() {
			r.Remarks = append(r.Remarks, workout.Say(record.UndatedWorkout, record.Args{"workout": i + 1}))
			continue
		}
		if r.Help, r.Why = in.doubts(workout.DateOf(w.Start, zone), known.Client.Since); r.Help != fault.NoHelp {
			r.Status = Waits
			return r, nil
		}
		items = append(items, c.item(in, *known, f, i, w))
	}
	if len(items) == 0 {
		r.Status, r.Help, r.Why = Waits, fault.NameDay, "the file has no date; say which day it was recorded on"
		return r, nil
	}
	aside, err := c.setTwinsAside(ctx, known.Recordings, items)
	if err != nil {
		return r, err
	}
	err = c.book.Add(ctx, f, in.Client, items[0].Recording.Received, items, aside)
	var already *logbook.ErrKnown
	if errors.As(err, &already) {
		return alreadyIn(r, in, already.Client, already.Received), nil
	}
	if err != nil {
		return r, err
	}
	for i, old := range known.Recordings {
		if why, ok := aside[old.ID]; ok {
			known.Recordings[i].Aside = why
		}
	}
	r.entered(in, items, aside, known.Client.Since)
	for _, it := range items {
		known.Recordings = append(known.Recordings, it.Recording)
	}
	return r, nil
}

// entered says what became of a file that was entered.
func (r *Receipt) entered(in Intake, items []logbook.Item, aside map[string]record.Fact, since workout.Date) {
	r.Status = Entered
	remark := func(code record.Code, args record.Args) { r.Remarks = append(r.Remarks, workout.Say(code, args)) }
	for _, winner := range aside {
		remark(record.CountsInstead, winner.Args)
	}
	first := items[0].Recording.Date
	args := record.Args{"date": first, "days": int(in.On - first)}
	switch {
	case in.Backlog:
	case first < since:
		remark(record.BeforeProgramme, record.Args{"date": first, "since": since})
	case in.On-first > longAgo && !in.Fixed:
		remark(record.LongAgo, args)
	case in.On-first > longAgo:
		args["on"] = in.On
		remark(record.LongOnTheWay, args)
	}
	for _, it := range items {
		r.Recordings = append(r.Recordings, it.Recording)
		if !it.Recording.Counts() {
			r.Remarks = append(r.Remarks, it.Recording.Aside)
		}
	}
}

// received is the day from which a recording of a day counts.
func (in Intake) received(date workout.Date) workout.Date {
	if in.Backlog || !in.Fixed && in.On-date > longAgo {
		return date
	}
	return in.On
}

// ahead says that a day lies in the future. One more day is allowed for a client who trained an ocean away.
func (in Intake) ahead(date workout.Date) bool { return date > in.On+1 }

// doubts says what is wrong with the day of a recording, and what would help; "" if nothing is.
func (in Intake) doubts(date, since workout.Date) (fault.Help, string) {
	switch {
	case in.ahead(date):
		return fault.NameDay, fmt.Sprintf("the file says %s, which is in the future: the device's clock was wrong", date.Long())
	case date < since-longAgo && !in.Backlog && !in.Fixed:
		return fault.CountAsBacklog, fmt.Sprintf("recorded on %s, long before the programme began on %s: it may be an old export", date.Long(), since.Long())
	}
	return fault.NoHelp, ""
}

// alreadyIn says that the same bytes are in the book; somebody else's copy is refused, since one
// recording belongs to one person.
func alreadyIn(r Receipt, in Intake, holder string, on workout.Date) Receipt {
	r.Status = Known
	if holder != in.Client {
		r.Status = Refused
		r.Why = fmt.Sprintf("the same recording was received for %s on %s; move that one here, or leave it there", holder, on.Long())
	}
	return r
}

// item cleans and measures one workout with the facts that held on its day.
func (c *Coach) item(in Intake, r record.Record, f recording.File, index int, w workout.Workout) logbook.Item {
	client := r.Client
	switch {
	case in.Sensor != workout.UnknownSensor:
		w.Sensor = in.Sensor
	case w.Sensor == workout.UnknownSensor:
		w.Sensor = client.Sensor
	}
	w.Sport = client.Sport(f.Format, w.Sport)
	date := workout.DateOf(w.Start, client.Location())
	series := heartrate.Clean(w)
	measured := measure(r, date, series, w)
	return logbook.Item{
		Series: series,
		Recording: record.Recording{
			ID: fmt.Sprintf("%s#%d", f.Digest.Short(), index), File: f.Digest, Index: index, Name: f.Name, Format: f.Format,
			Client: client.Name, Received: in.received(date), Date: date, Workout: w, Measured: measured,
		},
	}
}

// measure measures a workout with what is known of the client on its day.
func measure(r record.Record, date workout.Date, s heartrate.Series, w workout.Workout) physiology.Measurements {
	return physiology.Measure(s, w, r.Client.Body(date), plannedSteady(r, date))
}

// plannedSteady says that a day lies in a week for which steady sessions only were prescribed.
func plannedSteady(r record.Record, day workout.Date) bool {
	p := r.PlanFor(day, day)
	return p != nil && p.Intervals == nil && p.Sessions > 0
}

// Exclude keeps a recording but does not count it, from a day on; the reason is listed.
func (c *Coach) Exclude(ctx context.Context, id, because string, on workout.Date) error {
	if err := given("because", because, "say why the recording is excluded", fault.NoHelp); err != nil {
		return err
	}
	rec, err := c.book.Recording(ctx, id)
	if err != nil {
		return err
	}
	r, err := c.book.Record(ctx, rec.Client, endOfTime)
	if err != nil {
		return err
	}
	if err := heard(r, "reason", because, on); err != nil {
		return err
	}
	return c.book.Exclude(ctx, id, because)
}

// Include lets an excluded recording count again.
func (c *Coach) Include(ctx context.Context, id string) error { return c.book.Include(ctx, id) }

// Undo removes the whole files that recordings came in from the book; none where one of them is not in it.
func (c *Coach) Undo(ctx context.Context, ids ...string) error {
	var files []workout.Digest
	for _, id := range ids {
		rec, err := c.book.Recording(ctx, id)
		if err != nil {
			return err
		}
		if !slices.Contains(files, rec.File) {
			files = append(files, rec.File)
		}
	}
	for _, f := range files {
		if err := c.book.Undo(ctx, f); err != nil {
			return err
		}
	}
	return nil
}

// Move gives the whole file that a recording came in to another client and measures it again with
// that client's facts.
func (c *Coach) Move(ctx context.Context, id, client string) error {
	rec, err := c.book.Recording(ctx, id)
	if err != nil {
		return err
	}
	if err := c.book.Move(ctx, rec.File, client); err != nil {
		return err
	}
	return c.Reassess(ctx, client)
}
