package logbook

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Exclude keeps a recording but does not count it, for a reason. A recording of the same workout
// that was set aside in its favour counts again.
func (b *Book) Exclude(ctx context.Context, id, because string) error {
	if strings.TrimSpace(because) == "" {
		return fault.In("because", "", "is missing: say why the recording is excluded")
	}
	return b.write(ctx, "exclude", func(tx *sql.Tx) error {
		var file []byte
		var others int // recordings of the same file that count
		err := tx.QueryRowContext(ctx, `SELECT file, (SELECT count(*) FROM recording o WHERE o.file = r.file AND o.aside = '' AND o.id <> r.id)
			FROM recording r WHERE id = ?`, id).Scan(&file, &others)
		if errors.Is(err, sql.ErrNoRows) {
			return notThere(id)
		}
		if err == nil && others == 0 {
			err = release(ctx, tx, file)
		}
		if err != nil {
			return fmt.Errorf("exclude %s: %w", id, err)
		}
		_, err = tx.ExecContext(ctx, "UPDATE recording SET aside = ?, aside_of = ?, behind = NULL WHERE id = ?", record.Excluded, because, id)
		return wrap("exclude "+id, err)
	})
}

// Include lets an excluded recording count again.
func (b *Book) Include(ctx context.Context, id string) error {
	return b.write(ctx, "include", func(tx *sql.Tx) error {
		missing := fault.New(fault.NotFound, "no excluded recording has the ID %q", id).Helped(fault.SeePast, "")
		return change(ctx, tx, "include "+id, missing, "UPDATE recording SET aside = '', aside_of = '' WHERE id = ? AND aside = ?", id, record.Excluded)
	})
}

// Undo removes a received file from the book, with its recordings. What had been set aside
// in its favour counts again.
func (b *Book) Undo(ctx context.Context, d workout.Digest) error {
	return b.write(ctx, "undo", func(tx *sql.Tx) error {
		if err := release(ctx, tx, d[:]); err != nil {
			return fmt.Errorf("undo file %s: %w", d.Short(), err)
		}
		return change(ctx, tx, "undo file "+d.Short(), noFile(d), "DELETE FROM file WHERE digest = ?", d[:])
	})
}

// Move gives a received file to another client. Its days are then those of that client's time zone;
// its measurements are still made with the other's facts, until Remeasure.
func (b *Book) Move(ctx context.Context, d workout.Digest, client string) error {
	return b.write(ctx, "move", func(tx *sql.Tx) error {
		to, err := facts(ctx, tx, client, latest)
		if err != nil {
			return err
		}
		from, _, ok, err := holder(ctx, tx, d)
		switch {
		case err != nil:
			return err
		case !ok:
			return noFile(d)
		case from == client:
			return fault.New(fault.Conflict, "file %s already belongs to %s", d.Short(), client)
		}
		if err := move(ctx, tx, d, client); err != nil {
			return fmt.Errorf("move file %s to %s: %w", d.Short(), client, err)
		}
		moved, err := recordings(ctx, tx, selectRecordings+"WHERE r.file = ?2", latest, d[:])
		if err != nil {
			return err
		}
		for _, r := range moved {
			date := workout.DateOf(r.Workout.Start, to.Location())
			if _, err := tx.ExecContext(ctx, "UPDATE recording SET date = ? WHERE id = ?", date, r.ID); err != nil {
				return fmt.Errorf("move recording %s to %s: %w", r.ID, client, err)
			}
		}
		return nil
	})
}

func move(ctx context.Context, tx *sql.Tx, d workout.Digest, client string) error {
	if err := release(ctx, tx, d[:]); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, "UPDATE recording SET aside = '', aside_of = '', behind = NULL WHERE file = ? AND behind IS NOT NULL", d[:]); err != nil {
		return err
	}
	_, err := tx.ExecContext(ctx, "UPDATE file SET client = (SELECT id FROM client WHERE name = ?) WHERE digest = ?", client, d[:])
	return err
}

// release lets the recordings count again that a file had set aside. If the file is itself behind
// another, they are behind that one from now on.
func release(ctx context.Context, tx *sql.Tx, file []byte) error {
	var heir []byte
	err := tx.QueryRowContext(ctx, "SELECT behind FROM recording WHERE file = ? AND behind IS NOT NULL", file).Scan(&heir)
	if err != nil && !errors.Is(err, sql.ErrNoRows) {
		return err
	}
	if heir != nil {
		if _, err := tx.ExecContext(ctx, "UPDATE recording SET behind = ?2 WHERE behind = ?1 AND file <> ?2", file, heir); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, "UPDATE recording SET aside = '', aside_of = '', behind = NULL WHERE behind = ?", file)
	return err
}
