package logbook_test

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
)

// acts are the entries of the log after the first n: who and what.
func acts(t *testing.T, b *logbook.Book, n int) (out []string) {
	t.Helper()
	rows, err := b.DB().Query("SELECT by, act, at FROM log WHERE id > ? ORDER BY id", n)
	must(t, err)
	defer rows.Close()
	for rows.Next() {
		var by, act, at string
		must(t, rows.Scan(&by, &act, &at))
		if when, err := time.Parse(time.RFC3339, at); err != nil || time.Since(when) > time.Hour {
			t.Errorf("entered at %q (%v)", at, err)
		}
		out = append(out, by+": "+act)
	}
	must(t, rows.Err())
	return out
}

func TestEveryActIsEntered(t *testing.T) {
	b, dir := crewed(t)
	ctx := t.Context()
	must(t, b.Set(ctx, "by", "Marit"))
	f := add(t, b, "Runa", "quay.fit", monday, 1)
	must(t, b.AddNote(logbook.By(ctx, "client"), "Runa", record.Note{Date: monday, Entered: monday, Text: "windy"}))
	must(t, b.Move(ctx, f.Digest, "Odd"))
	must(t, b.Set(ctx, "by", "Marit")) // changes nothing
	must(t, b.Undo(ctx, f.Digest))
	refused(t, b.Undo(ctx, f.Digest), "not in the book")
	must(t, b.AddAssessment(ctx, "Odd", record.Assessment{AsOf: monday}))
	must(t, b.AddAssessment(ctx, "Odd", record.Assessment{AsOf: monday})) // the same again
	must(t, b.Forget(ctx, "Odd"))
	same(t, "acts", acts(t, b, 3), []string{"Marit: setting", "Marit: receive", "client: note", "Marit: move", "Marit: undo", "Marit: assessment", "Marit: forget"})
	head, err := b.Head(ctx)
	must(t, err)
	beside, err := logbook.Beside(dir)
	must(t, err)
	beside.Where = ""
	same(t, "the seal beside the book", beside, head)
	hers, err := b.HeadFor(ctx, "Runa")
	must(t, err)
	if hers.Entry != 6 { // her note; what others did later is not hers
		t.Errorf("the seal for her is %s", hers)
	}
	if p, err := b.Verify(ctx, hers); err != nil || len(p) > 0 {
		t.Errorf("%q %v", p, err)
	}
}

// A digest in the log says nothing about what it once stood for: the salt goes with the row.
func TestTheLogForgetsToo(t *testing.T) {
	b, dir := crewed(t)
	add(t, b, "Odd", "quay.fit", monday, 1)
	var salt []byte
	must(t, b.DB().QueryRow("SELECT salt FROM seal WHERE of = 'client' AND key = '2'").Scan(&salt))
	must(t, b.Forget(t.Context(), "Odd"))
	if holds(t, dir, []byte("Odd")) || holds(t, dir, salt) {
		t.Error("the name or the salt of its digest is still in the files")
	}
	var seals, entries int
	must(t, b.DB().QueryRow("SELECT (SELECT count(*) FROM seal), (SELECT count(*) FROM log WHERE act = 'forget')").Scan(&seals, &entries))
	if seals != 4 || entries != 1 { // Runa's name and facts, and how often each of the two was changed
		t.Errorf("%d seals, %d entries", seals, entries)
	}
	verified(t, b)
}

// A book from before the log gets one that begins with what it holds.
func TestALogBeginsInAnOldBook(t *testing.T) {
	dir := fullBook(t)
	raw(t, dir, "DROP TABLE log; DROP TABLE seal; PRAGMA user_version = 10")
	must(t, os.Remove(filepath.Join(dir, logbook.HeadName)))
	b := open(t, dir)
	verified(t, b)
	l, err := b.Log(t.Context())
	must(t, err)
	if l.Held < 20 || l.End.Entry != 1 {
		t.Errorf("%+v", l)
	}
	must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: "windy"}))
	verified(t, b)
	fresh, err := open(t, t.TempDir()).Log(t.Context())
	must(t, err)
	if fresh.Held != 0 || fresh.End.Entry != 1 {
		t.Errorf("a new book: %+v", fresh)
	}
}

// A restored book has its own log, which says that it was restored; the seal of the other is not on it.
func TestARestoreIsEntered(t *testing.T) {
	b, dir := crewed(t)
	file := backedUp(t, b)
	must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: "windy"}))
	replaced, err := b.Head(t.Context())
	must(t, err)
	must(t, restored(t, b, dir, file))
	same(t, "acts", acts(t, b, 3), []string{": restore"})
	beside, err := logbook.Beside(dir)
	must(t, err)
	in, err := logbook.HeadIn(t.Context(), file)
	must(t, err)
	if p, err := b.Verify(t.Context(), beside, in); err != nil || len(p) > 0 {
		t.Errorf("%q %v", p, err)
	}
	p, err := b.Verify(t.Context(), replaced)
	must(t, err)
	if len(p) != 1 || !strings.Contains(p[0], "entry 4 says that a backup was restored") {
		t.Errorf("%q", p)
	}
}

func TestSealsAreRead(t *testing.T) {
	for text, want := range map[string]string{
		"412-0a1b2c3d4e5f6071": "412-0a1b2c3d4e5f6071", " 412-0A1B 2C3D 4E5F 6071 \n": "412-0a1b2c3d4e5f6071",
		"1-" + strings.Repeat("ab", 32): "1-abababababababab",
	} {
		h, err := logbook.ParseHead(text)
		if err != nil || h.String() != want {
			t.Errorf("%q is read as %q (%v)", text, h, err)
		}
	}
	for _, text := range []string{"", "412", "412-0a1b2c3d4e5f607", "x-0a1b2c3d4e5f6071", "412-0a1b2c3d4e5f607g", strings.Repeat("9", 16) + "-0a1b2c3d4e5f6071"} {
		if h, err := logbook.ParseHead(text); err == nil {
			t.Errorf("%q is read as %q", text, h)
		}
	}
	file := filepath.Join(t.TempDir(), "diary.txt")
	must(t, os.WriteFile(file, []byte("secret"), 0o600))
	_, err := logbook.HeadIn(t.Context(), file)
	refused(t, err, "neither a backup of a book nor a seal")
	if strings.Contains(err.Error(), "secret") {
		t.Error("the error shows what is in the file")
	}
	if _, err := logbook.HeadIn(t.Context(), file+"x"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}

// Nothing is made where a book was, and what is there is not touched.
func TestOpenMakesNoBookWhereOneWas(t *testing.T) {
	for name, bytesThere := range map[string][]byte{"emptied": {}, "another file": bytes.Repeat([]byte("gulls over the harbour\n"), 300)} {
		dir := fullBook(t)
		path := filepath.Join(dir, logbook.FileName)
		must(t, os.WriteFile(path, bytesThere, 0o600))
		if _, err := logbook.Open(context.Background(), dir); err == nil {
			t.Errorf("%s: a book was opened", name)
		}
		if left, err := os.ReadFile(path); err != nil || !bytes.Equal(left, bytesThere) {
			t.Errorf("%s: the file was changed (%v)", name, err)
		}
	}
	dir := t.TempDir()
	db, err := sql.Open("sqlite", filepath.Join(dir, logbook.FileName))
	must(t, err)
	_, err = db.Exec("CREATE TABLE cargo (crates INTEGER); DROP TABLE cargo") // a database without anything
	must(t, err)
	must(t, db.Close())
	_, err = logbook.Open(t.Context(), dir)
	refused(t, err, "not a book")
}
