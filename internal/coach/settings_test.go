package coach_test

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
)

// TestTheDropFolderMoves: from then on files are taken in from the new place, and what still lies in the
// old one is not lost.
func TestTheDropFolderMoves(t *testing.T) {
	c := open(t)
	old, dir := c.DropFolder("Runa"), filepath.Join(t.TempDir(), "exports")
	check(t, c.SetDrop(t.Context(), dir))
	if c.DropFolder("Runa") != filepath.Join(dir, "Runa") {
		t.Errorf("drop folder of Runa: %s", c.DropFolder("Runa"))
	}
	past := time.Now().Add(-time.Minute)
	put := func(folder, name string, b []byte) {
		check(t, os.WriteFile(filepath.Join(folder, name), b, 0o600))
		check(t, os.Chtimes(filepath.Join(folder, name), past, past))
	}
	put(c.DropFolder("Runa"), "new.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	put(old, "old.tcx", encode(t, "tcx", walk("2026-09-03T06:00:00Z", simulate.Options{})))
	put(c.DropFolder("Runa"), "bad.fit", []byte("nonsense"))
	put(dir, "loose.fit", []byte("nonsense"))
	all, err := c.TakeIn(t.Context(), day("2026-09-05"), nil)
	if err != nil || len(all) != 4 || counting(recordOf(t, c, "Runa", "2026-09-05", false)) != 2 {
		t.Errorf("%+v, %v", all, err)
	}
	if refused, _ := filepath.Glob(filepath.Join(dir, "refused", "Runa", "*bad.fit*")); len(refused) != 2 {
		t.Errorf("refused: %v", refused)
	}
	check(t, c.Close())
	again, err := coach.Open(t.Context(), c.Dir)
	check(t, err)
	defer again.Close()
	if set, err := again.Settings(t.Context()); err != nil || set.Drop != dir || again.Drop != dir {
		t.Errorf("after opening again: %+v, %v", set, err)
	}
	check(t, again.Forget(t.Context(), "Runa", day("2026-09-01"), false))
	if left, _ := filepath.Glob(filepath.Join(dir, "R*", "*")); len(left) != 0 {
		t.Errorf("left of a forgotten client: %v", left)
	}
}

// TestWhoDecidesIsSetOnce: the name stands beside decisions and notes unless another is given.
func TestWhoDecidesIsSetOnce(t *testing.T) {
	c, ctx := open(t), t.Context()
	hold := record.Decision{Client: "Runa", Entered: day("2026-09-10"), Act: record.DoHold, Because: "still early"}
	if _, err := c.Decide(ctx, hold); wrongFields(err) != "by" {
		t.Errorf("nobody decided: %v", err)
	}
	check(t, c.SetBy(ctx, " Marit "))
	if d, err := c.Decide(ctx, hold); err != nil || d.By != "Marit" {
		t.Errorf("%q, %v", d.By, err)
	}
	hold.By, hold.Entered = "Ketil", day("2026-09-11")
	if d, err := c.Decide(ctx, hold); err != nil || d.By != "Ketil" {
		t.Errorf("%q, %v", d.By, err)
	}
	n, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Symptoms: "none"}, day("2026-09-11"))
	if err != nil || n.By != "Marit" {
		t.Errorf("%+v, %v", n, err)
	}
}
