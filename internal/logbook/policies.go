package logbook

import (
	"context"
	"database/sql"

	"nextrung/internal/workout"
)

// KeptPolicy is a policy that was in use.
type KeptPolicy struct {
	Entered workout.Date
	By      string // "" where the file was changed outside the program
	Because string
	Text    string
}

// AddPolicy keeps a policy, unless its text is that of the last one.
func (b *Book) AddPolicy(ctx context.Context, p KeptPolicy) error {
	return b.write(ctx, "policy", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `INSERT INTO policy (entered, by, because, text) SELECT ?1, ?2, ?3, ?4
			WHERE ?4 IS NOT (SELECT text FROM policy ORDER BY id DESC LIMIT 1)`, p.Entered, p.By, p.Because, p.Text)
		return wrap("keep the policy", err)
	})
}

// Policies are those that were in use, oldest first.
func (b *Book) Policies(ctx context.Context) (out []KeptPolicy, err error) {
	err = each(ctx, b.db, "SELECT entered, by, because, text FROM policy ORDER BY id", func(scan scanner) error {
		var p KeptPolicy
		err := scan(&p.Entered, &p.By, &p.Because, &p.Text)
		out = append(out, p)
		return err
	})
	return out, wrap("read the policies", err)
}
