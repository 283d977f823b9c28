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

// spread lists the thresholds that are tried, besides the policy's own. All are possible values of the rule.
func spread(stage int) []Curve {
	values := map[policy.ID][]float64{
		policy.Weeks: {2, 3, 4, 6, 8}, policy.Sessions: {1, 2, 3, 4}, policy.SessionsTotal: {6, 9, 12, 15, 18}, policy.Minutes: {45, 60, 75, 90, 120},
		policy.Longest: {10, 15, 20, 25, 30}, policy.Effort: {11, 12, 13, 14, 15}, policy.EnoughEvidence: {1, 2, 3}, policy.Zone: {60, 70, 80, 90}, policy.Steady: {1, 2, 3, 4.5, 6},
	}
	order := []policy.ID{policy.Weeks, policy.Sessions, policy.SessionsTotal, policy.Minutes, policy.Longest, policy.Effort, policy.EnoughEvidence, policy.Zone, policy.Steady}
	if stage == 2 {
		values = map[policy.ID][]float64{
			policy.IntervalWeeks: {2, 3, 4, 6, 8}, policy.IntervalSessions: {3, 4, 6, 8}, policy.LongerBouts: {1, 2, 3, 4}, policy.BoutEffort: {13, 14, 15, 16, 17},
			policy.EnoughEvidence: {1, 2, 3}, policy.Steady: {1, 2, 3, 4.5, 6}, policy.BackInZone: {50, 65, 80, 95}, policy.Creep: {4, 6, 8, 10, 14},
		}
		order = []policy.ID{policy.IntervalWeeks, policy.IntervalSessions, policy.LongerBouts, policy.BoutEffort, policy.EnoughEvidence, policy.Steady, policy.BackInZone, policy.Creep}
	}
	var out []Curve
	for _, rule := range order {
		c := Curve{Rule: rule, Stage: stage}
		for _, v := range values[rule] {
			c.Points = append(c.Points, Point{Threshold: v})
		}
		out = append(out, c)
	}
	return out
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
	var curves []Curve
	variants := map[int][][]policy.Policy{} // by stage, curve and point
	for _, stage := range []int{1, 2} {
		for _, c := range spread(stage) {
			r := o.Policy.Rule(c.Rule)
			c.Is, c.Unit, c.Now = r.Is, r.Unit, *r.Threshold
			if !slices.ContainsFunc(c.Points, func(p Point) bool { return p.Threshold == c.Now }) {
				c.Points = append(c.Points, Point{Threshold: c.Now})
				slices.SortFunc(c.Points, func(a, b Point) int { return int(math.Copysign(1, a.Threshold-b.Threshold)) })
			}
			var all []policy.Policy
			for _, p := range c.Points {
				changed, err := with(o.Policy, c.Rule, p.Threshold)
				if err != nil {
					return nil, err
				}
				all = append(all, changed)
			}
			variants[stage] = append(variants[stage], all)
			curves = append(curves, c)
		}
	}
	first := len(variants[1]) // of the curves of stage 2
	err := o.each(ctx, progress, func(p person) func() {
		one, two := p.hold(o, 1), p.hold(o, 2)
		var moves []int // week of each point, in order; -1 for never
		for i, c := range curves {
			h, policies := one, variants[1]
			if c.Stage == 2 {
				h, policies, i = two, variants[2], i-first
			}
			for j := range c.Points {
				moves = append(moves, h.firstAdvance(c.Rule, policies[i][j]))
			}
		}
		return func() {
			n := 0
			for i := range curves {
				h := one
				if curves[i].Stage == 2 {
					h = two
				}
				for j := range curves[i].Points {
					curves[i].Points[j].count(h, moves[n])
					n++
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
		b.gap = p.after(b.gap, p.train(&b.record, b.laid, w, b.gap))
		a := progression.Assess(o.Policy, on, b.record)
		out.said = append(out.said, a)
		out.truth = append(out.truth, readiness(b.trials[stage+1], p.in(w+1, b.gap), stage+1).Ready())
		stays := a
		if v := *a.Verdict; v == record.Advance || v == record.StepBack {
			hold, build := record.Hold, record.Build
			stays.Verdict, stays.Plan, stays.To = &hold, &build, nil
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
	return slices.ContainsFunc(open(a), func(other policy.ID) bool {
		switch {
		case other == rule, other == policy.EnoughEvidence && slices.Contains([]policy.ID{policy.Zone, policy.Steady, policy.BackInZone, policy.Creep}, rule):
			return false
		case other == policy.Minutes && rule == policy.Sessions: // looks at the weeks that have enough sessions
			return false
		case other == policy.FailedSessions && rule == policy.Creep:
			return false
		}
		return true
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
