package coach

import (
	"context"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Version is a state of everything that decides what is said about a client: the book and the policy.
type Version struct {
	book   logbook.Version
	policy string
}

// Versions are the states of all clients, by name. What was made from one is made again once it differs, whichever
// program changed the book.
func (c *Coach) Versions(ctx context.Context) (map[string]Version, error) {
	all, err := c.book.Versions(ctx)
	out := make(map[string]Version, len(all))
	digest := c.Policy.Digest()
	for name, v := range all {
		out[name] = Version{v, digest}
	}
	return out, err
}

// Tick keeps that the trainer has dealt with something of a client on a day; Untick takes back what was kept since a day.
func (c *Coach) Tick(ctx context.Context, client string, t record.Tick) error {
	return c.book.Tick(ctx, client, t)
}

// Untick takes back what was ticked off on a day or later.
func (c *Coach) Untick(ctx context.Context, client string, what record.Ticked, since workout.Date) error {
	return c.book.Untick(ctx, client, what, since)
}

// Ticks are what was ticked off of a client, oldest first.
func (c *Coach) Ticks(ctx context.Context, client string) ([]record.Tick, error) {
	return c.book.Ticks(ctx, client)
}
