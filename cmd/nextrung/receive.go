package main

import (
	"context"
	"fmt"
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
	Move    string       `help:"Move a recording's file to another client (with --client)." placeholder:"ID"`
	Undo    string       `help:"Remove a recording's file from the book." placeholder:"ID"`
	Exclude string       `help:"Keep a recording but do not count it (with --because)." placeholder:"ID"`
	Because string       `help:"Why the recording is excluded; shown beside it." placeholder:"TEXT"`
	Include string       `help:"Count an excluded recording again." placeholder:"ID"`
	JSON    bool         `name:"json" help:"One JSON object per file on one line."`
	Files   []string     `arg:"" optional:"" name:"file" help:"Files or folders."`
}

func (receiveCommand) Help() string {
	return "Examples:\n  nextrung receive --client Runa monday.fit week.zip\n  nextrung receive --client Runa --backlog old-exports/\n  nextrung receive --exclude 1a2b3c4d#0 --because 'strap worn by her brother'\n\nExit code 3: at least one file was not entered; each is listed with its reason."
}

func (c *receiveCommand) who() []*string { return []*string{&c.Client} }

func (c *receiveCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	upkeep := c.Move != "" || c.Undo != "" || c.Exclude != "" || c.Include != ""
	switch {
	case !upkeep && (c.Client == "" || len(c.Files) == 0):
		return misuse("name the client and the files: --client NAME FILE...")
	case c.Move != "" && c.Client == "":
		return misuse("name the client the recording belongs to: --client NAME")
	}
	if err := coach.NotAhead("on", c.On, s.today()); err != nil {
		return err
	}
	switch {
	case c.Include != "":
		return tell(s, co.Include(ctx, c.Include), "%s counts again", c.Include)
	case c.Exclude != "":
		return tell(s, co.Exclude(ctx, c.Exclude, c.Because), "%s no longer counts: %s", c.Exclude, c.Because)
	case c.Undo != "":
		return tell(s, co.Undo(ctx, c.Undo), "the file of %s is removed from the book", c.Undo)
	case c.Move != "":
		return tell(s, co.Move(ctx, c.Move, c.Client), "the file of %s now belongs to %s", c.Move, c.Client)
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
	outcome := eachFile(ctx, s, files, func(name string, b []byte) (some bool, err error) {
		receipts, err := co.Receive(ctx, in, name, b)
		if err != nil {
			return some, err
		}
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
		return some, nil
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
