package story

import (
	"maps"

	"nextrung/internal/policy"
)

// numbers are those that a rule is tested with.
type numbers struct {
	threshold, threshold10 float64
	window                 int
	more                   map[string]float64
}

type more = map[string]float64

// small is the policy that stories are written for. It stands apart from the policy of a new book, so
// that somebody who changes a number there sees the tests of that number fail and no others.
var small = map[policy.ID]numbers{
	"adult":             {18, 0, 0, nil},
	"emergency-sign":    {0, 0, 0, nil},
	"doctor-sign":       {0, 0, 0, nil},
	"disease":           {12, 0, 0, nil},
	"screening":         {1, 0, 0, more{"again_after_break_days": 84}},
	"weeks":             {4, 0, 0, more{"inactive": 6}},
	"clearance":         {12, 0, 0, nil},
	"sessions":          {2, 0, 42, more{"weeks": 4}},
	"sessions-total":    {12, 0, 0, nil},
	"minutes":           {75, 0, 42, more{"goal": 150, "least": 50, "share_of_time": 90, "weeks": 4}},
	"longest":           {20, 0, 42, more{"goal": 30}},
	"effort":            {13, 4, 21, more{"answers": 3, "hardest": 14, "hardest_10": 5}},
	"usual-effort":      {13.5, 4.5, 28, more{"answers": 3, "bout_answers": 2, "bouts": 14, "bouts_10": 5, "uneasy_percent": 34}},
	"forecast":          {80, 0, 28, more{"answers": 3, "bout_answers": 2, "effort": 16, "effort_10": 7, "half_life_days": 28, "stage_2": 85, "uneasy_percent": 34}},
	"evidence":          {2, 0, 0, nil},
	"zone":              {80, 0, 28, more{"sessions": 3}},
	"steady":            {3, 0, 42, more{"of": 3, "sessions": 2, "warmest_c": 25}},
	"check-session":     {4, 0, 42, more{"effort": 13, "effort_10": 4}},
	"same-effort":       {1, 0, 0, more{"baseline": 3, "baseline_age_days": 14, "baseline_most": 5, "error_percent": 3, "load_within_percent": 5, "recent": 3, "recent_days": 28, "stable": 5, "warmest_c": 25}},
	"interval-weeks":    {4, 0, 0, nil},
	"interval-sessions": {6, 0, 42, more{"bouts_percent": 80, "length_within_percent": 20}},
	"longer-bouts":      {2, 0, 42, more{"bout_s": 120}},
	"bout-effort":       {16, 7, 42, more{"answers": 3, "hardest": 16, "hardest_10": 7}},
	"back-in-zone":      {80, 0, 28, more{"sessions": 2}},
	"creep":             {8, 0, 28, more{"of": 3, "sessions": 2}},
	"as-prescribed":     {80, 0, 7, nil},
	"fall":              {1, 0, 0, more{"baseline": 3, "baseline_age_days": 14, "baseline_most": 5, "end_within_bpm": 5, "error_percent": 25, "recent": 3, "recent_days": 28, "stable": 5}},
	"resting":           {5, 0, 7, more{"mornings": 3}},
	"monotony":          {2, 0, 7, nil},
	"weekly-rise":       {20, 0, 28, more{"silent_below_min": 150}},
	"longest-run":       {10, 0, 7, more{"before_days": 30, "or_minutes": 5}},
	"enjoyment":         {1, 0, 28, more{"low": 2, "of": 3}},
	"tired-sign":        {0, 0, 7, nil},
	"illness":           {9, 0, 9, more{"normal_weeks": 2}},
	"tiredness":         {0, 0, 14, more{"effort_rise": 2, "sessions": 2}},
	"tiredness-again":   {1, 0, 28, nil},
	"failed-sessions":   {2, 0, 42, more{"effort": 18, "effort_10": 9}},
	"break":             {7, 0, 0, more{"stage_1_from_days": 15}},
	"long-break":        {28, 0, 0, nil},
}

// Policy is the policy that stories are assessed by, whatever a new book's says.
func Policy() policy.Policy {
	p := policy.Default()
	for i := range p.Rules {
		r := &p.Rules[i]
		n, ok := small[r.ID]
		if !ok {
			panic("story: the rule " + string(r.ID) + " has no numbers; add them to small")
		}
		if r.On != nil {
			r.On = new(r.ID == policy.Effort || r.ID == policy.BoutEffort || r.ID == policy.LongerBouts)
		}
		r.Threshold, r.Window, r.More = &n.threshold, &n.window, maps.Clone(n.more)
		if r.Threshold10 != nil {
			r.Threshold10 = &n.threshold10
		}
	}
	return p
}
