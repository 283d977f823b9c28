package main

import (
	"context"
	"fmt"

	"nextrung/internal/answers"
	"nextrung/internal/workout"
)

type askCommand struct {
	Name string       `arg:"" help:"The client."`
	AsOf workout.Date `name:"as-of" help:"About the week up to this day (default today)." placeholder:"D"`
}

func (askCommand) Help() string {
	return "Examples:\n  nextrung ask Runa\n  nextrung ask Runa --as-of 2026-10-04 > message.txt\n\nThe message is in English, ready to paste into a messenger. It names the sessions of the week that lack an answer. Enter the reply with `nextrung note --client Runa --paste`."
}

func (c *askCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	if err := s.past("--as-of", c.AsOf); err != nil {
		return err
	}
	co, err := cli.openFor(ctx, &c.Name)
	if err != nil {
		return err
	}
	defer co.Close()
	on := s.orToday(c.AsOf)
	r, err := co.Record(ctx, c.Name, on, false)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(s.out, answers.Ask(r, on))
	return err
}
