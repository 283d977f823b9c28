package main

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"

	"nextrung/internal/coach"
)

type settingsCommand struct {
	By         string `help:"Who decides and asks the questions, unless somebody else is named." placeholder:"WHO"`
	Drop       string `help:"Where clients' exports are put, with a folder for each client." placeholder:"DIR" type:"path"`
	Passphrase bool   `help:"Set the passphrase that anyone who opens the desk from another computer has to give; type it when asked, or pipe it in."`
	JSON       bool   `name:"json" help:"The settings as JSON."`
}

func (settingsCommand) Help() string {
	return "Example: nextrung settings --by Ketil --drop ~/Documents/exports"
}

func (c *settingsCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	if c.By != "" {
		if err := co.SetBy(ctx, c.By); err != nil {
			return err
		}
	}
	if c.Drop != "" {
		if err := co.SetDrop(ctx, c.Drop); err != nil {
			return err
		}
	}
	if c.Passphrase {
		passphrase, err := s.typedPassphrase()
		if err != nil {
			return err
		}
		if err := co.SetPassphrase(ctx, passphrase); err != nil {
			return err
		}
		s.say("The passphrase is set. A desk that is running asks for it at the next sign-in.")
	}
	set, err := co.Settings(ctx)
	if err != nil {
		return err
	}
	set.Drop = co.Drop
	if c.JSON {
		return s.printJSON(set)
	}
	s.say("who decides: %s\ndrop folder: %s", cmp.Or(set.By, "not set; use --by WHO"), set.Drop)
	return nil
}

// typedPassphrase reads one line. At a terminal nothing of it is shown.
func (s *surroundings) typedPassphrase() (string, error) {
	if f, ok := s.in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		fmt.Fprint(s.err, "Passphrase: ")
		b, err := term.ReadPassword(int(f.Fd()))
		fmt.Fprintln(s.err)
		return string(b), err
	}
	line, err := bufio.NewReader(s.in).ReadString('\n')
	if err != nil && !errors.Is(err, io.EOF) {
		return "", err
	}
	return strings.TrimRight(line, "\r\n"), nil
}
