package logbook

import (
	"bytes"
	"cmp"
	"compress/gzip"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"

	"nextrung/internal/fault"
	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// Item is one workout of a file on its way into the book.
type Item struct {
	Recording record.Recording
	Series    heartrate.Series
	// Behind is the file in the book whose recording of the same workout counts instead, when that is
	// why Recording.Aside is set. If that file leaves the book, this recording counts again.
	Behind workout.Digest
}

// ErrKnown says that the same bytes are already in the book.
type ErrKnown struct {
	Client   string
	Received workout.Date
}

func (e *ErrKnown) Error() string {
	return fmt.Sprintf("the same file is already in the book, received for %s on %s", e.Client, e.Received)
}

// Add enters one received file with its workouts in one transaction: all of it or nothing. The same
// bytes a second time are an *ErrKnown. aside lists recordings of the client that stop counting in
// favour of this file, with the reason. Should the short digest of an item's ID be taken by another
// file, Add lengthens the ID in items.
func (b *Book) Add(ctx context.Context, file recording.File, client string, received workout.Date, items []Item, aside map[string]record.Fact) error {
	switch {
	case file.Err != nil:
		return fmt.Errorf("enter %s: %w", file.Name, file.Err)
	case len(items) == 0:
		return fmt.Errorf("enter %s: it has no workout to enter", file.Name)
	case received <= 0:
		return fmt.Errorf("enter %s: the day of receipt is missing", file.Name)
	case workout.DigestOf(file.Bytes) != file.Digest:
		return fault.New(fault.Refused, "the bytes of %s changed while it was read; receive it again", file.Name)
	}
	original, err := compress(file.Bytes)
	if err != nil {
		return fmt.Errorf("enter %s: %w", file.Name, err)
	}
	rows := make([]row, len(items))
	for i, it := range items {
		if rows[i], err = rowOf(it); err != nil {
			return fmt.Errorf("enter %s: workout %d: %w", file.Name, i+1, err)
		}
	}
	return b.writeOf(ctx, client, func(tx *sql.Tx, id int64) error {
		if holder, on, known, err := holder(ctx, tx, file.Digest); err != nil {
			return err
		} else if known {
			return &ErrKnown{Client: holder, Received: on}
		}
		_, err = tx.ExecContext(ctx, `INSERT INTO file (digest, client, received, name, format, size, recordings, original)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, file.Digest[:], id, received, file.Name, file.Format, len(file.Bytes), len(items), original)
		if err != nil {
			return fmt.Errorf("enter %s: %w", file.Name, err)
		}
		for i := range items {
			if err := addRecording(ctx, tx, file.Digest, received, &items[i], rows[i]); err != nil {
				return fmt.Errorf("enter %s: workout %d: %w", file.Name, i+1, err)
			}
		}
		for _, other := range slices.Sorted(maps.Keys(aside)) {
			done, err := tx.ExecContext(ctx, `UPDATE recording SET aside = ?, aside_of = ?, behind = ?
				WHERE id = ? AND file IN (SELECT digest FROM file WHERE client = ?)`, aside[other].Code, asideOf(aside[other]), file.Digest[:], other, id)
			if err := changed(done, wrap("change recording "+other, err), notThere(other)); err != nil {
				return fmt.Errorf("enter %s: %w", file.Name, err)
			}
		}
		return nil
	})
}

// row is what an item is stored as.
type row struct {
	workout, measured string
	series            []byte
	behind            any // nil for a recording that is behind no other
}

func rowOf(it Item) (r row, err error) {
	if it.Recording.Date <= 0 {
		return r, errors.New("the day of the workout is missing")
	}
	w, err := json.Marshal(it.Recording.Workout)
	if err != nil {
		return r, err
	}
	m, err := json.Marshal(it.Recording.Measured)
	if err != nil {
		return r, err
	}
	r.workout, r.measured = string(w), string(m)
	if it.Behind != (workout.Digest{}) {
		r.behind = it.Behind[:]
	}
	r.series, err = it.Series.MarshalBinary()
	return r, err
}

func addRecording(ctx context.Context, tx *sql.Tx, file workout.Digest, received workout.Date, it *Item, r row) error {
	taken := false
	if err := tx.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM recording WHERE id = ?)", it.Recording.ID).Scan(&taken); err != nil {
		return err
	}
	if taken {
		it.Recording.ID = fmt.Sprintf("%s#%d", file, it.Recording.Index)
	}
	if it.Recording.Received > 0 {
		received = it.Recording.Received
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO recording (file, number, id, received, date, aside, aside_of, behind, workout, measured, series)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, file[:], it.Recording.Index, it.Recording.ID, received, it.Recording.Date,
		it.Recording.Aside.Code, asideOf(it.Recording.Aside), r.behind, r.workout, r.measured, r.series)
	return err
}

// asideOf is the argument of why a recording does not count.
func asideOf(f record.Fact) string {
	of, _ := f.Args["of"].(string)
	return of
}

// Holder tells for whom a file was received, and when; ok is false when it is not in the book.
func (b *Book) Holder(ctx context.Context, d workout.Digest) (client string, received workout.Date, ok bool, err error) {
	return holder(ctx, b.db, d)
}

func holder(ctx context.Context, q querier, d workout.Digest) (client string, received workout.Date, ok bool, err error) {
	err = q.QueryRowContext(ctx, `SELECT c.name, f.received FROM file f JOIN client c ON c.id = f.client
		WHERE f.digest = ?`, d[:]).Scan(&client, &received)
	if errors.Is(err, sql.ErrNoRows) {
		return "", 0, false, nil
	}
	return client, received, err == nil, wrap("find file "+d.Short(), err)
}

// selectRecordings reads recordings as they counted at the end of day ?1: one that is behind another
// file counted until that was received.
const selectRecordings = `SELECT r.id, r.file, r.number, f.name, f.format, c.name, r.received, r.date,
	iif(r.behind IS NULL OR b.received <= ?1, r.aside, ''), r.aside_of, r.workout, r.measured
	FROM recording r JOIN file f ON f.digest = r.file JOIN client c ON c.id = f.client LEFT JOIN file b ON b.digest = r.behind `

func recordings(ctx context.Context, q querier, query string, args ...any) ([]record.Recording, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, fmt.Errorf("read recordings: %w", err)
	}
	defer rows.Close()
	var out []record.Recording
	for rows.Next() {
		var r record.Recording
		var file, w, m []byte
		var aside record.Code
		var of string
		if err := rows.Scan(&r.ID, &file, &r.Index, &r.Name, &r.Format, &r.Client, &r.Received, &r.Date, &aside, &of, &w, &m); err != nil {
			return nil, fmt.Errorf("read recordings: %w", err)
		}
		copy(r.File[:], file)
		if aside != "" {
			r.Aside = record.SetAside(aside, of)
		}
		if err := json.Unmarshal(w, &r.Workout); err != nil {
			return nil, fmt.Errorf("read recording %s: %w", r.ID, err)
		}
		if err := json.Unmarshal(m, &r.Measured); err != nil {
			return nil, fmt.Errorf("read recording %s: %w", r.ID, err)
		}
		out = append(out, r)
	}
	return out, wrap("read recordings", rows.Err())
}

// Recording gives one recording without its series.
func (b *Book) Recording(ctx context.Context, id string) (record.Recording, error) {
	found, err := recordings(ctx, b.db, selectRecordings+"WHERE r.id = ?2", latest, id)
	if err != nil {
		return record.Recording{}, err
	}
	if len(found) == 0 {
		return record.Recording{}, notThere(id)
	}
	return found[0], nil
}

// Series gives the clean heart rate of a recording.
func (b *Book) Series(ctx context.Context, id string) (s heartrate.Series, err error) {
	var stored []byte
	err = b.db.QueryRowContext(ctx, "SELECT series FROM recording WHERE id = ?", id).Scan(&stored)
	if errors.Is(err, sql.ErrNoRows) {
		return s, notThere(id)
	}
	if err == nil {
		err = s.UnmarshalBinary(stored)
	}
	return s, wrap("heart rate of "+id, err)
}

// Original gives the bytes of a file and the name under which it was received. Bytes that are not
// those that came in are an error.
func (b *Book) Original(ctx context.Context, d workout.Digest) ([]byte, string, error) {
	var stored []byte
	var name string
	var size int64
	err := b.db.QueryRowContext(ctx, "SELECT original, name, size FROM file WHERE digest = ?", d[:]).Scan(&stored, &name, &size)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, "", noFile(d)
	}
	if err != nil {
		return nil, "", fmt.Errorf("original of file %s: %w", d.Short(), err)
	}
	raw, err := restore(stored, size, d)
	return raw, name, wrap("original of "+name, err)
}

// Remeasure replaces the measurements of a recording.
func (b *Book) Remeasure(ctx context.Context, id string, m physiology.Measurements) error {
	text, err := json.Marshal(m)
	if err != nil {
		return fmt.Errorf("measure %s: %w", id, err)
	}
	done, err := b.db.ExecContext(ctx, "UPDATE recording SET measured = ? WHERE id = ?", string(text), id)
	return changed(done, wrap("change recording "+id, err), notThere(id))
}

func noFile(d workout.Digest) error {
	return fault.New(fault.NotFound, "file %s is not in the book", d.Short())
}

func notThere(id string) error {
	return fault.New(fault.NotFound, "recording %q is not in the book; IDs look like 1a2b3c4d#0", id).Helped(fault.SeePast, "")
}

// changed says that a change, which may have failed, found something; else it gives missing.
func changed(done sql.Result, err, missing error) error {
	if err != nil {
		return err
	}
	if n, err := done.RowsAffected(); err != nil || n == 0 {
		return cmp.Or(err, missing)
	}
	return nil
}

func compress(raw []byte) ([]byte, error) {
	var out bytes.Buffer
	z, err := gzip.NewWriterLevel(&out, gzip.BestSpeed) // a file takes 2 ms more at the usual level to be a tenth smaller
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(raw); err != nil {
		return nil, err
	}
	err = z.Close()
	return out.Bytes(), err
}

// restore unpacks an original of known size and makes sure that it is what came in.
func restore(stored []byte, size int64, d workout.Digest) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(stored))
	if err != nil {
		return nil, fmt.Errorf("the stored bytes are damaged: %w", err)
	}
	raw, err := io.ReadAll(io.LimitReader(z, size+1))
	if err != nil {
		return nil, fmt.Errorf("the stored bytes are damaged: %w", err)
	}
	if workout.DigestOf(raw) != d {
		return nil, errors.New("the stored bytes are damaged: they are not those that were received")
	}
	return raw, nil
}
