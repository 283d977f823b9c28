package coach

import (
	"context"

	"nextrung/internal/hindsight"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// History looks back on a client's stages and decisions from a day, with what was known by its end.
func (c *Coach) History(ctx context.Context, client string, on workout.Date) (hindsight.History, error) {
	now, err := c.book.Record(ctx, client, on)
	if err != nil {
		return hindsight.History{}, err
	}
	return c.history(ctx, now, on)
}

// history is History with what is known by the end of the day at hand.
func (c *Coach) history(ctx context.Context, now record.Record, on workout.Date) (hindsight.History, error) {
	k := hindsight.Known{On: on, Now: now}
	var days []workout.Date
	for _, d := range now.Decisions {
		days = append(days, d.Entered)
	}
	if len(days) > 0 {
		var err error
		if k.Then, err = c.book.Records(ctx, now.Client.Name, days...); err != nil {
			return hindsight.History{}, err
		}
	}
	return hindsight.Back(k, c.Policy), nil
}

// ChangedSince says what is known by now about the days up to a day that its decision, or the
// assessment kept by the weekly job, did not know, and whether another policy would say something
// else: nil when nothing changed.
func (c *Coach) ChangedSince(ctx context.Context, client string, on workout.Date) (*hindsight.Changed, error) {
	all, err := c.book.Records(ctx, client, on, endOfTime)
	if err != nil {
		return nil, err
	}
	kept, err := c.book.Assessment(ctx, client, on)
	if err != nil {
		return nil, err
	}
	k := hindsight.Known{On: endOfTime, Now: all[endOfTime], Then: all}
	return hindsight.Since(k, c.Policy, on, kept), nil
}
