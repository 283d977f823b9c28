package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"time"

	"nextrung/internal/fault"
)

// act is what was done to the book, as the log names it.
type act string

// The acts that verifying knows: the first entry of every log, with what the book held then, and a book that took the place of
// another.
const (
	begin    act = "begin"
	restored act = "restore"
)

// Head is the end of the book's log after an entry: its number, and a digest that depends on every entry up to it. Who keeps it
// elsewhere can see later whether the log was shortened or written anew.
type Head struct {
	Entry  int64
	Digest string // SHA-256 in hex, or at least its first shownDigits digits
	Where  string // where it was found, for people
}

// shownDigits is how many digits of a head's digest people get to see. To forge 64 bits takes 2^64 trials.
const shownDigits = 16

// String is the short form for people: "412-0a1b2c3d4e5f6071"; "" for a book without a log.
func (h Head) String() string {
	if h.Entry == 0 {
		return ""
	}
	return fmt.Sprintf("%d-%s", h.Entry, h.Digest[:shownDigits])
}

var written = regexp.MustCompile(`^(\d{1,15})-([0-9a-f]{16,64})$`)

// ParseHead reads a head as pages, backups and the file beside the book show it.
func ParseHead(text string) (Head, error) {
	m := written.FindStringSubmatch(strings.ToLower(strings.Join(strings.Fields(text), "")))
	if m == nil {
		return Head{}, fault.In("seal", text, "is not the seal of a book; it reads like 412-0a1b2c3d4e5f6071")
	}
	n, err := strconv.ParseInt(m[1], 10, 64)
	return Head{Entry: n, Digest: m[2]}, err
}

type whoKey struct{}

// By names who acts on the book in a context, where that is not the person whom the settings name.
func By(ctx context.Context, who string) context.Context {
	return context.WithValue(ctx, whoKey{}, who)
}

// entry is one act in the log. Its JSON is what the chain is made of.
type entry struct {
	Number int64  `json:"number"`
	At     string `json:"at"`
	By     string `json:"by"`
	Act    act    `json:"act"`
	Rows   string `json:"rows"`
}

// head is the digest after an entry: of the one before, and of the entry.
func (e entry) head(before []byte) []byte {
	text, err := json.Marshal(e)
	if err != nil {
		panic(err) // plain data always has JSON
	}
	sum := sha256.Sum256(append(before[:len(before):len(before)], text...))
	return sum[:]
}

// enter seals what an act has touched and adds the act to the log, in the act's own transaction. An act that changed nothing has
// no entry.
func enter(ctx context.Context, tx *sql.Tx, schema []table, what act, now time.Time) (entered bool, err error) {
	var last int64
	var before []byte
	err = tx.QueryRowContext(ctx, "SELECT id, head FROM log ORDER BY id DESC LIMIT 1").Scan(&last, &before)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return false, fmt.Errorf("read the log: %w", err)
	}
	e := entry{Number: last + 1, At: now.UTC().Format(time.RFC3339), Act: what}
	lines, err := seal(ctx, tx, schema, e.Number)
	if err != nil || len(lines) == 0 && what != begin && what != restored {
		return false, err
	}
	e.Rows = strings.Join(lines, "\n")
	var given bool
	if e.By, given = ctx.Value(whoKey{}).(string); !given {
		err := tx.QueryRowContext(ctx, "SELECT value FROM setting WHERE name = 'by'").Scan(&e.By)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return false, fmt.Errorf("enter into the log: %w", err)
		}
	}
	e.By = strings.ToValidUTF8(e.By, "\uFFFD")
	_, err = tx.ExecContext(ctx, "INSERT INTO log (id, at, by, act, rows, head) VALUES (?, ?, ?, ?, ?, ?)", e.Number, e.At, e.By, e.Act, e.Rows, e.head(before))
	return true, wrap("enter into the log", err)
}

// Head is the end of the log.
func (b *Book) Head(ctx context.Context) (Head, error) { return headOf(ctx, b.db, "") }

// HeadFor is the end of the log when something was last entered about a client: facts, files, notes, plans and decisions.
func (b *Book) HeadFor(ctx context.Context, client string) (Head, error) {
	id, err := clientID(ctx, b.db, client)
	if err != nil {
		return Head{}, err
	}
	return headOf(ctx, b.db, `WHERE id = (SELECT max(entry) FROM (
		SELECT 'facts' AS of, quote(id) AS key FROM facts WHERE client = ?1 UNION ALL SELECT 'note', quote(id) FROM note WHERE client = ?1
		UNION ALL SELECT 'decision', quote(id) FROM decision WHERE client = ?1 UNION ALL SELECT 'prescription', quote(id) FROM prescription WHERE client = ?1
		UNION ALL SELECT 'file', quote(digest) FROM file WHERE client = ?1) JOIN seal USING (of, key))`, id)
}

func headOf(ctx context.Context, q querier, where string, args ...any) (h Head, err error) {
	var digest []byte
	err = q.QueryRowContext(ctx, "SELECT id, head FROM log "+where+" ORDER BY id DESC LIMIT 1", args...).Scan(&h.Entry, &digest)
	if errors.Is(err, sql.ErrNoRows) {
		return Head{}, nil
	}
	h.Digest = hex.EncodeToString(digest)
	return h, wrap("read the end of the log", err)
}

// HeadName is the file beside the book with the end of its log.
const HeadName = "book.seal"

// Beside is the end of the log as the file beside the book has it. A file that is missing or unreadable is an error.
func Beside(dir string) (Head, error) {
	text, err := os.ReadFile(filepath.Join(dir, HeadName))
	if err != nil {
		return Head{}, err
	}
	h, err := ParseHead(string(text))
	h.Where = "beside the book (" + HeadName + ")"
	return h, err
}

// HeadIn is the end of the log in a backup, or in a file like the one beside the book.
func HeadIn(ctx context.Context, file string) (Head, error) {
	if err := isBook(file); err != nil {
		text, err := os.ReadFile(file)
		if err != nil {
			return Head{}, fmt.Errorf("read the seal: %w", err)
		}
		h, err := ParseHead(string(text))
		if err != nil {
			err = fault.New(fault.Wrong, "%s is neither a backup of a book nor a seal", file)
		}
		return h, err
	}
	db, err := sql.Open("sqlite", "file://"+(&url.URL{Path: slashed(file)}).EscapedPath()+"?mode=ro&immutable=1")
	if err != nil {
		return Head{}, err
	}
	defer db.Close()
	version, err := schema(ctx, db)
	if err == nil && version < logged {
		err = fault.New(fault.Refused, "%s is from before books had a log, so it has no seal", file)
	}
	if err != nil {
		return Head{}, err
	}
	return headOf(ctx, db, "")
}

// keepHead puts the end of the log beside the book. A file that does not fit the log stays as it is, unless the book was just
// replaced: it is the evidence.
func (b *Book) keepHead(ctx context.Context, replaced bool) error {
	was, err := Beside(b.dir)
	fits := replaced || errors.Is(err, fs.ErrNotExist)
	if err == nil && !fits {
		if fits, err = onLog(ctx, b.db, was); err != nil {
			return err
		}
	}
	if !fits {
		return nil // verifying says so
	}
	h, err := b.Head(ctx)
	if err != nil {
		return err
	}
	part, err := os.CreateTemp(b.dir, ".seal-")
	if err != nil {
		return fmt.Errorf("write the seal beside the book: %w", err)
	}
	_, err = fmt.Fprintf(part, "%d-%s\n", h.Entry, h.Digest)
	if err = errors.Join(err, part.Close()); err == nil {
		err = os.Rename(part.Name(), filepath.Join(b.dir, HeadName))
	}
	if err != nil {
		os.Remove(part.Name())
	}
	return wrap("write the seal beside the book", err)
}

// onLog says whether a head lies on the log.
func onLog(ctx context.Context, q querier, h Head) (fits bool, err error) {
	err = q.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM log WHERE id = ? AND substr(lower(hex(head)), 1, ?) = ?)", h.Entry, len(h.Digest), h.Digest).Scan(&fits)
	return fits, wrap("read the log", err)
}

// Log is what the log of a book covers.
type Log struct {
	Began string // when, by the computer's clock, RFC 3339 in UTC
	// Held is how many rows the book held before it had a log.
	Held int
	End  Head
}

// Log says what the log of the book covers.
func (b *Book) Log(ctx context.Context) (l Log, err error) {
	var rows string
	err = b.db.QueryRowContext(ctx, "SELECT at, rows FROM log ORDER BY id LIMIT 1").Scan(&l.Began, &rows)
	if err == nil {
		l.Held = strings.Count(rows, "+")
		l.End, err = b.Head(ctx)
	}
	return l, wrap("read the log", err)
}
