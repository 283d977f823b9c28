package logbook_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"testing/fstest"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

func TestOpenMakesAPrivateFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "book")
	b := open(t, dir)
	verified(t, b)
	if runtime.GOOS == "windows" {
		t.Skip("permissions are not kept this way here")
	}
	for path, want := range map[string]os.FileMode{dir: 0o700, filepath.Join(dir, logbook.FileName): 0o600} {
		info, err := os.Stat(path)
		must(t, err)
		if got := info.Mode().Perm(); got != want {
			t.Errorf("%s has permissions %o, want %o", path, got, want)
		}
	}
}

func TestOpenInOddlyNamedFolders(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("some of these names are not allowed here")
	}
	for _, name := range []string{"two words", "50% off", "a#b", "what?_pragma=foreign_keys(0)", "øy", "it's", `"quoted"`} {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), name)
			b := open(t, dir)
			must(t, b.PutClient(t.Context(), record.Client{Name: "Runa"}, monday))
			must(t, b.Close())
			if _, err := os.Stat(filepath.Join(dir, logbook.FileName)); err != nil {
				t.Fatal(err)
			}
			again := open(t, dir)
			names, err := again.Clients(t.Context())
			must(t, err)
			same(t, "clients", names, []string{"Runa"})
		})
	}
}

// Every connection of the pool must have the pragmas, not only the first.
func TestEveryConnectionHasThePragmas(t *testing.T) {
	b := open(t, t.TempDir())
	for range 3 {
		c, err := b.DB().Conn(t.Context())
		must(t, err)
		defer c.Close()
		for pragma, want := range map[string]string{
			"journal_mode": "wal", "synchronous": "2", "foreign_keys": "1", "busy_timeout": "10000", "secure_delete": "1",
		} {
			var got string
			must(t, c.QueryRowContext(t.Context(), "PRAGMA "+pragma).Scan(&got))
			if got != want {
				t.Errorf("%s is %s, want %s", pragma, got, want)
			}
		}
	}
}

func TestManyOpenANewBookAtOnce(t *testing.T) {
	dir := t.TempDir()
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			b, err := logbook.Open(t.Context(), dir)
			if err != nil {
				t.Error(err)
				return
			}
			if err := b.Close(); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	verified(t, open(t, dir))
}

func TestOpenRefuses(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, db *sql.DB)
		want []string
	}{
		{"a book of a newer program", func(t *testing.T, db *sql.DB) {
			_, err := db.Exec("PRAGMA user_version = 99")
			must(t, err)
		}, []string{"newer program", "schema 99"}},
		{"another program's database", func(t *testing.T, db *sql.DB) {
			_, err := db.Exec("CREATE TABLE cargo (crates INTEGER)")
			must(t, err)
		}, []string{"not a book"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, logbook.FileName)
			db, err := sql.Open("sqlite", path)
			must(t, err)
			c.make(t, db)
			must(t, db.Close())
			_, err = logbook.Open(t.Context(), dir)
			refused(t, err, append(c.want, path)...)
		})
	}
	t.Run("a file that is no database", func(t *testing.T) {
		dir := t.TempDir()
		must(t, os.WriteFile(filepath.Join(dir, logbook.FileName), []byte("the ferry leaves at nine and comes back at noon, each day but Sunday, and this is no database"), 0o600))
		_, err := logbook.Open(t.Context(), dir)
		refused(t, err, "open book", "not a database")
	})
}

// A book that the first version of the program wrote, made by the first migration alone.
func TestAnEarlierBookOpens(t *testing.T) {
	dir := t.TempDir()
	first, err := logbook.Migrations.ReadFile("migrations/0001_book.sql")
	must(t, err)
	db, err := sql.Open("sqlite", logbook.Source(filepath.Join(dir, logbook.FileName)))
	must(t, err)
	must(t, logbook.Migrate(t.Context(), db, fstest.MapFS{"migrations/0001_book.sql": {Data: first}}))

	ours, _ := crewed(t)
	f := add(t, ours, "Runa", "quay.fit", monday, 2)
	for _, text := range []string{"windy", "Wed chest pain on the stairs, in bed with flu now"} {
		must(t, ours.AddNote(t.Context(), "Runa", record.Note{Date: monday, Entered: monday, Text: text}))
	}
	for _, table := range []string{"client", "facts", "file"} {
		copyRows(t, ours.DB(), db, table, "*")
	}
	copyRows(t, ours.DB(), db, "note", "id, client, entered, value")
	copyRows(t, ours.DB(), db, "recording", "file, number, id, received, date, aside, workout, measured, series")
	for _, old := range []string{ // the sentences of that version
		`UPDATE recording SET aside = 'excluded: worn by Ylva' WHERE number = 0`,
		`UPDATE recording SET aside = 'the same workout as pier.fit' WHERE number = 1`,
		`UPDATE recording SET workout = json_set(workout, '$.remarks', json('[{"code":"gap","text":"heart rate lost for 43 s at 12:10"}]'))`,
		`UPDATE recording SET measured = json_set(measured, '$.drift.why', 'the load varied')`,
	} {
		_, err := db.Exec(old)
		must(t, err)
	}
	must(t, db.Close())

	b := open(t, dir)
	verified(t, b)
	got, err := b.Record(t.Context(), "Runa", monday)
	must(t, err)
	want, err := ours.Record(t.Context(), "Runa", monday)
	must(t, err)
	for i, n := range want.Notes { // notes from before are read once; nothing is entered in hindsight
		want.Notes[i] = n.Suspect()
	}
	if s := want.Notes[1].Suspected; len(s) < 2 || s[0].Sign != signs.Chest {
		t.Errorf("an old note is suspected of %v", s)
	}
	for i, aside := range []record.Fact{record.SetAside(record.Excluded, "worn by Ylva"), record.SetAside(record.SameWorkout, "pier.fit")} {
		x := &want.Recordings[i]
		x.Aside, x.Measured.Drift.Clause = aside, "the load varied"
		x.Workout.Remarks = []workout.Fact{{Code: "gap", Text: "heart rate lost for 43 s at 12:10"}}
	}
	same(t, "record", got, want)
	must(t, b.Include(t.Context(), got.Recordings[0].ID))
	refused(t, b.Include(t.Context(), got.Recordings[1].ID), "no excluded recording")
	raw, _, err := b.Original(t.Context(), f.Digest)
	must(t, err)
	same(t, "original", raw, f.Bytes)
	add(t, b, "Runa", "pier.fit", monday+1, 1)
	verified(t, b)
}

// copyRows copies the named columns of a table from one database into another.
func copyRows(t *testing.T, from, to *sql.DB, table, columns string) {
	t.Helper()
	rows, err := from.Query("SELECT " + columns + " FROM " + table)
	must(t, err)
	defer rows.Close()
	names, err := rows.Columns()
	must(t, err)
	for rows.Next() {
		values, into := make([]any, len(names)), make([]any, len(names))
		marks, list := "", ""
		for i, n := range names {
			into[i] = &values[i]
			marks, list = marks+", ?", list+", "+n
		}
		must(t, rows.Scan(into...))
		_, err := to.Exec(fmt.Sprintf("INSERT INTO %s (%s) VALUES (%s)", table, list[2:], marks[2:]), values...)
		must(t, err)
	}
	must(t, rows.Err())
}

func TestAFailedMigrationChangesNothing(t *testing.T) {
	db, err := sql.Open("sqlite", logbook.Source(filepath.Join(t.TempDir(), "x.db")))
	must(t, err)
	defer db.Close()
	files := fstest.MapFS{
		"migrations/0001_a.sql": {Data: []byte("CREATE TABLE a (x)")},
		"migrations/0002_b.sql": {Data: []byte("CREATE TABLE b (x); INSERT INTO nowhere VALUES (1)")},
	}
	refused(t, logbook.Migrate(t.Context(), db, files), "0002_b.sql", "nowhere")
	var version, tables int
	must(t, db.QueryRow("PRAGMA user_version").Scan(&version))
	must(t, db.QueryRow("SELECT count(*) FROM sqlite_schema").Scan(&tables))
	if version != 1 || tables != 1 {
		t.Errorf("version %d with %d tables, want the state after the first migration", version, tables)
	}
	files["migrations/0002_b.sql"].Data = []byte("CREATE TABLE b (x)")
	must(t, logbook.Migrate(t.Context(), db, files))
}

func TestCopyIsAWholeBook(t *testing.T) {
	b, _ := crewed(t)
	add(t, b, "Runa", "quay.fit", monday, 2)
	dir := t.TempDir()
	must(t, b.Copy(t.Context(), filepath.Join(dir, logbook.FileName)))
	refused(t, b.Copy(t.Context(), filepath.Join(dir, logbook.FileName)), "copy book")
	other := open(t, dir)
	verified(t, other)
	same(t, "counted files", counts(t, other, "Runa", monday), []string{"quay.fit", "quay.fit"})
}

func TestACancelledContextStopsEveryCall(t *testing.T) {
	b, dir := crewed(t)
	f := add(t, b, "Runa", "quay.fit", monday, 1)
	id := f.Digest.Short() + "#0"
	other := export("pier.fit", 100)
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	for name, call := range map[string]func() error{
		"Open":          func() error { _, err := logbook.Open(ctx, dir); return err },
		"PutClient":     func() error { return b.PutClient(ctx, record.Client{Name: "Ylva"}, monday) },
		"Client":        func() error { _, err := b.Client(ctx, "Runa"); return err },
		"Clients":       func() error { _, err := b.Clients(ctx); return err },
		"Forget":        func() error { return b.Forget(ctx, "Runa") },
		"Add":           func() error { return b.Add(ctx, other, "Runa", monday, items(other, "Runa", monday, 1), nil) },
		"Holder":        func() error { _, _, _, err := b.Holder(ctx, f.Digest); return err },
		"Record":        func() error { _, err := b.Record(ctx, "Runa", monday); return err },
		"Series":        func() error { _, err := b.Series(ctx, id); return err },
		"Recording":     func() error { _, err := b.Recording(ctx, id); return err },
		"Original":      func() error { _, _, err := b.Original(ctx, f.Digest); return err },
		"Remeasure":     func() error { return b.Remeasure(ctx, id, items(f, "Runa", monday, 1)[0].Recording.Measured) },
		"Exclude":       func() error { return b.Exclude(ctx, id, "borrowed strap") },
		"Undo":          func() error { return b.Undo(ctx, f.Digest) },
		"Move":          func() error { return b.Move(ctx, f.Digest, "Odd") },
		"AddNote":       func() error { return b.AddNote(ctx, "Runa", record.Note{Date: monday, Entered: monday}) },
		"AddReport":     func() error { return b.AddReport(ctx, "Runa", record.Report{Date: monday, Entered: monday}) },
		"AddDecision":   func() error { return b.AddDecision(ctx, "Runa", record.Decision{Entered: monday}) },
		"AddAssessment": func() error { return b.AddAssessment(ctx, "Runa", record.Assessment{AsOf: monday}) },
		"AddPrescription": func() error {
			return b.AddPrescription(ctx, "Runa", record.Prescription{Made: monday, From: monday})
		},
		"Assessment": func() error { _, err := b.Assessment(ctx, "Runa", monday); return err },
		"Verify":     func() error { _, err := b.Verify(ctx); return err },
		"Copy":       func() error { return b.Copy(ctx, filepath.Join(dir, "copy.db")) },
	} {
		if err := call(); !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v, want that it was cancelled", name, err)
		}
	}
	verified(t, b)
	if names, err := b.Clients(t.Context()); err != nil || len(names) != 2 {
		t.Errorf("clients are %v (%v)", names, err)
	}
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	b, _ := crewed(t)
	empty := open(t, t.TempDir())
	f := add(t, b, "Runa", "quay.fit", monday, 1)
	id := f.Digest.Short() + "#0"
	unknown := workout.DigestOf([]byte("never received"))
	ctx := t.Context()
	call := func(_ any, err error) error { return err }
	for name, c := range map[string]struct {
		err  error
		want []string
	}{
		"an unknown client":          {call(b.Client(ctx, "Ylva")), []string{`client "Ylva"`, "not in the book", "clients are Odd, Runa"}},
		"a client of an empty book":  {call(empty.Client(ctx, "Ylva")), []string{`client "Ylva"`, "no clients yet"}},
		"a record of nobody":         {call(b.Record(ctx, "Ylva", monday)), []string{"Ylva", "clients are"}},
		"an assessment of nobody":    {call(b.Assessment(ctx, "Ylva", monday)), []string{"Ylva", "clients are"}},
		"a note for nobody":          {b.AddNote(ctx, "Ylva", record.Note{Date: monday, Entered: monday}), []string{"Ylva", "clients are"}},
		"a decision for nobody":      {b.AddDecision(ctx, "Ylva", record.Decision{Entered: monday}), []string{"Ylva", "clients are"}},
		"forgetting nobody":          {b.Forget(ctx, "Ylva"), []string{"Ylva", "clients are"}},
		"moving to nobody":           {b.Move(ctx, f.Digest, "Ylva"), []string{"Ylva", "clients are"}},
		"moving to the same":         {b.Move(ctx, f.Digest, "Runa"), []string{"already belongs to Runa"}},
		"moving an unknown file":     {b.Move(ctx, unknown, "Odd"), []string{unknown.Short(), "not in the book"}},
		"undoing an unknown file":    {b.Undo(ctx, unknown), []string{unknown.Short(), "not in the book"}},
		"an unknown series":          {call(b.Series(ctx, "0#0")), []string{`"0#0"`, "not in the book"}},
		"an unknown recording":       {call(b.Recording(ctx, "0#0")), []string{`"0#0"`, "not in the book"}},
		"measuring an unknown":       {b.Remeasure(ctx, "0#0", items(f, "", monday, 1)[0].Recording.Measured), []string{`"0#0"`, "not in the book"}},
		"excluding an unknown":       {b.Exclude(ctx, "0#0", "because"), []string{`"0#0"`, "not in the book"}},
		"excluding without a reason": {b.Exclude(ctx, id, " "), []string{"because is missing", "why the recording is excluded"}},
		"a note without a day":       {b.AddNote(ctx, "Runa", record.Note{Date: monday}), []string{"note of Runa", "day is missing"}},
		"a note about no day":        {b.AddNote(ctx, "Runa", record.Note{Entered: monday}), []string{"note of Runa", "day it is about"}},
		"a report about no day":      {b.AddReport(ctx, "Runa", record.Report{Entered: monday}), []string{"session of Runa", "day is missing"}},
		"a decision without a day":   {b.AddDecision(ctx, "Runa", record.Decision{}), []string{"decision for Runa", "day is missing"}},
		"a prescription for no week": {b.AddPrescription(ctx, "Runa", record.Prescription{Made: monday}), []string{"prescription of Runa", "first day"}},
		"a client without a name":    {b.PutClient(ctx, record.Client{}, monday), []string{"name is empty"}},
		"a client without a day":     {b.PutClient(ctx, record.Client{Name: "Ylva"}, 0), []string{"Ylva", "day of entry is missing"}},
		"facts before the newest":    {b.PutClient(ctx, record.Client{Name: "Runa"}, monday-1), []string{"already entered on 2026-09-07", "2026-09-06"}},
	} {
		t.Run(name, func(t *testing.T) { refused(t, c.err, c.want...) })
	}
	if _, _, err := b.Original(ctx, unknown); err == nil {
		t.Error("an unknown file has an original")
	}
	if who, on, ok, err := b.Holder(ctx, unknown); who != "" || on != 0 || ok || err != nil {
		t.Errorf("an unknown file is held by %q (%v, %v, %v)", who, on, ok, err)
	}
	verified(t, b)
}
