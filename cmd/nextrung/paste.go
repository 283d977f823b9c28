package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"reflect"
	"strings"
	"text/tabwriter"
	"unicode"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// paste reads a client's answer, shows what was understood and enters it after a yes.
func (c *noteCommand) paste(ctx context.Context, co *coach.Coach, s *surroundings) error {
	switch {
	case !reflect.DeepEqual(c.said, said{Scale: c.Scale, Backlog: c.Backlog, Text: c.Text}):
		return misuse("--paste takes the answers from the text: leave out --rpe, --talk, --enjoyment, --hr-rest, --symptoms, --heat and --no-fan")
	case len(c.Text) > 1:
		return misuse("--paste reads one file or standard input, not %d files", len(c.Text))
	}
	if err := coach.NotAhead("date", c.Date, s.today()); err != nil {
		return err
	}
	text, err := c.message(s)
	if err != nil {
		return err
	}
	scale, err := coach.Word("scale", c.Scale, "20", "10")
	if err != nil {
		return err
	}
	m, err := co.ReadMessage(ctx, c.Client, text, s.orToday(c.Date), map[string]int{"20": 20, "10": 10}[scale])
	if err != nil {
		return err
	}
	if !c.JSON {
		if err := printReading(s, m); err != nil {
			return err
		}
	}
	if len(m.Notes) > 0 {
		if c.Yes || c.agreed(s, len(m.Notes)) {
			if m, err = co.EnterMessage(ctx, m, c.Backlog, s.today()); err != nil {
				return err
			}
		} else {
			s.warn("nothing was entered: add --yes to enter it, or enter it yourself with the flags of note")
		}
	}
	if c.JSON {
		if err := s.printJSON(m); err != nil {
			return err
		}
	} else if len(m.Entered) > 0 {
		s.say("\nentered for %s: %s; undo one with `nextrung note --client %q --undo ID`", c.Client, strings.Join(m.Entered, ", "), c.Client)
	}
	if !m.Whole() {
		return errSomeRefused
	}
	return nil
}

// message is the pasted text, from a file or from standard input.
func (c *noteCommand) message(s *surroundings) (string, error) {
	in := s.in
	if len(c.Text) == 1 {
		f, err := os.Open(c.Text[0])
		if err != nil {
			return "", fmt.Errorf("cannot read %s: %w", c.Text[0], errors.Unwrap(err))
		}
		defer f.Close()
		in = f
	} else if s.asksAtTerminal() && !c.JSON {
		s.warn("paste the answer, then press Ctrl-D on a line of its own")
	}
	b, err := io.ReadAll(io.LimitReader(in, answers.MaxText+1))
	if err != nil {
		return "", fmt.Errorf("cannot read the answer: %w", err)
	}
	return string(b), nil
}

// asksAtTerminal says whether there is somebody at the terminal who can answer.
func (s *surroundings) asksAtTerminal() bool {
	f, ok := s.in.(*os.File)
	if !ok || !isTerminal(f) {
		return false
	}
	in, err := f.Stat()
	nowhere, _ := os.Stat(os.DevNull) // a character device, too
	return err == nil && (nowhere == nil || !os.SameFile(in, nowhere))
}

// agreed asks at the terminal whether to enter the notes; false where nobody can answer.
func (c *noteCommand) agreed(s *surroundings, n int) bool {
	if !s.asksAtTerminal() || c.JSON {
		return false
	}
	fmt.Fprintf(s.err, "\nEnter this as %s of %s? [y/N] ", wording.Count(n, "note"), c.Client)
	line, _ := bufio.NewReader(s.in).ReadString('\n')
	word := strings.ToLower(strings.TrimSpace(line))
	return word == "y" || word == "yes"
}

// printReading shows what was read: grave signs first, then what was understood, what still has to be
// asked, and what was not understood.
func printReading(s *surroundings, p coach.Message) error {
	for _, g := range p.Grave() {
		for _, sign := range g.Signs {
			if sign.Grave() {
				s.say("%s Line %d says: %s (%q).", sign.Advice(daysSince(s, g.Day)), g.Line, sign.Words(), oneLine(g.Text))
			}
		}
		for _, x := range g.Suspected {
			if x.Sign.Grave() {
				s.say("Ask at once. Line %d may mean: %s (%q). If so: %s Until you have an answer, no sessions are prescribed and the client cannot move up. %s", g.Line, x.Sign.Words(), oneLine(g.Text), x.Sign.Advice(daysSince(s, g.Day)), howToAnswer(p.Client, g.Day, x))
			}
		}
	}
	s.say("%s, answer of %s, effort on the %s scale unless another is named", p.Client, p.On.Long(), map[int]string{20: "6-20", 10: "0-10"}[p.Scale])
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	for _, part := range []struct {
		kind  answers.Kind
		title string
		says  func(answers.Piece) string
	}{
		{answers.Understood, "Understood", func(x answers.Piece) string { return x.Means }},
		{answers.Remark, "Understood, kept as a remark", func(x answers.Piece) string { return x.Means }},
		{answers.Question, "Still to ask, kept as a remark", func(x answers.Piece) string {
			out := x.Question
			for _, suspected := range x.Suspected {
				if !suspected.Sign.Grave() { // those are answered above
					out = strings.TrimSpace(out + " " + howToAnswer(p.Client, x.Day, suspected))
				}
			}
			return out
		}},
		{answers.Left, "Not understood, kept as a remark", func(answers.Piece) string { return "" }},
	} {
		first := true
		for _, x := range p.Pieces {
			if x.Kind != part.kind || x.Kind == answers.Understood && (x.Means == "" || x.JustDay) {
				continue
			}
			if first {
				fmt.Fprintf(t, "\n%s\n", part.title)
				first = false
			}
			when := ""
			if x.Day > 0 {
				when = x.Day.Time().Format("Mon 2 Jan")
			}
			fmt.Fprintf(t, "  line %d\t%s\t%s\t%s\n", x.Line, when, shorten(oneLine(x.Text), 60), part.says(x))
		}
		if err := t.Flush(); err != nil {
			return err
		}
	}
	return nil
}

// daysSince is how many days ago something happened; 0 where the day is not known.
func daysSince(s *surroundings, day workout.Date) int {
	if day == 0 {
		return 0
	}
	return int(s.today() - day)
}

// howToAnswer says how the answer to a question about a sign or a topic is entered.
func howToAnswer(client string, on workout.Date, x record.Suspicion) string {
	note := fmt.Sprintf("nextrung note --client %s --date %s", wording.Quoted(client), on)
	set := "nextrung client set " + wording.Quoted(client)
	switch x.Topic {
	case signs.Medicine:
		return fmt.Sprintf("If so, enter it: %s --medicine slows|raises --dose-change DATE; if not: %s --not-so medicine", set, note)
	case signs.Pregnancy:
		return fmt.Sprintf("If so, enter it together with the conditions already on record: %s --conditions pregnant; if not: %s --not-so pregnancy", set, note)
	case signs.Injury:
		return fmt.Sprintf("If the client can train all the same, or it was nothing: %s --not-so injury; otherwise pause or ease", note)
	}
	if x.Sign.Tier() == signs.Illness {
		return fmt.Sprintf("If so, enter it for the last day the client had it: %s --symptoms %s; if not: %s --symptoms none", note, x.Sign, note)
	}
	return fmt.Sprintf("If so: %s --symptoms %s; if not: %s --symptoms none", note, x.Sign, note)
}

// oneLine is a text without line breaks and without control characters that a terminal would obey.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)), " ")
}
