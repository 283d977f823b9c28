package logbook

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"database/sql"
	"database/sql/driver"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"modernc.org/sqlite"
)

// A row is sealed by a digest of all its columns, made by the database for every table from its schema. While the program
// writes, triggers that only its own connection has note each row that is touched, with the digest of what it was. What
// others change in the file passes no such trigger, so the log does not know of it.

func init() { // the driver has no other way to add a function before it opens anything
	sqlite.MustRegisterDeterministicScalarFunction("row_digest", -1, rowDigest)
}

// rowDigest is the SHA-256 over a salt, the name of a table, and the name and value of every column that is not NULL, each
// with its type and length. A column that is added later and left empty changes no digest.
func rowDigest(_ *sqlite.FunctionContext, args []driver.Value) (driver.Value, error) {
	h := sha256.New()
	put := func(v driver.Value) {
		switch v := v.(type) {
		case []byte:
			fmt.Fprintf(h, "blob %d:", len(v))
			h.Write(v)
		default:
			text := fmt.Sprint(v)
			fmt.Fprintf(h, "%T %d:%s", v, len(text), text)
		}
	}
	if len(args) < 2 {
		return nil, errors.New("row_digest needs a salt and a table")
	}
	put(args[0])
	put(args[1])
	for i := 2; i+1 < len(args); i += 2 {
		if args[i+1] != nil {
			put(args[i])
			put(args[i+1])
		}
	}
	return h.Sum(nil), nil
}

// table is what sealing needs to know of a table.
type table struct {
	name    string
	key     []string // columns of the primary key
	columns []string
}

// tables are all tables but those of the log itself.
func tables(ctx context.Context, q querier) (out []table, err error) {
	err = each(ctx, q, `SELECT t.name, c.name, c.pk FROM sqlite_schema t, pragma_table_info(t.name) c
		WHERE t.type = 'table' AND t.name NOT IN ('log', 'seal') AND t.name NOT LIKE 'sqlite%' ORDER BY t.name, c.cid`, func(scan scanner) error {
		var name, column string
		var pk int
		err := scan(&name, &column, &pk)
		if n := len(out); n == 0 || out[n-1].name != name {
			out = append(out, table{name: name})
		}
		t := &out[len(out)-1]
		t.columns = append(t.columns, column)
		if pk > 0 {
			t.key = append(t.key, column)
		}
		return err
	})
	return out, wrap("read the schema", err)
}

// keyOf is the SQL for a row's key: its primary key as a list of SQL values. row is "NEW.", "OLD." or "".
func (t table) keyOf(row string) string {
	var parts []string
	for _, k := range t.key {
		parts = append(parts, "quote("+row+k+")")
	}
	return strings.Join(parts, "||','||")
}

// digestOf is the SQL for a row's digest with a salt.
func (t table) digestOf(salt, row string) string {
	out := "row_digest(" + salt + ", '" + t.name + "'"
	for _, c := range t.columns {
		out += ", '" + c + "', " + row + c
	}
	return out + ")"
}

// note is the SQL that notes that a row is touched.
func (t table) note(row, was string) string {
	return fmt.Sprintf("INSERT INTO touched VALUES ('%s', %s, %s)", t.name, t.keyOf(row), was)
}

const touchedTable = "CREATE TEMP TABLE touched (of TEXT, key TEXT, was BLOB)"

// watch lets the connection of a transaction note which rows are touched from now on, and what they were.
func watch(ctx context.Context, tx *sql.Tx, all []table) error {
	var watching bool
	if err := tx.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM temp.sqlite_schema WHERE name = 'touched')").Scan(&watching); err != nil || watching {
		return wrap("watch the book", err)
	}
	statements := []string{touchedTable}
	for _, t := range all {
		on := func(event string, notes ...string) {
			statements = append(statements, fmt.Sprintf("CREATE TEMP TRIGGER touched_%s_%s AFTER %s ON main.%s BEGIN %s; END", t.name, event, event, t.name, strings.Join(notes, "; ")))
		}
		was := t.note("OLD.", t.digestOf("(SELECT salt FROM seal WHERE of = '"+t.name+"' AND key = "+t.keyOf("OLD.")+")", "OLD."))
		on("INSERT", t.note("NEW.", "NULL"))
		on("UPDATE", was, t.note("NEW.", "NULL")) // its key may be another
		on("DELETE", was)
	}
	for _, s := range statements {
		if _, err := tx.ExecContext(ctx, s); err != nil {
			return fmt.Errorf("watch the book: %w", err)
		}
	}
	return nil
}

// touched is a row that an act has touched.
type touched struct {
	of, key string
	was     []byte // the digest of what it was, nil for a row that is new
}

// seal seals every row that was touched as it is now, and gives the lines of the log for that. Rows that are what they were
// stay as they are sealed. A row that somebody else had changed is taken out as what it had become: the log then lacks what it
// was before, and verifying says so.
func seal(ctx context.Context, tx *sql.Tx, schema []table, entry int64) (lines []string, err error) {
	var all []touched
	// Of several times, the first says what the row was: bare columns beside min() are those of its row.
	err = each(ctx, tx, "SELECT of, key, was, min(rowid) FROM touched GROUP BY of, key ORDER BY min(rowid)", func(scan scanner) error {
		var t touched
		var number int64
		err := scan(&t.of, &t.key, &t.was, &number)
		all = append(all, t)
		return err
	})
	if err != nil || len(all) == 0 {
		return nil, wrap("seal the book", err)
	}
	if _, err := tx.ExecContext(ctx, "DELETE FROM touched"); err != nil {
		return nil, fmt.Errorf("seal the book: %w", err)
	}
	for _, t := range all {
		in := slices.IndexFunc(schema, func(x table) bool { return x.name == t.of })
		more, err := sealRow(ctx, tx, entry, schema[in], t)
		if err != nil {
			return nil, fmt.Errorf("seal %s %s: %w", t.of, t.key, err)
		}
		lines = append(lines, more...)
	}
	return lines, nil
}

// sealRow seals one row.
func sealRow(ctx context.Context, tx *sql.Tx, entry int64, t table, row touched) (lines []string, err error) {
	salt := make([]byte, 16)
	_, _ = rand.Read(salt) // never fails
	var is, same []byte    // its digest with the new salt, and with the one that it had
	before := "NULL"       // a new row had none
	if row.was != nil {
		before = t.digestOf("(SELECT salt FROM seal WHERE of = ?2 AND key = ?3)", "")
	}
	err = tx.QueryRowContext(ctx, fmt.Sprintf("SELECT %s, %s FROM %s WHERE (%s) = (%s)", t.digestOf("?1", ""),
		before, t.name, strings.Join(t.key, ", "), row.key), salt, row.of, row.key).Scan(&is, &same)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return nil, err
	}
	if row.was != nil && string(row.was) == string(same) {
		return nil, nil
	}
	if row.was != nil {
		lines = append(lines, "-"+row.of+" "+hex.EncodeToString(row.was))
	}
	if is == nil {
		_, err = tx.ExecContext(ctx, "DELETE FROM seal WHERE of = ? AND key = ?", row.of, row.key)
		return lines, err
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO seal (of, key, entry, salt, digest) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO UPDATE SET entry = excluded.entry, salt = excluded.salt, digest = excluded.digest",
		row.of, row.key, entry, salt, is)
	return append(lines, "+"+row.of+" "+hex.EncodeToString(is)), err
}

// sealAll seals a book that has no log yet as it is.
func sealAll(ctx context.Context, tx *sql.Tx) error {
	all, err := tables(ctx, tx)
	if err != nil {
		return err
	}
	statements := []string{touchedTable}
	for _, t := range all {
		statements = append(statements, fmt.Sprintf("INSERT INTO touched SELECT '%s', %s, NULL FROM %s", t.name, t.keyOf(""), t.name))
	}
	for _, s := range statements {
		if _, err := tx.ExecContext(ctx, s); err != nil {
			return fmt.Errorf("seal the book: %w", err)
		}
	}
	if _, err := enter(ctx, tx, all, begin, time.Now()); err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, "DROP TABLE temp.touched")
	return wrap("seal the book", err)
}
