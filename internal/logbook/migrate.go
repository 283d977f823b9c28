package logbook

import (
	"context"
	"database/sql"
	"embed"
	"fmt"
	"io/fs"

	"nextrung/internal/fault"
	"nextrung/internal/record"
)

//go:embed migrations/*.sql
var migrations embed.FS

// inGo are the migrations that need the program, beside their file.
var inGo = map[string]func(context.Context, *sql.Tx) error{"migrations/0005_read.sql": readNotes, "migrations/0011_log.sql": sealAll}

// logged is the version from which on a book has a log.
const logged = 11

// migrate brings the book to the newest schema: file n of the migrations, in the order of their
// names, leads from version n-1 to n, each in a transaction of its own. The version is the
// database's user_version. Two programs that open a new book at once take turns.
func migrate(ctx context.Context, db *sql.DB, files fs.FS) error {
	names, err := fs.Glob(files, "migrations/*.sql")
	if err != nil {
		return err
	}
	version, err := schema(ctx, db)
	if err != nil {
		return err
	}
	if version > len(names) {
		return fault.New(fault.Refused, "a newer program wrote this book (schema %d, this program knows up to %d); use the newer program", version, len(names))
	}
	for version < len(names) {
		if version, err = step(ctx, db, files, names); err != nil {
			return err
		}
	}
	return nil
}

// step applies the next migration, whichever that is once the lock is held, and returns the version.
func step(ctx context.Context, db *sql.DB, files fs.FS, names []string) (int, error) {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return 0, err
	}
	defer tx.Rollback()
	version, err := schema(ctx, tx)
	if err != nil || version >= len(names) {
		return version, err
	}
	if version == 0 {
		tables := 0
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM sqlite_schema").Scan(&tables); err != nil {
			return 0, err
		}
		if tables > 0 {
			return 0, fault.New(fault.Refused, "this database is not a book; name another folder or move the file away")
		}
	}
	text, err := fs.ReadFile(files, names[version])
	if err != nil {
		return 0, err
	}
	if _, err := tx.ExecContext(ctx, string(text)); err != nil {
		return 0, fmt.Errorf("migration %s: %w", names[version], err)
	}
	if by := inGo[names[version]]; by != nil {
		if err := by(ctx, tx); err != nil {
			return 0, fmt.Errorf("migration %s: %w", names[version], err)
		}
	}
	version++
	if _, err := tx.ExecContext(ctx, fmt.Sprintf("PRAGMA user_version = %d", version)); err != nil {
		return 0, err
	}
	return version, tx.Commit()
}

func schema(ctx context.Context, q querier) (version int, err error) {
	err = q.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version)
	return version, err
}

// readNotes reads, once, what earlier notes say about signs and topics.
func readNotes(ctx context.Context, tx *sql.Tx) error {
	notes, err := values[record.Note](ctx, tx, "SELECT json_set(value, '$.id', CAST(id AS TEXT)) FROM note")
	if err != nil {
		return err
	}
	for _, n := range notes {
		id := n.ID
		n.ID = ""
		if _, err := tx.ExecContext(ctx, "UPDATE note SET value = ? WHERE id = ?", asJSON{n.Suspect()}, id); err != nil {
			return fmt.Errorf("read note n%s: %w", id, err)
		}
	}
	return nil
}
