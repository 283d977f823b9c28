package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"
	"unicode"
	"unicode/utf8"

	"nextrung/internal/answers"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// pasted is what note --paste --json prints.
type pasted struct {
	Client string       `json:"client"`
	On     workout.Date `json:"on"`
	Scale  int          `json:"scale"`
	answers.Reading
	Entered []string `json:"entered"` // IDs of the notes; empty if nothing was entered
}

// paste reads a client's answer, shows what was understood and enters it after a yes.
func (c *noteCommand) paste(ctx context.Context, cli *commands, s *surroundings) error {
	given := record.Note{Talk: record.Talk(c.Talk), Enjoyment: c.Enjoyment, HRRest: c.HRRest, HeatC: c.Heat, NoFan: c.NoFan}
	switch {
	case c.RPE >= 0 || noteLine(given) != "" || c.Symptoms != "":
		return misuse("--paste takes the answers from the text: leave out --rpe, --talk, --enjoyment, --hr-rest, --symptoms, --heat and --no-fan")
	case len(c.Text) > 1:
		return misuse("--paste reads one file or standard input, not %d files", len(c.Text))
	}
	if err := s.past("--date", c.Date); err != nil {
		return err
	}
	co, err := cli.openFor(ctx, &c.Client)
	if err != nil {
		return err
	}
	defer co.Close()
	text, err := c.message(s)
	if err != nil {
		return err
	}
	on := s.orToday(c.Date)
	// What came in after the day of the answer counts too: a recording often comes later than the words.
	r, err := co.Record(ctx, c.Client, on, true)
	if err != nil {
		return err
	}
	scale := c.Scale
	if scale == 0 {
		scale = answers.ScaleOf(r)
	}
	p := pasted{Client: c.Client, On: on, Scale: scale, Entered: []string{}}
	p.Reading = answers.Parse(text, answers.Setting{On: on, Sessions: r.Sessions(), Scale: scale, Client: r.Client.Name, Open: r.Unanswered()})
	if !c.JSON {
		if err := printReading(s, p); err != nil {
			return err
		}
	}
	if len(p.Notes) > 0 {
		if c.Yes || c.agreed(s, len(p.Notes)) {
			for i := range p.Notes {
				p.Notes[i].Entered = entered(c.Backlog, on, s.today())
			}
			if p.Entered, err = co.AddNotes(ctx, c.Client, p.Notes); err != nil {
				return err
			}
			for i, id := range p.Entered {
				p.Notes[i].ID = id
			}
		} else {
			s.warn("nothing was entered: say --yes to enter it, or write it anew with note and its flags")
		}
	}
	if c.JSON {
		if err := s.printJSON(p); err != nil {
			return err
		}
	} else if len(p.Entered) > 0 {
		s.say("\nentered for %s: %s; take one back with `nextrung note --client %q --undo ID`", c.Client, strings.Join(p.Entered, ", "), c.Client)
	}
	if !p.Whole() {
		return errSomeRefused
	}
	return nil
}

// message is the pasted text, from a file or from standard input.
func (c *noteCommand) message(s *surroundings) (string, error) {
	in, name := s.in, "standard input"
	if len(c.Text) == 1 {
		f, err := os.Open(c.Text[0])
		if err != nil {
			return "", fmt.Errorf("read the answer: %w", err)
		}
		defer f.Close()
		in, name = f, c.Text[0]
	} else if s.asksAtTerminal() && !c.JSON {
		s.warn("paste the answer, then press Ctrl-D on a line of its own")
	}
	b, err := io.ReadAll(io.LimitReader(in, answers.MaxText+1))
	switch {
	case err != nil:
		return "", fmt.Errorf("read the answer from %s: %w", name, err)
	case len(b) > answers.MaxText:
		return "", fmt.Errorf("%s is longer than %d characters: paste one message", name, answers.MaxText)
	case !utf8.Valid(b):
		return "", fmt.Errorf("%s is no text in UTF-8: paste the message itself, not a document", name)
	case strings.TrimSpace(string(b)) == "":
		return "", fmt.Errorf("%s holds no text: paste the client's answer", name)
	}
	return strings.TrimPrefix(string(b), "\ufeff"), nil
}

// asksAtTerminal says whether somebody sits there who can answer.
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

// printReading shows what was read: grave signs first, then what was understood, what has to be
// asked, and what was not understood.
func printReading(s *surroundings, p pasted) error {
	for _, g := range p.Grave() {
		for _, sign := range g.Signs {
			if sign.Grave() {
				s.say("Line %d says: %s (%q). %s", g.Line, sign.Words(), oneLine(g.Text), sign.Advice())
			}
		}
		for _, x := range g.Suspected {
			if x.Sign.Grave() {
				s.say("Line %d may say: %s (%q). %s Ask at once; until then nobody moves up and nothing is prescribed. %s", g.Line, x.Sign.Words(), oneLine(g.Text), x.Sign.Advice(), howToAnswer(p.Client, g.Day, x))
			}
		}
	}
	s.say("%s, answer of %s, efforts on the %s scale unless they say otherwise", p.Client, p.On.Long(), map[int]string{20: "6-20", 10: "0-10"}[p.Scale])
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	for _, part := range []struct {
		kind  answers.Kind
		title string
		says  func(answers.Piece) string
	}{
		{answers.Understood, "Understood", func(x answers.Piece) string { return x.Means }},
		{answers.Remark, "Understood, kept as a remark", func(x answers.Piece) string { return x.Means }},
		{answers.Question, "To be asked, kept as a remark", func(x answers.Piece) string {
			out := x.Question
			for _, suspected := range x.Suspected {
				if !suspected.Sign.Grave() { // for those it stands above
					out = strings.TrimSpace(out + " " + howToAnswer(p.Client, x.Day, suspected))
				}
			}
			return out
		}},
		{answers.Left, "Not understood, kept as a remark", func(answers.Piece) string { return "" }},
	} {
		first := true
		for _, x := range p.Pieces {
			if x.Kind != part.kind || x.Kind == answers.Understood && (x.Means == "" || onlyDay(x)) {
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

// howToAnswer says how the answer to a question about a sign or a topic is entered; "" if no command takes it.
func howToAnswer(client string, on workout.Date, x record.Suspicion) string {
	switch x.Topic {
	case signs.Medicine:
		return fmt.Sprintf("Enter it: nextrung client set %q --medicine slows|raises --dose-change DATE", client)
	case signs.Pregnancy:
		return fmt.Sprintf("If so, enter it with the conditions that hold already: nextrung client set %q --conditions pregnant", client)
	case signs.Injury:
		return ""
	}
	switch x.Sign.Tier() {
	case signs.AskAgain:
		return fmt.Sprintf("If so, enter it: nextrung note --client %q --date %s --symptoms %s", client, on, x.Sign)
	case signs.Illness:
		return fmt.Sprintf("If it was so, enter it for the last day it was there: nextrung note --client %q --date %s --symptoms %s", client, on, x.Sign)
	}
	return fmt.Sprintf("If it was so: nextrung note --client %q --date %s --symptoms %s; if not: the same with --symptoms none", client, on, x.Sign)
}

// onlyDay says that a piece names its day and nothing else.
func onlyDay(x answers.Piece) bool { return x.Means == x.Day.Time().Format("Mon 2 Jan") }

// oneLine is a text without line ends, and without what would steer a terminal.
func oneLine(text string) string {
	return strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)), " ")
}
