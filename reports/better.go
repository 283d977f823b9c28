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
		switch {
		case r.Rule == policy.Fall && t.change > t.chance:
			when := "After easy efforts"
			if c.Assessment.Stage > 1 {
				when = "After similar efforts"
			}
			out = append(out, fmt.Sprintf("%s your pulse now drops by about %s beats in a minute (%s in %s). A change of up to %s is normal from day to day.",
				when, wording.Number(math.Round(t.after)), wording.Number(math.Round(t.before)), month(t.since, c.Assessment.AsOf), beatsOf(t.chance)))
		case r.Rule == policy.SameEffort && -t.change > t.chance:
			out = append(out, fmt.Sprintf("At the same pace, in similar weather, your pulse is about %s beats lower (%s in %s, %s now). A change of up to %s is normal from day to day.",
				wording.Number(math.Round(-t.change)), wording.Number(math.Round(t.before)), month(t.since, c.Assessment.AsOf), wording.Number(math.Round(t.after)), beatsOf(t.chance)))
		}
	}
	return out
}

// change is a comparison with the client's own baseline, as a rule shows it.
type change struct {
	before, after  float64 // means
	change, chance float64
	since          workout.Date
}

// changeOf reads a comparison from a reason whose points are the baseline and then the latest values (those
// of the resting heart rate are the week's mornings alone). They split where the difference of the two means
// is the observed change.
func changeOf(r record.Reason) (change, bool) {
	if r.Rule != policy.Fall && r.Rule != policy.SameEffort || !r.Enough || r.Observed == nil || r.High == nil || len(r.Points) < 2 {
		return change{}, false
	}
	out := change{change: *r.Observed, chance: *r.High - *r.Observed, since: r.Points[0].Date}
	best := math.Inf(1)
	for k := 1; k < len(r.Points); k++ {
		before, after := meanPoint(r.Points[:k]), meanPoint(r.Points[k:])
		if miss := math.Abs(after - before - *r.Observed); miss < best-1e-9 {
			best, out.before, out.after = miss, before, after
		}
	}
	return out, best < 0.05
}

func meanPoint(ps []record.Point) float64 {
	sum := 0.0
	for _, p := range ps {
		sum += p.Value
	}
	return sum / float64(len(ps))
}

// month names the month of a day, with its year when that is another one.
func month(d, on workout.Date) string {
	if d.Time().Year() != on.Time().Year() {
		return d.Time().Format("January 2006")
	}
	return d.Time().Format("January")
}

// beatsOf writes a difference in whole beats, at least one.
func beatsOf(v float64) string { return wording.Plural(max(1, int(math.Round(v))), "beat", "beats") }
