package main

import (
	"context"
	"fmt"
	"path/filepath"

	"nextrung/internal/demo"
	"nextrung/internal/fault"
	"nextrung/internal/web"
)

type demoCommand struct {
	Dir   string `help:"Folder of the demo's book (default: nextrung-demo in the user's data folder)." placeholder:"D" type:"path"`
	Serve bool   `help:"Then open the desk on it in the browser, as of its last day."`
}

func (demoCommand) Help() string {
	return "Examples:\n  nextrung demo --serve\n  nextrung demo --dir /tmp/ferry\n\nMakes a book with the nine invented crew members of a ferry, receives their recordings week by week, runs the weekly job and prints the roster."
}

func (c *demoCommand) Run(ctx context.Context, s *surroundings) error {
	dir := c.Dir
	if dir == "" {
		base, err := dataFolder()
		if err != nil {
			return fmt.Errorf("cannot find the user's data folder: %w; name a folder with --dir", err)
		}
		dir = filepath.Join(base, "nextrung-demo")
	}
	if address := web.Running(ctx, dir); address != "" {
		return fault.New(fault.Conflict, "a desk is running on the demo in %s: look at %s, or stop the desk first: the demo is made afresh each time", dir, address)
	}
	co, standings, err := demo.Make(ctx, dir, s.bar("working through the weeks"))
	if err != nil {
		return err
	}
	defer co.Close()
	if err := printRoster(s, demo.Day, standings); err != nil {
		return err
	}
	if err := workoutPages(ctx, co, s, standings, 28, co.Pages()); err != nil {
		return err
	}
	if err := writePages(ctx, co, s, standings, demo.Day, co.Pages(), true, false); err != nil {
		return err
	}
	s.say("Look around in this book with: nextrung --book %q assess %s --as-of %s", dir, standings[0].Record.Client.Name, demo.Day)
	s.say("Open the desk on it with: nextrung --book %q serve --open --as-of %s", dir, demo.Day)
	s.say("Everybody in it is invented. nextrung is not a medical device; the trainer decides.")
	if c.Serve {
		return (&serveCommand{asOf: asOf{demo.Day}, Addr: "127.0.0.1:0", Open: true}).Run(ctx, co, s)
	}
	return nil
}
