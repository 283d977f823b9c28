package logbook

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

// schema compares the tables, indexes and triggers with those of a new book.
func (v *verifier) schema(ctx context.Context, tx *sql.Tx) error {
	fresh, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return err
	}
	defer fresh.Close()
	fresh.SetMaxOpenConns(1) // each connection would have a memory of its own
	if err := migrate(ctx, fresh, migrations); err != nil {
		return err
	}
	want, err := definitions(ctx, fresh)
	if err != nil {
		return err
	}
	have, err := definitions(ctx, tx)
	for _, name := range slices.Sorted(maps.Keys(want)) {
		if have[name] != want[name] {
			v.say("the database's own %s is not as this program made it: restore a backup", name)
		}
		delete(have, name)
	}
	for _, name := range slices.Sorted(maps.Keys(have)) {
		v.say("the database holds the %s, which this program did not make: another program has written to the book", name)
	}
	return err
}

func definitions(ctx context.Context, q querier) (map[string]string, error) {
	out := map[string]string{}
	err := each(ctx, q, "SELECT type || ' ' || name, tbl_name || ': ' || coalesce(sql, '') FROM sqlite_schema", func(scan scanner) error {
		var name, text string
		err := scan(&name, &text)
		out[name] = text
		return err
	})
	return out, err
}

// entered is where the log has a row's digest.
type entered struct {
	of string
	entry
}

// what says when and by whom something was entered.
func (e entered) what() string {
	at := e.At
	if t, err := time.Parse(time.RFC3339, e.At); err == nil {
		at = t.Local().Format("2006-01-02 15:04")
	}
	if e.By != "" {
		at += " by " + e.By
	}
	return fmt.Sprintf("entered on %s (entry %d, %s)", at, e.Number, e.Act)
}

// log plays the log from its first entry to its last and compares what should be in the book after it with what is.
func (v *verifier) log(ctx context.Context, tx *sql.Tx) error {
	live := map[string]entered{} // by digest
	var chain []byte
	heads, n, restores := map[int64]string{}, int64(0), int64(0)
	err := each(ctx, tx, "SELECT id, at, by, act, rows, head FROM log ORDER BY id", func(scan scanner) error {
		var e entry
		var head []byte
		if err := scan(&e.Number, &e.At, &e.By, &e.Act, &e.Rows, &head); err != nil {
			return err
		}
		if n++; e.Number != n {
			v.say("the log goes from entry %d to entry %d: what lay between was removed; restore a backup", n-1, e.Number)
			n = e.Number
		}
		if e.Act == restored {
			restores = e.Number
		}
		if chain = e.head(chain); !bytes.Equal(chain, head) {
			v.say("entry %d of the log (%s, %s) does not follow from the one before it: it was changed, added or moved after it was written; restore a backup", e.Number, e.Act, e.At)
			chain = head // so that only the place itself is named
		}
		heads[e.Number] = hex.EncodeToString(head)
		v.play(live, e)
		return nil
	})
	if err != nil {
		return err
	}
	if n == 0 {
		v.say("the log of the book is empty: it was removed; restore a backup")
	}
	for _, h := range v.heads {
		v.head(h, heads, n, restores)
	}
	return v.rows(ctx, tx, live)
}

// play puts what an entry says into what should be in the book.
func (v *verifier) play(live map[string]entered, e entry) {
	for line := range strings.Lines(e.Rows) {
		of, digest, ok := strings.Cut(strings.TrimSpace(line), " ")
		switch {
		case ok && strings.HasPrefix(of, "+"):
			live[digest] = entered{of[1:], e}
		case ok && strings.HasPrefix(of, "-") && live[digest].of == of[1:]:
			delete(live, digest)
		default:
			v.say("entry %d of the log (%s, %s) changed or removed something of %s that was not as it had been entered: somebody had changed it outside the program before", e.Number, e.Act, e.At, strings.TrimLeft(of, "+-"))
		}
	}
}

// head says so if a head from elsewhere does not lie on the log.
func (v *verifier) head(h Head, heads map[int64]string, last, restores int64) {
	have, ok := heads[h.Entry]
	var why string
	switch {
	case ok && strings.HasPrefix(have, h.Digest):
		return
	case !ok && h.Entry > last:
		why = fmt.Sprintf("the log ends with entry %d: its end was cut off, or this is an older or another book", last)
	default:
		why = fmt.Sprintf("entry %d of this log has another seal: the log was written anew, or this is another book", h.Entry)
	}
	if restores > 0 && h.Entry >= restores {
		why += fmt.Sprintf("; entry %d says that a backup was restored, so look for this seal in the book that was kept then", restores)
	}
	v.say("the seal %s %s does not lie on the log: %s", h, h.Where, why)
}

// rows compares every row with its seal and with the log, of which nothing may be left over.
func (v *verifier) rows(ctx context.Context, tx *sql.Tx, live map[string]entered) error {
	all, err := tables(ctx, tx)
	if err != nil {
		return err
	}
	var seals int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM seal").Scan(&seals); err != nil {
		return err
	}
	for _, t := range all {
		err := each(ctx, tx, t.sealed(), func(scan scanner) error {
			var key, owner string
			var digest, was []byte
			var number sql.NullInt64
			if err := scan(&key, &owner, &number, &was, &digest); err != nil {
				return err
			}
			if number.Valid {
				seals--
			}
			is, then := hex.EncodeToString(digest), hex.EncodeToString(was)
			before, known := live[then]
			switch {
			case live[is].of == t.name && is == then && before.Number == number.Int64:
			case known:
				v.say("%s %s%s is not as it was %s: it was changed outside the program; compare it with a backup", t.name, shortKey(key), owner, before.what())
			default:
				v.say("%s %s%s was not entered with the program: it was added or changed outside it; compare it with a backup", t.name, shortKey(key), owner)
			}
			delete(live, then)
			return nil
		})
		if err != nil {
			v.say("the rows of %s cannot be read: %v", t.name, err)
		}
	}
	if seals != 0 {
		v.say("the seals do not match the rows (%d too many): rows or seals were removed or added outside the program; compare with a backup", seals)
	}
	left := slices.SortedFunc(maps.Keys(live), func(a, b string) int {
		return int(live[a].Number-live[b].Number)*2 + strings.Compare(a, b)
	})
	for _, digest := range left {
		what, err := values[string](ctx, tx, "SELECT json_quote(key) FROM seal WHERE of = ? AND digest = unhex(?)", live[digest].of, digest)
		if err != nil {
			return err
		}
		which := "a row of " + live[digest].of // whose seal is gone, too
		if len(what) > 0 {
			which = live[digest].of + " " + shortKey(what[0])
		}
		v.say("%s, %s, is missing or was changed outside the program: look for it in a backup", which, live[digest].what())
	}
	return nil
}

// sealed is the SQL for the key of every row of a table, the client's name for people, the seal's entry, and the row's digest
// as sealed and as it is.
func (t table) sealed() string {
	owner := "''"
	switch {
	case t.name == "client":
		owner = "' (' || t.name || ')'"
	case t.name == "recording":
		owner = "coalesce((SELECT ' of ' || c.name FROM file f JOIN client c ON c.id = f.client WHERE f.digest = t.file), '')"
	case slices.Contains(t.columns, "client"):
		owner = "coalesce((SELECT ' of ' || c.name FROM client c WHERE c.id = t.client), '')"
	}
	return fmt.Sprintf("SELECT %s, %s, s.entry, s.digest, %s FROM %s t LEFT JOIN seal s ON s.of = '%s' AND s.key = %s",
		t.keyOf("t."), owner, t.digestOf("s.salt", "t."), t.name, t.name, t.keyOf("t."))
}

// shortKey is a row's key for people: a digest by its first digits.
func shortKey(key string) string {
	parts := strings.Split(key, ",")
	for i, p := range parts {
		if blob, ok := strings.CutPrefix(p, "X'"); ok {
			parts[i] = strings.ToLower(blob[:min(8, len(blob))])
		}
	}
	return strings.Join(parts, ", ")
}
