package reports

import (
	"fmt"
	"math"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// better are the sentences on what has changed for the better: only changes beyond the smallest
// detectable one, each with the size of what is chance.
func better(c Client) []string {
	if !beatsLead(c) {
		return nil
	}
	var out []string
	for _, r := range c.Assessment.Reasons {
		t, ok := changeOf(r)
		if !ok {
			continue
		}
		before, after, chance := math.Round(t.before), math.Round(t.after), max(1, math.Round(t.chance)) // as they are read
		switch {
		case r.Rule == policy.Fall && after-before > chance:
			when := "After easy efforts"
			if c.Assessment.Stage > 1 {
				when = "After similar efforts"
			}
			out = append(out, fmt.Sprintf("%s your pulse now drops by about %s beats in a minute (%s in %s). A change of up to %s is normal from day to day.",
				when, wording.Number(after), wording.Number(before), month(t.since, c.Assessment.AsOf), beatsOf(chance)))
		case r.Rule == policy.SameEffort && before-after > chance:
			out = append(out, fmt.Sprintf("At the same pace, in similar weather, your pulse is about %s beats lower (%s in %s, %s now). A change of up to %s is normal from day to day.",
				wording.Number(before-after), wording.Number(before), month(t.since, c.Assessment.AsOf), wording.Number(after), beatsOf(chance)))
		}
	}
	return out
}

// change is a comparison with the client's own baseline, as a rule shows it.
type change struct {
	before, after, chance float64 // means, and what is normal from day to day
	since                 workout.Date
}

// changeOf reads the comparison that a reason states.
func changeOf(r record.Reason) (out change, ok bool) {
	if !r.Enough || len(r.Points) < 2 || r.Rule != policy.Fall && r.Rule != policy.SameEffort {
		return change{}, false
	}
	figure := func(name string) float64 {
		v, told := r.Says.Args[name].(float64)
		ok = ok && told
		return v
	}
	ok = true
	out = change{figure("before"), figure("after"), figure("chance"), r.Points[0].Date}
	return out, ok
}

// month names the month of a day, with its year when that is another one.
func month(d, on workout.Date) string {
	if d.Time().Year() != on.Time().Year() {
		return d.Time().Format("January 2006")
	}
	return d.Time().Format("January")
}

func beatsOf(v float64) string { return wording.Count(int(v), "beat") }
