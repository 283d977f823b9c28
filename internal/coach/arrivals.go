package coach

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"nextrung/internal/fault"
	"nextrung/internal/heartrate"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// inboxFolder, in the book's folder, holds files that nobody has claimed for a client yet: each in a folder of its own,
// under the folders and the name that it came with.
const inboxFolder = "inbox"

// Arrived is a file that has come in whole and lies on disk.
type Arrived struct {
	Client string // "" while nobody has said whose it is
	Name   string // with the folders that it came in: "Avelin/walk.fit"
	path   string
	root   string
}

// Arrive keeps a file that somebody hands in before anything is done with it, so that it survives whatever
// comes next. Half a file is not kept.
func (c *Coach) Arrive(client, name string, from io.Reader) (Arrived, error) {
	root := filepath.Join(c.Dir, inboxFolder)
	if client != "" {
		root = c.DropFolder(client)
	}
	if err := os.MkdirAll(root, 0o700); err != nil {
		return Arrived{}, fmt.Errorf("cannot make the folder for incoming files: %w", err)
	}
	own, err := os.MkdirTemp(root, ".")
	if err != nil {
		return Arrived{}, fmt.Errorf("cannot keep %s: %w", name, err)
	}
	a := Arrived{Client: client, Name: safe(name), root: root}
	whole := filepath.Join(root, filepath.Base(own)[1:]) // a folder that begins with a dot is not looked at
	a.path = filepath.Join(whole, filepath.FromSlash(a.Name))
	if err := write(filepath.Join(own, filepath.FromSlash(a.Name)), from); err != nil {
		return a, errors.Join(err, os.RemoveAll(own))
	}
	return a, os.Rename(own, whole)
}

// write writes a file and returns once it is safely on disk.
func write(path string, from io.Reader) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return err
	}
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = io.Copy(f, from)
	return errors.Join(err, f.Sync(), f.Close())
}

// Take receives a file that has arrived, as TakeIn does. One that nobody has claimed stays where it is, unless it
// is no recording or is in the book already; an archive is taken apart, since its files may be several people's. One
// that must be asked about first is unclaimed again, with the client's name, so that the answer can be given.
func (c *Coach) Take(ctx context.Context, a Arrived, in Intake) ([]Receipt, error) {
	if a.Client != "" {
		in.Client = a.Client
		receipts, err := c.takeFile(ctx, dropFile{client: a.Client, path: a.path, rel: a.Name}, in)
		if a.root == c.DropFolder(a.Client) && slices.ContainsFunc(receipts, func(r Receipt) bool { return r.Status == Waits }) {
			err = errors.Join(err, c.unclaim(a))
		}
		a.tidy()
		return receipts, err
	}
	var out []Receipt
	kept, apart := false, false // whether the file stays as it came, and whether it is an archive
	err := readFile(ctx, a.path, func(f recording.File) error {
		r := Receipt{Name: f.Name, Digest: f.Digest, Remarks: f.Remarks}
		holder, _, known, err := c.book.Holder(ctx, f.Digest)
		inner := f.Name != filepath.Base(a.path)
		apart = apart || inner
		put := func(to string) error { return writeFile(to, f.Bytes) }
		switch {
		case err != nil:
			return err
		case f.Err != nil && !inner:
			r.Status, r.Why = Refused, f.Err.Error()
			err = c.refuseWhole(dropFile{path: a.path, rel: f.Name}, r.Why)
		case f.Err != nil:
			r.Status, r.Why = Refused, f.Err.Error()
			err = c.refuse("", f.Name, f.Digest, r.Why, put)
		case known:
			r.Status, r.Holder = Known, holder
		case inner:
			r.Status = Unclaimed
			_, err = c.Arrive("", f.Name, bytes.NewReader(f.Bytes))
		default:
			r.Status, kept = Unclaimed, true
		}
		out = append(out, r)
		return err
	})
	if err == nil && (apart || !kept) {
		if err = os.Remove(a.path); errors.Is(err, fs.ErrNotExist) {
			err = nil // it was moved
		}
		a.tidy()
	}
	return out, err
}

// unclaim puts a file that arrived for a client among those that nobody has claimed.
func (c *Coach) unclaim(a Arrived) error {
	f, err := os.Open(a.path)
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err := c.Arrive("", a.Client+"/"+a.Name, f); err != nil {
		return err
	}
	return os.Remove(a.path)
}

// tidy removes the folders that a file came in, as far as they are empty.
func (a Arrived) tidy() {
	for dir := filepath.Dir(a.path); len(dir) > len(a.root) && os.Remove(dir) == nil; dir = filepath.Dir(dir) {
	}
}

// Stray is a file that waits for somebody to say whose it is.
type Stray struct {
	ID string
	Arrived
	Workouts []workout.Workout
	// Likely are the clients it may belong to, and Why is the evidence; a single one is a suggestion, never more.
	Likely []string
	Why    Likeness
}

// Likeness is why a file may be a client's.
type Likeness string

// What a file and a client have in common.
const (
	NothingAlike Likeness = ""
	SameDevice   Likeness = "device"
	SameName     Likeness = "name"
	SameTime     Likeness = "time"
)

// Strays lists the files that nobody has claimed: those that arrived, and those that lie in the drop folder outside
// the clients' folders. Nothing is read from them yet.
func (c *Coach) Strays(ctx context.Context) ([]Stray, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	return c.unclaimed(names)
}

// Compare reads strays and finds whose they may be.
func (c *Coach) Compare(ctx context.Context, all []Stray) ([]Stray, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	devices, err := c.book.Devices(ctx)
	if err != nil {
		return nil, err
	}
	around := map[workout.Date][]record.Recording{}
	for i := range all {
		s := &all[i]
		err := readFile(ctx, s.path, func(f recording.File) error {
			s.Workouts = append(s.Workouts, f.Workouts...)
			return nil
		})
		if trouble := new(*FileTrouble); errors.As(err, trouble) {
			continue // gone since it was listed
		}
		if err != nil {
			return nil, err
		}
		if s.Likely, s.Why, err = c.likely(ctx, *s, names, devices, around); err != nil {
			return nil, err
		}
		for j, w := range s.Workouts { // nobody looks at the samples of many files at once
			s.Workouts[j] = workout.Workout{Start: w.Start, Seconds: w.Seconds, Sport: w.Sport, Device: w.Device}
		}
	}
	return all, nil
}

func (c *Coach) unclaimed(names []string) (out []Stray, err error) {
	for _, root := range append(c.drops(), filepath.Join(c.Dir, inboxFolder)) {
		inbox := filepath.Base(root) == inboxFolder
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if errors.Is(err, fs.ErrNotExist) {
				return nil
			}
			if err != nil || path == root {
				return err
			}
			rel, _ := filepath.Rel(root, path)
			rel = filepath.ToSlash(rel)
			switch {
			case d.IsDir() && (strings.HasPrefix(d.Name(), ".") || !inbox && (rel == refusedFolder || match(names, rel) != "")):
				return fs.SkipDir
			case d.IsDir(), strings.HasPrefix(d.Name(), "."), !d.Type().IsRegular():
				return nil
			case inbox:
				_, rel, _ = strings.Cut(rel, "/")
			}
			out = append(out, Stray{ID: workout.DigestOf([]byte(path)).Short(), Arrived: Arrived{Name: rel, path: path, root: root}})
			return nil
		})
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", root, err)
		}
	}
	slices.SortFunc(out, func(a, b Stray) int { return strings.Compare(a.Name, b.Name) })
	return out, nil
}

// named says that a file's name, or a folder of it, holds a client's name as a word.
func named(file, client string) bool {
	words := func(s string) string {
		return " " + strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsMark(r) }), " ") + " "
	}
	return strings.Contains(words(file), words(client))
}

// byNameOrDevice finds whose a file may be by the client's name in its own and by the device that recorded it.
func byNameOrDevice(s Stray, names []string, devices map[string][]string) ([]string, Likeness) {
	var found, holders []string
	for _, n := range names {
		if named(s.Name, n) {
			found = append(found, n)
		}
	}
	for _, w := range s.Workouts {
		if w.Device != "" && len(holders) == 0 {
			holders = devices[w.Device]
		}
	}
	both := record.Keep(found, func(n string) bool { return slices.Contains(holders, n) })
	switch {
	case len(both) > 0 && len(both) == len(found):
		return found, SameName
	case len(found) > 0 && len(holders) > 0:
		all := slices.Concat(found, holders)
		slices.Sort(all)
		return slices.Compact(all), SameDevice
	case len(holders) > 0:
		return holders, SameDevice
	case len(found) > 0:
		return found, SameName
	}
	return nil, NothingAlike
}

// likely finds whose a file may be: by the device that recorded it and the client's name in its own, else by a recording
// of the same time. A device is lent at times: where the name says another than it has recorded for, both are likely.
func (c *Coach) likely(ctx context.Context, s Stray, names []string, devices map[string][]string, around map[workout.Date][]record.Recording) ([]string, Likeness, error) {
	if who, why := byNameOrDevice(s, names, devices); why != NothingAlike {
		return who, why, nil
	}
	var found []string
	for _, w := range s.Workouts {
		if w.Start.IsZero() {
			continue
		}
		day := workout.DateOf(w.Start, w.Start.Location())
		if _, ok := around[day]; !ok {
			var err error
			if around[day], err = c.book.Around(ctx, day); err != nil {
				return nil, NothingAlike, err
			}
		}
		for _, r := range around[day] {
			if slices.Contains(found, r.Client) || !halfOverlap(r.Workout, w) {
				continue
			}
			series := heartrate.Clean(w)
			other, err := c.book.Series(ctx, r.ID)
			if err != nil {
				return nil, NothingAlike, err
			}
			if like := heartrate.Compare(other, series, int(w.Start.Sub(r.Workout.Start).Seconds())); like.Comparable && like.Difference <= sameBPM {
				found = append(found, r.Client)
			}
		}
	}
	if len(found) > 0 {
		return found, SameTime, nil
	}
	return nil, NothingAlike, nil
}

// Claim assigns strays to a client; they are then ready to be taken in. The error says that some are gone.
func (c *Coach) Claim(ctx context.Context, ids []string, client string) ([]Arrived, error) {
	all, err := c.Strays(ctx)
	if err != nil {
		return nil, err
	}
	var out []Arrived
	for _, s := range all {
		if slices.Contains(ids, s.ID) {
			s.Client = client
			out = append(out, s.Arrived)
		}
	}
	if len(out) < len(ids) {
		err = fault.New(fault.Conflict, "some of these files are no longer there: look again")
	}
	return out, err
}

// InDrop counts the files in the clients' folders of the drop folder, which the next weekly job takes in.
func (c *Coach) InDrop(ctx context.Context) (n int, err error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return 0, err
	}
	for _, root := range c.drops() {
		in, err := filesIn(root, names)
		if err != nil {
			return 0, fmt.Errorf("cannot read the drop folder: %w", err)
		}
		n += len(record.Keep(in, func(f dropFile) bool { return f.waiting == "" }))
	}
	return n, nil
}

// Refusal is a file that was refused and set aside.
type Refusal struct {
	ID, Client, Name, Why string
	path                  string
}

// Refusals lists the refused files that nobody has put away yet.
func (c *Coach) Refusals() ([]Refusal, error) {
	var out []Refusal
	root := filepath.Join(c.Drop, refusedFolder)
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		note, err := os.ReadFile(path + refusedNote)
		if errors.Is(err, fs.ErrNotExist) {
			return nil // this is a note
		}
		_, why, _ := strings.Cut(string(note), "\n\n")
		rel, _ := filepath.Rel(root, filepath.Dir(path))
		r := Refusal{ID: workout.DigestOf([]byte(path)).Short(), Name: filepath.Base(path), Why: strings.TrimSpace(why), path: path}
		if rel != "." {
			r.Client = rel
		}
		out = append(out, r)
		return err
	})
	if errors.Is(err, fs.ErrNotExist) {
		err = nil
	}
	return out, err
}

// PutAway removes a refused file for good, with its note.
func (c *Coach) PutAway(id string) error {
	all, err := c.Refusals()
	if err != nil {
		return err
	}
	for _, r := range all {
		if r.ID == id {
			return errors.Join(os.Remove(r.path), os.Remove(r.path+refusedNote))
		}
	}
	return fault.New(fault.NotFound, "that file is no longer there")
}
