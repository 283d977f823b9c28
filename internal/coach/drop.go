package coach

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"nextrung/internal/workout"
)

// refusedFolder is where refused files of the drop folder are kept, in a folder of the client's name and
// each with a text beside it.
const refusedFolder = "refused"

// settle is how long a file's size must stay the same before the file is received.
const settle = 2 * time.Second

// Dropped is what became of one file of the drop folder.
type Dropped struct {
	Client   string    `json:"client"`
	File     string    `json:"file"`
	Receipts []Receipt `json:"receipts,omitempty"`
	// Waiting says why the file was left where it is; "" if it was received.
	Waiting string `json:"waiting,omitempty"`
}

// TakeIn receives everything in the drop folder as of a day. A file leaves the folder only after
// it was entered; a refused one moves to drop/refused/NAME with the reason in a text file beside it.
func (c *Coach) TakeIn(ctx context.Context, on workout.Date, progress func(done, all int)) ([]Dropped, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	files, err := c.dropped(ctx, names)
	if err != nil {
		return nil, err
	}
	var out []Dropped
	for i, f := range files {
		d := Dropped{Client: f.client, File: f.rel, Waiting: f.waiting}
		if d.Waiting == "" {
			if d.Receipts, err = c.takeFile(ctx, f, on); err != nil {
				return out, fmt.Errorf("%s: %w", f.rel, err)
			}
		}
		out = append(out, d)
		if progress != nil {
			progress(i+1, len(files))
		}
	}
	return out, nil
}

type dropFile struct {
	client, path, rel, waiting string
}

// dropped lists the files to receive. Sizes are read twice, two seconds apart, if any file is fresh;
// a cancelled context ends the wait at once.
func (c *Coach) dropped(ctx context.Context, names []string) ([]dropFile, error) {
	root := filepath.Join(c.Dir, "drop")
	var files []dropFile
	sizes := map[string]int64{}
	fresh := false
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, _ := filepath.Rel(root, path)
		if d.IsDir() {
			if rel == refusedFolder || rel != "." && strings.HasPrefix(d.Name(), ".") {
				return fs.SkipDir
			}
			return nil
		}
		if strings.HasPrefix(d.Name(), ".") || !d.Type().IsRegular() {
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		sizes[path] = info.Size()
		fresh = fresh || time.Since(info.ModTime()) < settle
		f := dropFile{path: path, rel: rel}
		folder, _, inFolder := strings.Cut(filepath.ToSlash(rel), "/")
		f.client = match(names, folder)
		switch {
		case !inFolder:
			f.client, f.waiting = "", "it is not in a client's folder; move it into drop/NAME"
		case f.client == "":
			f.waiting = fmt.Sprintf("no client is called %q; rename the folder or add the client", folder)
		}
		files = append(files, f)
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("cannot read the drop folder: %w", err)
	}
	if fresh {
		select {
		case <-time.After(settle):
		case <-ctx.Done():
			return nil, ctx.Err()
		}
		for i, f := range files {
			if info, err := os.Stat(f.path); err != nil || info.Size() != sizes[f.path] {
				files[i].waiting = "it is still being written; run the weekly job again"
			}
		}
	}
	return files, nil
}

// match finds a client by the name of a folder, in upper or lower case.
func match(names []string, folder string) string {
	for _, n := range names {
		if strings.EqualFold(n, folder) {
			return n
		}
	}
	return ""
}

func (c *Coach) takeFile(ctx context.Context, f dropFile, on workout.Date) ([]Receipt, error) {
	b, err := os.ReadFile(f.path)
	if err != nil {
		return nil, fmt.Errorf("read: %w", err)
	}
	receipts, err := c.Receive(ctx, Intake{Client: f.client, On: on}, filepath.Base(f.path), b)
	if err != nil {
		return nil, err
	}
	var refused []string
	for _, r := range receipts {
		if r.Status == Refused {
			refused = append(refused, fmt.Sprintf("%s: %s", r.Name, r.Why))
		}
	}
	if len(refused) == 0 {
		return receipts, os.Remove(f.path)
	}
	return receipts, c.setRefusedAside(f, workout.DigestOf(b), strings.Join(refused, "\n"))
}

// setRefusedAside moves a refused file out of the way, under a name that no other file has.
func (c *Coach) setRefusedAside(f dropFile, digest workout.Digest, why string) error {
	folder := filepath.Join(c.Dir, "drop", refusedFolder, f.client)
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return fmt.Errorf("cannot set a refused file aside: %w", err)
	}
	to := filepath.Join(folder, digest.Short()+"-"+filepath.Base(f.path))
	text := fmt.Sprintf("Dropped for: %s\nFile: %s\n\n%s\n", f.client, f.rel, why)
	if err := os.WriteFile(to+".txt", []byte(text), 0o600); err != nil {
		return fmt.Errorf("cannot write the reason: %w", err)
	}
	if err := os.Rename(f.path, to); err != nil {
		return fmt.Errorf("cannot set a refused file aside: %w", err)
	}
	return nil
}

// removeDrop removes what lies in the drop folder for a client, refused files included.
func (c *Coach) removeDrop(name string) error {
	root := filepath.Join(c.Dir, "drop")
	if err := sortRefused(filepath.Join(root, refusedFolder)); err != nil {
		return err
	}
	for _, parent := range []string{root, filepath.Join(root, refusedFolder)} {
		folders, err := os.ReadDir(parent)
		if err != nil {
			return fmt.Errorf("cannot read the drop folder: %w", err)
		}
		for _, f := range folders {
			if f.IsDir() && strings.EqualFold(f.Name(), name) {
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
	notes, err := filepath.Glob(filepath.Join(root, "*.txt"))
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
		for _, file := range []string{strings.TrimSuffix(note, ".txt"), note} {
			if err := os.Rename(file, filepath.Join(folder, filepath.Base(file))); err != nil {
				return err
			}
		}
	}
	return nil
}

// DropFolder is where a client's exports are put.
func (c *Coach) DropFolder(client string) string { return filepath.Join(c.Dir, "drop", client) }
