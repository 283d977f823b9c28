package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// AddNote enters a note of a client; the book gives it its ID.
func (b *Book) AddNote(ctx context.Context, client string, n progression.Note) error {
	_, err := b.AddNotes(ctx, client, []progression.Note{n})
	return err
}

// AddNotes enters notes of a client, all of them or none, and returns the IDs that the book gave
// them.
func (b *Book) AddNotes(ctx context.Context, client string, notes []progression.Note) (ids []string, err error) {
	for _, n := range notes {
		if n.Date <= 0 || n.Entered <= 0 {
			return nil, fmt.Errorf("enter note of %s: the day that it tells of or the day of entry is missing", client)
		}
	}
	err = b.write(ctx, func(tx *sql.Tx) error {
		who, err := clientID(ctx, tx, client)
		if err != nil {
			return err
		}
		for _, n := range notes {
			n.ID = ""
			text, err := json.Marshal(n)
			if err != nil {
				return fmt.Errorf("enter note of %s: %w", client, err)
			}
			var id int64
			if err := tx.QueryRowContext(ctx, "INSERT INTO note (client, entered, value) VALUES (?, ?, ?) RETURNING id", who, n.Entered, string(text)).Scan(&id); err != nil {
				return fmt.Errorf("enter note of %s: %w", client, err)
			}
			ids = append(ids, fmt.Sprintf("n%d", id))
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return ids, nil
}

// AddReport enters a session without a recording; the book gives it its ID.
func (b *Book) AddReport(ctx context.Context, client string, r progression.Report) error {
	if r.Date <= 0 {
		return fmt.Errorf("enter session of %s: its day is missing", client)
	}
	return b.insert(ctx, client, "session", r.Entered, r, "INSERT INTO report (client, entered, value) VALUES (?, ?, ?)")
}

// Withdraw makes a note ("n12") or a reported session ("r3") count no longer from a day on; it stays
// in the book, and assessments of earlier days still know it.
func (b *Book) Withdraw(ctx context.Context, client, id string, on workout.Date) error {
	table := map[string]string{"n": "note", "r": "report"}[id[:min(1, len(id))]]
	number, err := strconv.ParseInt(strings.TrimLeft(id, "nr"), 10, 64)
	if table == "" || err != nil {
		return fmt.Errorf("withdraw %q: a note is called like n12, a reported session like r3", id)
	}
	return b.write(ctx, func(tx *sql.Tx) error {
		who, err := clientID(ctx, tx, client)
		if err != nil {
			return err
		}
		done, err := tx.ExecContext(ctx, "UPDATE "+table+" SET withdrawn = ? WHERE id = ? AND client = ? AND withdrawn IS NULL", on, number, who)
		if err != nil {
			return fmt.Errorf("withdraw %s of %s: %w", id, client, err)
		}
		if n, err := done.RowsAffected(); err != nil || n == 0 {
			return errors.Join(fmt.Errorf("withdraw %s: %s has no such entry that counts", id, client), err)
		}
		return nil
	})
}

// Record gives everything that was known of a client by the end of a day: received, entered or made
// by then, and done by then, with the facts as entered by then (the first ones for a day before
// them). Everything stands oldest first. A recording set aside in favour of a file that was received
// later still counts; an exclusion holds for every day.
func (b *Book) Record(ctx context.Context, client string, on workout.Date) (r progression.Record, err error) {
	err = b.read(ctx, func(tx *sql.Tx) error {
		if r.Client, err = facts(ctx, tx, client, on); err != nil {
			return err
		}
		id, err := clientID(ctx, tx, client)
		if err != nil {
			return err
		}
		r.Recordings, err = recordings(ctx, tx, selectRecordings+"WHERE f.client = ?2 AND r.received <= ?1 AND r.date <= ?1", on, id)
		if err != nil {
			return err
		}
		if r.Reports, err = values[progression.Report](ctx, tx, `SELECT json_set(value, '$.id', 'r' || id) FROM report
			WHERE client = ?1 AND entered <= ?2 AND coalesce(withdrawn > ?2, true) ORDER BY value ->> 'date', id`, id, on); err != nil {
			return err
		}
		if r.Notes, err = values[progression.Note](ctx, tx, `SELECT json_set(value, '$.id', 'n' || id) FROM note
			WHERE client = ?1 AND entered <= ?2 AND coalesce(withdrawn > ?2, true) ORDER BY value ->> 'date', id`, id, on); err != nil {
			return err
		}
		if r.Decisions, err = decisions(ctx, tx, id); err != nil {
			return err
		}
		r.Prescriptions, err = values[progression.Prescription](ctx, tx, `SELECT value FROM prescription
			WHERE client = ? AND made <= ? ORDER BY week, made`, id, on)
		return err
	})
	if err != nil {
		return progression.Record{}, fmt.Errorf("record of %s: %w", client, err)
	}
	slices.SortFunc(r.Recordings, func(a, b progression.Recording) int {
		if c := a.Workout.Start.Compare(b.Workout.Start); c != 0 {
			return c
		}
		return strings.Compare(a.ID, b.ID)
	})
	return r.Until(on), nil
}
