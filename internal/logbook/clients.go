package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"

	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// PutClient enters a version of a client's facts, of a new client or of a known one. Earlier
// versions stay. The newest version counts from its day on, so a day before it is refused: such a
// version would be hidden from the day after.
func (b *Book) PutClient(ctx context.Context, c record.Client, entered workout.Date) error {
	if c.Name == "" {
		return errors.New("enter client: the name is empty")
	}
	return b.write(ctx, "facts", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, "INSERT INTO client (name) VALUES (?) ON CONFLICT DO NOTHING", c.Name); err != nil {
			return fmt.Errorf("enter %s: %w", c.Name, err)
		}
		return putFacts(ctx, tx, c, entered)
	})
}

// putFacts enters a version of the facts of a client who is in the book.
func putFacts(ctx context.Context, tx *sql.Tx, c record.Client, entered workout.Date) error {
	if entered <= 0 {
		return fmt.Errorf("enter %s: the day of entry is missing", c.Name)
	}
	id, err := clientID(ctx, tx, c.Name)
	if err != nil {
		return err
	}
	var newest workout.Date
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(entered), 0) FROM facts WHERE client = ?", id).Scan(&newest); err != nil {
		return fmt.Errorf("enter %s: %w", c.Name, err)
	}
	if entered < newest {
		return fault.New(fault.Conflict, "facts of %s were already entered on %s; a new version cannot be entered as of %s", c.Name, newest, entered)
	}
	_, err = tx.ExecContext(ctx, "INSERT INTO facts (client, entered, value) VALUES (?, ?, ?)", id, entered, asJSON{c})
	return wrap("enter "+c.Name, err)
}

// Client gives a client's newest facts.
func (b *Book) Client(ctx context.Context, name string) (record.Client, error) {
	return facts(ctx, b.db, name, latest)
}

// FactsBefore gives the facts as they stood at the end of the days before one; ok is false for a client entered since.
func (b *Book) FactsBefore(ctx context.Context, name string, day workout.Date) (c record.Client, ok bool, err error) {
	id, err := clientID(ctx, b.db, name)
	if err != nil {
		return c, false, err
	}
	found, err := values[record.Client](ctx, b.db, "SELECT value FROM facts WHERE client = ? AND entered < ? ORDER BY entered DESC, id DESC LIMIT 1", id, day)
	if err != nil || len(found) == 0 {
		return c, false, wrap("facts of "+name, err)
	}
	return found[0], true, nil
}

// latest is later than every day in a book.
const latest = workout.Date(1 << 40)

func facts(ctx context.Context, q querier, name string, on workout.Date) (record.Client, error) {
	id, err := clientID(ctx, q, name)
	if err != nil {
		return record.Client{}, err
	}
	// The last one by then, else the last one of the first day: the versions of one day correct each other.
	found, err := values[record.Client](ctx, q, `SELECT value FROM facts WHERE client = ?1
		ORDER BY entered <= ?2 DESC, iif(entered <= ?2, -entered, entered), id DESC LIMIT 1`, id, on)
	return first(found, wrap("facts of "+name, err),
		fault.New(fault.Conflict, "%s is in the book without facts: the book is damaged, restore a backup", name).Helped(fault.CheckBook, name))
}

// EnteredFacts are a client's facts as they were entered on a day.
type EnteredFacts struct {
	Entered workout.Date
	record.Client
}

// AllFacts gives all facts that were ever entered of a client, oldest first.
func (b *Book) AllFacts(ctx context.Context, name string) (out []EnteredFacts, err error) {
	id, err := clientID(ctx, b.db, name)
	if err != nil {
		return nil, err
	}
	err = each(ctx, b.db, "SELECT entered, value FROM facts WHERE client = ? ORDER BY id", func(scan scanner) error {
		var v EnteredFacts
		err := scan(&v.Entered, asJSON{&v.Client})
		out = append(out, v)
		return err
	}, id)
	return out, wrap("earlier facts of "+name, err)
}

// Clients lists the names in the book.
func (b *Book) Clients(ctx context.Context) ([]string, error) { return clients(ctx, b.db) }

func clients(ctx context.Context, q querier) ([]string, error) {
	return values[string](ctx, q, "SELECT json_quote(name) FROM client ORDER BY name COLLATE NOCASE, name")
}

// Forget removes a client with everything received, entered and decided, and overwrites what was
// removed. While another program has the book open and reads, old pages may stay in the file; that
// is an error, and they go when that program closes the book.
func (b *Book) Forget(ctx context.Context, name string) error {
	err := b.writeOf(ctx, "forget", name, func(tx *sql.Tx, id int64) error {
		for _, statement := range []string{
			"INSERT INTO forgetting (client) VALUES (?)",
			"DELETE FROM client WHERE id = ?", // everything else depends on it
			"DELETE FROM forgetting WHERE client = ?",
		} {
			if _, err := tx.ExecContext(ctx, statement, id); err != nil {
				return fmt.Errorf("forget %s: %w", name, err)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	var busy, inLog, moved int
	// secure_delete overwrites what is deleted, but not always the copies that rows left behind when they
	// moved between pages (seen in one busy book of ten); VACUUM rewrites every page.
	_, err = b.db.ExecContext(ctx, "VACUUM")
	if err == nil {
		err = b.db.QueryRowContext(ctx, "PRAGMA wal_checkpoint(TRUNCATE)").Scan(&busy, &inLog, &moved)
	}
	if err == nil && busy != 0 {
		err = errors.New("another program is reading the book")
	}
	if err != nil {
		return fmt.Errorf("%s is forgotten, but traces may stay in the file until every program has closed the book: %w", name, err)
	}
	return nil
}
