package logbook

import (
	"context"
	"database/sql"
	"io/fs"
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
