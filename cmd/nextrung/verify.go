package main

import (
	"context"
	"fmt"
	"nextrung/internal/wording"

	"nextrung/internal/coach"
)

type verifyCommand struct{}

func (verifyCommand) Help() string {
	return "Example: nextrung verify\n\nChecks the database, every original against its digest, and that no decision was changed after it was entered, and names the last seal of each client: the same stands on printed decision pages. Exit code 1: something is wrong, each fault named."
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
		return fmt.Errorf("%s found; keep a copy of the book's folder as it is before anything else", wording.Count(len(faults), "fault"))
	}
	s.say("The book is whole: every original, every decision and the database are as they were entered.")
	seals, err := co.Seals(ctx)
	if err != nil {
		return err
	}
	for _, x := range seals {
		s.say("%s: %s, the last one of %s sealed %s", x.Client, wording.Count(x.Decisions, "decision"), x.Last.Entered, x.Last.Digest)
	}
	return nil
}
