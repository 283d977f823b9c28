package main

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// TestEveryFileNamedIsUndone: of 26 files that are received and then named to be undone none stays, one flag or one
// command for each; and where more is named than a command takes, nothing happens.
func TestEveryFileNamedIsUndone(t *testing.T) {
	book, dir := filepath.Join(t.TempDir(), "book"), t.TempDir()
	ran := func(want int, args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		now := func() time.Time { return workout.MustDate("2026-08-30").Time().Add(12 * time.Hour) }
		if code := run(context.Background(), append([]string{"--book", book}, args...), surroundings{out: &out, err: &errs, now: now}); code != want {
			t.Fatalf("%q: exit code %d: %s", args, code, errs.String())
		}
		return out.String() + errs.String()
	}
	ran(done, "client", "add", "Runa", "--born", "1984-03-12", "--stage", "1", "--since", "2026-07-06", "--modes", "walk")
	var files []string
	for i := range 26 {
		start := workout.MustDate("2026-08-01").Time().Add(time.Duration(i)*24*time.Hour + 7*time.Hour)
		w, _ := simulate.Play(walks(1, 12)[0], simulate.Beginner(62, 182), simulate.Options{Seed: uint64(i), Start: start})
		b, err := recording.Encode("gpx", w)
		if err != nil {
			t.Fatal(err)
		}
		files = append(files, filepath.Join(dir, fmt.Sprintf("walk-%02d.gpx", i)))
		if err := os.WriteFile(files[i], b, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	kept := func() []string {
		return regexp.MustCompile(`[0-9a-f]{8}#0`).FindAllString(ran(done, "client", "show", "Runa", "--all"), -1)
	}
	receive := append([]string{"receive", "--client", "Runa"}, files...)
	ran(done, receive...)
	ids := kept()
	if len(ids) != 26 {
		t.Fatalf("%d recordings", len(ids))
	}
	if said := ran(misused, "receive", "--undo", ids[0], ids[1]); len(kept()) != 26 || !strings.Contains(said, ids[1]) {
		t.Errorf("%d recordings after %s", len(kept()), said)
	}
	if ran(misused, "receive", "--undo", ids[0], "--exclude", ids[1], "--because", "x"); len(kept()) != 26 {
		t.Errorf("%d recordings after two things at once", len(kept()))
	}
	if said := ran(failed, "receive", "--undo", ids[0], "--undo", "00000000#0"); len(kept()) != 26 {
		t.Errorf("%d recordings after one that is not there: %s", len(kept()), said)
	}
	undo := []string{"receive"}
	for _, id := range ids {
		undo = append(undo, "--undo", id)
	}
	if said := ran(done, undo...); len(kept()) != 0 || strings.Count(said, "removed from the book") != 26 {
		t.Errorf("%d recordings after %s", len(kept()), said)
	}
	ran(done, receive...)
	for _, id := range kept() {
		ran(done, "receive", "--undo", id)
	}
	if left := kept(); len(left) != 0 {
		t.Errorf("left: %v", left)
	}
	ran(done, receive...)
	ran(done, "receive", "--exclude", ids[0], "--exclude", ids[25], "--because", "her brother's")
	if n := strings.Count(ran(done, "client", "show", "Runa", "--all"), "her brother's"); n != 2 {
		t.Errorf("%d of 2 excluded", n)
	}
}

// TestUndoingAGraveNoteNeedsAReason: the command asks who said so before a note that names a grave sign stops counting, and
// shows it with the client from then on.
func TestUndoingAGraveNoteNeedsAReason(t *testing.T) {
	book := filepath.Join(t.TempDir(), "book")
	ran := func(want int, args ...string) string {
		t.Helper()
		var out, errs bytes.Buffer
		now := func() time.Time { return workout.MustDate("2026-08-30").Time().Add(12 * time.Hour) }
		if code := run(context.Background(), append([]string{"--book", book}, args...), surroundings{out: &out, err: &errs, now: now}); code != want {
			t.Fatalf("%q: exit code %d: %s", args, code, errs.String())
		}
		return out.String() + errs.String()
	}
	ran(done, "client", "add", "Runa", "--born", "1984-03-12", "--stage", "1", "--since", "2026-07-06", "--modes", "walk")
	ran(done, "note", "--client", "Runa", "--symptoms", "chest")
	ran(misused, "note", "--client", "Runa", "--because", "x", "--rpe", "12")
	if said := ran(misused, "note", "--client", "Runa", "--undo", "n1"); !strings.Contains(said, "--because is missing: pain or pressure in the chest") {
		t.Error(said)
	}
	ran(done, "note", "--client", "Runa", "--undo", "n1", "--because", "it was Ketil")
	if said := ran(done, "client", "show", "Runa"); !strings.Contains(said, "(it was Ketil)") {
		t.Error(said)
	}
}
