package reports

import (
	"cmp"
	"fmt"
	"math"
	"nextrung/internal/policy"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"slices"
)

// usualTable sets what is usual for the client beside the day that the page is about. Usual are the medians of the six
// weeks before; easy is a session of which the client said so (record.Felt).
func usualTable(c Client, then *Recorded) table {
	r, before := c.Record, cmp.Or(aboutDay(c), c.Assessment.AsOf+1)
	var rest, means, peaks []float64
	restThen := notRecorded
	for _, n := range r.Notes {
		switch {
		case n.HRRest == 0:
		case n.Date == before:
			restThen = bpm(n.HRRest)
		case n.Date < before && n.Date >= before-usualDays:
			rest = append(rest, n.HRRest)
		}
	}
	for _, m := range workout.Modes() {
		for _, f := range r.Felt(m, before-usualDays) {
			if f.Hard || f.Doubtful || f.Date >= before {
				continue
			}
			means = append(means, f.Mean)
			for _, x := range f.Recordings {
				if p := x.Measured.HeartRate.Peak; p != nil {
					peaks = append(peaks, *p)
				}
			}
		}
	}
	usualRest := usual(rest, "morning", "mornings")
	if set := r.Client.ZonesOn(before).HRRest; len(rest) == 0 && set > 0 {
		usualRest = bpm(set) + ", as entered"
	}
	t := table{Head: []string{"Heart rate", "Usual", "That day"}, Rows: [][]string{
		{"At rest, in the morning", usualRest, restThen},
		{"Mean of an easy session", usual(means, "session", "sessions"), notRecorded},
		{"Highest in an easy session", usual(peaks, "recording", "recordings"), notRecorded},
	}}
	if aboutDay(c) == 0 {
		t.Head[2] = "Latest recording"
	}
	if then != nil {
		m := then.Recording.Measured
		if mean, ok := m.Main.PerBPM.Mean(); ok {
			t.Rows[1][2] = bpm(mean)
		}
		t.Rows[2][2] = orWord(whole(m.HeartRate.Peak), "bpm", notRecorded)
	}
	return t
}

func bpm(v float64) string { return withUnit(math.Round(v), "bpm") }

// usual is the median of some values in bpm, with their range and number.
func usual(all []float64, one, more string) string {
	n := len(all)
	if n == 0 {
		return notRecorded
	}
	slices.Sort(all)
	s := bpm((all[(n-1)/2] + all[n/2]) / 2)
	if n > 1 {
		s += fmt.Sprintf(" (%.0f to %.0f)", all[0], all[n-1])
	}
	return s + ", " + wording.Plural(n, one, more)
}

// heartRules compare a figure of the heart with a limit.
var heartRules = []policy.ID{policy.Resting, policy.SameEffort, policy.Steady, policy.CheckSession, policy.BackInZone, policy.Creep, policy.Fall}

// unusual lists the figures of the heart that are beyond their limit in the assessment, with both; otherwise it says
// whether any could be compared.
func unusual(c Client) []string {
	var out []string
	compared := 0
	for _, r := range c.Assessment.Reasons {
		if !slices.Contains(heartRules, r.Rule) || r.Met == nil {
			continue
		}
		compared++
		if row := ruleRowOf(r); r.IsUnmet() && row.Observed != "" {
			s := row.Name + ": " + row.Observed
			if row.Threshold != "" {
				s += ", where the programme’s limit is " + row.Threshold
			}
			if row.Days != "" {
				s += " (" + row.Days + ")"
			}
			out = append(out, s)
		}
	}
	switch n := len(out) - mostUnusual; {
	case compared == 0:
		return []string{"Compared with the programme’s limits: not enough data."}
	case len(out) == 0:
		return []string{fmt.Sprintf("No figure is beyond the programme’s limits (%d compared).", compared)}
	case n > 0:
		out = append(out[:mostUnusual], fmt.Sprintf("and %d more in the book", n))
	}
	return out
}
