package coach

import (
	"context"

	"nextrung/internal/fault"
	"nextrung/internal/workout"
)

// Entry is a fact as it was entered once.
type Entry struct {
	Value   string       // as it would be typed; "" for none
	Entered workout.Date // the day of entry
	From    workout.Date // the first day on which it holds, where one was given
}

// Entries gives what was entered about a client, by field and oldest first. A fact that was entered again unchanged
// is listed once.
func (c *Coach) Entries(ctx context.Context, client string) (map[fault.Field][]Entry, error) {
	versions, err := c.book.AllFacts(ctx, client)
	if err != nil {
		return nil, err
	}
	out, before := map[fault.Field][]Entry{}, Facts{}
	for _, v := range versions {
		now := FactsOf(v.Client)
		for f, value := range now {
			if value == before[f] {
				continue
			}
			e := Entry{Value: value, Entered: v.Entered, From: v.Dated[string(f)].From}
			if n := len(v.Zones); forZones(f) && n > 0 {
				e.From = v.Zones[n-1].From
			}
			out[f] = append(out[f], e)
		}
		before = now
	}
	return out, nil
}
