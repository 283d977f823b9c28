package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// AddDecision enters what the trainer decided, sealed to the client's previous decision. It is kept
// for good: the database refuses to change or remove it, except with its client.
func (b *Book) AddDecision(ctx context.Context, client string, d record.Decision) error {
	d.Client = client
	if d.Entered <= 0 {
		return fmt.Errorf("enter decision for %s: its day is missing", client)
	}
	// The seal covers what the book gives back: text that is not UTF-8 comes back repaired.
	if err := roundTrip(&d); err != nil {
		return fmt.Errorf("enter decision for %s: %w", client, err)
	}
	return b.writeOf(ctx, "decision", client, func(tx *sql.Tx, id int64) error {
		earlier, err := decisions(ctx, tx, id)
		if err != nil {
			return err
		}
		var before *record.Decision
		if n := len(earlier); n > 0 {
			before = &earlier[n-1]
		}
		_, err = tx.ExecContext(ctx, "INSERT INTO decision (client, entered, value) VALUES (?, ?, ?)", id, d.Entered, asJSON{d.Seal(before)})
		return wrap("enter decision for "+client, err)
	})
}

func roundTrip(d *record.Decision) error {
	text, err := json.Marshal(*d)
	if err != nil {
		return err
	}
	*d = record.Decision{}
	return json.Unmarshal(text, d)
}

// decisions are a client's, in the order in which they were entered, which is that of the chain.
func decisions(ctx context.Context, q querier, client int64) ([]record.Decision, error) {
	return values[record.Decision](ctx, q, "SELECT value FROM decision WHERE client = ? ORDER BY id", client)
}

// AddAssessment keeps an assessment; a later one of the same day replaces it.
func (b *Book) AddAssessment(ctx context.Context, client string, a record.Assessment) error {
	return b.insert(ctx, client, "assessment", a.AsOf, "INSERT INTO assessment (client, day, value) VALUES (?, ?, ?) ON CONFLICT DO UPDATE SET value = excluded.value WHERE value <> excluded.value", asJSON{a})
}

// Assessment gives the assessment that was kept of a client on a day; nil without one.
func (b *Book) Assessment(ctx context.Context, client string, day workout.Date) (*record.Assessment, error) {
	id, err := clientID(ctx, b.db, client)
	if err != nil {
		return nil, err
	}
	kept, err := values[record.Assessment](ctx, b.db, "SELECT value FROM assessment WHERE client = ? AND day = ?", id, day)
	if err != nil || len(kept) == 0 {
		return nil, err
	}
	return &kept[0], nil
}

// AddPrescription keeps a version of a week's plan for good, beside those before it.
func (b *Book) AddPrescription(ctx context.Context, client string, p record.Prescription) error {
	if p.From <= 0 {
		return fmt.Errorf("enter prescription of %s: its first day is missing", client)
	}
	return b.insert(ctx, client, "prescription", p.Made, "INSERT INTO prescription (client, made, week, value) VALUES (?, ?, ?, ?)", p.From, asJSON{p})
}
