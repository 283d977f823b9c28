// Package logbook owns the book: the database BOOK/book.db with everything that was received,
// entered, recommended and decided. All SQL of the program is here. It stores and returns the types
// of the packages below it; what they mean is theirs.
//
// Every change is one transaction that survives a power cut or does not happen at all. Several
// programs may have the same book open.
package logbook

import (
	"cmp"
	"context"
	"database/sql"
	"database/sql/driver"
	"encoding/json"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// FileName is the database's name in the book's folder.
const FileName = "book.db"

// Book is an open book. Its methods may be called from several goroutines.
type Book struct{ db *sql.DB }

// Open opens the book in the folder dir, and makes both at first use, readable by their owner only.
// A book of an earlier version is brought up to date; one of a newer program is refused.
func Open(ctx context.Context, dir string) (*Book, error) {
	path, err := filepath.Abs(filepath.Join(dir, FileName))
	if err != nil {
		return nil, fmt.Errorf("open book: %w", err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return nil, fmt.Errorf("make the book's folder: %w", err)
	}
	// SQLite gives its other files the permissions of this one.
	f, err := os.OpenFile(path, os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, fmt.Errorf("open book: %w", err)
	}
	f.Close()
	db, err := sql.Open("sqlite", source(path))
	if err != nil {
		return nil, fmt.Errorf("open book %s: %w", path, err)
	}
	err = migrate(ctx, db, migrations)
	// SQLite does not wait for its lock while another program makes the same new book.
	for wait := 10 * time.Millisecond; busy(err) && wait < 5*time.Second && ctx.Err() == nil; wait *= 2 {
		select {
		case <-time.After(wait):
		case <-ctx.Done():
		}
		err = migrate(ctx, db, migrations)
	}
	if err != nil {
		db.Close()
		return nil, fmt.Errorf("open book %s: %w", path, err)
	}
	return &Book{db}, nil
}

// busy says that another program held the lock.
func busy(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_BUSY
}

// source names the database for the driver. The pragmas are here because each connection of the
// pool needs them.
func source(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	return "file://" + (&url.URL{Path: path}).EscapedPath() +
		"?_pragma=busy_timeout(10000)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)" +
		"&_pragma=foreign_keys(1)&_pragma=secure_delete(1)&_txlock=immediate"
}

// Close closes the book.
func (b *Book) Close() error { return b.db.Close() }

// Copy writes the whole book, as it is at this moment, into one new file.
func (b *Book) Copy(ctx context.Context, file string) error {
	_, err := b.db.ExecContext(ctx, "VACUUM INTO ?", file)
	if damaged(err) {
		return &ErrDamaged{err}
	}
	return wrap("copy book to "+file, err)
}

// ErrDamaged says that the database cannot be read.
type ErrDamaged struct{ Why error }

func (e *ErrDamaged) Error() string { return "the book is damaged: " + e.Why.Error() }

func damaged(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && (e.Code()&0xff == sqlite3.SQLITE_CORRUPT || e.Code()&0xff == sqlite3.SQLITE_NOTADB)
}

// querier is a database or a transaction.
type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
	QueryRowContext(ctx context.Context, query string, args ...any) *sql.Row
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

// write runs f in one transaction that holds the write lock from its beginning.
func (b *Book) write(ctx context.Context, f func(*sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("write to the book: %w", err)
	}
	defer tx.Rollback()
	if err := f(tx); err != nil {
		return err
	}
	return wrap("write to the book", tx.Commit())
}

// writeOf runs f so, with the row of a client.
func (b *Book) writeOf(ctx context.Context, client string, f func(tx *sql.Tx, id int64) error) error {
	return b.write(ctx, func(tx *sql.Tx) error {
		id, err := clientID(ctx, tx, client)
		if err != nil {
			return err
		}
		return f(tx, id)
	})
}

// read runs f on one unchanging state of the book.
func (b *Book) read(ctx context.Context, f func(*sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, &sql.TxOptions{ReadOnly: true})
	if err != nil {
		return fmt.Errorf("read the book: %w", err)
	}
	defer tx.Rollback()
	return f(tx)
}

// clientID finds a client's row, or says who is in the book.
func clientID(ctx context.Context, q querier, name string) (id int64, err error) {
	err = q.QueryRowContext(ctx, "SELECT id FROM client WHERE name = ?", name).Scan(&id)
	if !errors.Is(err, sql.ErrNoRows) {
		return id, wrap("find client", err)
	}
	all, err := clients(ctx, q)
	if err != nil {
		return 0, err
	}
	return 0, NoClient(name, all)
}

// NoClient says that nobody in the book has this name, and who is in it.
func NoClient(name string, all []string) error {
	if len(all) == 0 {
		return fault.New(fault.NotFound, "client %q is not in the book; it has no clients yet", name).Helped(fault.AddClient, name)
	}
	return fault.New(fault.NotFound, "client %q is not in the book; clients are %s", name, strings.Join(all, ", "))
}

// asJSON is a value that the book keeps as JSON text: an argument of a statement, or with a pointer
// the place for what a row holds.
type asJSON struct{ value any }

// Value is the text to store.
func (j asJSON) Value() (driver.Value, error) {
	text, err := json.Marshal(j.value)
	return string(text), err
}

// Scan reads stored text.
func (j asJSON) Scan(stored any) error {
	switch text := stored.(type) {
	case string:
		return json.Unmarshal([]byte(text), j.value)
	case []byte:
		return json.Unmarshal(text, j.value)
	}
	return fmt.Errorf("%T is stored where text should be", stored)
}

type scanner func(into ...any) error

// each calls f for every row of a query.
func each(ctx context.Context, q querier, query string, f func(scanner) error, args ...any) error {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		if err := f(rows.Scan); err != nil {
			return err
		}
	}
	return rows.Err()
}

// values reads the JSON of a query's only column.
func values[T any](ctx context.Context, q querier, query string, args ...any) (out []T, err error) {
	err = each(ctx, q, query, func(scan scanner) error {
		var v T
		err := scan(asJSON{&v})
		out = append(out, v)
		return err
	}, args...)
	return out, wrap("read the book", err)
}

// first is the first of what a query found, or the error of the query, or that it is missing.
func first[T any](found []T, err, missing error) (T, error) {
	if len(found) == 0 {
		return *new(T), cmp.Or(err, missing)
	}
	return found[0], err
}

// insert enters something of a client; the client and the day are the statement's first arguments.
func (b *Book) insert(ctx context.Context, client, what string, day workout.Date, statement string, args ...any) error {
	if day <= 0 {
		return fmt.Errorf("enter %s of %s: its day is missing", what, client)
	}
	return b.writeOf(ctx, client, func(tx *sql.Tx, id int64) error {
		_, err := tx.ExecContext(ctx, statement, append([]any{id, day}, args...)...)
		return wrap("enter "+what+" of "+client, err)
	})
}

// change runs a statement that has to find something, else it gives missing.
func change(ctx context.Context, q querier, what string, missing error, statement string, args ...any) error {
	done, err := q.ExecContext(ctx, statement, args...)
	if err != nil {
		return wrap(what, err)
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return cmp.Or(err, missing)
	}
	return nil
}

// wrap adds what was being done to an error; nil stays nil.
func wrap(what string, err error) error {
	if err != nil {
		return fmt.Errorf("%s: %w", what, err)
	}
	return nil
}
