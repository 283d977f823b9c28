package coach

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/logbook"
	"nextrung/internal/policy"
	"nextrung/internal/workout"
)

// Backup writes the whole book with its originals and the policy in use into one new file, even while the book is in use, and
// verifies what was written.
func (c *Coach) Backup(ctx context.Context, file string, on workout.Date) error {
	if err := c.KeepPolicy(ctx, on); err != nil {
		return err
	}
	return c.BackupBook(ctx, file)
}

// BackupBook is Backup without the policy where its file was changed outside the program and KeepPolicy was not called. It
// touches nothing but the database, so that it can go on beside other acts.
func (c *Coach) BackupBook(ctx context.Context, file string) error {
	file, err := filepath.Abs(file)
	if err != nil {
		return fault.In("file", file, "is not a file: %v", err)
	}
	return c.book.Backup(ctx, file)
}

// Restore verifies a backup and then replaces this book with it, in one transaction, even while the book is in use.
// The old book stays beside it in the file that is returned. Unless all of it succeeds, the old book stays the book. Now
// names the old one. Facts, settings and the policy are then those of the backup.
func (c *Coach) Restore(ctx context.Context, file string, now time.Time) (old string, err error) {
	prepared, remove, err := logbook.Prepare(ctx, c.Dir, file)
	if err != nil {
		return "", err
	}
	defer remove()
	old = beforeRestore(c.Dir, now, ".db")
	if err := c.book.Copy(ctx, old); err != nil {
		return "", err
	}
	if err := errors.Join(os.Chmod(old, 0o600), c.book.Replace(ctx, prepared)); err != nil {
		return "", errors.Join(err, os.Remove(old))
	}
	if err := restorePolicy(ctx, c.book, c.Dir, now); err != nil {
		return old, err
	}
	if c.Policy, err = readPolicy(filepath.Join(c.Dir, policyName)); err != nil {
		return old, err
	}
	set, err := c.Settings(ctx)
	if err != nil {
		return old, err
	}
	return old, c.UseDrop(ctx, cmp.Or(set.Drop, filepath.Join(c.Dir, ownDrop)))
}

// RestoreInto is Restore for a folder whose book may be missing, or too damaged to be opened: then the files change places.
// No other program may have such a book open. The old book is "" if there was none.
func RestoreInto(ctx context.Context, dir, file string, now time.Time) (old string, err error) {
	if Exists(dir) {
		if c, err := Open(ctx, dir); err == nil {
			old, err := c.Restore(ctx, file, now)
			closed := c.Close()
			var damaged *logbook.ErrDamaged
			if !errors.As(err, &damaged) {
				return old, errors.Join(err, closed)
			}
		}
		old = beforeRestore(dir, now, ".db")
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", fmt.Errorf("make the book's folder: %w", err)
	}
	prepared, remove, err := logbook.Prepare(ctx, dir, file)
	if err != nil {
		return "", err
	}
	defer remove()
	if err := swapBook(dir, prepared, old, beforeRestore(dir, now, ".seal")); err != nil {
		return "", err
	}
	book, err := logbook.Open(ctx, dir)
	if err != nil {
		return old, err
	}
	return old, errors.Join(restorePolicy(ctx, book, dir, now), book.Close())
}

// beforeRestore is the file that keeps what a restored backup replaces.
func beforeRestore(dir string, now time.Time, kind string) string {
	return filepath.Join(dir, "before-restore-"+now.Format("2006-01-02-150405")+kind)
}

// swapBook moves a prepared book to where the book is, and that to old; both or neither. The old one's seal goes to the file seal.
func swapBook(dir, prepared, old, seal string) error {
	at := filepath.Join(dir, logbook.FileName)
	var moved []string
	for _, part := range []string{"", "-wal", "-shm"} {
		if old == "" {
			break
		}
		err := os.Rename(at+part, old+part)
		if err == nil {
			moved = append(moved, part)
		} else if !errors.Is(err, fs.ErrNotExist) {
			return errors.Join(fmt.Errorf("keep the old book: %w", err), moveBack(at, old, moved))
		}
	}
	if err := os.Rename(filepath.Join(prepared, logbook.FileName), at); err != nil {
		return errors.Join(fmt.Errorf("replace the book: %w", err), moveBack(at, old, moved))
	}
	// The seal of the book that is gone would not fit the log of this one.
	if err := os.Rename(filepath.Join(dir, logbook.HeadName), seal); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("keep the old book's seal: %w", err)
	}
	return nil
}

func moveBack(at, old string, parts []string) (err error) {
	for _, part := range parts {
		err = errors.Join(err, os.Rename(old+part, at+part))
	}
	return err
}

// restorePolicy writes the policy that was in use in a restored book, and keeps the file that it replaces, with the signatures.
func restorePolicy(ctx context.Context, book *logbook.Book, dir string, now time.Time) error {
	// What was signed is the book that is gone.
	if err := os.Rename(filepath.Join(dir, signedName), beforeRestore(dir, now, ".signed")); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("keep the signatures of the old book: %w", err)
	}
	all, err := book.Policies(ctx)
	if err != nil || len(all) == 0 {
		return err // an earlier program's backup, which knows of no policy: the file stays
	}
	text := all[len(all)-1].Text
	file := filepath.Join(dir, policyName)
	was, err := os.ReadFile(file)
	if err == nil && string(was) == text {
		return nil
	}
	if err == nil {
		if err := os.WriteFile(beforeRestore(dir, now, ".toml"), was, 0o600); err != nil {
			return fmt.Errorf("keep the old policy: %w", err)
		}
	}
	return writeFile(file, []byte(text))
}

// Size is the size of the book in bytes, with the log beside it.
func (c *Coach) Size() (n int64) {
	for _, part := range []string{"", "-wal"} {
		if info, err := os.Stat(filepath.Join(c.Dir, logbook.FileName+part)); err == nil {
			n += info.Size()
		}
	}
	return n
}

// BuiltFrom says what the program was built from: its version, or the commit with its day.
func BuiltFrom() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	version := info.Main.Version
	if rev := set["vcs.revision"]; version == "(devel)" && rev != "" {
		version = rev[:min(12, len(rev))]
	}
	out := cmp.Or(strings.Trim(version, "()"), "devel")
	if day, _, ok := strings.Cut(set["vcs.time"], "T"); ok {
		out += ", " + day
	}
	if set["vcs.modified"] == "true" && !strings.HasSuffix(version, "+dirty") {
		out += ", changed since"
	}
	return out + ", " + info.GoVersion
}

// KeepPolicy keeps the policy in use with the book if its file was changed outside the program.
func (c *Coach) KeepPolicy(ctx context.Context, on workout.Date) error {
	return c.book.AddPolicy(ctx, logbook.KeptPolicy{Entered: on, Text: c.Policy.Text()})
}

// policyOnDisk refuses to go on where the policy's file is no longer the one that the program works with.
func (c *Coach) policyOnDisk() error {
	text, err := policy.Load(filepath.Join(c.Dir, policyName))
	if err != nil {
		return fmt.Errorf("cannot read the policy: %w", err)
	}
	if string(text) != c.Policy.Text() {
		return fault.New(fault.Conflict, "another program has changed policy.toml in the meantime: restart nextrung, then look again")
	}
	return nil
}

// UsePolicy puts a policy into use and keeps it with who did so and why.
func (c *Coach) UsePolicy(ctx context.Context, p policy.Policy, by, because string, on workout.Date) error {
	by, err := c.orUsual(ctx, by)
	var wrong []error
	if strings.TrimSpace(by) == "" {
		wrong = append(wrong, fault.In("by", "", "is missing: who is changing the policy?"))
	}
	if strings.TrimSpace(because) == "" {
		wrong = append(wrong, fault.In("because", "", "is missing: in a year you will want to know why"))
	}
	if err := errors.Join(append(wrong, err)...); err != nil {
		return err
	}
	if p.Digest() == c.Policy.Digest() {
		return fault.New(fault.Wrong, "nothing has changed")
	}
	if err := c.policyOnDisk(); err != nil {
		return err
	}
	if err := c.KeepPolicy(ctx, on); err != nil { // the one before, if nobody kept it yet
		return err
	}
	if err := writeFile(filepath.Join(c.Dir, policyName), []byte(p.Text())); err != nil {
		return err
	}
	c.Policy = p
	return c.book.AddPolicy(ctx, logbook.KeptPolicy{Entered: on, By: strings.TrimSpace(by), Because: strings.TrimSpace(because), Text: p.Text()})
}

// UsedPolicy is a policy that was in use, with what it changed against the one before.
type UsedPolicy struct {
	Entered     workout.Date
	By, Because string // "" where the file was changed outside the program
	Changes     []policy.Change
	Digest      string
}

// Policies are those that were in use, newest first.
func (c *Coach) Policies(ctx context.Context) ([]UsedPolicy, error) {
	kept, err := c.book.Policies(ctx)
	if err != nil {
		return nil, err
	}
	out := make([]UsedPolicy, 0, len(kept))
	before := policy.Default()
	for _, k := range kept {
		u := UsedPolicy{Entered: k.Entered, By: k.By, Because: k.Because}
		p, err := policy.Parse([]byte(k.Text))
		if err == nil { // a rule of an earlier program may be gone
			u.Changes, u.Digest, before = before.Changes(p), p.Digest(), p
		}
		out = append([]UsedPolicy{u}, out...)
	}
	return out, nil
}
