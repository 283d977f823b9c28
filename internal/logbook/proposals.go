package logbook

import (
	"context"
	"database/sql"
	"fmt"

	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// AddAnswer enters the trainer's answer to a suggestion and, if it was accepted, the client's facts
// with the new zones, both or neither. It is kept for good: the database refuses to change or remove it,
// except with its client.
func (b *Book) AddAnswer(ctx context.Context, client string, a proposal.Answer, facts *record.Client) error {
	what := "enter answer to a suggestion for " + client
	if a.Entered <= 0 {
		return fmt.Errorf("%s: its day is missing", what)
	}
	return b.writeOf(ctx, "answer", client, func(tx *sql.Tx, id int64) error {
		if facts != nil {
			if err := putFacts(ctx, tx, *facts, a.Entered); err != nil {
				return err
			}
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO proposal (client, entered, value) VALUES (?, ?, ?)", id, a.Entered, asJSON{a})
		return wrap(what, err)
	})
}

const selectAnswers = "SELECT value FROM proposal WHERE client = ? AND entered <= ? ORDER BY id"

// Answers gives the answers to a client's suggestions by the end of a day, in the order in
// which it was entered.
func (b *Book) Answers(ctx context.Context, client string, on workout.Date) ([]proposal.Answer, error) {
	id, err := clientID(ctx, b.db, client)
	if err != nil {
		return nil, err
	}
	return values[proposal.Answer](ctx, b.db, selectAnswers, id, on)
}
