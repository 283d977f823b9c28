package coach

import (
	"context"

	"nextrung/internal/heartrate"
)

// SeriesOf is a recording's series as the book holds it.
func SeriesOf(ctx context.Context, c *Coach, id string) (heartrate.Series, error) {
	return c.book.Series(ctx, id)
}
