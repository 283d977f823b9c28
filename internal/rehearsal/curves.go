package rehearsal

import (
	"context"
	"math"
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
)

// Curve is what other thresholds of one rule would have done with the same recorded weeks.
type Curve struct {
	Rule   policy.ID    `json:"rule"`
	Stage  int          `json:"stage"` // that is left
	Is     policy.Bound `json:"is"`
	Unit   policy.Unit  `json:"unit"`
	Now    float64      `json:"now"` // the threshold of the policy
	Points []Point      `json:"points"`
}

// Point is one threshold of a curve. Clients are ready from the first week in which they are so and
// the minimum weeks of the policy are over.
type Point struct {
	Threshold float64 `json:"threshold"`
	Moved     int     `json:"moved_up"`
	Unready   int     `json:"unready"` // of Moved: not ready on that day
	Ready     int     `json:"ready"`
	InTime    int     `json:"ready_in_time"` // of Ready: moved up by three weeks later
}

// spread lists by stage the thresholds that are tried, besides the policy's own. All are possible values of the rule.
var spread = map[int][]struct {
	rule   policy.ID
	values []float64
}{
	1: {
		{policy.Weeks, []float64{2, 3, 4, 6, 8}}, {policy.Sessions, []float64{1, 2, 3, 4}}, {policy.SessionsTotal, []float64{6, 9, 12, 15, 18}},
		{policy.Minutes, []float64{45, 60, 75, 90, 120}}, {policy.Longest, []float64{10, 15, 20, 25, 30}}, {policy.Effort, []float64{11, 12, 13, 14, 15}},
		{policy.UsualEffort, []float64{12, 12.5, 13, 13.5, 14}}, {policy.Forecast, []float64{50, 65, 80, 90, 95}},
		{policy.EnoughEvidence, []float64{0, 1, 2, 3}}, {policy.Zone, []float64{60, 70, 80, 90}}, {policy.Steady, []float64{1, 2, 3, 4.5, 6}},
	},
	2: {
		{policy.IntervalWeeks, []float64{2, 3, 4, 6, 8}}, {policy.IntervalSessions, []float64{3, 4, 6, 8}}, {policy.LongerBouts, []float64{1, 2, 3, 4}},
		{policy.BoutEffort, []float64{13, 14, 15, 16, 17}}, {policy.EnoughEvidence, []float64{0, 1, 2, 3}}, {policy.Steady, []float64{1, 2, 3, 4.5, 6}},
		{policy.BackInZone, []float64{50, 65, 80, 95}}, {policy.Creep, []float64{4, 6, 8, 10, 14}},
	},
}

// curves are those to be drawn, with nobody counted yet, and the policy of each of their points.
func (o Options) curves() (out []Curve, policies [][]policy.Policy, err error) {
	for _, stage := range []int{1, 2} {
		for _, tried := range spread[stage] {
			r := o.Policy.Rule(tried.rule)
			if !r.IsOn() {
				continue
			}
			c := Curve{Rule: tried.rule, Stage: stage, Is: r.Is, Unit: r.Unit, Now: *r.Threshold}
			values := append(slices.Clone(tried.values), c.Now)
			slices.Sort(values)
			var all []policy.Policy
			for _, v := range slices.Compact(values) {
				changed, err := with(o.Policy, c.Rule, v)
				if err != nil {
					return nil, nil, err
				}
				c.Points, all = append(c.Points, Point{Threshold: v}), append(all, changed)
			}
			out, policies = append(out, c), append(policies, all)
		}
	}
	return out, policies, nil
}

// held is a client who stays in a stage for all weeks: what was recorded, and the truth and the
// assessment at the end of each.
type held struct {
	record record.Record
	truth  []bool
	said   []record.Assessment
}

// Curves keeps every client in stage 1, and once more in stage 2, for all weeks, prescribed by the
// policy, and asks at the end of each week what the policy with one other threshold would have said: an
// open loop, in which the weeks are the same for every threshold, so that two of them can be compared
// exactly; what a move would have changed is not played. In stage 2 clients begin with the part of
// the gap that eight weeks of three sessions leave.
func Curves(ctx context.Context, o Options, progress func(done, all int)) ([]Curve, error) {
	curves, policies, err := o.curves()
	if err != nil {
		return nil, err
	}
	err = o.each(ctx, progress, func(p person) func() {
		stages := map[int]held{1: p.hold(o, 1), 2: p.hold(o, 2)}
		moves := make([][]int, len(curves)) // the week of each point; -1 for never
		for i, c := range curves {
			for _, changed := range policies[i] {
				moves[i] = append(moves[i], stages[c.Stage].firstAdvance(c.Rule, changed))
			}
		}
		return func() {
			for i, c := range curves {
				for j := range c.Points {
					c.Points[j].count(stages[c.Stage], moves[i][j])
				}
			}
		}
	})
	return curves, err
}

// hold plays all weeks in one stage.
func (p person) hold(o Options, stage int) held {
	p.facts.Stage = stage
	if stage == 2 {
		p.gap *= math.Exp(-8 / p.closing)
	}
	b := begin(o, p, []Way{Whole})
	var out held
	for w := range o.Weeks {
		on := ends(w)
		b.gap = p.after(b.gap, p.train(&b.record, b.laid, w, b.gap).sessions)
		a := progression.Assess(o.Policy, on, b.record)
		out.said = append(out.said, a)
		truth, _ := p.ready(b.trials[stage+1], w+1, b.gap, stage+1)
		out.truth = append(out.truth, truth.Ready())
		stays := a
		if v := *a.Verdict; v == record.Advance || v == record.StepBack {
			stays.Verdict, stays.Plan, stays.To = new(record.Hold), new(record.Build), nil
		}
		b.rezone(o.Policy, on)
		b.prescribe(o.Policy, on, stays)
	}
	out.record = b.record
	return out
}

// firstAdvance is the first week, from 0, in which a policy that differs in one rule only moves the
// client up; -1 for none. It assesses again only where that rule can make the difference.
func (h held) firstAdvance(rule policy.ID, changed policy.Policy) int {
	for w, a := range h.said {
		if h.otherwiseKept(rule, a) {
			continue
		}
		if v := progression.Assess(changed, ends(w), h.record).Verdict; v != nil && *v == record.Advance {
			return w
		}
	}
	return -1
}

// otherwiseKept says that another rule than the changed one, and those that rest on it, keeps a client.
func (h held) otherwiseKept(rule policy.ID, a record.Assessment) bool {
	resting := map[policy.ID][]policy.ID{
		policy.EnoughEvidence: {policy.Zone, policy.Steady, policy.BackInZone, policy.Creep},
		policy.Minutes:        {policy.Sessions}, // looks at the weeks that have enough sessions
		policy.FailedSessions: {policy.Creep},
	}
	return slices.ContainsFunc(open(a), func(other policy.ID) bool {
		return other != rule && !slices.Contains(resting[other], rule)
	})
}

// count adds one client.
func (p *Point) count(h held, moved int) {
	if moved >= 0 {
		p.Moved++
		p.Unready += one(!h.truth[moved])
	}
	for w, a := range h.said {
		if h.truth[w] && a.Weeks > 0 && a.Week >= a.Weeks {
			if w+patience < len(h.said) {
				p.Ready++
				p.InTime += one(moved >= 0 && moved <= w+patience)
			}
			return
		}
	}
}
