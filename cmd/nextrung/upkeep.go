package main

import (
	"context"
	"fmt"
	"path/filepath"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/web"
)

type backupCommand struct {
	File string `arg:"" help:"The file to write; it must not exist yet." type:"path"`
}

func (backupCommand) Help() string {
	return "Example: nextrung backup /media/disk/nextrung-2026-10-04.db\n\nWrites the whole book, with every original and the policy, into one file and checks it. You can keep using the desk meanwhile."
}

func (c *backupCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	if err := co.Backup(ctx, c.File, s.today()); err != nil {
		return err
	}
	s.say("The book is backed up in %s and checked. Keep it on another disk.", c.File)
	seal, err := coach.ReadSeal(ctx, c.File)
	if err != nil {
		return err
	}
	s.say("Seal of the book: %s. Write it down: `nextrung verify --seal` looks for it.", seal)
	return nil
}

type restoreCommand struct {
	File string `arg:"" help:"A backup." type:"existingfile"`
	Yes  bool   `help:"Really replace the book with the backup."`
}

func (restoreCommand) Help() string {
	return "Example: nextrung restore /media/disk/nextrung-2026-10-04.db --yes\n\nChecks the backup first, then replaces the book with it. The old book is kept beside it. Clients who were forgotten after the backup was made will be back: forget them again."
}

func (c *restoreCommand) Run(ctx context.Context, cli *commands, s *surroundings) error {
	dir, err := cli.bookFolder()
	if err != nil {
		return err
	}
	if !c.Yes && coach.Exists(dir) {
		return misuse("the backup would replace the book in %s; add --yes to confirm", dir)
	}
	if address := web.Running(ctx, dir); address != "" {
		return fault.New(fault.Conflict, "the desk is running on this book: restore under Upkeep at %s, or stop it first", address)
	}
	old, err := coach.RestoreInto(ctx, dir, c.File, s.now())
	if err != nil {
		return err
	}
	s.say("%s was checked and is now the book in %s.", c.File, dir)
	if old != "" {
		s.say("The one before it is kept as %s.", filepath.Base(old))
	}
	return nil
}

type exportCommand struct {
	ofClient
	File string `arg:"" help:"The archive to write (.zip)." type:"path"`
}

func (exportCommand) Help() string {
	return "Example: nextrung export Runa runa.zip\n\nWrites an archive of everything about one client: originals, facts, tables of sessions, recordings, notes and decisions with a dictionary of their columns (meaning, unit, method, error), and the pages."
}

func (c *exportCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	if err := co.ExportFile(ctx, c.Name, s.today(), c.File); err != nil {
		return fmt.Errorf("export %s: %w", c.Name, err)
	}
	s.say("Everything about %s is in %s.", c.Name, c.File)
	return nil
}
