package reports

import (
	"fmt"
	"math"

	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// worth are facts of the client's own that are worth noticing: what is longest so far, how many, what was liked. Nothing is praised and nobody is compared.
func worth(c Client) []fact {
	sessions := c.Record.Until(c.Assessment.AsOf).Sessions()
	var longest *record.Session
	var counted int
	for i := range sessions {
		s := &sessions[i]
		if s.Uncounted != "" {
			continue
		}
		counted++
		if longest == nil || s.Minutes > longest.Minutes {
			longest = s
		}
	}
	if longest == nil {
		return nil
	}
	on := func(s *record.Session) string { return fmt.Sprintf("%s, %s", s.Mode.Doing(), s.Date.Day()) }
	out := []fact{{"Longest session so far", wording.Number(math.Round(longest.Minutes)) + " min", on(longest)}}
	out = append(out, fact{"Sessions since " + month(sessions[0].Date, c.Assessment.AsOf), wording.Number(float64(counted)), ""})
	if best := liked(c); best != nil {
		out = append(out, fact{"The one you liked most", on(best), fmt.Sprintf("%d of 5", best.Enjoyment)})
	}
	return out
}

// liked is the session of the last week that the client enjoyed most, from 4 of 5 on; nil for none.
func liked(c Client) (best *record.Session) {
	if len(c.Weeks) == 0 {
		return nil
	}
	last := c.Weeks[len(c.Weeks)-1].Sessions
	for i, s := range last {
		if s.Enjoyment >= 4 && (best == nil || s.Enjoyment > best.Enjoyment) {
			best = &last[i]
		}
	}
	return best
}
