package logbook

import (
	"bytes"
	"compress/gzip"
	"context"
	"database/sql"
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
	return b.writeOf(ctx, "receive", client, func(tx *sql.Tx, id int64) error {
		switch holder, on, known, err := holder(ctx, tx, file.Digest); {
		case err != nil:
			return err
		case known:
			return &ErrKnown{Client: holder, Received: on}
		}
		_, err := tx.ExecContext(ctx, `INSERT INTO file (digest, client, received, name, format, size, recordings, original)
			VALUES (?, ?, ?, ?, ?, ?, ?, ?)`, file.Digest[:], id, received, file.Name, file.Format, len(file.Bytes), len(items), compress(file.Bytes))
		if err != nil {
			return fmt.Errorf("enter %s: %w", file.Name, err)
		}
		for i := range items {
			if err := addRecording(ctx, tx, file.Digest, received, &items[i]); err != nil {
				return fmt.Errorf("enter %s: workout %d: %w", file.Name, i+1, err)
			}
		}
		for _, other := range slices.Sorted(maps.Keys(aside)) {
			err := change(ctx, tx, "change recording "+other, notThere(other), `UPDATE recording SET aside = ?, aside_of = ?, behind = ?
				WHERE id = ? AND file IN (SELECT digest FROM file WHERE client = ?)`, aside[other].Code, asideOf(aside[other]), file.Digest[:], other, id)
			if err != nil {
				return fmt.Errorf("enter %s: %w", file.Name, err)
			}
		}
		return nil
	})
}

func addRecording(ctx context.Context, tx *sql.Tx, file workout.Digest, received workout.Date, it *Item) error {
	r := &it.Recording
	if r.Date <= 0 {
		return errors.New("the day of the workout is missing")
	}
	series, err := it.Series.MarshalBinary()
	if err != nil {
		return err
	}
	var behind any // NULL for a recording that is behind no other
	if it.Behind != (workout.Digest{}) {
		behind = it.Behind[:]
	}
	taken := false
	if err := tx.QueryRowContext(ctx, "SELECT EXISTS (SELECT 1 FROM recording WHERE id = ?)", r.ID).Scan(&taken); err != nil {
		return err
	}
	if taken {
		r.ID = fmt.Sprintf("%s#%d", file, r.Index)
	}
	if r.Received > 0 {
		received = r.Received
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO recording (file, number, id, received, date, aside, aside_of, behind, workout, measured, series)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, file[:], r.Index, r.ID, received, r.Date, r.Aside.Code, asideOf(r.Aside), behind, asJSON{r.Workout}, asJSON{r.Measured}, series)
	return err
}

// asideOf is the argument of why a recording does not count.
func asideOf(f record.Fact) string {
	of, _ := f.Args["of"].(string)
	return of
}

// Holder says for whom a file was received, and when; ok is false when it is not in the book.
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

func recordings(ctx context.Context, q querier, query string, args ...any) (out []record.Recording, err error) {
	err = each(ctx, q, query, func(scan scanner) error {
		var r record.Recording
		var file []byte
		var aside record.Code
		var of string
		err := scan(&r.ID, &file, &r.Index, &r.Name, &r.Format, &r.Client, &r.Received, &r.Date, &aside, &of, asJSON{&r.Workout}, asJSON{&r.Measured})
		copy(r.File[:], file)
		if aside != "" {
			r.Aside = record.SetAside(aside, of)
		}
		out = append(out, r)
		return wrap("recording "+r.ID, err)
	}, args...)
	return out, wrap("read recordings", err)
}

// Recording gives one recording without its series.
func (b *Book) Recording(ctx context.Context, id string) (record.Recording, error) {
	found, err := recordings(ctx, b.db, selectRecordings+"WHERE r.id = ?2", latest, id)
	return first(found, err, notThere(id))
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
	return b.write(ctx, "measure", func(tx *sql.Tx) error {
		return change(ctx, tx, "change recording "+id, notThere(id), "UPDATE recording SET measured = ? WHERE id = ?", asJSON{m}, id)
	})
}

func noFile(d workout.Digest) error {
	return fault.New(fault.NotFound, "file %s is not in the book", d.Short())
}

func notThere(id string) error {
	return fault.New(fault.NotFound, "recording %q is not in the book; IDs look like 1a2b3c4d#0", id).Helped(fault.SeePast, "")
}

// compress packs an original; writing to memory cannot fail.
func compress(raw []byte) []byte {
	var out bytes.Buffer
	z, _ := gzip.NewWriterLevel(&out, gzip.BestSpeed) // a file takes 2 ms more at the usual level to be a tenth smaller
	_, _ = z.Write(raw)
	_ = z.Close()
	return out.Bytes()
}

// restore unpacks an original of known size and makes sure that it is what came in.
func restore(stored []byte, size int64, d workout.Digest) ([]byte, error) {
	var raw []byte
	z, err := gzip.NewReader(bytes.NewReader(stored))
	if err == nil {
		raw, err = io.ReadAll(io.LimitReader(z, size+1))
	}
	switch {
	case err != nil:
		return nil, fmt.Errorf("the stored bytes are damaged: %w", err)
	case workout.DigestOf(raw) != d:
		return nil, errors.New("the stored bytes are damaged: they are not those that were received")
	}
	return raw, nil
}

// Devices says for whom each device recorded, by the digest of its serial number.
func (b *Book) Devices(ctx context.Context) (map[string][]string, error) {
	out := map[string][]string{}
	err := each(ctx, b.db, `SELECT DISTINCT r.workout ->> 'device', c.name FROM recording r JOIN file f ON f.digest = r.file JOIN client c ON c.id = f.client
		WHERE r.workout ->> 'device' <> '' ORDER BY 1, 2`, func(scan scanner) error {
		var device, client string
		err := scan(&device, &client)
		out[device] = append(out[device], client)
		return err
	})
	return out, wrap("read the devices", err)
}

// Around gives everybody's recordings of a day, the one before and the one after.
func (b *Book) Around(ctx context.Context, day workout.Date) ([]record.Recording, error) {
	return recordings(ctx, b.db, selectRecordings+"WHERE r.date BETWEEN ?2 AND ?3", latest, day-1, day+1)
}

// FindRecording gives the ID of the recording for which is says so; "" for none.
func (b *Book) FindRecording(ctx context.Context, is func(client, id string) bool) (found string, err error) {
	err = each(ctx, b.db, "SELECT c.name, r.id FROM recording r JOIN file f ON f.digest = r.file JOIN client c ON c.id = f.client", func(scan scanner) error {
		var client, id string
		err := scan(&client, &id)
		if err == nil && is(client, id) {
			found = id
		}
		return err
	})
	return found, wrap("find a recording", err)
}
