package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/progression"
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
	upkeep := c.Move != "" || c.Undo != "" || c.Exclude != ""
	switch {
	case !upkeep && (c.Client == "" || len(c.Files) == 0):
		return misuse("say for whom and what: --client NAME FILE...")
	case c.Exclude != "" && strings.TrimSpace(c.Because) == "":
		return misuse("an exclusion needs its reason: --because TEXT")
	case c.Move != "" && c.Client == "":
		return misuse("say to whom the recording belongs: --client NAME")
	}
	co, err := cli.openBook(ctx)
	if err != nil {
		return err
	}
	defer co.Close()
	switch {
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
		s.say("  %s  %s  %s, %s, mean %s bpm, recorded %s of the time", rec.ID, rec.Date, rec.Workout.Sport, clock(rec.Workout.Seconds), bpm(h.Mean), percent(h.Coverage))
	}
	for _, m := range r.Remarks {
		s.say("  remark: %s", m)
	}
}

type sessionCommand struct {
	Add sessionAdd `cmd:"" help:"Enter a session that was done without a recording."`
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
	co, err := cli.openBook(ctx)
	if err != nil {
		return err
	}
	defer co.Close()
	err = co.AddReport(ctx, c.Client, progression.Report{
		Date: c.Date, Entered: entered(c.Backlog, c.Date, s.today()), Minutes: c.Min, Sport: workout.Sport(c.Sport), RPE: effort, Talk: progression.Talk(c.Talk),
	})
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
	Date      workout.Date `help:"Of which day (default today)." placeholder:"DATE"`
	RPE       float64      `name:"rpe" help:"Perceived exertion of that day's session." default:"-1" placeholder:"N"`
	Scale     int          `help:"20 for the 6-20 scale, 10 for the 0-10 scale." enum:"20,10" default:"20"`
	Talk      string       `help:"comfortable, hard or no." placeholder:"WORD"`
	Enjoyment int          `help:"1 (none) to 5 (very much)." placeholder:"N"`
	HRRest    float64      `name:"hr-rest" help:"Resting heart rate of that morning." placeholder:"N"`
	Symptoms  string       `help:"Words from a list such as chest,dizzy,poor-sleep; other words are kept as a remark." placeholder:"LIST"`
	Heat      *float64     `help:"Air temperature during the session in °C." placeholder:"C"`
	Backlog   bool         `help:"Count it as known on its own day."`
	Text      []string     `arg:"" optional:"" help:"Anything else."`
}

func (noteCommand) Help() string {
	return "Example: nextrung note --client Runa --date 2026-09-22 --rpe 12 --talk comfortable --enjoyment 4 'windy on the quay'"
}

func (c *noteCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	n := progression.Note{Date: s.orToday(c.Date), Talk: progression.Talk(c.Talk), Enjoyment: c.Enjoyment, HRRest: c.HRRest, HeatC: c.Heat, Text: strings.Join(c.Text, " ")}
	n.Entered = entered(c.Backlog, n.Date, s.today())
	switch {
	case c.Enjoyment != 0 && (c.Enjoyment < 1 || c.Enjoyment > 5):
		return misuse("--enjoyment %d is not between 1 and 5", c.Enjoyment)
	case c.HRRest != 0 && (c.HRRest < 30 || c.HRRest > 130):
		return misuse("--hr-rest %g is outside 30 to 130 bpm", c.HRRest)
	case n.Date > s.today():
		return misuse("--date %s is still to come", n.Date)
	}
	if err := oneOf("--talk", c.Talk, "comfortable", "hard", "no"); err != nil {
		return err
	}
	var err error
	if n.RPE, err = rpe(c.RPE, c.Scale); err != nil {
		return err
	}
	var odd []string
	for _, w := range words(c.Symptoms) {
		if progression.Symptom(w).Tier() != progression.OtherSign {
			n.Symptoms = append(n.Symptoms, progression.Symptom(w))
		} else {
			odd = append(odd, w)
		}
	}
	if len(odd) > 0 {
		n.Text = strings.TrimSpace(n.Text + " [reported: " + strings.Join(odd, ", ") + "]")
	}
	co, err := cli.openBook(ctx)
	if err != nil {
		return err
	}
	defer co.Close()
	if err := co.AddNote(ctx, c.Client, n); err != nil {
		return err
	}
	s.say("noted for %s on %s", c.Client, n.Date.Long())
	if len(odd) > 0 {
		s.say("kept as a remark, since no rule knows the word: %s. Words that rules know: %s", strings.Join(odd, ", "), symptomWords())
	}
	for _, sym := range n.Symptoms {
		if advice := sym.Advice(); advice != "" {
			s.say("%s: %s", sym, advice)
		}
	}
	return nil
}
