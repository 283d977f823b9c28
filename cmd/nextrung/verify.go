package main

import (
	"context"
	"fmt"
	"nextrung/internal/wording"

	"nextrung/internal/coach"
)

type verifyCommand struct{}

func (verifyCommand) Help() string {
	return "Example: nextrung verify\n\nChecks the database, every original file against its digest, and that no decision was changed after it was entered. Prints each client's last seal, which is also on the printed decision pages. Exit code 1: something is wrong; each fault is listed."
}

func (verifyCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	faults, err := co.Verify(ctx)
	if err != nil {
		return err
	}
	for _, f := range faults {
		s.warn("%s", f)
	}
	if len(faults) > 0 {
		return fmt.Errorf("%s found; before anything else, copy the book's folder as it is", wording.Count(len(faults), "fault"))
	}
	s.say("The book is intact: every original file, every decision and the database are as they were entered.")
	seals, err := co.Seals(ctx)
	if err != nil {
		return err
	}
	for _, x := range seals {
		s.say("%s: %s, the last one on %s, sealed %s", x.Client, wording.Count(x.Decisions, "decision"), x.Last.Entered, x.Last.Digest)
	}
	return nil
}
