package coach

import (
	"context"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
)

// SeriesOf is a recording's series as the book holds it.
func SeriesOf(ctx context.Context, c *Coach, id string) (heartrate.Series, error) {
	return c.book.Series(ctx, id)
}

// AddNote enters one note.
func AddNote(ctx context.Context, c *Coach, client string, n record.Note) error {
	_, err := c.AddNotes(ctx, client, n)
	return err
}

// Remeasure keeps other measurements of a recording, as another version of the program would.
func Remeasure(ctx context.Context, c *Coach, id string, m physiology.Measurements) error {
	return c.book.Remeasure(ctx, id, m)
}
