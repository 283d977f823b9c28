package main

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// ofWhom names the client by a flag.
type ofWhom struct {
	Client string `required:"" help:"The client." placeholder:"NAME"`
}

func (c *ofWhom) who() []*string { return []*string{&c.Client} }

// said are the flags for what no sensor knows. Empty means that nothing was said.
type said struct {
	RPE       string   `name:"rpe" help:"Perceived exertion of that day's session." placeholder:"N"`
	Scale     string   `help:"20 for the 6-20 scale (the default), 10 for the 0-10 scale." placeholder:"20|10"`
	Talk      string   `help:"comfortable, hard or no." placeholder:"WORD"`
	Enjoyment string   `help:"1 (none) to 5 (very much)." placeholder:"N"`
	HRRest    string   `name:"hr-rest" help:"Resting heart rate of that morning." placeholder:"N"`
	Symptoms  string   `help:"none, or words from a list such as chest,dizzy,poor-sleep; other words are kept as a remark." placeholder:"LIST"`
	Heat      string   `help:"Air temperature during the session in °C." placeholder:"C"`
	NoFan     bool     `name:"no-fan" help:"Done indoors without a fan: drift and heart rate at the same pace are then not judged."`
	NotSo     string   `name:"not-so" help:"What you asked about, if the answer was no: medicine, pregnancy or injury." placeholder:"LIST"`
	By        string   `help:"Who asked, or who enters it." placeholder:"WHO"`
	Backlog   bool     `help:"Count it as known on the day itself."`
	Text      []string `arg:"" optional:"" help:"Anything else."`
}

func (f said) entry(on workout.Date) coach.NoteEntry {
	return coach.NoteEntry{
		Date: on, Backlog: f.Backlog, RPE: f.RPE, Scale: f.Scale, Talk: f.Talk, Enjoyment: f.Enjoyment,
		HRRest: f.HRRest, Heat: f.Heat, Symptoms: f.Symptoms, NotSo: f.NotSo, By: f.By, NoFan: f.NoFan, Text: strings.Join(f.Text, " "),
	}
}

type sessionCommand struct {
	Add  sessionAdd  `cmd:"" help:"Enter a session that was done without a recording."`
	Undo sessionUndo `cmd:"" help:"Undo a reported session."`
}

type sessionUndo struct {
	ofWhom
	ID string `arg:"" help:"The session's ID from client show, such as r3."`
}

func (sessionUndo) Help() string { return "Example: nextrung session undo --client Runa r3" }

func (c *sessionUndo) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	return withdraw(ctx, co, s, c.Client, c.ID, "")
}

// withdraw undoes a note or a reported session from today on.
func withdraw(ctx context.Context, co *coach.Coach, s *surroundings, client, id, because string) error {
	return tell(s, co.Withdraw(ctx, client, id, because, s.today()), "%s of %s no longer counts; assessments for earlier days still include it", id, client)
}

type sessionAdd struct {
	ofWhom
	Date  workout.Date `required:"" help:"Day of the session." placeholder:"DATE"`
	Min   string       `required:"" help:"Length in minutes." placeholder:"N"`
	Sport string       `required:"" help:"running, walking, cycling, rowing, swimming, skiing, strength or other." placeholder:"S"`
	Again bool         `help:"The client did it a second time that day."`
	said
}

func (sessionAdd) Help() string {
	return "Example: nextrung session add --client Runa --date 2026-09-22 --min 30 --sport walking --rpe 11 --talk comfortable 'windy on the quay'\n\nIt counts for sessions, minutes and effort, never for heart-rate rules. Anything beyond effort and talk is kept as a note of that day."
}

func (c *sessionAdd) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	e := coach.SessionEntry{NoteEntry: c.entry(c.Date), Minutes: c.Min, Sport: c.Sport, Again: c.Again}
	n, unknown, err := co.EnterSession(ctx, c.Client, e, s.today())
	if err != nil {
		return err
	}
	s.say("entered for %s: %s min of %s on %s, reported, not recorded", c.Client, c.Min, c.Sport, c.Date.Long())
	return printEntered(s, c.Client, n, unknown)
}

type noteCommand struct {
	ofWhom
	Date workout.Date `help:"The day it is about (default today); with --paste, the day the answer was written." placeholder:"DATE"`
	said
	Undo    string `help:"Undo the note with this ID from client show, such as n12." placeholder:"ID"`
	Because string `help:"With --undo: who said so, when the note holds a grave sign or a question about one." placeholder:"TEXT"`
	Paste   bool   `help:"Read the client's reply to the ask message as written, from standard input or one file."`
	Yes     bool   `help:"With --paste: enter what was understood without asking first."`
	JSON    bool   `name:"json" help:"With --paste: what was read, as one JSON object on one line."`
}

func (noteCommand) Help() string {
	return "Examples:\n  nextrung note --client Runa --date 2026-09-22 --rpe 12 --talk comfortable --enjoyment 4 'windy on the quay'\n  nextrung note --client Runa --paste                  # paste the answer, then Ctrl-D\n  nextrung note --client Runa --paste --yes answer.txt\n\n" +
		"--paste reads English only. It shows what it understood, what you need to ask and what it did not understand. It enters what it understood once you agree, with --yes or at the terminal; otherwise nothing is entered (exit code 0, or 3 as below). What it did not understand is kept as a remark for that day. <text> is then the file with the answer; the scale is the one the client used last unless --scale names one, and --backlog counts the answer as known on its day. Undo any note with --undo ID.\n\nExit code 3: part of it was not understood, or you need to ask about it."
}

func (c *noteCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	switch {
	case c.Undo != "":
		return withdraw(ctx, co, s, c.Client, c.Undo, c.Because)
	case c.Because != "":
		return misuse("--because needs --undo")
	case c.Paste:
		return c.paste(ctx, co, s)
	case c.Yes || c.JSON:
		return misuse("--yes and --json need --paste")
	}
	n, unknown, err := co.EnterNote(ctx, c.Client, c.entry(c.Date), s.today())
	if err != nil {
		return err
	}
	s.say("noted for %s on %s", c.Client, n.Date.Long())
	return printEntered(s, c.Client, n, unknown)
}

// printEntered says what to do at once about a note that was entered.
func printEntered(s *surroundings, client string, n record.Note, unknown []string) error {
	for _, sign := range n.Symptoms {
		if advice := sign.Advice(daysSince(s, n.Date)); advice != "" {
			s.say("%s: %s", wording.Capital(sign.Words()), advice)
		}
	}
	for _, x := range n.Suspected {
		switch {
		case n.NoSign && x.Sign != "" || slices.Contains(n.NotSo, x.Topic): // asked and answered in one
		case x.Sign.Grave():
			s.warn("ask at once: the note reads like %q. Until you have an answer, no sessions are prescribed and the client cannot move up. %s", x.Sign.Words(), howToAnswer(client, n.Date, x))
		case x.Sign.Tier() != signs.AskAgain:
			s.warn("ask before the next session: the note may be about %s. Until you have an answer, only comfortable sessions are prescribed. %s", cmp.Or(string(x.Topic), x.Sign.Words()), howToAnswer(client, n.Date, x))
		}
	}
	if len(unknown) > 0 {
		s.warn("kept as a remark only, because no rule uses these words: %s. Words that rules use: %s", strings.Join(unknown, ", "), joined(signs.All()))
		return errSomeRefused
	}
	return nil
}
