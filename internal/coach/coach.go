// Package coach owns the verbs that commands and pages share: receive, assess, decide, prescribe,
// report and the weekly job, each from what people hand in to what the book keeps. It joins the
// pure packages with the book and the files around it.
//
// The day on which something happens is always an argument; nothing here asks the clock.
package coach

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"syscall"

	"nextrung/internal/hindsight"
	"nextrung/internal/logbook"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Coach works on one book and its folder.
type Coach struct {
	Dir    string // the book's folder
	Drop   string // the drop folder, with a folder for each client
	Policy policy.Policy
	book   *logbook.Book
	aside  string // the copy of a book that cannot be written to, "" for the book itself
}

// Open opens the book in a folder, makes both at first use, and reads the policy. The policy's
// file is written once and then belongs to the trainer.
func Open(ctx context.Context, dir string) (*Coach, error) {
	c, broken, err := open(ctx, dir)
	if err == nil && broken != nil {
		c.Close()
		return nil, broken
	}
	return c, err
}

// open opens a book. Broken says why its policy cannot be used; the coach then has the policy that was last in use.
func open(ctx context.Context, dir string) (c *Coach, broken, err error) {
	book, err := logbook.Open(ctx, dir)
	if err != nil {
		return nil, nil, err
	}
	c = &Coach{Dir: dir, Drop: filepath.Join(dir, ownDrop), book: book}
	if c.Policy, broken = readPolicy(filepath.Join(dir, policyName)); broken != nil {
		c.Policy, err = c.lastPolicy(ctx)
	}
	for _, sub := range []string{ownDrop, filepath.Join(ownDrop, refusedFolder), "pages"} {
		if failed := os.MkdirAll(filepath.Join(dir, sub), 0o700); failed != nil && err == nil {
			err = fmt.Errorf("cannot make the book's folder: %w", failed)
		}
	}
	var set Settings
	if err == nil {
		set, err = c.Settings(ctx)
	}
	if err == nil && set.Drop != "" {
		err = c.UseDrop(ctx, set.Drop)
	}
	if err != nil {
		book.Close()
		return nil, nil, err
	}
	return c, broken, nil
}

// lastPolicy is the policy that was last in use and can still be used, else the default.
func (c *Coach) lastPolicy(ctx context.Context) (policy.Policy, error) {
	kept, err := c.book.Policies(ctx)
	if err != nil {
		return policy.Policy{}, err
	}
	for _, k := range slices.Backward(kept) {
		if p, err := policy.Parse([]byte(k.Text)); err == nil {
			return p, nil
		}
	}
	return policy.Default(), nil
}

// OpenAsItIs opens a book whose content is to be checked or handed over, also where Open cannot: in a folder that cannot
// be written to, from a copy that Close removes; and with a policy that cannot be used, by the one that was last in use.
// Instead says what is done otherwise and why.
func OpenAsItIs(ctx context.Context, dir string) (c *Coach, instead []string, err error) {
	c, broken, err := open(ctx, dir)
	if errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS) {
		instead = append(instead, fmt.Sprintf("the book's folder cannot be written to (%v); working on a copy", plainPath(err)))
		var aside string
		if aside, err = copyAside(dir); err != nil {
			return nil, instead, err
		}
		if c, broken, err = open(ctx, aside); err != nil {
			return nil, instead, errors.Join(err, os.RemoveAll(aside))
		}
		c.aside = aside
	}
	if err == nil && broken != nil {
		instead = append(instead, fmt.Sprintf("%v. Until then, pages follow the policy that was last in use", broken))
	}
	return c, instead, err
}

// copyAside copies what a book's folder holds of the book into a folder for the time of one command.
func copyAside(dir string) (string, error) {
	aside, err := os.MkdirTemp("", "nextrung-copy-")
	if err != nil {
		return "", fmt.Errorf("cannot copy the book: %w", err)
	}
	for _, name := range []string{logbook.FileName, logbook.FileName + "-wal", logbook.HeadName, signedName, policyName} {
		from, err := os.Open(filepath.Join(dir, name))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil {
			err = errors.Join(write(filepath.Join(aside, name), from), from.Close())
		}
		if err != nil {
			return "", errors.Join(fmt.Errorf("cannot copy the book: %w", err), os.RemoveAll(aside))
		}
	}
	return aside, nil
}

// policyName is the name of the policy in the book's folder.
const policyName = "policy.toml"

// Exists says whether a folder holds a book.
func Exists(dir string) bool {
	_, err := os.Stat(filepath.Join(dir, logbook.FileName))
	return err == nil
}

// Named is the client's name as the book spells it, whatever the letter case of the one given.
func (c *Coach) Named(ctx context.Context, name string) (string, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return "", err
	}
	if n := match(names, name); n != "" {
		return n, nil
	}
	return "", logbook.NoClient(name, names)
}

// Close closes the book.
func (c *Coach) Close() error {
	err := c.book.Close()
	if c.aside != "" {
		err = errors.Join(err, os.RemoveAll(c.aside))
	}
	return err
}

func readPolicy(file string) (policy.Policy, error) {
	text, err := policy.Load(file)
	if errors.Is(err, fs.ErrNotExist) {
		if err := os.WriteFile(file, policy.DefaultText(), 0o600); err != nil {
			return policy.Policy{}, fmt.Errorf("cannot write the default policy: %w", err)
		}
		return policy.Default(), nil
	}
	if err != nil {
		return policy.Policy{}, fmt.Errorf("cannot read the policy: %w", err)
	}
	p, err := policy.Parse(text)
	if err != nil {
		return policy.Policy{}, fmt.Errorf("%s: %w; correct the file, or move it away to get the default policy back", file, err)
	}
	return p, nil
}

// Record gives what was known of a client by the end of a day. With late, everything known by now about
// the time up to that day counts: see hindsight.Knowing.
func (c *Coach) Record(ctx context.Context, client string, on workout.Date, late bool) (record.Record, error) {
	if !late {
		return c.book.Record(ctx, client, on)
	}
	all, err := c.book.Records(ctx, client, on, endOfTime)
	return hindsight.Knowing(all[endOfTime], all[on], on), err
}

// endOfTime is later than every date in a book.
var endOfTime = workout.MustDate("9999-12-31")

// LateComers lists the recordings of days up to on that came in after on, which an assessment as of
// that day does not know.
func (c *Coach) LateComers(ctx context.Context, client string, on workout.Date) ([]record.Recording, error) {
	r, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return nil, err
	}
	return record.Keep(r.Recordings, func(x record.Recording) bool { return x.Date <= on && x.Received > on && x.Counts() }), nil
}

// AtOnce gives what comes before everything else about a client on a day, the gravest first.
func (c *Coach) AtOnce(ctx context.Context, client string, on workout.Date) ([]reasons.Urgent, error) {
	r, err := c.book.Record(ctx, client, on)
	if err != nil {
		return nil, err
	}
	return reasons.First(progression.Assess(c.Policy, on, r)), nil
}

// Assess applies the policy to one client as of one day, and says how sure the verdict is.
func (c *Coach) Assess(ctx context.Context, client string, on workout.Date, late bool) (record.Assessment, error) {
	r, err := c.Record(ctx, client, on, late)
	if err != nil {
		return record.Assessment{}, err
	}
	return progression.AssessOften(c.Policy, on, r), nil
}
