package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Verify checks the whole book: the database's own structure and schema, the log from its first entry to its last, whether each
// of the heads lies on it, every row of every table against its seal in the log, rows that belong to nothing, every original
// against its digest, every stored series and value, and every client's chain of decisions. It gives one sentence for each
// problem; an error means that the check could not be made.
func (b *Book) Verify(ctx context.Context, heads ...Head) ([]string, error) {
	v := verifier{problems: []string{}, heads: heads}
	err := b.read(ctx, func(tx *sql.Tx) error {
		for _, check := range []func(context.Context, *sql.Tx) error{
			v.structure, v.schema, v.log, v.orphans, v.originals, v.recordings, v.clients,
		} {
			if err := check(ctx, tx); err != nil {
				if ctx.Err() != nil {
					return err
				}
				// What cannot be read is damaged; the other checks go on.
				v.say("the database cannot be read: %v", err)
			}
		}
		return nil
	})
	return v.problems, err
}

type verifier struct {
	problems []string
	heads    []Head
}

func (v *verifier) say(format string, args ...any) {
	v.problems = append(v.problems, fmt.Sprintf(format, args...))
}

func (v *verifier) structure(ctx context.Context, tx *sql.Tx) error {
	return v.sentences(ctx, tx, `SELECT 'the database is damaged: ' || integrity_check FROM pragma_integrity_check
		WHERE integrity_check <> 'ok'`)
}

func (v *verifier) orphans(ctx context.Context, tx *sql.Tx) error {
	return v.sentences(ctx, tx, `SELECT 'row ' || coalesce(rowid, 0) || ' of ' || "table" || ' belongs to no ' || parent FROM pragma_foreign_key_check
		UNION ALL SELECT id || ' was set aside for a file that is not in the book' FROM recording
			WHERE behind IS NOT NULL AND behind NOT IN (SELECT digest FROM file)
		UNION ALL SELECT name || ' is a client without facts' FROM client WHERE id NOT IN (SELECT client FROM facts)
		UNION ALL SELECT 'client ' || client || ' was not removed completely' FROM forgetting
		UNION ALL SELECT name || ' came with ' || recordings || ' workouts, but ' || have || ' are in the book' FROM
			(SELECT name, recordings, (SELECT count(*) FROM recording r WHERE r.file = f.digest) AS have FROM file f)
			WHERE recordings <> have`)
}

// sentences says every row of a query.
func (v *verifier) sentences(ctx context.Context, tx *sql.Tx, query string) error {
	return each(ctx, tx, query, func(scan scanner) error {
		var text string
		if err := scan(&text); err != nil {
			return err
		}
		v.problems = append(v.problems, text)
		return nil
	})
}

func (v *verifier) originals(ctx context.Context, tx *sql.Tx) error {
	return each(ctx, tx, "SELECT f.digest, f.name, f.size, f.original, c.name FROM file f LEFT JOIN client c ON c.id = f.client", func(scan scanner) error {
		var digest, original []byte
		var name string
		var client sql.NullString
		var size int64
		if err := scan(&digest, &name, &size, &original, &client); err != nil {
			return err
		}
		var d workout.Digest
		copy(d[:], digest)
		if _, err := restore(original, size, d); err != nil {
			v.say("original of %s (%s, of %s): %v", name, d.Short(), client.String, err)
		}
		return nil
	})
}

func (v *verifier) recordings(ctx context.Context, tx *sql.Tx) error {
	return each(ctx, tx, "SELECT id, workout, measured, series FROM recording", func(scan scanner) error {
		var id string
		var w, m, stored []byte
		if err := scan(&id, &w, &m, &stored); err != nil {
			return err
		}
		var series heartrate.Series
		if err := series.UnmarshalBinary(stored); err != nil {
			v.say("recording %s: %v", id, err)
		}
		v.decodes(w, new(workout.Workout), "recording "+id)
		v.decodes(m, new(physiology.Measurements), "measurements of recording "+id)
		return nil
	})
}

func (v *verifier) clients(ctx context.Context, tx *sql.Tx) error {
	for table, value := range map[string]any{
		"facts": new(record.Client), "note": new(record.Note), "report": new(record.Report), "assessment": new(record.Assessment),
		"prescription": new(record.Prescription), "proposal": new(proposal.Answer),
	} {
		err := each(ctx, tx, "SELECT rowid, value FROM "+table, func(scan scanner) error {
			var row int64
			var text []byte
			err := scan(&row, &text)
			v.decodes(text, value, fmt.Sprintf("row %d of %s", row, table))
			return err
		})
		if err != nil {
			return err
		}
	}
	type client struct {
		ID   int64
		Name string
	}
	all, err := values[client](ctx, tx, "SELECT json_object('ID', id, 'Name', name) FROM client ORDER BY id")
	for _, c := range all {
		chain, err := decisions(ctx, tx, c.ID)
		if err == nil {
			err = record.VerifyChain(chain)
		}
		if err != nil {
			v.say("decisions for %s: %v", c.Name, err)
		}
	}
	return err
}

func (v *verifier) decodes(text []byte, into any, what string) {
	if err := json.Unmarshal(text, into); err != nil {
		v.say("%s cannot be read: %v", what, err)
	}
}
