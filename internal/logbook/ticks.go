package logbook

import (
	"context"
	"database/sql"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Version is a state of what the book holds of one client; every change gives another one.
type Version struct{ client, times int64 }

// Versions are the states of all clients, by name, whichever program changed them last.
func (b *Book) Versions(ctx context.Context) (map[string]Version, error) {
	out := map[string]Version{}
	err := each(ctx, b.db, "SELECT name, id, coalesce(times, 0) FROM client LEFT JOIN changed ON client.id = changed.client", func(scan scanner) error {
		var name string
		var v Version
		err := scan(&name, &v.client, &v.times)
		out[name] = v
		return err
	})
	return out, wrap("read the book", err)
}

// renew gives all clients versions that were never used before. A restored book counts its changes from an earlier
// number, which a desk may have seen with other facts.
func renew(ctx context.Context, b *Book) error {
	return b.write(ctx, restored, func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, "INSERT INTO changed SELECT id, abs(random()) >> 1 FROM client WHERE true ON CONFLICT DO UPDATE SET times = excluded.times")
		return wrap("renew the versions of clients", err)
	})
}

// Tick keeps that the trainer has dealt with something of a client; the last day counts.
func (b *Book) Tick(ctx context.Context, client string, t record.Tick) error {
	return b.writeOf(ctx, "tick", client, func(tx *sql.Tx, id int64) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO ticked (client, what, of, day) VALUES (?, ?, ?, ?)
			ON CONFLICT (client, what, of) DO UPDATE SET day = excluded.day`, id, t.What, t.Of, t.Day)
		return wrap("tick off "+string(t.What)+" of "+client, err)
	})
}

// Untick takes back what was ticked off on a day or later.
func (b *Book) Untick(ctx context.Context, client string, what record.Ticked, since workout.Date) error {
	return b.writeOf(ctx, "untick", client, func(tx *sql.Tx, id int64) error {
		_, err := tx.ExecContext(ctx, "DELETE FROM ticked WHERE client = ? AND what = ? AND day >= ?", id, what, since)
		return wrap("take back "+string(what)+" of "+client, err)
	})
}

// Ticks are what was ticked off of a client, oldest first.
func (b *Book) Ticks(ctx context.Context, client string) (out []record.Tick, err error) {
	err = each(ctx, b.db, "SELECT what, of, day FROM ticked WHERE client = (SELECT id FROM client WHERE name = ?) ORDER BY day, what, of", func(scan scanner) error {
		var t record.Tick
		err := scan(&t.What, &t.Of, &t.Day)
		out = append(out, t)
		return err
	}, client)
	return out, wrap("read what was ticked off of "+client, err)
}
