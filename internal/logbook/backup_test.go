package logbook_test

import (
	"bytes"
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/workout"
)

// restored puts a backup into the place of a book.
func restored(t *testing.T, b *logbook.Book, dir, backup string) error {
	t.Helper()
	prepared, remove, err := logbook.Prepare(t.Context(), dir, backup)
	if err != nil {
		return err
	}
	defer remove()
	return b.Replace(t.Context(), prepared)
}

// A backup that is made while another program receives holds whole files only, is sound and can be restored.
func TestBackUpWhileFilesComeIn(t *testing.T) {
	b, dir := crewed(t)
	coming := child(t, dir, "deck")
	must(t, coming.Start())
	var backups []string
	for i := range 4 {
		file := filepath.Join(t.TempDir(), "backup.db")
		must(t, b.Backup(t.Context(), file))
		backups = append(backups, file)
		if i < 3 {
			f, day := nth("own", i)
			must(t, b.Add(t.Context(), f, "Odd", day, items(f, "Odd", day, 1), nil))
		}
	}
	must(t, coming.Wait())
	had := -1
	for _, file := range backups {
		must(t, restored(t, b, dir, file))
		verified(t, b)
		own := len(recordings(t, b, "Odd"))
		if n := len(recordings(t, b, "Runa")); n%inOne != 0 {
			t.Errorf("%d workouts: half a file", n)
		}
		if own <= had {
			t.Errorf("a later backup has %d recordings, the one before %d", own, had)
		}
		had = own
	}
}

func recordings(t *testing.T, b *logbook.Book, client string) []string {
	t.Helper()
	r, err := b.Record(t.Context(), client, workout.MustDate("9999-01-01"))
	must(t, err)
	var ids []string
	for _, x := range r.Recordings {
		ids = append(ids, x.ID)
	}
	return ids
}

func TestABackupTakesNobodysPlace(t *testing.T) {
	b, _ := crewed(t)
	file := filepath.Join(t.TempDir(), "backup.db")
	must(t, os.WriteFile(file, []byte("a diary"), 0o600))
	refused(t, b.Backup(t.Context(), file), "already exists")
	if text, err := os.ReadFile(file); err != nil || string(text) != "a diary" {
		t.Errorf("%q %v", text, err)
	}
	info, err := os.Stat(backedUp(t, b))
	must(t, err)
	if info.Mode().Perm() != 0o600 {
		t.Errorf("others may read the backup: %v", info.Mode())
	}
}

func backedUp(t *testing.T, b *logbook.Book) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "backup.db")
	must(t, b.Backup(t.Context(), file))
	return file
}

// What is no sound book is refused before anything is replaced.
func TestABrokenBackupIsRefused(t *testing.T) {
	b, dir := crewed(t)
	f := add(t, b, "Runa", "good.fit", monday, 1)
	good, err := os.ReadFile(backedUp(t, b))
	must(t, err)
	flipped := bytes.Clone(good)
	at := bytes.Index(flipped, f.Bytes[200:232])
	flipped[at+3] ^= 0x10
	newer := bytes.Clone(good)
	newer[63] = 200 // the schema's number
	for name, x := range map[string]struct {
		bytes []byte
		says  string
	}{
		"empty": {nil, "is not a backup"}, "text": {[]byte(strings.Repeat("a diary\n", 100)), "is not a backup"}, "cut": {good[:len(good)/2], ""},
		"flipped": {flipped, "good.fit"}, "newer": {newer, "newer program"}, "headless": {good[100:], "is not a backup"},
	} {
		file := filepath.Join(t.TempDir(), "backup.db")
		must(t, os.WriteFile(file, x.bytes, 0o600))
		if err := restored(t, b, dir, file); err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v", name, err)
		}
		if n := len(recordings(t, b, "Runa")); n != 1 {
			t.Errorf("%s: the book has %d recordings", name, n)
		}
	}
	left, err := filepath.Glob(filepath.Join(dir, ".*"))
	must(t, err)
	if len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}
	verified(t, b)
}

// A restore that ends half-way leaves the old book; another program that has it open sees the new one once it is whole.
func TestARestoreHappensWholeOrNotAtAll(t *testing.T) {
	b, dir := crewed(t)
	add(t, b, "Runa", "before.fit", monday, 1)
	backup := backedUp(t, b)
	add(t, b, "Runa", "after.fit", monday+1, 1)
	other := open(t, dir)

	prepared, remove, err := logbook.Prepare(t.Context(), dir, backup)
	must(t, err)
	defer remove()
	must(t, b.ReplaceSome(context.Background(), prepared, 3))
	if n := len(recordings(t, other, "Runa")); n != 2 {
		t.Errorf("half a restore left %d recordings", n)
	}
	verified(t, b)

	must(t, b.Replace(t.Context(), prepared))
	if n := len(recordings(t, other, "Runa")); n != 1 {
		t.Errorf("the other program sees %d recordings", n)
	}
	verified(t, other)
	f := export("later.fit", 500)
	must(t, other.Add(t.Context(), f, "Runa", monday, items(f, "Runa", monday, 1), nil))

	stopped, cancel := context.WithCancel(t.Context())
	cancel()
	if err := b.Replace(stopped, prepared); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

func TestPoliciesAreKeptOnce(t *testing.T) {
	b, _ := crewed(t)
	for _, text := range []string{"one", "one", "two", "one"} {
		must(t, b.AddPolicy(t.Context(), logbook.KeptPolicy{Entered: monday, By: "Marit", Because: "x", Text: text}))
	}
	all, err := b.Policies(t.Context())
	must(t, err)
	if len(all) != 3 || all[1].Text != "two" || all[2].Text != "one" {
		t.Errorf("%+v", all)
	}
	if _, err := b.DB().Exec("UPDATE policy SET text = 'other'"); err == nil {
		t.Error("a policy was changed")
	}
}
