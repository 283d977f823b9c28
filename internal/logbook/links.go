package logbook

import (
	"context"
	"database/sql"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// Link is a client's way to their own page. The token itself is not in the book.
type Link struct {
	Client  string
	Token   workout.Digest
	Made    workout.Date
	Expires workout.Date // its last day
	Answers bool         // it takes the answers to the week's questions
	// Withdrawn is the day from which it leads nowhere; 0 while it was not withdrawn.
	Withdrawn workout.Date
}

// AddLink enters a link of a client and withdraws the earlier ones.
func (b *Book) AddLink(ctx context.Context, l Link) error {
	return b.writeOf(ctx, "link", l.Client, func(tx *sql.Tx, id int64) error {
		if err := withdraw(ctx, tx, id, l.Made); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, "INSERT INTO link (client, token, made, expires, answers) VALUES (?, ?, ?, ?, ?)", id, l.Token[:], l.Made, l.Expires, l.Answers)
		return wrap("enter the link of "+l.Client, err)
	})
}

// WithdrawLinks ends the links of a client from a day on.
func (b *Book) WithdrawLinks(ctx context.Context, client string, on workout.Date) error {
	return b.writeOf(ctx, "end links", client, func(tx *sql.Tx, id int64) error { return withdraw(ctx, tx, id, on) })
}

func withdraw(ctx context.Context, tx *sql.Tx, client int64, on workout.Date) error {
	if on <= 0 {
		return fault.New(fault.Wrong, "the day is missing")
	}
	_, err := tx.ExecContext(ctx, "UPDATE link SET withdrawn = ? WHERE client = ? AND withdrawn IS NULL", on, client)
	return wrap("withdraw links", err)
}

// Links are all links, oldest first.
func (b *Book) Links(ctx context.Context) (out []Link, err error) {
	err = each(ctx, b.db, `SELECT c.name, l.token, l.made, l.expires, l.answers, coalesce(l.withdrawn, 0)
		FROM link l JOIN client c ON c.id = l.client ORDER BY l.id`, func(scan scanner) error {
		var l Link
		var token []byte
		err := scan(&l.Client, &token, &l.Made, &l.Expires, &l.Answers, &l.Withdrawn)
		copy(l.Token[:], token)
		out = append(out, l)
		return err
	})
	return out, wrap("read the links", err)
}
