package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/reasons"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type receiveCommand struct {
	Client  string       `help:"The client." placeholder:"NAME"`
	On      workout.Date `help:"Day of receipt (default today; what is older than four weeks counts from the day it was recorded)." placeholder:"DATE" xor:"when"`
	Backlog bool         `help:"Count each workout as received on the day it was recorded." xor:"when"`
	Day     workout.Date `help:"Day of workouts whose file has no date or a future one." placeholder:"DATE"`
	Sensor  string       `help:"Sensor worn: strap or wrist; overrides the file." placeholder:"KIND"`
	Move    []string     `help:"Move a recording's file to another client (with --client)." placeholder:"ID" xor:"upkeep"`
	Undo    []string     `help:"Remove a recording's file from the book." placeholder:"ID" xor:"upkeep"`
	Exclude []string     `help:"Keep a recording but do not count it (with --because)." placeholder:"ID" xor:"upkeep"`
	Because string       `help:"Why the recording is excluded; shown beside it." placeholder:"TEXT"`
	Include []string     `help:"Count an excluded recording again." placeholder:"ID" xor:"upkeep"`
	JSON    bool         `name:"json" help:"One JSON object per file on one line."`
	Files   []string     `arg:"" optional:"" name:"file" help:"Files or folders."`
}

func (receiveCommand) Help() string {
	return "Examples:\n  nextrung receive --client Runa monday.fit week.zip\n  nextrung receive --client Runa --backlog old-exports/\n  nextrung receive --exclude 1a2b3c4d#0 --because 'strap worn by her brother'\n\nExit code 3: at least one file was not entered; each is listed with its reason."
}

func (c *receiveCommand) who() []*string { return []*string{&c.Client} }

func (c *receiveCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	upkeep := slices.Concat(c.Move, c.Undo, c.Exclude, c.Include)
	switch {
	case len(upkeep) > 0 && len(c.Files) > 0:
		return misuse("%s was not looked at: repeat the flag for each recording (--undo ID --undo ID), and receive files in a command of their own", strings.Join(c.Files, ", "))
	case len(upkeep) == 0 && (c.Client == "" || len(c.Files) == 0):
		return misuse("name the client and the files: --client NAME FILE...")
	case len(c.Move) > 0 && c.Client == "":
		return misuse("name the client the recording belongs to: --client NAME")
	}
	if err := coach.NotAhead("on", c.On, s.today()); err != nil {
		return err
	}
	if len(upkeep) > 0 {
		return c.keepUp(ctx, co, s, upkeep)
	}
	files, err := expand(c.Files)
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return fmt.Errorf("there are no files in %s: put the exports there, or name them", strings.Join(c.Files, ", "))
	}
	in := coach.Intake{Client: c.Client, On: s.orToday(c.On), Fixed: c.On != 0, Backlog: c.Backlog, Day: c.Day, Sensor: workout.Sensor(c.Sensor)}
	return receiveFiles(ctx, co, s, in, files, c.JSON)
}

// keepUp undoes, moves, excludes or includes the recordings that are named.
func (c *receiveCommand) keepUp(ctx context.Context, co *coach.Coach, s *surroundings, ids []string) error {
	err := co.Undo(ctx, c.Undo...)
	for _, id := range ids {
		said := id + " counts again"
		switch {
		case len(c.Exclude) > 0:
			err, said = co.Exclude(ctx, id, c.Because, s.today()), id+" no longer counts: "+c.Because
		case len(c.Undo) > 0:
			said = "the file of " + id + " is removed from the book"
		case len(c.Move) > 0:
			err, said = co.Move(ctx, id, c.Client), "the file of "+id+" now belongs to "+c.Client
		default:
			err = co.Include(ctx, id)
		}
		if err := tell(s, err, "%s", said); err != nil {
			return err
		}
	}
	return nil
}

func tell(s *surroundings, err error, format string, args ...any) error {
	if err == nil {
		s.say(format, args...)
	}
	return err
}

func receiveFiles(ctx context.Context, co *coach.Coach, s *surroundings, in coach.Intake, files []string, asJSON bool) error {
	bar, n := s.bar("receiving"), 0
	before, err := co.Record(ctx, in.Client, s.today(), true)
	if err != nil {
		return err
	}
	outcome := eachFile(ctx, s, files, func(path string) (some bool, err error) {
		receipts, trouble := co.ReceiveFile(ctx, in, path)
		n++
		bar(n, len(files))
		for _, r := range receipts {
			some = some || r.Status == coach.Refused || r.Status == coach.Waits
			if !asJSON {
				printReceipt(s, r)
			} else if err := s.printJSON(r); err != nil {
				return some, err
			}
		}
		return some, trouble
	})
	if asJSON || outcome != nil && outcome != error(errSomeRefused) {
		return outcome
	}
	after, err := co.Record(ctx, in.Client, s.today(), true)
	if err != nil {
		return err
	}
	if n, m := len(after.Recordings)-len(before.Recordings), recordedSessions(after)-recordedSessions(before); n > 0 {
		s.say("%s added for %s, making %s", wording.Count(n, "recording"), in.Client, wording.Count(m, "more session"))
	}
	return outcome
}

// withHelp adds what to type to what is wrong.
func withHelp(why string, help fault.Help) string {
	if text := toType(help, ""); text != "" {
		return why + "; " + text
	}
	return why
}

func printReceipt(s *surroundings, r coach.Receipt) {
	if r.Status == coach.Refused || r.Status == coach.Waits {
		s.warn("%s: %s: %s", r.Name, r.Status, withHelp(r.Why, r.Help))
		return
	}
	s.say("%s: %s", r.Name, r.Status)
	for _, rec := range r.Recordings {
		h := rec.Measured.HeartRate
		heart := "no heart rate"
		if h.Usable {
			heart = fmt.Sprintf("mean %s, recorded %s of the time", bpm(h.Mean), percent(h.Coverage))
		}
		s.say("  %s  %s  %s, %s, %s", rec.ID, rec.Date, rec.Workout.Sport, wording.Clock(rec.Workout.Seconds), heart)
	}
	for _, m := range reasons.Texts(r.Remarks) {
		s.say("  remark: %s", m)
	}
}
