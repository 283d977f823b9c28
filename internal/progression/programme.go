package progression

import (
	"slices"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// programme lists the days of the stage up to a day on which the client was not paused: the days
// that count. A paused day counts neither for nor against.
type programme []workout.Date

// programme counts from since, or from the first recording or report when no start was entered.
func programmeOf(r record.Record, since, on workout.Date) programme {
	if since == 0 {
		since = on + 1
		for _, x := range r.Recordings {
			since = min(since, x.Date)
		}
		for _, x := range r.Reports {
			since = min(since, x.Date)
		}
	}
	var out programme
	for d := since; d <= on; d++ {
		if !r.Paused(d) {
			out = append(out, d)
		}
	}
	return out
}

// weeks is the number of whole weeks done.
func (p programme) weeks() int { return len(p) / 7 }

// running is the week that goes on, or ends on the last day.
func (p programme) running() int { return (len(p) + 6) / 7 }

// from is the first day of a window of the last n days that count.
func (p programme) from(n int, on workout.Date) workout.Date {
	if len(p) == 0 {
		return on
	}
	return p[max(0, len(p)-n)]
}

// weekOf says in which week back from the last day a day lies: 0 is the last one. It is -1 for a
// day that does not count.
func (p programme) weekOf(d workout.Date) int {
	i, ok := slices.BinarySearch(p, d)
	if !ok {
		return -1
	}
	return (len(p) - 1 - i) / 7
}
