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
	"io/fs"
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
type Book struct {
	db     *sql.DB
	dir    string
	tables []table // what is sealed
}

// Open opens the book in the folder dir, and makes both at first use, readable by their owner only. It makes no book where one
// was: where the seal of one lies beside, or the file is empty. A book of an earlier version is brought up to date; one of a
// newer program is refused.
func Open(ctx context.Context, dir string) (*Book, error) {
	path, err := filepath.Abs(filepath.Join(dir, FileName))
	if err != nil {
		return nil, fmt.Errorf("open book: %w", err)
	}
	if err := create(ctx, path); err != nil {
		return nil, fmt.Errorf("open book %s: %w", path, err)
	}
	db, err := openDatabase(ctx, path, false)
	if err != nil {
		return nil, fmt.Errorf("open book %s: %w", path, err)
	}
	b := &Book{db: db, dir: filepath.Dir(path)}
	b.tables, err = tables(ctx, db)
	if _, missing := Beside(b.dir); err == nil && errors.Is(missing, fs.ErrNotExist) {
		err = b.keepHead(ctx, false)
	}
	if err != nil {
		db.Close()
		return nil, fmt.Errorf("open book %s: %w", path, err)
	}
	return b, nil
}

// create makes a new book in a folder that never had one, whole or not at all. Several programs may do so at once.
func create(ctx context.Context, path string) error {
	dir := filepath.Dir(path)
	_, sealed := os.Lstat(filepath.Join(dir, HeadName)) // before the book, which another program may be making
	info, err := os.Stat(path)
	if err == nil && info.Size() == 0 {
		if wal, err := os.Stat(path + "-wal"); err != nil || wal.Size() == 0 {
			return fault.New(fault.Refused, "the file is empty, so everything in the book is gone: restore a backup")
		}
	}
	if err == nil || !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if sealed == nil {
		return fault.New(fault.Refused, "the book is gone, and its seal (%s) is still there: put the file back or restore a backup; for a new book name another folder", HeadName)
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("make the book's folder: %w", err)
	}
	part, err := os.MkdirTemp(dir, ".new-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(part)
	fresh := filepath.Join(part, FileName)
	// SQLite gives its other files the permissions of this one.
	if err := os.WriteFile(fresh, nil, 0o600); err != nil {
		return err
	}
	db, err := openDatabase(ctx, fresh, true)
	if err != nil {
		return err
	}
	if err := db.Close(); err != nil {
		return err
	}
	err = os.Link(fresh, path)
	if errors.Is(err, fs.ErrExist) {
		return nil // another program was first
	}
	if err != nil { // a disk without links
		err = os.Rename(fresh, path)
	}
	return errors.Join(err, flush(dir))
}

// openDatabase opens a database and brings it to the newest schema; only a fresh one may be empty.
func openDatabase(ctx context.Context, path string, fresh bool) (*sql.DB, error) {
	db, err := sql.Open("sqlite", source(path))
	if err != nil {
		return nil, err
	}
	err = bring(ctx, db, fresh)
	// SQLite does not wait for its lock while another program opens the book.
	for wait := 10 * time.Millisecond; busy(err) && wait < 5*time.Second && ctx.Err() == nil; wait *= 2 {
		select {
		case <-time.After(wait):
		case <-ctx.Done():
		}
		err = bring(ctx, db, fresh)
	}
	if err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

func bring(ctx context.Context, db *sql.DB, fresh bool) error {
	if version, err := schema(ctx, db); err != nil || version == 0 && !fresh {
		return cmp.Or(err, error(fault.New(fault.Refused, "this database is not a book; name another folder or move the file away")))
	}
	return migrate(ctx, db, migrations)
}

// busy says that another program held the lock.
func busy(err error) bool {
	var e *sqlite.Error
	return errors.As(err, &e) && e.Code()&0xff == sqlite3.SQLITE_BUSY
}

// source names the database for the driver. The pragmas are here because each connection of the
// pool needs them.
func source(path string) string {
	return "file://" + (&url.URL{Path: slashed(path)}).EscapedPath() +
		"?_pragma=busy_timeout(10000)&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)" +
		"&_pragma=foreign_keys(1)&_pragma=secure_delete(1)&_pragma=temp_store(MEMORY)&_txlock=immediate"
}

// slashed is a path as a database's name has it.
func slashed(path string) string {
	path = filepath.ToSlash(path)
	if !strings.HasPrefix(path, "/") {
		path = "/" + path // a drive letter
	}
	return path
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

// write runs f in one transaction that holds the write lock from its beginning, seals what it changes and enters it into the
// log as what.
func (b *Book) write(ctx context.Context, what act, f func(*sql.Tx) error) error {
	tx, err := b.db.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("write to the book: %w", err)
	}
	defer tx.Rollback()
	if err := watch(ctx, tx, b.tables); err != nil {
		return err
	}
	if err := f(tx); err != nil {
		return err
	}
	entered, err := enter(ctx, tx, b.tables, what, time.Now())
	if err != nil {
		return err
	}
	if err := tx.Commit(); err != nil || !entered {
		return wrap("write to the book", err)
	}
	return b.keepHead(ctx, false)
}

// writeOf runs f so, with the row of a client.
func (b *Book) writeOf(ctx context.Context, what act, client string, f func(tx *sql.Tx, id int64) error) error {
	return b.write(ctx, what, func(tx *sql.Tx) error {
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
func (b *Book) insert(ctx context.Context, client string, what act, day workout.Date, statement string, args ...any) error {
	if day <= 0 {
		return fmt.Errorf("enter %s of %s: its day is missing", what, client)
	}
	return b.writeOf(ctx, what, client, func(tx *sql.Tx, id int64) error {
		_, err := tx.ExecContext(ctx, statement, append([]any{id, day}, args...)...)
		return wrap("enter "+string(what)+" of "+client, err)
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
