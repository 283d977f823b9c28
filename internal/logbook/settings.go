package logbook

import (
	"context"
	"database/sql"
	"errors"
)

// Setting is what the trainer set once for the whole book under a name; "" if nothing was.
func (b *Book) Setting(ctx context.Context, name string) (value string, err error) {
	err = b.db.QueryRowContext(ctx, "SELECT value FROM setting WHERE name = ?", name).Scan(&value)
	if errors.Is(err, sql.ErrNoRows) {
		err = nil
	}
	return value, wrap("read the setting "+name, err)
}

// Set keeps a setting; "" removes it.
func (b *Book) Set(ctx context.Context, name, value string) error {
	return b.write(ctx, "setting", func(tx *sql.Tx) error {
		statement, args := "INSERT INTO setting (name, value) VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value", []any{name, value}
		if value == "" {
			statement, args = "DELETE FROM setting WHERE name = ?", args[:1]
		}
		_, err := tx.ExecContext(ctx, statement, args...)
		return wrap("keep the setting "+name, err)
	})
}
