package coach_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
)

// table is 20 min of a day with a heart rate of its own.
func table(on string) []byte {
	var b bytes.Buffer
	b.WriteString("time,hr\n")
	for i := range 1200 {
		fmt.Fprintf(&b, "%sT10:%02d:%02dZ,%d\n", on, i/60, i%60, 100+i%7+int(on[len(on)-1]-'0'))
	}
	return b.Bytes()
}

// lay puts a file into Runa's drop folder, old enough to be taken.
func lay(t *testing.T, c *coach.Coach, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(c.DropFolder("Runa"), name)
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b, 0o600); err != nil {
		t.Fatal(err)
	}
	old := time.Now().Add(-time.Hour)
	if err := os.Chtimes(path, old, old); err != nil {
		t.Fatal(err)
	}
	return path
}

// One file that cannot be read, is gone or is no file keeps no other from being received.
func TestAFilesTroubleIsItsOwn(t *testing.T) {
	c := open(t)
	lay(t, c, "1-good.csv", table("2026-09-01"))
	gone, folder := lay(t, c, "2-gone.csv", table("2026-09-02")), lay(t, c, "3-folder.csv", table("2026-09-03"))
	if err := os.Symlink("nowhere", filepath.Join(c.DropFolder("Runa"), "4-dangling.csv")); err != nil {
		t.Fatal(err)
	}
	long := strings.Repeat("n", 245) + ".fit"
	lay(t, c, "5-folder.fit/6-inside.csv", table("2026-09-04"))
	lay(t, c, long, []byte("no recording"))
	lay(t, c, "z-last.csv", table("2026-09-05"))
	entered, waiting := 0, map[string]string{}
	err := c.TakeInEach(t.Context(), day("2026-09-06"), func(done, all int, take func() (coach.Dropped, error)) error {
		if done == 0 { // another program is faster
			if err := errors.Join(os.Remove(gone), os.Remove(folder), os.Mkdir(folder, 0o700)); err != nil {
				t.Fatal(err)
			}
		}
		d, err := take()
		for _, r := range d.Receipts {
			if r.Status == coach.Entered {
				entered++
			}
		}
		if d.Waiting != "" {
			waiting[d.File] = d.Waiting
		}
		return err
	})
	if err != nil || entered != 3 {
		t.Errorf("%d entered, %v", entered, err)
	}
	if why := waiting[filepath.Join("Runa", "3-folder.csv")]; len(waiting) != 1 || !strings.Contains(why, "no file") {
		t.Errorf("waiting: %q", waiting)
	}
	refused, err := c.RefusedFiles("Runa")
	if err != nil || len(refused) != 1 || len(filepath.Base(refused[0].Path)) > 200 {
		t.Errorf("refused: %v, %v", refused, err)
	}
}

// Two runs at once share the work: everything is received once, and neither fails.
func TestTwoRunsShareTheDropFolder(t *testing.T) {
	c := open(t)
	for _, d := range []string{"01", "02", "03", "04", "05", "06"} {
		lay(t, c, d+".csv", table("2026-09-"+d))
		lay(t, c, d+".fit", []byte("no recording "+d))
	}
	other, err := coach.Open(t.Context(), c.Dir)
	if err != nil {
		t.Fatal(err)
	}
	defer other.Close()
	var both sync.WaitGroup
	errs := make([]error, 2)
	for i, x := range []*coach.Coach{c, other} {
		both.Go(func() { _, errs[i] = x.TakeIn(t.Context(), day("2026-09-07"), nil) })
	}
	both.Wait()
	r, err := c.Record(t.Context(), "Runa", day("2026-09-07"), false)
	if err := errors.Join(errs[0], errs[1], err); err != nil || len(r.Recordings) != 6 {
		t.Errorf("%d recordings, %v", len(r.Recordings), err)
	}
	if refused, err := c.RefusedFiles("Runa"); err != nil || len(refused) != 6 {
		t.Errorf("%d refused, %v", len(refused), err)
	}
	if left, err := c.InDrop(t.Context()); err != nil || left != 0 {
		t.Errorf("%d left, %v", left, err)
	}
}

// Reading, measuring and drawing end when nobody waits for them any more.
func TestEveryStageEndsWhenInterrupted(t *testing.T) {
	c := open(t)
	path := lay(t, c, "a.csv", table("2026-09-01"))
	standings, err := c.Standings(t.Context(), []string{"Runa"}, day("2026-09-06"))
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	pages := t.TempDir()
	for name, stage := range map[string]func() error{
		"receive": func() error {
			_, err := c.ReceiveFile(ctx, coach.Intake{Client: "Runa", On: day("2026-09-06")}, path)
			return err
		},
		"inspect": func() error {
			return coach.Asked{}.InspectFile(ctx, path, physiology.Body{}, func(coach.Inspection) error { t.Error("measured all the same"); return nil })
		},
		"draw": func() error { _, err := c.Report(ctx, standings, day("2026-09-06"), pages, true); return err },
	} {
		if err := stage(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if drawn, _ := filepath.Glob(filepath.Join(pages, "*.html")); len(drawn) > 0 {
		t.Errorf("drawn all the same: %v", drawn)
	}
}

// A name is kept in one form, and one that looks the same is the same client's.
func TestOneClientForNamesThatLookAlike(t *testing.T) {
	c := open(t)
	add := func(name string) error {
		return c.AddClient(t.Context(), record.Client{Name: name, Born: day("1980-03-01"), Sex: "male", Stage: 1, Since: day("2026-08-01"), State: record.Active}, day("2026-08-01"))
	}
	if err := add("Zoe\u0308  Ann"); err != nil {
		t.Fatal(err)
	}
	if n, err := c.Named(t.Context(), "zo\u00cb\u00a0ann"); err != nil || n != "Zo\u00eb Ann" {
		t.Errorf("%q, %v", n, err)
	}
	if err := add("Zo\u00eb\u2003Ann"); err == nil {
		t.Error("entered twice")
	}
	for _, name := range []string{"Ru\u202Ena", "Ru\u009bna", "Ru\u200bna", "con", "Lpt1.x", "Runa.", strings.Repeat("é", 60), "a/b", "\xff", " "} {
		if err := add(name); err == nil {
			t.Errorf("%q is entered", name)
		}
	}
}

// A name from outside becomes one that every file system takes.
func TestFilesArriveUnderSafeNames(t *testing.T) {
	c := open(t)
	for name, want := range map[string]string{
		"a\x1b[2J\u202Eb.fit": "a-[2J-b.fit", "nul.fit": "-nul.fit", "walk.fit. ": "walk.fit", "e\u0301.fit": "\u00e9.fit", "../../etc/x": "etc/x",
	} {
		if a, err := c.Arrive("", name, strings.NewReader("x")); err != nil || a.Name != want {
			t.Errorf("%q arrives as %q, %v; want %q", name, a.Name, err, want)
		}
	}
	one, err := c.Arrive("", strings.Repeat("n", 300)+"1.fit", strings.NewReader("x"))
	other, err2 := c.Arrive("", strings.Repeat("m", 300)+"1.fit", strings.NewReader("x"))
	if err != nil || err2 != nil || len(one.Name) > 120 || one.Name == other.Name || !strings.HasSuffix(one.Name, "n1.fit") {
		t.Errorf("%q and %q, %v, %v", one.Name, other.Name, err, err2)
	}
}

// What a book holds can be checked and handed over with a policy that cannot be used.
func TestABookWithABrokenPolicyIsHandedOver(t *testing.T) {
	c := open(t)
	if err := os.WriteFile(filepath.Join(c.Dir, "policy.toml"), []byte("[[rule]"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := coach.Open(t.Context(), c.Dir); err == nil || !strings.Contains(err.Error(), "policy.toml") {
		t.Errorf("opened: %v", err)
	}
	again, instead, err := coach.OpenAsItIs(t.Context(), c.Dir)
	if err != nil || len(instead) != 1 || !strings.Contains(instead[0], "line 1") {
		t.Fatalf("%q, %v", instead, err)
	}
	defer again.Close()
	to := t.TempDir()
	if faults, err := again.Verify(t.Context(), nil, false); err != nil || len(faults.Faults) > 0 {
		t.Errorf("verify: %v, %v", faults, err)
	}
	if err := again.Backup(t.Context(), filepath.Join(to, "b.db"), day("2026-09-06")); err != nil {
		t.Errorf("backup: %v", err)
	}
	if err := again.ExportFile(t.Context(), "Runa", day("2026-09-06"), filepath.Join(to, "r.zip")); err != nil {
		t.Errorf("export: %v", err)
	}
}
