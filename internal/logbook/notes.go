package logbook

import (
	"cmp"
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// AddNotes enters notes of a client, all of them or none, and returns the IDs that the book gave
// them.
func (b *Book) AddNotes(ctx context.Context, client string, notes []record.Note) (ids []string, err error) {
	for _, n := range notes {
		if n.Date <= 0 {
			return nil, fmt.Errorf("enter note of %s: the day it is about is missing", client)
		}
		if n.Entered <= 0 {
			return nil, fmt.Errorf("enter note of %s: its day is missing", client)
		}
	}
	err = b.writeOf(ctx, "note", client, func(tx *sql.Tx, who int64) error {
		for _, n := range notes {
			n.ID = ""
			var id int64
			err := tx.QueryRowContext(ctx, "INSERT INTO note (client, entered, value) VALUES (?, ?, ?) RETURNING id", who, n.Entered, asJSON{n}).Scan(&id)
			if err != nil {
				return fmt.Errorf("enter note of %s: %w", client, err)
			}
			ids = append(ids, fmt.Sprintf("n%d", id))
		}
		return nil
	})
	return ids, err
}

// AddReport enters a session without a recording; the book gives it its ID.
func (b *Book) AddReport(ctx context.Context, client string, r record.Report) error {
	if r.Date <= 0 {
		return fmt.Errorf("enter session of %s: its day is missing", client)
	}
	return b.insert(ctx, client, "session", r.Entered, "INSERT INTO report (client, entered, value) VALUES (?, ?, ?)", asJSON{r})
}

// Withdraw undoes a note ("n12") or a reported session ("r3") from a day on; it stays
// in the book, and assessments for earlier days still include it.
func (b *Book) Withdraw(ctx context.Context, client, id string, on workout.Date) error {
	table := map[string]string{"n": "note", "r": "report"}[id[:min(1, len(id))]]
	number, err := strconv.ParseInt(strings.TrimLeft(id, "nr"), 10, 64)
	if table == "" || err != nil {
		return fault.In("id", id, "is not the ID of an entry: notes have IDs like n12, reported sessions like r3").Helped(fault.SeePast, client)
	}
	return b.writeOf(ctx, "withdraw", client, func(tx *sql.Tx, who int64) error {
		missing := fault.New(fault.NotFound, "%s has no entry %s that counts", client, id).Helped(fault.SeePast, client)
		return change(ctx, tx, "withdraw "+id+" of "+client, missing,
			"UPDATE "+table+" SET withdrawn = ? WHERE id = ? AND client = ? AND withdrawn IS NULL", on, number, who)
	})
}

// Record gives everything that was known of a client by the end of a day: received, entered or made
// by then, and done by then, with the facts as entered by then (the first ones for a day before
// them). Everything stands oldest first. A recording set aside in favour of a file that was received
// later still counts; an exclusion holds for every day.
func (b *Book) Record(ctx context.Context, client string, on workout.Date) (record.Record, error) {
	all, err := b.Records(ctx, client, on)
	if err != nil {
		return record.Record{}, err
	}
	return all[on], nil
}

// Records gives the records of several days, from one reading of the book.
func (b *Book) Records(ctx context.Context, client string, days ...workout.Date) (map[workout.Date]record.Record, error) {
	out := map[workout.Date]record.Record{}
	err := b.read(ctx, func(tx *sql.Tx) error {
		id, err := clientID(ctx, tx, client)
		if err != nil {
			return err
		}
		all, err := everything(ctx, tx, id)
		if err != nil {
			return err
		}
		for _, on := range days {
			r := all.by(on)
			if r.Client, err = facts(ctx, tx, client, on); err != nil {
				return err
			}
			out[on] = r.Until(on)
		}
		return nil
	})
	if err != nil {
		return nil, fmt.Errorf("record of %s: %w", client, err)
	}
	return out, nil
}

// whole is all that the book holds of a client, with the days on which some of it stopped counting.
type whole struct {
	recordings    []record.Recording
	instead       map[string]workout.Date // when the file came that counts instead of a recording
	notes         []withdrawable[record.Note]
	reports       []withdrawable[record.Report]
	decisions     []record.Decision
	prescriptions []record.Prescription
	answered      []record.Answered
}

// withdrawable is what may stop counting from a day on; 0 for what counts.
type withdrawable[T any] struct {
	Value     T   `json:"value"`
	Withdrawn int `json:"withdrawn"`
}

func everything(ctx context.Context, tx *sql.Tx, client int64) (w whole, err error) {
	if w.recordings, err = recordings(ctx, tx, selectRecordings+"WHERE f.client = ?2", latest, client); err != nil {
		return w, err
	}
	slices.SortFunc(w.recordings, func(a, b record.Recording) int {
		return cmp.Or(a.Workout.Start.Compare(b.Workout.Start), strings.Compare(a.ID, b.ID))
	})
	w.instead = map[string]workout.Date{}
	err = each(ctx, tx, `SELECT r.id, b.received FROM recording r JOIN file f ON f.digest = r.file JOIN file b ON b.digest = r.behind
		WHERE f.client = ?`, func(scan scanner) error {
		var id string
		var received workout.Date
		err := scan(&id, &received)
		w.instead[id] = received
		return err
	}, client)
	if err != nil {
		return w, err
	}
	if w.reports, err = entries[record.Report](ctx, tx, "report", client); err != nil {
		return w, err
	}
	if w.notes, err = entries[record.Note](ctx, tx, "note", client); err != nil {
		return w, err
	}
	if w.decisions, err = decisions(ctx, tx, client); err != nil {
		return w, err
	}
	if w.prescriptions, err = values[record.Prescription](ctx, tx, "SELECT value FROM prescription WHERE client = ? ORDER BY week, made, id", client); err != nil {
		return w, err
	}
	answers, err := values[proposal.Answer](ctx, tx, selectAnswers, client, latest)
	w.answered = record.Map(answers, proposal.Answer.Zones)
	return w, err
}

// entries are a client's notes or reported sessions by day; an ID is the table's first letter and the number of the row.
func entries[T any](ctx context.Context, tx *sql.Tx, table string, client int64) ([]withdrawable[T], error) {
	return values[withdrawable[T]](ctx, tx, `SELECT json_object('value', json_set(value, '$.id', '`+table[:1]+`' || id), 'withdrawn', withdrawn)
		FROM `+table+` WHERE client = ? ORDER BY value ->> 'date', id`, client)
}

// by is what counts at the end of a day, things that came later included.
func (w whole) by(on workout.Date) record.Record {
	r := record.Record{Recordings: slices.Clone(w.recordings), Decisions: w.decisions, Prescriptions: w.prescriptions, Answered: w.answered}
	for i, x := range r.Recordings {
		if w.instead[x.ID] > on {
			r.Recordings[i].Aside = record.Fact{}
		}
	}
	r.Notes, r.Reports = stillCounting(w.notes, on), stillCounting(w.reports, on)
	return r
}

func stillCounting[T any](all []withdrawable[T], on workout.Date) []T {
	var out []T
	for _, x := range all {
		if x.Withdrawn == 0 || workout.Date(x.Withdrawn) > on {
			out = append(out, x.Value)
		}
	}
	return out
}
