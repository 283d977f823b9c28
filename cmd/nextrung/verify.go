package main

import (
	"context"
	"fmt"

	"nextrung/internal/coach"
	"nextrung/internal/logbook"
	"nextrung/internal/wording"
)

type verifyCommand struct {
	Seal    []string `help:"A seal of the book to look for: as printed on a page, or the file of a backup." placeholder:"SEAL|FILE" sep:"none"`
	Measure bool     `help:"Also measure every recording again from its original and compare; this takes longer."`
}

func (verifyCommand) Help() string {
	return "Examples:\n  nextrung verify\n  nextrung verify --seal 412-0a1b2c3d4e5f6071\n  nextrung verify --seal /media/disk/nextrung-2026-10-04.db --measure\n\n" +
		"Checks the database, every original against its digest, and every row of every table against the book's log, in which each act is sealed to the one before it: what was changed, added or removed outside the program is named. It also looks for the seal beside the book (book.seal) in the log, and for those that you give.\n\n" +
		"What it cannot show: somebody who can write to this computer can write the whole log anew and the seal beside the book with it. That shows only against a seal kept elsewhere: on a printed page, on a page that you sent, in a backup on another disk. Nor does it show who was at the keyboard, or that what was entered is true. Days and times are those of this computer's clock.\n\nExit code 1: something is wrong; each fault is listed."
}

func (c *verifyCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	var seals []logbook.Head
	for _, text := range c.Seal {
		seal, err := coach.ReadSeal(ctx, text)
		if err != nil {
			return err
		}
		seals = append(seals, seal)
	}
	found, err := co.Verify(ctx, seals, c.Measure)
	if err != nil {
		return err
	}
	for _, f := range found.Faults {
		s.warn("%s", f)
	}
	if n := len(found.Faults); n > 0 {
		return fmt.Errorf("%s found; before anything else, copy the book's folder as it is; then look at each fault with a backup at hand", wording.Count(n, "fault"))
	}
	for _, line := range found.Words() {
		s.say("%s", line)
	}
	for _, x := range found.Seals {
		s.say("%s: %s, the last one on %s, sealed %s", x.Client, wording.Count(x.Decisions, "decision"), x.Last.Entered, x.Last.Digest)
	}
	return nil
}
