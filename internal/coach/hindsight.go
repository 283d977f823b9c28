package coach

import (
	"context"

	"nextrung/internal/hindsight"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// known gathers what the book says of a client now and said on the days given. now is what is known by
// the end of on.
func (c *Coach) known(ctx context.Context, now progression.Record, on workout.Date, days ...workout.Date) (hindsight.Known, error) {
	k := hindsight.Known{On: on, Now: now, Then: map[workout.Date]progression.Record{}}
	for _, day := range days {
		if _, ok := k.Then[day]; ok {
			continue
		}
		then, err := c.book.Record(ctx, now.Client.Name, day)
		if err != nil {
			return k, err
		}
		k.Then[day] = then
	}
	return k, nil
}

// History looks back on a client's stages and decisions from a day, with what was known by its end.
func (c *Coach) History(ctx context.Context, client string, on workout.Date) (hindsight.History, error) {
	now, err := c.book.Record(ctx, client, on)
	if err != nil {
		return hindsight.History{}, err
	}
	return c.history(ctx, now, on)
}

func (c *Coach) history(ctx context.Context, now progression.Record, on workout.Date) (hindsight.History, error) {
	var days []workout.Date
	for _, d := range now.Decisions {
		days = append(days, d.Entered)
	}
	k, err := c.known(ctx, now, on, days...)
	return hindsight.Back(k, c.Policy), err
}

// ChangedSince says what is known by now of the days up to one that its assessment, or the decision of
// that day, did not know: nil when nothing changed.
func (c *Coach) ChangedSince(ctx context.Context, client string, on workout.Date) (*hindsight.Changed, error) {
	now, err := c.book.Record(ctx, client, endOfTime)
	if err != nil {
		return nil, err
	}
	k, err := c.known(ctx, now, endOfTime, on)
	return hindsight.Since(k, c.Policy, c.Policy.Assess(on, k.Then[on])), err
}

// Seal is the end of one client's chain of decisions.
type Seal struct {
	Client    string
	Decisions int
	Last      progression.Decision
}

// Seals gives the last decision of every client who has one.
func (c *Coach) Seals(ctx context.Context) ([]Seal, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	var out []Seal
	for _, name := range names {
		r, err := c.book.Record(ctx, name, endOfTime)
		if err != nil {
			return out, err
		}
		if n := len(r.Decisions); n > 0 {
			out = append(out, Seal{name, n, r.Decisions[n-1]})
		}
	}
	return out, nil
}
