package coach

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// ownDrop is the drop folder in the book's folder, for a book whose place the trainer chose.
const ownDrop = "drop"

// refusedFolder is where refused files of the drop folder are kept, in a folder of the client's name and
// each with a text beside it.
const refusedFolder = "refused"

// refusedNote ends the name of the text beside a refused file.
const refusedNote = ".txt"

// settle is how long a file's size must stay the same before the file is received.
const settle = 2 * time.Second

// Dropped is what became of one file of the drop folder.
type Dropped struct {
	Client   string    `json:"client"`
	File     string    `json:"file"`
	Receipts []Receipt `json:"receipts,omitempty"`
	// Waiting says why the file was left where it is, Help what would let it in; "" if it was received.
	Waiting string     `json:"waiting,omitempty"`
	Help    fault.Help `json:"help,omitempty"`
}

// TakeIn receives everything in the drop folder as of a day. A file leaves the folder only after
// it was entered; a refused one moves to drop/refused/NAME with the reason in a text file beside it.
func (c *Coach) TakeIn(ctx context.Context, on workout.Date, progress func(done, all int)) ([]Dropped, error) {
	var out []Dropped
	err := c.TakeInEach(ctx, on, func(done, all int, take func() (Dropped, error)) error {
		d, err := take()
		if err != nil {
			return err
		}
		if out = append(out, d); progress != nil {
			progress(done+1, all)
		}
		return nil
	})
	return out, err
}

// TakeInEach hands on, for each file of the drop folder, what receives it, and how many of all are done.
func (c *Coach) TakeInEach(ctx context.Context, on workout.Date, each func(done, all int, take func() (Dropped, error)) error) error {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return err
	}
	files, err := c.dropped(ctx, names)
	if err != nil {
		return err
	}
	for i, f := range files {
		err := each(i, len(files), func() (d Dropped, err error) {
			d = Dropped{Client: f.client, File: f.rel, Waiting: f.waiting}
			if d.Waiting != "" {
				return d, nil
			}
			d.Receipts, err = c.takeFile(ctx, f, Intake{Client: f.client, On: on})
			if trouble := new(*FileTrouble); errors.As(err, trouble) {
				d.Waiting = (*trouble).Err.Error()
			} else if err != nil {
				return d, fmt.Errorf("%s: %w", f.rel, err)
			}
			for _, r := range d.Receipts {
				if r.Status == Waits {
					d.Waiting, d.Help = r.Why, r.Help
				}
			}
			return d, nil
		})
		if err != nil {
			return err
		}
	}
	return nil
}

type dropFile struct {
	client, path, rel, waiting string
	size                       int64
	changed                    time.Time
}

// dropped lists the files to receive. Sizes are read twice, two seconds apart, if any file is fresh;
// a cancelled context ends the wait at once.
func (c *Coach) dropped(ctx context.Context, names []string) ([]dropFile, error) {
	var files []dropFile
	for _, root := range c.drops() {
		in, err := filesIn(root, names)
		if err != nil {
			return nil, fmt.Errorf("cannot read the drop folder: %w", err)
		}
		files = append(files, in...)
	}
	if !slices.ContainsFunc(files, func(f dropFile) bool { return f.waiting == "" && time.Since(f.changed) < settle }) {
		return files, nil
	}
	select {
	case <-time.After(settle):
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	for i, f := range files {
		if info, err := os.Stat(f.path); f.waiting == "" && err == nil && info.Size() != f.size {
			files[i].waiting = "it is still being written; run the weekly job again"
		}
	}
	return files, nil
}

// filesIn lists what is in the folders of clients, and names once whatever is in nobody's folder.
func filesIn(root string, names []string) (files []dropFile, err error) {
	err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if path == root {
			return err
		}
		rel, _ := filepath.Rel(root, path)
		if err != nil {
			if !errors.Is(err, fs.ErrNotExist) { // another program has moved it
				files = append(files, dropFile{path: path, rel: rel, waiting: "it cannot be read: " + plainPath(err).Error()})
			}
			return nil
		}
		top, _, inFolder := strings.Cut(filepath.ToSlash(rel), "/")
		client := match(names, top)
		switch {
		case d.IsDir() && (rel == refusedFolder || strings.HasPrefix(d.Name(), ".")):
			return fs.SkipDir
		case d.IsDir() && client == "":
			if inside, err := os.ReadDir(path); err != nil || len(inside) > 0 {
				files = append(files, dropFile{path: path, rel: rel, waiting: fmt.Sprintf("no client is called %q; rename the folder or add the client", rel)})
			}
			return fs.SkipDir
		case d.IsDir(), strings.HasPrefix(d.Name(), "."), !d.Type().IsRegular():
			return nil
		case !inFolder:
			files = append(files, dropFile{path: path, rel: rel, waiting: "it is not in a client's folder; move it into " + filepath.Join(root, "NAME")})
			return nil
		}
		if info, err := d.Info(); err == nil { // else it is gone again
			files = append(files, dropFile{client: client, path: path, rel: rel, size: info.Size(), changed: info.ModTime()})
		}
		return nil
	})
	return files, err
}

// takeFile receives a file and takes it out of the folder it lies in. One that another run has taken meanwhile is
// nobody's trouble; what else goes wrong with the file itself is a FileTrouble.
func (c *Coach) takeFile(ctx context.Context, f dropFile, in Intake) ([]Receipt, error) {
	receipts, err := c.ReceiveFile(ctx, in, f.path)
	if trouble := new(*FileTrouble); errors.As(err, trouble) {
		return receipts, troubled(f, "it cannot be read: %w", (*trouble).Err)
	}
	if err != nil {
		return receipts, err
	}
	var refused []string
	for _, r := range receipts {
		if r.Status == Waits {
			return receipts, nil // the file waits where it is
		}
		if r.Status == Refused {
			refused = append(refused, fmt.Sprintf("%s: %s", r.Name, r.Why))
		}
	}
	if len(refused) == 0 {
		return receipts, troubled(f, "it was entered, but cannot be removed: %w", os.Remove(f.path))
	}
	return receipts, troubled(f, "it was refused, but cannot be moved: %w", c.refuseWhole(f, strings.Join(refused, "\n")))
}

// troubled makes what went wrong with a file its own trouble, unless the file is simply gone.
func troubled(f dropFile, format string, err error) error {
	if err == nil || errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return &FileTrouble{f.rel, fmt.Errorf(format, plainPath(err))}
}

// refuseWhole sets a refused file aside as it lies on the disk.
func (c *Coach) refuseWhole(f dropFile, why string) error {
	digest, err := beginning(f.path)
	if err != nil {
		return err
	}
	return c.refuse(f.client, f.rel, digest, why, func(to string) error {
		err := os.Rename(f.path, to)
		if err == nil || errors.Is(err, fs.ErrNotExist) {
			return err
		}
		from, err := os.Open(f.path) // on another disk
		if err != nil {
			return err
		}
		defer from.Close()
		if err := write(to, from); err != nil && !errors.Is(err, fs.ErrExist) {
			return err
		}
		return os.Remove(f.path)
	})
}

// beginning is the digest of so much of a file as tells it from others; a recording is shorter.
func beginning(path string) (d workout.Digest, err error) {
	f, err := os.Open(path)
	if err != nil {
		return d, err
	}
	defer f.Close()
	h := sha256.New()
	_, err = io.Copy(h, io.LimitReader(f, 64<<20))
	return workout.Digest(h.Sum(nil)), err
}

// refuse sets a refused file aside, under a name that no other file has, with the reason beside it.
func (c *Coach) refuse(client, name string, digest workout.Digest, why string, put func(to string) error) error {
	to := filepath.Join(c.Drop, refusedFolder, client, digest.Short()+"-"+filepath.Base(filepath.FromSlash(safe(name))))
	text := fmt.Sprintf("Dropped for: %s\nFile: %s\n\n%s\n", client, name, why)
	if err := writeFile(to+refusedNote, []byte(text)); err != nil {
		return fmt.Errorf("cannot write the reason: %w", err)
	}
	return put(to)
}

// RefusedFile is a file of the drop folder that was refused and kept.
type RefusedFile struct {
	Name, Why string
	Path      string
}

// RefusedFiles lists the refused files of a client that are kept in the drop folders, each with why.
func (c *Coach) RefusedFiles(client string) (out []RefusedFile, err error) {
	for _, root := range c.drops() {
		texts, err := filepath.Glob(filepath.Join(root, refusedFolder, globbed(client), "*.txt"))
		if err != nil {
			return nil, err
		}
		for _, text := range texts {
			b, err := os.ReadFile(text)
			if err != nil {
				return nil, fmt.Errorf("cannot read the drop folder: %w", err)
			}
			head, why, _ := strings.Cut(string(b), "\n\n")
			_, name, _ := strings.Cut(head, "File: ")
			path := strings.TrimSuffix(text, ".txt")
			if _, err := os.Stat(path); err == nil {
				out = append(out, RefusedFile{Name: filepath.Base(filepath.FromSlash(name)), Why: strings.TrimSpace(why), Path: path})
			}
		}
	}
	return out, nil
}

// globbed is a name as a pattern that matches nothing else.
func globbed(name string) string {
	return strings.NewReplacer(`[`, `\[`, `\`, `\\`).Replace(name)
}

// removeDrop removes what lies in the drop folders for a client, refused files included.
func (c *Coach) removeDrop(name string) error {
	if err := sortRefused(filepath.Join(c.Dir, ownDrop, refusedFolder)); err != nil {
		return err
	}
	var parents []string
	for _, root := range c.drops() {
		parents = append(parents, root, filepath.Join(root, refusedFolder))
	}
	for _, parent := range parents {
		folders, err := os.ReadDir(parent)
		if err != nil {
			return fmt.Errorf("cannot read the drop folder: %w", err)
		}
		for _, f := range folders {
			if f.IsDir() && sameName(f.Name(), name) {
				if err := os.RemoveAll(filepath.Join(parent, f.Name())); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// sortRefused moves the refused files of earlier versions, which lay side by side and named the client in the
// first line of their text, into the client's folder.
func sortRefused(root string) error {
	notes, err := filepath.Glob(filepath.Join(root, "*"+refusedNote))
	if err != nil {
		return err
	}
	for _, note := range notes {
		text, err := os.ReadFile(note)
		if err != nil {
			return err
		}
		first, _, _ := strings.Cut(string(text), "\n")
		name, ok := strings.CutPrefix(first, "Dropped for: ")
		if !ok || name != filepath.Base(name) {
			continue
		}
		folder := filepath.Join(root, name)
		if err := os.MkdirAll(folder, 0o700); err != nil {
			return err
		}
		for _, file := range []string{strings.TrimSuffix(note, refusedNote), note} {
			if err := os.Rename(file, filepath.Join(folder, filepath.Base(file))); err != nil {
				return err
			}
		}
	}
	return nil
}

// drops are the drop folder and, where it was moved, the one in the book's folder.
func (c *Coach) drops() []string {
	own := filepath.Join(c.Dir, ownDrop)
	if c.Drop == own {
		return []string{own}
	}
	return []string{c.Drop, own}
}

// DropFolder is where a client's exports are put.
func (c *Coach) DropFolder(client string) string { return filepath.Join(c.Drop, client) }
