package logbook

import (
	"context"
	"database/sql"
	"io/fs"
	"modernc.org/sqlite"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// DB lets tests look into the database and damage it.
func (b *Book) DB() *sql.DB { return b.db }

// Source and Migrate let tests make books of earlier versions.
var (
	Source     = source
	Migrations = migrations
)

// Migrate runs other migrations than the program's own.
func Migrate(ctx context.Context, db *sql.DB, files fs.FS) error { return migrate(ctx, db, files) }

// AddNote enters one note.
func (b *Book) AddNote(ctx context.Context, client string, n record.Note) error {
	_, err := b.AddNotes(ctx, client, []record.Note{n})
	return err
}

// ClientOn gives a client's facts as entered by the end of a day; of an earlier day the first ones.
func (b *Book) ClientOn(ctx context.Context, name string, on workout.Date) (record.Client, error) {
	return facts(ctx, b.db, name, on)
}

// ReplaceSome begins to replace the book and ends after a few pages.
func (b *Book) ReplaceSome(ctx context.Context, dir string, pages int32) error {
	return b.replace(ctx, dir, func(copying *sqlite.Backup) error {
		_, err := copying.Step(pages)
		return err
	})
}
