package main

import (
	"context"

	"nextrung/internal/coach"
)

type settingsCommand struct {
	By   string `help:"Who decides and asks where nobody else is named." placeholder:"WHO"`
	Drop string `help:"Where clients' exports are put, with a folder for each client." placeholder:"DIR" type:"path"`
	JSON bool   `name:"json" help:"The settings as JSON."`
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
	set, err := co.Settings(ctx)
	if err != nil {
		return err
	}
	set.Drop = co.Drop
	if c.JSON {
		return s.printJSON(set)
	}
	if set.By == "" {
		set.By = "not set; use --by WHO"
	}
	s.say("who decides: %s\ndrop folder: %s", set.By, set.Drop)
	return nil
}
