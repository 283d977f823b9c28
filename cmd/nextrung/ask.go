package main

import (
	"context"
	"fmt"

	"nextrung/internal/answers"
	"nextrung/internal/coach"
)

type askCommand struct {
	ofClient
	asOf
}

func (askCommand) Help() string {
	return "Examples:\n  nextrung ask Runa\n  nextrung ask Runa --as-of 2026-10-04 > message.txt\n\nThe message is in English, ready to paste into a messenger. It lists the sessions of the week that have no answer yet. Enter the reply with `nextrung note --client Runa --paste`."
}

func (c *askCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	r, err := co.Record(ctx, c.Name, c.AsOf, false)
	if err != nil {
		return err
	}
	_, err = fmt.Fprint(s.out, answers.Ask(r, c.AsOf))
	return err
}
