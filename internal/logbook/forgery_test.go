package logbook_test

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// fullBook is a book with something in every table, closed.
func fullBook(tb testing.TB) (dir string) {
	tb.Helper()
	b, dir := decided(tb)
	ctx := tb.Context()
	must(tb, b.Set(ctx, "by", "Marit"))
	add(tb, b, "Runa", "quay.fit", monday, 2)
	pier := add(tb, b, "Runa", "pier.fit", monday+1, 1)
	add(tb, b, "Odd", "deck.fit", monday, 1)
	long := export("long.fit", 200_000)
	must(tb, b.Add(ctx, long, "Runa", monday+2, items(long, "Runa", monday+2, 1), nil))
	must(tb, b.Exclude(ctx, pier.Digest.Short()+"#0", "borrowed strap"))
	must(tb, b.AddNote(ctx, "Runa", record.Note{Date: monday, Entered: monday, Symptoms: []signs.Sign{signs.Chest}, Text: "on the quay"}))
	must(tb, b.AddNote(ctx, "Odd", record.Note{Date: monday, Entered: monday, Text: "windy"}))
	must(tb, b.AddReport(ctx, "Runa", record.Report{Date: monday, Entered: monday, Sport: "hauling", Minutes: 20}))
	must(tb, b.AddAssessment(ctx, "Runa", record.Assessment{AsOf: monday, Client: "Runa"}))
	must(tb, b.AddPrescription(ctx, "Runa", record.Prescription{Made: monday, From: monday + 1, Client: "Runa", Minutes: 30}))
	must(tb, b.AddAnswer(ctx, "Runa", proposal.Answer{Entered: monday, Because: "as she says"}, nil))
	must(tb, b.Tick(ctx, "Runa", record.Tick{What: "sent", Of: "plan", Day: monday}))
	must(tb, b.AddPolicy(ctx, logbook.KeptPolicy{Entered: monday, By: "Marit", Because: "x", Text: "rules = 1"}))
	must(tb, b.AddLink(ctx, logbook.Link{Client: "Runa", Token: workout.DigestOf([]byte("token")), Made: monday, Expires: monday + 90}))
	must(tb, b.Forget(ctx, "Odd"))
	must(tb, b.PutClient(ctx, record.Client{Name: "Ylva", Stage: 2, Since: monday}, monday))
	must(tb, b.Close())
	return dir
}

// forge runs statements on the database file as somebody would who knows it well: nothing in it resists, and its own triggers
// are back in place afterwards.
func forge(tb testing.TB, dir string, statements ...string) {
	tb.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, logbook.FileName))
	must(tb, err)
	defer db.Close()
	db.SetMaxOpenConns(1)
	var again []string
	rows, err := db.Query("SELECT name, sql FROM sqlite_schema WHERE type = 'trigger' ORDER BY rowid")
	must(tb, err)
	var drop []string
	for rows.Next() {
		var name, text string
		must(tb, rows.Scan(&name, &text))
		drop, again = append(drop, "DROP TRIGGER "+name), append(again, text)
	}
	must(tb, rows.Err())
	for _, s := range slices.Concat([]string{"PRAGMA foreign_keys = 0", "PRAGMA synchronous = OFF", "BEGIN"}, drop, statements, again, []string{"COMMIT"}) {
		if _, err := db.Exec(s); err != nil && !strings.Contains(err.Error(), "no such table: main.log") { // a forgery without a log
			tb.Fatalf("%s: %v", s, err)
		}
	}
}

// found is what verifying says about the book in a folder, compared with the seal beside it and others.
func found(tb testing.TB, dir string, heads ...logbook.Head) []string {
	tb.Helper()
	b, err := logbook.Open(tb.Context(), dir)
	if err != nil {
		return []string{err.Error()}
	}
	defer b.Close()
	beside, err := logbook.Beside(dir)
	if err != nil {
		return []string{err.Error()}
	}
	problems, err := b.Verify(tb.Context(), append(heads, beside)...)
	must(tb, err)
	return problems
}

// copyBook copies a closed book into a new folder.
func copyBook(tb testing.TB, dir string) string {
	tb.Helper()
	to := tb.TempDir()
	must(tb, os.CopyFS(to, os.DirFS(dir)))
	return to
}

// headOf is the end of the log of a closed book.
func headOf(tb testing.TB, dir string) logbook.Head {
	tb.Helper()
	h, err := logbook.Beside(dir)
	must(tb, err)
	return h
}

// Whatever column of whatever table is changed, and whatever row is removed or added: verifying names the table.
func TestEveryTableIsSealed(t *testing.T) {
	dir := fullBook(t)
	if p := found(t, dir); len(p) > 0 {
		t.Fatalf("before: %q", p)
	}
	db, err := sql.Open("sqlite", filepath.Join(dir, logbook.FileName))
	must(t, err)
	defer db.Close()
	rows, err := db.Query(`SELECT t.name, c.name, c.type FROM sqlite_schema t, pragma_table_info(t.name) c
		WHERE t.type = 'table' AND t.name <> 'forgetting' AND t.name NOT LIKE 'sqlite%'`)
	must(t, err)
	forgeries := map[string][]string{}
	for rows.Next() {
		var table, column, kind string
		must(t, rows.Scan(&table, &column, &kind))
		if forgeries[table] == nil {
			forgeries[table] = []string{fmt.Sprintf("DELETE FROM %s WHERE rowid IN (SELECT rowid FROM %s LIMIT 1)", table, table)}
			if table == "seal" {
				forgeries[table] = []string{"DELETE FROM seal WHERE of = 'note'", "INSERT INTO seal VALUES ('note', '99', 3, randomblob(16), randomblob(32))"}
			}
		}
		other := map[string]string{
			"INTEGER": fmt.Sprintf("coalesce(%s, 1) + 1", column), "BLOB": fmt.Sprintf("CAST(randomblob(length(%s)) AS BLOB)", column),
			"TEXT": fmt.Sprintf("iif(json_valid(%[1]s) AND %[1]s LIKE '{%%', json_set(%[1]s, '$.forged', 1), %[1]s || 'x')", column),
		}[kind]
		if table == "link" && column == "answers" {
			other = "1 - answers"
		}
		one := fmt.Sprintf("rowid = (SELECT max(rowid) FROM %s)", table)
		if table == "seal" {
			one = "of = 'note'"
		}
		forgeries[table] = append(forgeries[table], fmt.Sprintf("UPDATE %s SET %s = %s WHERE %s", table, column, other, one))
	}
	must(t, rows.Err())
	for table, insert := range map[string]string{
		"client": "(name) VALUES ('Solveig')", "facts": "(client, entered, value) SELECT client, entered, value FROM facts LIMIT 1",
		"file":       "SELECT zeroblob(32), client, received, name, format, size, 0, original FROM file LIMIT 1",
		"recording":  "SELECT file, 9, 'x#9', received, date, aside, workout, measured, series, behind, aside_of FROM recording LIMIT 1",
		"note":       "(client, entered, value) SELECT client, entered, value FROM note LIMIT 1",
		"report":     "(client, entered, value) SELECT client, entered, value FROM report LIMIT 1",
		"assessment": "SELECT client, day + 1, value FROM assessment LIMIT 1", "decision": "(client, entered, value) SELECT client, entered, value FROM decision LIMIT 1",
		"prescription": "(client, made, week, value) SELECT client, made, week, value FROM prescription LIMIT 1",
		"proposal":     "(client, entered, value) SELECT client, entered, value FROM proposal LIMIT 1", "setting": "VALUES ('drop', '/tmp')",
		"changed": "VALUES (99, 1)", "ticked": "SELECT client, what, 'other', day FROM ticked LIMIT 1", "policy": "(entered, by, because, text) VALUES (1, '', '', 'x')",
		"link": "(client, token, made, expires, answers) SELECT client, zeroblob(32), made, expires, 1 FROM link LIMIT 1", "log": "SELECT id + 1, at, by, act, rows, head FROM log ORDER BY id DESC LIMIT 1",
	} {
		forgeries[table] = append(forgeries[table], "INSERT INTO "+table+" "+insert)
	}
	n := 0
	for table, all := range forgeries {
		for _, f := range all {
			n++
			to := copyBook(t, dir)
			forge(t, to, f)
			if p := strings.Join(found(t, to), "\n"); !strings.Contains(p, table) && !(table == "seal" && strings.Contains(p, "note")) { // whose seals they are
				t.Errorf("%s: verifying says %q", f, p)
			}
		}
	}
	t.Logf("%d forgeries in %d tables", n, len(forgeries))
	if n < 100 || len(forgeries) != 17 {
		t.Errorf("only %d forgeries in %d tables: is something left out?", n, len(forgeries))
	}
}

// Forgeries that take more than one statement, or the file itself.
func TestForgeriesAreFound(t *testing.T) {
	dir := fullBook(t)
	earlier := copyBook(t, dir)
	b := open(t, dir)
	must(t, b.AddNote(t.Context(), "Runa", record.Note{Date: monday + 2, Entered: monday + 2, Text: "fainted"}))
	must(t, b.Close())
	page := headOf(t, dir) // as it is printed
	page.Where = "on a printed page"

	sql := func(statements ...string) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) { forge(t, dir, statements...) }
	}
	act := func(f func(b *logbook.Book) error) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			b := open(t, dir)
			must(t, f(b))
			must(t, b.Close())
		}
	}
	write := func(b []byte) func(t *testing.T, dir string) {
		return func(t *testing.T, dir string) {
			must(t, os.WriteFile(filepath.Join(dir, logbook.FileName), b, 0o600))
		}
	}
	noSeal := func(t *testing.T, dir string) { must(t, os.Remove(filepath.Join(dir, logbook.HeadName))) }
	old, err := os.ReadFile(filepath.Join(earlier, logbook.FileName))
	must(t, err)
	another, err := os.ReadFile(filepath.Join(fullBook(t), logbook.FileName))
	must(t, err)
	begunAgain := []string{"DROP TABLE log", "DROP TABLE seal", "PRAGMA user_version = 10"}
	ctx := context.Background()
	for _, x := range []struct {
		name  string
		does  []func(t *testing.T, dir string)
		heads []logbook.Head
		says  string
	}{
		{"an emptied file", []func(*testing.T, string){write(nil)}, nil, "everything in the book is gone"},
		{"a file of another kind", []func(*testing.T, string){write([]byte(strings.Repeat("the ferry leaves at nine\n", 200)))}, nil, "not a database"},
		{"no file", []func(*testing.T, string){func(t *testing.T, dir string) {
			must(t, os.Remove(filepath.Join(dir, logbook.FileName)))
		}}, nil, "the book is gone"},
		{"another book", []func(*testing.T, string){write(another)}, nil, "(book.seal) does not lie on the log"},
		{"an older copy of the book", []func(*testing.T, string){write(old)}, nil, "cut off"},
		{"an older copy, and no seal beside it", []func(*testing.T, string){write(old), noSeal}, []logbook.Head{page}, "on a printed page does not lie on the log"},
		{"an older copy that was used since", []func(*testing.T, string){write(old), act(func(b *logbook.Book) error {
			return b.AddNote(ctx, "Runa", record.Note{Date: monday + 3, Entered: monday + 3, Text: "fine"})
		})}, nil, "(book.seal) does not lie on the log"},
		{"a log whose end is cut", []func(*testing.T, string){sql("DELETE FROM log WHERE id = (SELECT max(id) FROM log)")}, nil, "cut off"},
		{"a log that lacks an entry", []func(*testing.T, string){sql("DELETE FROM log WHERE id = 7")}, nil, "what lay between was removed"},
		{"a log without a beginning", []func(*testing.T, string){sql("DELETE FROM log WHERE id < 4")}, nil, "what lay between was removed"},
		{"no log", []func(*testing.T, string){sql("DELETE FROM log")}, nil, "the log of the book is empty"},
		{"no log and no seals", []func(*testing.T, string){sql("DELETE FROM log", "DELETE FROM seal")}, nil, "the log of the book is empty"},
		{"everything deleted", []func(*testing.T, string){sql("DELETE FROM client", "DELETE FROM facts", "DELETE FROM file", "DELETE FROM recording", "DELETE FROM note", "DELETE FROM report",
			"DELETE FROM assessment", "DELETE FROM decision", "DELETE FROM prescription", "DELETE FROM proposal")}, nil, "decision 5, entered on"},
		{"a log that was begun again", []func(*testing.T, string){sql(begunAgain...)}, nil, "(book.seal) does not lie on the log"},
		{"a log that was begun again, and no seal beside it", []func(*testing.T, string){sql(begunAgain...), noSeal}, []logbook.Head{page}, "on a printed page does not lie on the log"},
		{"another clock in an entry", []func(*testing.T, string){sql("UPDATE log SET at = '2020-01-01T00:00:00Z' WHERE id = 5")}, nil, "entry 5 of the log"},
		{"another person in an entry", []func(*testing.T, string){sql("UPDATE log SET by = 'Ketil' WHERE id = 9")}, nil, "entry 9 of the log"},
		{"swapped names", []func(*testing.T, string){sql("UPDATE client SET name = 'x' WHERE name = 'Runa'", "UPDATE client SET name = 'Runa' WHERE name = 'Ylva'",
			"UPDATE client SET name = 'Ylva' WHERE name = 'x'")}, nil, "client 1 (Ylva) is not as it was entered"},
		{"a file moved to another client", []func(*testing.T, string){sql("UPDATE file SET client = (SELECT id FROM client WHERE name = 'Ylva') WHERE name = 'quay.fit'")}, nil, "of Ylva is not as it was entered"},
		{"a symptom removed", []func(*testing.T, string){sql("UPDATE note SET value = json_remove(value, '$.symptoms')")}, nil, "note 1 of Runa is not as it was entered on"},
		{"a note with another day", []func(*testing.T, string){sql("UPDATE note SET value = json_set(value, '$.date', '2026-09-01')")}, nil, "note 1 of Runa"},
		{"a screening fact", []func(*testing.T, string){sql("UPDATE facts SET value = json_set(value, '$.screening', json('{\"disease\":\"none\"}'))")}, nil, "facts 1 of Runa"},
		{"a clearance", []func(*testing.T, string){sql("UPDATE facts SET value = json_set(value, '$.clearance', '2026-09-01') WHERE client = 1")}, nil, "facts 1 of Runa"},
		{"a measurement", []func(*testing.T, string){sql("UPDATE recording SET measured = json_set(measured, '$.heart_rate.elapsed_s', 6) WHERE number = 1")}, nil, "recording"},
		{"a recording that counts again", []func(*testing.T, string){sql("UPDATE recording SET aside = '', aside_of = ''")}, nil, "recording"},
		{"an original with another one's name", []func(*testing.T, string){sql("UPDATE file SET name = 'other.fit' WHERE name = 'quay.fit'")}, nil, "file"},
		{"a changed original with a digest that fits", []func(*testing.T, string){sql("UPDATE file SET original = (SELECT original FROM file WHERE name = 'pier.fit'), digest = zeroblob(32) WHERE name = 'quay.fit'")}, nil, "file 00000000"},
		{"a decision sealed anew", []func(*testing.T, string){func(t *testing.T, dir string) { forge(t, dir, resealed(t, dir)...) }}, nil, "decision"},
		{"a change with a seal that fits", []func(*testing.T, string){sql("UPDATE note SET entered = entered + 1", "UPDATE seal SET digest = randomblob(32) WHERE of = 'note'")}, nil, "note"},
		{"a note changed outside, then withdrawn", []func(*testing.T, string){sql("UPDATE note SET value = json_set(value, '$.text', 'fine')"), act(func(b *logbook.Book) error {
			return b.Withdraw(ctx, "Runa", "n1", monday+4)
		})}, nil, "was not as it had been entered"},
		{"a file that came from outside, then undone", []func(*testing.T, string){sql("UPDATE file SET name = 'sloop.fit' WHERE name = 'pier.fit'"), act(func(b *logbook.Book) error {
			return b.Undo(ctx, export("pier.fit", 500).Digest)
		})}, nil, "was not as it had been entered"},
		{"a trigger that is gone", []func(*testing.T, string){func(t *testing.T, dir string) { raw(t, dir, "DROP TRIGGER decision_kept") }}, nil, "trigger decision_kept"},
		{"a trigger from outside", []func(*testing.T, string){func(t *testing.T, dir string) {
			raw(t, dir, "CREATE TRIGGER x AFTER INSERT ON note BEGIN DELETE FROM note WHERE id = NEW.id; END")
		}}, nil, "trigger x"},
		{"a table from outside", []func(*testing.T, string){func(t *testing.T, dir string) { raw(t, dir, "CREATE TABLE cargo (crates INTEGER)") }}, nil, "table cargo"},
		{"another seal beside the book", []func(*testing.T, string){func(t *testing.T, dir string) {
			must(t, os.WriteFile(filepath.Join(dir, logbook.HeadName), []byte("3-0123456789abcdef\n"), 0o600))
		}}, nil, "entry 3 of this log has another seal"},
		{"half a seal beside the book", []func(*testing.T, string){func(t *testing.T, dir string) {
			must(t, os.WriteFile(filepath.Join(dir, logbook.HeadName), []byte("3-012"), 0o600))
		}}, nil, "is not the seal of a book"},
	} {
		t.Run(x.name, func(t *testing.T) {
			to := copyBook(t, dir)
			for _, f := range x.does {
				f(t, to)
			}
			if p := strings.Join(found(t, to, x.heads...), "\n"); !strings.Contains(p, x.says) {
				t.Errorf("verifying says %q, want %q", p, x.says)
			}
		})
	}
	if p := found(t, dir, page); len(p) > 0 {
		t.Errorf("the book itself: %q", p)
	}
}

// raw runs one statement on the database file.
func raw(t *testing.T, dir, statement string) {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, logbook.FileName))
	must(t, err)
	_, err = db.Exec(statement)
	must(t, err)
	must(t, db.Close())
}

// resealed changes the reason of a client's first decision and seals all her decisions anew.
func resealed(t *testing.T, dir string) (statements []string) {
	t.Helper()
	b := open(t, dir)
	defer b.Close()
	r, err := b.Record(t.Context(), "Runa", monday+99)
	must(t, err)
	var before *record.Decision
	for i, d := range r.Decisions {
		if i == 0 {
			d.Because = "she was ready"
		}
		d = d.Seal(before)
		before = &d
		statements = append(statements, fmt.Sprintf(`UPDATE decision SET value = json_set(value, '$.because', %s, '$.before', '%s', '$.digest', '%s') WHERE id = (SELECT id FROM decision WHERE client = 1 ORDER BY id LIMIT 1 OFFSET %d)`,
			"'"+d.Because+"'", d.Before, d.Digest, i))
	}
	return statements
}

// Of single bits flipped anywhere in the file, each is found, or no value in any table is another than before.
func TestASingleBitIsFoundOrChangesNothing(t *testing.T) {
	dir := fullBook(t)
	whole, err := os.ReadFile(filepath.Join(dir, logbook.FileName))
	must(t, err)
	want := everyValue(t, dir)
	random := rand.New(rand.NewPCG(7, 11))
	caught, harmless := 0, 0
	for range 150 {
		at, bit := random.IntN(len(whole)), byte(1)<<random.IntN(8)
		broken := bytes.Clone(whole)
		broken[at] ^= bit
		to := t.TempDir()
		must(t, os.CopyFS(to, os.DirFS(dir)))
		must(t, os.WriteFile(filepath.Join(to, logbook.FileName), broken, 0o600))
		if len(found(t, to)) > 0 {
			caught++
			continue
		}
		harmless++
		if got := everyValue(t, to); got != want {
			t.Errorf("bit %08b of byte %d: a value changed and verifying says nothing", bit, at)
		}
	}
	t.Logf("%d found, %d without effect", caught, harmless)
	if caught < 75 {
		t.Errorf("only %d of 150 were found: is the book nearly empty?", caught)
	}
}

// everyValue writes down every value of every table and the schema.
func everyValue(t *testing.T, dir string) string {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, logbook.FileName))
	must(t, err)
	defer db.Close()
	var out strings.Builder
	for _, table := range []string{
		"sqlite_schema", "client", "facts", "file", "recording", "note", "report", "assessment", "prescription", "decision", "proposal",
		"setting", "ticked", "policy", "link", "changed", "forgetting", "log", "seal",
	} {
		rows, err := db.Query("SELECT * FROM " + table)
		must(t, err)
		names, err := rows.Columns()
		must(t, err)
		for rows.Next() {
			values, into := make([]any, len(names)), make([]any, len(names))
			for i := range names {
				into[i] = &values[i]
			}
			must(t, rows.Scan(into...))
			fmt.Fprintf(&out, "%s %v\n", table, values)
		}
		must(t, rows.Err())
		must(t, rows.Close())
	}
	return out.String()
}
