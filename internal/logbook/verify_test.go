package logbook_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
)

// One byte of an original changes on the disk, as a failing disk would do it.
func TestVerifyFindsAFlippedByte(t *testing.T) {
	b, dir := crewed(t)
	good := add(t, b, "Runa", "good.fit", monday, 1)
	bad := add(t, b, "Runa", "bad.fit", monday, 1)
	must(t, b.Close())

	path := filepath.Join(dir, logbook.FileName)
	disk, err := os.ReadFile(path)
	must(t, err)
	at := bytes.Index(disk, bad.Bytes[200:232]) // bytes without a pattern are stored as they are
	if at < 0 || bytes.Contains(disk[at+1:], bad.Bytes[200:232]) {
		t.Fatal("the original is not in the file once")
	}
	disk[at+3] ^= 0x10
	must(t, os.WriteFile(path, disk, 0o600))

	b = open(t, dir)
	problems, err := b.Verify(t.Context())
	must(t, err)
	if len(problems) != 2 {
		t.Fatalf("problems are %q, want the row and the original", problems)
	}
	for _, word := range []string{"bad.fit", bad.Digest.Short(), "Runa", "damaged"} {
		if !strings.Contains(problems[1], word) {
			t.Errorf("%q does not say %q", problems[1], word)
		}
	}
	_, _, err = b.Original(t.Context(), bad.Digest)
	refused(t, err, "bad.fit", "damaged")
	raw, _, err := b.Original(t.Context(), good.Digest)
	must(t, err)
	same(t, "the other original", raw, good.Bytes)
}

// Whatever byte of a stored original changes: either its bytes come back whole, or an error.
func TestNoDamagedOriginalIsGivenOut(t *testing.T) {
	b, _ := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 1)
	var stored []byte
	must(t, b.DB().QueryRow("SELECT original FROM file").Scan(&stored))
	caught := 0
	for at := 0; at < len(stored); at += 7 {
		broken := bytes.Clone(stored)
		broken[at] ^= byte(1 + at%255)
		_, err := b.DB().Exec("UPDATE file SET original = ?", broken)
		must(t, err)
		raw, _, err := b.Original(t.Context(), f.Digest)
		if err != nil {
			caught++
		} else if !bytes.Equal(raw, f.Bytes) {
			t.Fatalf("byte %d changed and other bytes came back without an error", at)
		}
	}
	if caught < len(stored)/7-3 { // of the 10 bytes of the head, a few mean nothing
		t.Errorf("only %d of %d changes were caught", caught, len(stored)/7)
	}
}

func TestVerifyNamesEachProblem(t *testing.T) {
	for _, c := range []struct {
		name, damage string
		want         []string
	}{
		{"a file without its recording", `DELETE FROM recording WHERE number = 1`, []string{"quay.fit", "came with 2 workouts, but 1 are in the book"}},
		{"a recording without its file", `DELETE FROM file`, []string{"row", "of recording belongs to no file"}},
		{"a note of nobody", `UPDATE note SET client = 77`, []string{"of note belongs to no client"}},
		{"a series that is torn", `UPDATE recording SET series = substr(series, 1, length(series) / 2) WHERE number = 1`, []string{"#1", "heart rate is damaged"}},
		{"a workout of another kind", `UPDATE recording SET workout = '[]' WHERE number = 0`, []string{"#0", "cannot be read"}},
		{"measurements of another kind", `UPDATE recording SET measured = '{"zones": 3}' WHERE number = 0`, []string{"measurements of recording", "#0", "cannot be read"}},
		{"a note of another kind", `UPDATE note SET value = '{"date": "soon"}'`, []string{"of note cannot be read", "soon"}},
		{"a day that cannot be", `PRAGMA ignore_check_constraints = 1; UPDATE note SET entered = -5; PRAGMA ignore_check_constraints = 0`, []string{"database is damaged", "note"}},
		{"a client without facts", `DELETE FROM facts`, []string{"Runa is a client without facts", "Odd is a client without facts"}},
		{"set aside for nothing", `UPDATE recording SET behind = zeroblob(32) WHERE number = 0`, []string{"#0", "was set aside for a file that is not in the book"}},
		{"half forgotten", `INSERT INTO forgetting VALUES (1)`, []string{"client 1 was not removed completely"}},
		{"a shortened original", `UPDATE file SET original = substr(original, 1, 100)`, []string{"quay.fit", "damaged"}},
		{"another original", `UPDATE file SET size = 3`, []string{"quay.fit", "not those that were received"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			b, _ := decided(t)
			add(t, b, "Runa", "quay.fit", monday, 2)
			must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: "windy"}))
			verified(t, b)
			conn, err := b.DB().Conn(t.Context())
			must(t, err)
			_, err = conn.ExecContext(t.Context(), "PRAGMA foreign_keys = 0; "+c.damage)
			must(t, err)
			must(t, conn.Close())
			problems, err := b.Verify(t.Context())
			must(t, err)
			for _, w := range c.want {
				if !strings.Contains(strings.Join(problems, "\n"), w) {
					t.Errorf("problems %q do not say %q", problems, w)
				}
			}
		})
	}
}

// A page of the database itself is overwritten.
func TestVerifyFindsABrokenDatabase(t *testing.T) {
	b, dir := crewed(t)
	for i := range 60 {
		add(t, b, "Runa", strings.Repeat("x", i+1)+".fit", monday, 1)
	}
	must(t, b.Close())
	path := filepath.Join(dir, logbook.FileName)
	disk, err := os.ReadFile(path)
	must(t, err)
	pages := len(disk) / 4096
	found := 0
	for page := pages / 2; page < pages/2+8; page++ { // past the first pages, which hold the schema
		broken := bytes.Clone(disk)
		for i := range 64 {
			broken[page*4096+i] ^= 0xff
		}
		must(t, os.WriteFile(path, broken, 0o600))
		other, err := logbook.Open(t.Context(), dir)
		if err != nil {
			found++
			continue
		}
		problems, err := other.Verify(t.Context())
		must(t, err)
		if len(problems) > 0 {
			found++
		}
		must(t, other.Close())
	}
	if found != 8 {
		t.Errorf("%d of 8 broken pages were found", found)
	}
}
