package main

import (
	"cmp"
	"context"
	"path/filepath"

	"nextrung/internal/coach"
)

type signCommand struct {
	Key string `help:"The file of your key (default: trainer.key in the book's folder). Keep it on a stick to keep it from others." placeholder:"FILE" type:"path"`
}

func (signCommand) Help() string {
	return "Example: nextrung sign --key /media/stick/trainer.key\n\nSigns the book as it is now with a key of your own, so that nobody without your passphrase can write the log anew and sign it. The first time it makes the key. The key is protected by the passphrase alone: nobody can recover a lost one, and anybody who knows it and has the file can sign. `nextrung verify` checks every signature; it cannot tell that signatures were deleted, so write down the key's first digits and the number of the last entry that you signed."
}

func (c *signCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	passphrase, err := s.typedPassphrase()
	if err != nil {
		return err
	}
	file := cmp.Or(c.Key, filepath.Join(co.Dir, coach.KeyName))
	seal, key, err := co.Sign(ctx, file, passphrase)
	if err != nil {
		return err
	}
	s.say("Signed up to entry %d, seal %s, with the key %s in %s.", seal.Entry, seal, key, file)
	return nil
}
