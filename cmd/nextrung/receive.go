package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type receiveCommand struct {
	Client  string       `help:"For whom." placeholder:"NAME"`
	On      workout.Date `help:"Day of receipt (default today)." placeholder:"DATE" xor:"when"`
	Backlog bool         `help:"Count each workout as received on the day it was recorded." xor:"when"`
	Day     workout.Date `help:"Day of workouts whose file tells no date." placeholder:"DATE"`
	Sensor  string       `help:"What was worn: strap or wrist; wins over the file." placeholder:"KIND"`
	Move    string       `help:"Move the file of a recording to another client (with --client)." placeholder:"ID"`
	Undo    string       `help:"Take the file of a recording out of the book again." placeholder:"ID"`
	Exclude string       `help:"Keep a recording but do not count it (with --because)." placeholder:"ID"`
	Because string       `help:"The reason of an exclusion; it is listed." placeholder:"TEXT"`
	Include string       `help:"Count an excluded recording again." placeholder:"ID"`
	JSON    bool         `name:"json" help:"One JSON object per file on one line."`
	Files   []string     `arg:"" optional:"" name:"file" help:"Files or folders."`
}

func (receiveCommand) Help() string {
	return "Examples:\n  nextrung receive --client Runa monday.fit week.zip\n  nextrung receive --client Runa --backlog old-exports/\n  nextrung receive --exclude 1a2b3c4d#0 --because 'strap worn by her brother'\n\nExit code 3: some file was refused, each named with its reason."
}

func (c *receiveCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	if err := oneOf("--sensor", c.Sensor, "strap", "wrist"); err != nil {
		return err
	}
	upkeep := c.Move != "" || c.Undo != "" || c.Exclude != "" || c.Include != ""
	switch {
	case !upkeep && (c.Client == "" || len(c.Files) == 0):
		return misuse("say for whom and what: --client NAME FILE...")
	case c.Exclude != "" && strings.TrimSpace(c.Because) == "":
		return misuse("an exclusion needs its reason: --because TEXT")
	case c.Move != "" && c.Client == "":
		return misuse("say to whom the recording belongs: --client NAME")
	}
	if err := s.past("--on", c.On); err != nil {
		return err
	}
	co, err := cli.openBook(ctx)
	if err != nil {
		return err
	}
	defer co.Close()
	if c.Client != "" {
		if c.Client, err = co.Named(ctx, c.Client); err != nil {
			return err
		}
	}
	switch {
	case c.Include != "":
		return tell(s, co.Include(ctx, c.Include), "%s counts again", c.Include)
	case c.Exclude != "":
		return tell(s, co.Exclude(ctx, c.Exclude, c.Because), "%s no longer counts: %s", c.Exclude, c.Because)
	case c.Undo != "":
		return tell(s, co.Undo(ctx, c.Undo), "the file of %s is out of the book", c.Undo)
	case c.Move != "":
		return tell(s, co.Move(ctx, c.Move, c.Client), "the file of %s now belongs to %s", c.Move, c.Client)
	}
	files, err := expand(c.Files)
	if err != nil {
		return err
	}
	if len(files) == 0 {
		return fmt.Errorf("there is no file in %s: put the exports there, or name them", strings.Join(c.Files, ", "))
	}
	in := coach.Intake{Client: c.Client, On: s.orToday(c.On), Backlog: c.Backlog, Day: c.Day, Sensor: workout.Sensor(c.Sensor)}
	return receiveFiles(ctx, co, s, in, files, c.JSON)
}

func tell(s *surroundings, err error, format string, args ...any) error {
	if err == nil {
		s.say(format, args...)
	}
	return err
}

func receiveFiles(ctx context.Context, co *coach.Coach, s *surroundings, in coach.Intake, files []string, asJSON bool) error {
	bar := s.bar("receiving")
	some := false
	before, err := co.Record(ctx, in.Client, s.today(), true)
	if err != nil {
		return err
	}
	for i, file := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		b, err := os.ReadFile(file)
		if err != nil {
			s.warn("read: %v", err)
			some = true
			continue
		}
		receipts, err := co.Receive(ctx, in, filepath.Base(file), b)
		if err != nil {
			return err
		}
		bar(i+1, len(files))
		for _, r := range receipts {
			some = some || r.Status == coach.Refused
			if asJSON {
				if err := s.printJSON(r); err != nil {
					return err
				}
			} else {
				printReceipt(s, r)
			}
		}
	}
	after, err := co.Record(ctx, in.Client, s.today(), true)
	if err != nil {
		return err
	}
	if n, m := len(after.Recordings)-len(before.Recordings), recordedSessions(after)-recordedSessions(before); !asJSON && n > 0 {
		s.say("%s of %s more, which make %s more", wording.Count(n, "recording"), in.Client, wording.Count(m, "session"))
	}
	if some {
		return errSomeRefused
	}
	return nil
}

func printReceipt(s *surroundings, r coach.Receipt) {
	if r.Status == coach.Refused {
		s.warn("%s: refused: %s", r.Name, r.Why)
		return
	}
	s.say("%s: %s", r.Name, r.Status)
	for _, rec := range r.Recordings {
		h := rec.Measured.HeartRate
		heart := "no heart rate"
		if h.Usable {
			heart = fmt.Sprintf("mean %s bpm, recorded %s of the time", bpm(h.Mean), percent(h.Coverage))
		}
		s.say("  %s  %s  %s, %s, %s", rec.ID, rec.Date, rec.Workout.Sport, clock(rec.Workout.Seconds), heart)
	}
	for _, m := range r.Remarks {
		s.say("  remark: %s", m)
	}
}

type sessionCommand struct {
	Add  sessionAdd  `cmd:"" help:"Enter a session that was done without a recording."`
	Undo sessionUndo `cmd:"" help:"Take a reported session back."`
}

type sessionUndo struct {
	Client string `required:"" help:"Whose." placeholder:"NAME"`
	ID     string `arg:"" help:"The session, as client show calls it: r3."`
}

func (sessionUndo) Help() string { return "Example: nextrung session undo --client Runa r3" }

func (c *sessionUndo) Run(ctx context.Context, cli *commands, s *surroundings) error {
	return withdraw(ctx, cli, s, c.Client, c.ID)
}

// withdraw takes a note or a reported session back from today on.
func withdraw(ctx context.Context, cli *commands, s *surroundings, client, id string) error {
	co, err := cli.openFor(ctx, &client)
	if err != nil {
		return err
	}
	defer co.Close()
	return tell(s, co.Withdraw(ctx, client, id, s.today()), "%s of %s counts no longer; assessments of earlier days still know it", id, client)
}

type sessionAdd struct {
	Client  string       `required:"" help:"Whose." placeholder:"NAME"`
	Date    workout.Date `required:"" help:"When." placeholder:"DATE"`
	Min     float64      `required:"" help:"Minutes." placeholder:"N"`
	Sport   string       `required:"" help:"running, walking, cycling, rowing, swimming, skiing, strength or other." placeholder:"S"`
	RPE     float64      `name:"rpe" help:"Perceived exertion." default:"-1" placeholder:"N"`
	Scale   int          `help:"20 for the 6-20 scale, 10 for the 0-10 scale." enum:"20,10" default:"20"`
	Talk    string       `help:"comfortable, hard or no." placeholder:"WORD"`
	Backlog bool         `help:"Count it as known on its own day."`
	Again   bool         `help:"It was done a second time that day."`
}

func (sessionAdd) Help() string {
	return "Example: nextrung session add --client Runa --date 2026-09-22 --min 30 --sport walking --rpe 11 --talk comfortable\n\nIt counts for sessions, minutes and effort, never for heart-rate rules."
}

func (c *sessionAdd) Run(ctx context.Context, cli *commands, s *surroundings) error {
	if err := oneOf("--talk", c.Talk, "comfortable", "hard", "no"); err != nil {
		return err
	}
	if err := oneOf("--sport", c.Sport, "running", "walking", "cycling", "rowing", "swimming", "skiing", "strength", "other"); err != nil {
		return err
	}
	if c.Min <= 0 || c.Min > 24*60 {
		return misuse("--min %g is not a length between 0 and 1440 minutes", c.Min)
	}
	effort, err := rpe(c.RPE, c.Scale)
	if err != nil {
		return err
	}
	if c.Date > s.today() {
		return misuse("--date %s is still to come", c.Date)
	}
	co, err := cli.openFor(ctx, &c.Client)
	if err != nil {
		return err
	}
	defer co.Close()
	err = co.AddReport(ctx, c.Client, record.Report{
		Date: c.Date, Entered: entered(c.Backlog, c.Date, s.today()), Minutes: c.Min, Sport: workout.Sport(c.Sport), RPE: effort, Talk: record.Talk(c.Talk),
	}, c.Again)
	if errors.Is(err, coach.ErrTwice) {
		return fmt.Errorf("%w; say --again if it was done twice", err)
	}
	return tell(s, err, "entered for %s: %g min of %s on %s, reported, not recorded", c.Client, c.Min, c.Sport, c.Date.Long())
}

func entered(backlog bool, date, today workout.Date) workout.Date {
	if backlog {
		return date
	}
	return today
}

type noteCommand struct {
	Client    string       `required:"" help:"Whose." placeholder:"NAME"`
	Date      workout.Date `help:"Of which day (default today); with --paste the day on which the answer was written." placeholder:"DATE"`
	RPE       float64      `name:"rpe" help:"Perceived exertion of that day's session." default:"-1" placeholder:"N"`
	Scale     int          `help:"20 for the 6-20 scale (the default), 10 for the 0-10 scale; with --paste the default is the one that the client used last." enum:"0,20,10" default:"0" placeholder:"20|10"`
	Talk      string       `help:"comfortable, hard or no." placeholder:"WORD"`
	Enjoyment int          `help:"1 (none) to 5 (very much)." placeholder:"N"`
	HRRest    float64      `name:"hr-rest" help:"Resting heart rate of that morning." placeholder:"N"`
	Symptoms  string       `help:"Words from a list such as chest,dizzy,poor-sleep; other words are kept as a remark." placeholder:"LIST"`
	Heat      *float64     `help:"Air temperature during the session in °C." placeholder:"C"`
	NoFan     bool         `name:"no-fan" help:"Done indoors without a fan: drift and same effort are not told then."`
	Backlog   bool         `help:"Count it as known on its own day; with --paste on the day of the answer."`
	Undo      string       `help:"Take a note back, by the ID that client show gives: n12." placeholder:"ID"`
	Paste     bool         `help:"Read the client's answer to ask as it was written, from standard input or from one file."`
	Yes       bool         `help:"With --paste: enter what was understood without asking first."`
	JSON      bool         `name:"json" help:"With --paste: the reading as one JSON object on one line."`
	Text      []string     `arg:"" optional:"" help:"Anything else; with --paste the file that holds the answer."`
}

func (noteCommand) Help() string {
	return "Examples:\n  nextrung note --client Runa --date 2026-09-22 --rpe 12 --talk comfortable --enjoyment 4 'windy on the quay'\n  nextrung note --client Runa --paste                  # paste the answer, then Ctrl-D\n  nextrung note --client Runa --paste --yes answer.txt\n\n" +
		"--paste reads English only. It shows what it understood, what it has to ask and what it did not understand, and enters it after a yes: --yes, or an answer at the terminal. Without either nothing is entered (exit code 0, or 3 as below). What was not understood is kept as a remark of its day. Each note can be taken back with --undo ID.\n\nExit code 3: part of it was not understood or has to be asked."
}

func (c *noteCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	switch {
	case c.Undo != "":
		return withdraw(ctx, cli, s, c.Client, c.Undo)
	case c.Paste:
		return c.paste(ctx, cli, s)
	case c.Yes || c.JSON:
		return misuse("--yes and --json go with --paste")
	}
	n := record.Note{Date: s.orToday(c.Date), Talk: record.Talk(c.Talk), Enjoyment: c.Enjoyment, HRRest: c.HRRest, HeatC: c.Heat, NoFan: c.NoFan, Text: strings.Join(c.Text, " ")}
	n.Entered = entered(c.Backlog, n.Date, s.today())
	switch {
	case c.Enjoyment != 0 && (c.Enjoyment < 1 || c.Enjoyment > 5):
		return misuse("--enjoyment %d is not between 1 and 5", c.Enjoyment)
	case c.HRRest != 0 && (c.HRRest < 30 || c.HRRest > 130):
		return misuse("--hr-rest %g is outside 30 to 130 bpm", c.HRRest)
	case n.Date > s.today():
		return misuse("--date %s is still to come", n.Date)
	case c.Heat != nil && (*c.Heat < -40 || *c.Heat > 55):
		return misuse("--heat %g is no air temperature in °C", *c.Heat)
	}
	if err := oneOf("--talk", c.Talk, "comfortable", "hard", "no"); err != nil {
		return err
	}
	var err error
	if n.RPE, err = rpe(c.RPE, cmp.Or(c.Scale, 20)); err != nil {
		return err
	}
	var odd []string
	for _, w := range words(c.Symptoms) {
		switch sign, ok := signs.Named(w); {
		case !ok:
			odd = append(odd, w)
		case sign == "":
			n.NoSign = true
		default:
			n.Symptoms = append(n.Symptoms, sign)
		}
	}
	if len(odd) > 0 {
		n.Text = strings.TrimSpace(n.Text + " [reported: " + strings.Join(odd, ", ") + "]")
	}
	n = n.Read()
	co, err := cli.openFor(ctx, &c.Client)
	if err != nil {
		return err
	}
	defer co.Close()
	if err := co.AddNote(ctx, c.Client, n); err != nil {
		return err
	}
	s.say("noted for %s on %s", c.Client, n.Date.Long())
	for _, sym := range n.Symptoms {
		if advice := sym.Advice(); advice != "" {
			s.say("%s: %s", sym, advice)
		}
	}
	for _, x := range n.Suspected {
		switch {
		case n.NoSign && x.Sign != "":
		case x.Sign.Grave():
			s.warn("the note reads like %q: nobody moves up and nothing is prescribed until you have asked. If it was so: nextrung note --client %q --date %s --symptoms %s; if not: the same with --symptoms none", x.Sign, c.Client, n.Date, x.Sign)
		default:
			s.warn("the note may speak of %s: ask, and enter the answer; until then nothing harder than easy is prescribed", cmp.Or(string(x.Topic), x.Sign.Words()))
		}
	}
	if len(odd) > 0 {
		s.warn("kept as a remark only, since no rule knows the words: %s. Words that rules know: %s", strings.Join(odd, ", "), symptomWords())
		return errSomeRefused
	}
	return nil
}
