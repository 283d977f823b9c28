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
// no entry, and its head is nil.
func enter(ctx context.Context, tx *sql.Tx, what act, now time.Time) (*Head, error) {
	var last int64
	var before []byte
	err := tx.QueryRowContext(ctx, "SELECT id, head FROM log ORDER BY id DESC LIMIT 1").Scan(&last, &before)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return nil, fmt.Errorf("read the log: %w", err)
	}
	e := entry{Number: last + 1, At: now.UTC().Format(time.RFC3339), Act: what}
	lines, err := seal(ctx, tx, e.Number)
	if err != nil || len(lines) == 0 && what != begin && what != restored {
		return nil, err
	}
	e.Rows = strings.Join(lines, "\n")
	var given bool
	if e.By, given = ctx.Value(whoKey{}).(string); !given {
		err := tx.QueryRowContext(ctx, "SELECT value FROM setting WHERE name = 'by'").Scan(&e.By)
		if err != nil && !errors.Is(err, sql.ErrNoRows) {
			return nil, fmt.Errorf("enter into the log: %w", err)
		}
	}
	e.By = strings.ToValidUTF8(e.By, "\uFFFD")
	head := e.head(before)
	_, err = tx.ExecContext(ctx, "INSERT INTO log (id, at, by, act, rows, head) VALUES (?, ?, ?, ?, ?, ?)", e.Number, e.At, e.By, e.Act, e.Rows, head)
	return &Head{Entry: e.Number, Digest: hex.EncodeToString(head)}, wrap("enter into the log", err)
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
	h.Where = HeadName
	return h, err
}

// writeBeside puts the end of the log beside the book. A file that does not fit the log stays as it is, unless the book was just
// replaced: it is the evidence.
func (b *Book) writeBeside(ctx context.Context, h Head, replaced bool) error {
	was, err := Beside(b.dir)
	if errors.Is(err, fs.ErrNotExist) || replaced {
		err = nil
	} else if err == nil {
		var fits bool
		if fits, err = onLog(ctx, b.db, was); err == nil && !fits {
			return nil
		}
	}
	if err != nil {
		return nil // unreadable: verifying says so
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
