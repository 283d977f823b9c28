package coach_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
)

// The seal on a page, in a backup and in what verifying prints lie on one log.
func TestSealsOnPagesAndInBackups(t *testing.T) {
	c, ctx := open(t), t.Context()
	receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-01")}, "a.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	all, err := c.Week(ctx, day("2026-09-06"), nil)
	if err != nil {
		t.Fatal(err)
	}
	page, err := c.Page(ctx, all[0])
	if err != nil {
		t.Fatal(err)
	}
	again, err := c.Week(ctx, day("2026-09-06"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if same, err := c.Page(ctx, again[0]); err != nil || same.Sealed != page.Sealed {
		t.Errorf("the same week again has another seal: %s, then %s (%v)", page.Sealed, same.Sealed, err)
	}
	backup := filepath.Join(t.TempDir(), "backup.db")
	if err := c.Backup(ctx, backup, day("2026-09-06")); err != nil {
		t.Fatal(err)
	}
	if err := coach.AddNote(ctx, c, "Runa", record.Note{Date: day("2026-09-06"), Entered: day("2026-09-06"), Text: "windy"}); err != nil {
		t.Fatal(err)
	}
	var heads []logbook.Head
	for _, text := range []string{page.Sealed, backup} {
		h, err := coach.ReadSeal(ctx, text)
		if err != nil {
			t.Fatal(err)
		}
		heads = append(heads, h)
	}
	found, err := c.Verify(ctx, heads, true)
	if err != nil || len(found.Faults) > 0 || found.Measured != 1 {
		t.Errorf("%+v %v", found, err)
	}
	if words := strings.Join(found.Words(), "\n"); !strings.Contains(words, found.Log.End.String()) || !strings.Contains(words, "1 recording measured again") {
		t.Error(words)
	}
	other, err := open(t).Verify(ctx, heads, false)
	if err != nil || len(other.Faults) != 2 {
		t.Errorf("another book: %q %v", other.Faults, err)
	}
}

// What another version of the program measured is not sealed wrongly, and does not pass unseen.
func TestMeasuringAgainFindsOtherFigures(t *testing.T) {
	c, ctx := open(t), t.Context()
	r := receive(t, c, coach.Intake{Client: "Runa", On: day("2026-09-01")}, "a.tcx", encode(t, "tcx", walk("2026-09-01T06:00:00Z", simulate.Options{})))
	m := r[0].Recordings[0].Measured
	m.HeartRate.Rejected += 7
	if err := coach.Remeasure(ctx, c, r[0].Recordings[0].ID, m); err != nil {
		t.Fatal(err)
	}
	found, err := c.Verify(ctx, nil, false)
	if err != nil || len(found.Faults) > 0 {
		t.Errorf("%q %v", found.Faults, err)
	}
	found, err = c.Verify(ctx, nil, true)
	if err != nil || len(found.Faults) != 1 || !strings.Contains(found.Faults[0], "measures differently") {
		t.Errorf("%q %v", found.Faults, err)
	}
	if err := c.Reassess(ctx, "Runa"); err != nil {
		t.Fatal(err)
	}
	if found, err = c.Verify(ctx, nil, true); err != nil || len(found.Faults) > 0 {
		t.Errorf("%q %v", found.Faults, err)
	}
}

// The day that a decision is for and the day on which it was entered are both kept; none is entered before a later one.
func TestADecisionForAnEarlierDay(t *testing.T) {
	c, ctx := open(t), t.Context()
	hold := record.Decision{Client: "Runa", Entered: day("2026-09-06"), Typed: day("2026-09-20"), Act: record.DoHold, Because: "one more week", By: "Marit"}
	d, err := c.Decide(ctx, hold)
	if err != nil || d.Entered != day("2026-09-06") || d.Typed != day("2026-09-20") {
		t.Errorf("%+v %v", d, err)
	}
	hold.Entered = day("2026-08-30")
	hold.From = day("2026-09-21")
	if _, err := c.Decide(ctx, hold); err == nil || !strings.Contains(err.Error(), "already on record for 2026-09-06") {
		t.Errorf("a decision before the last one: %v", err)
	}
	hold.Entered, hold.From = day("2026-09-20"), 0
	if d, err := c.Decide(ctx, hold); err != nil || d.Typed != 0 {
		t.Errorf("%+v %v", d, err)
	}
}

// A signature holds for the book that was signed, opens only with the passphrase, and cannot be made for another book.
func TestSigning(t *testing.T) {
	c, ctx := open(t), t.Context()
	key := filepath.Join(t.TempDir(), "trainer.key")
	const passphrase = "gulls over the harbour"
	if _, _, err := c.Sign(ctx, key, "short"); err == nil {
		t.Error("a short passphrase was taken")
	}
	seal, name, err := c.Sign(ctx, key, passphrase)
	if err != nil {
		t.Fatal(err)
	}
	if text, err := os.ReadFile(key); err != nil || strings.Contains(string(text), passphrase) {
		t.Errorf("the key's file: %v", err)
	}
	if _, _, err := c.Sign(ctx, key, passphrase+"s"); err == nil || !strings.Contains(err.Error(), "does not open the key") {
		t.Errorf("another passphrase: %v", err)
	}
	if err := coach.AddNote(ctx, c, "Runa", record.Note{Date: day("2026-09-06"), Entered: day("2026-09-06"), Text: "windy"}); err != nil {
		t.Fatal(err)
	}
	if _, again, err := c.Sign(ctx, key, passphrase); err != nil || again != name {
		t.Errorf("the second time with the key %s, the first with %s (%v)", again, name, err)
	}
	found, err := c.Verify(ctx, nil, false)
	if err != nil || len(found.Faults) > 0 || len(found.Signed) != 2 || found.Signed[0].Entry != seal.Entry {
		t.Errorf("%+v %v", found, err)
	}
	if words := strings.Join(found.Words(), "\n"); !strings.Contains(words, "signed with the key "+name) {
		t.Error(words)
	}
	signed := filepath.Join(c.Dir, "book.signed")
	text, err := os.ReadFile(signed)
	if err != nil {
		t.Fatal(err)
	}
	other := open(t)
	for into, change := range map[*coach.Coach]func(string) string{
		c:     func(s string) string { return "9" + s }, // another entry under the same signature
		other: func(s string) string { return s },       // another book
	} {
		if err := os.WriteFile(filepath.Join(into.Dir, "book.signed"), []byte(change(string(text))), 0o600); err != nil {
			t.Fatal(err)
		}
		if found, err := into.Verify(ctx, nil, false); err != nil || len(found.Faults) == 0 {
			t.Errorf("%+v %v", found, err)
		}
	}
}
