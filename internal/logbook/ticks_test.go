package logbook_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// versionOf is the state of one client.
func versionOf(t *testing.T, b *logbook.Book, client string) logbook.Version {
	t.Helper()
	all, err := b.Versions(t.Context())
	must(t, err)
	return all[client]
}

// Every statement that changes something of a client gives that client, and nobody else, another version.
func TestEveryChangeGivesAnotherVersion(t *testing.T) {
	ctx, day := t.Context(), workout.MustDate("2026-10-04")
	dir := t.TempDir()
	b, err := logbook.Open(ctx, dir)
	must(t, err)
	defer b.Close()
	for _, name := range []string{"Runa", "Ketil"} {
		must(t, b.PutClient(ctx, record.Client{Name: name}, day))
	}
	other := versionOf(t, b, "Ketil")
	id := func(name string) string { return fmt.Sprintf("(SELECT id FROM client WHERE name = '%s')", name) }
	for _, statement := range []string{
		"INSERT INTO facts (client, entered, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"INSERT INTO note (client, entered, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"UPDATE note SET withdrawn = 1",
		"INSERT INTO report (client, entered, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"UPDATE report SET withdrawn = 1",
		"DELETE FROM report",
		"INSERT INTO assessment (client, day, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"INSERT OR REPLACE INTO assessment (client, day, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"INSERT INTO decision (client, entered, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"INSERT INTO prescription (client, made, week, value) VALUES (" + id("Runa") + ", 1, 1, '{}')",
		"INSERT INTO proposal (client, entered, value) VALUES (" + id("Runa") + ", 1, '{}')",
		"INSERT INTO ticked (client, what, of, day) VALUES (" + id("Runa") + ", 'plan', '', 1)",
		"DELETE FROM ticked",
		"INSERT INTO file (digest, client, received, name, format, size, recordings, original) VALUES (zeroblob(32), " + id("Runa") + ", 1, 'a', 'fit', 1, 1, x'00')",
		"INSERT INTO recording (file, number, id, received, date, workout, measured, series) VALUES (zeroblob(32), 0, 'a', 1, 1, '{}', '{}', x'00'); UPDATE recording SET aside = 'excluded'",
	} {
		before := versionOf(t, b, "Runa")
		_, err := b.DB().ExecContext(ctx, statement)
		must(t, err)
		if versionOf(t, b, "Runa") == before {
			t.Errorf("no other version after %s", statement)
		}
	}
	if versionOf(t, b, "Ketil") != other {
		t.Error("another client changed as well")
	}
	before := versionOf(t, b, "Runa")
	_, err = b.DB().ExecContext(ctx, "UPDATE file SET client = "+id("Ketil"))
	must(t, err)
	if versionOf(t, b, "Runa") == before || versionOf(t, b, "Ketil") == other {
		t.Error("a file that moves changes both clients")
	}
	// Somebody who comes after a forgotten client never has an earlier version of theirs.
	before = versionOf(t, b, "Ketil")
	must(t, b.Forget(ctx, "Ketil"))
	must(t, b.PutClient(ctx, record.Client{Name: "Ketil"}, day))
	if versionOf(t, b, "Ketil") == before {
		t.Error("the version of a forgotten client came back")
	}
	// Another program's change is seen.
	second, err := logbook.Open(ctx, dir)
	must(t, err)
	defer second.Close()
	before = versionOf(t, b, "Runa")
	must(t, second.Tick(ctx, "Runa", record.Tick{What: record.PlanSent, Of: "x", Day: day}))
	if versionOf(t, b, "Runa") == before {
		t.Error("another program's change is not seen")
	}
	ticks, err := b.Ticks(ctx, "Runa")
	must(t, err)
	if len(ticks) != 1 || ticks[0] != (record.Tick{What: record.PlanSent, Of: "x", Day: day}) {
		t.Errorf("ticks %v", ticks)
	}
	must(t, b.Untick(ctx, "Runa", record.PlanSent, day))
	if ticks, err = b.Ticks(ctx, "Runa"); err != nil || len(ticks) != 0 {
		t.Errorf("after taking it back: %v, %v", ticks, err)
	}
}

// What was made from the book before a restore is not taken for what the restored one holds, after the same number of
// changes either.
func TestARestoredBookHasOtherVersions(t *testing.T) {
	b, dir := crewed(t)
	file := filepath.Join(t.TempDir(), "backup.db")
	must(t, b.Backup(t.Context(), file))
	change := func(mass float64) {
		must(t, b.PutClient(t.Context(), record.Client{Name: "Runa", MassKG: mass}, workout.MustDate("2026-10-04")))
	}
	seen := map[logbook.Version]bool{versionOf(t, b, "Runa"): true}
	for i := range 3 {
		change(float64(60 + i))
		seen[versionOf(t, b, "Runa")] = true
	}
	must(t, restored(t, b, dir, file))
	for i := range 4 {
		if v := versionOf(t, b, "Runa"); seen[v] {
			t.Fatalf("after %d changes of the restored book, version %v was there before", i, v)
		}
		change(float64(70 + i))
	}
}
