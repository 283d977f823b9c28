package logbook

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"modernc.org/sqlite"

	"nextrung/internal/fault"
)

// Backup writes the whole book, as it is at one moment while it may be in use, into a new file, and verifies what was
// written. Until that is done the file does not have its name.
func (b *Book) Backup(ctx context.Context, file string) error {
	if _, err := os.Stat(file); err == nil {
		return fault.Exists(file)
	}
	dir, err := os.MkdirTemp(filepath.Dir(file), ".backup-")
	if err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	defer os.RemoveAll(dir)
	part := filepath.Join(dir, FileName)
	if err := b.Copy(ctx, part); err != nil {
		return err
	}
	if err := os.Chmod(part, 0o600); err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	if err := verified(ctx, dir, nil); err != nil {
		return fmt.Errorf("the backup was written but is not sound, so it was removed: %w", err)
	}
	if err := flush(part); err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	if err := os.Rename(part, file); err != nil {
		return fmt.Errorf("back up to %s: %w", file, err)
	}
	return flush(filepath.Dir(file))
}

// flush makes sure that a file, or what a folder names, survives a power cut. Some systems cannot do that for folders.
func flush(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if info, err := f.Stat(); err != nil || info.IsDir() {
		_ = f.Sync()
		return err
	}
	return f.Sync()
}

// verified opens the book in a folder, brings it up to date, reports everything that is wrong with it, and runs then on a
// sound one.
func verified(ctx context.Context, dir string, then func(context.Context, *Book) error) error {
	b, err := Open(ctx, dir)
	if err != nil {
		return err
	}
	problems, err := b.Verify(ctx)
	var all []error
	for _, p := range problems {
		all = append(all, fault.New(fault.Refused, "%s", p))
	}
	if err = errors.Join(err, errors.Join(all...)); err == nil && then != nil {
		err = then(ctx, b)
	}
	return errors.Join(err, b.Close()) // closing writes what stands in the log beside the file
}

// Prepare copies a backup into a new folder beside the book, brings it up to date and verifies it. What it gives is
// for Replace; remove clears the folder away.
func Prepare(ctx context.Context, beside, backup string) (dir string, remove func(), err error) {
	dir, err = os.MkdirTemp(beside, ".restore-")
	if err != nil {
		return "", nil, fmt.Errorf("restore %s: %w", backup, err)
	}
	remove = func() { os.RemoveAll(dir) }
	if err = isBook(backup); err == nil {
		err = copyFile(backup, filepath.Join(dir, FileName))
	}
	if err == nil {
		err = verified(ctx, dir, renew)
	}
	if err != nil {
		remove()
		if len(fault.All(err)) == 0 && ctx.Err() == nil { // in the database's words
			err = fault.New(fault.Refused, "the backup cannot be read: %v", err)
		}
		return "", nil, err
	}
	return dir, remove, nil
}

// isBook refuses anything but a database with a book's schema. An empty file would pass for a new book.
func isBook(file string) error {
	f, err := os.Open(file)
	if err != nil {
		return fault.New(fault.NotFound, "cannot read %s: %v", file, errors.Unwrap(err))
	}
	defer f.Close()
	head := make([]byte, 64) // the database's header: https://www.sqlite.org/fileformat.html, section 1.3
	_, err = io.ReadFull(f, head)
	if err != nil || !bytes.HasPrefix(head, []byte("SQLite format 3\x00")) || binary.BigEndian.Uint32(head[60:]) == 0 {
		return fault.New(fault.Refused, "this file is not a backup of a book")
	}
	return nil
}

func copyFile(from, to string) error {
	in, err := os.Open(from)
	if err != nil {
		return fault.New(fault.NotFound, "cannot read %s: %v", from, errors.Unwrap(err))
	}
	defer in.Close()
	out, err := os.OpenFile(to, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = out.ReadFrom(in)
	return errors.Join(err, out.Close())
}

// Replace puts the book that lies in a prepared folder in the place of this one, page by page in one transaction: it
// happens whole or not at all, and other programs that have the book open see the new one.
func (b *Book) Replace(ctx context.Context, dir string) error {
	err := b.replace(ctx, dir, func(copying *sqlite.Backup) error {
		for {
			if more, err := copying.Step(-1); err != nil || !more { // all pages
				return err
			}
		}
	})
	if err != nil {
		return err
	}
	return b.keepHead(ctx, true)
}

func (b *Book) replace(ctx context.Context, dir string, pages func(*sqlite.Backup) error) error {
	conn, err := b.db.Conn(ctx)
	if err != nil {
		return fmt.Errorf("replace the book: %w", err)
	}
	defer conn.Close()
	err = conn.Raw(func(c any) error {
		into, ok := c.(interface {
			NewRestore(source string) (*sqlite.Backup, error)
		})
		if !ok {
			return errors.New("the database's driver cannot do it")
		}
		copying, err := into.NewRestore(filepath.Join(dir, FileName))
		if err != nil {
			return err
		}
		return errors.Join(pages(copying), copying.Finish()) // without every page, finishing takes all of them back
	})
	return wrap("replace the book", err)
}
