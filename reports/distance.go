package reports

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// distances are the rules of one kind in the picture of all rules.
type distances struct {
	Name string
	Dots []distance
}

// distance is one rule in the picture: how far its value lies from the limit, on an axis that all rules share.
type distance struct {
	Name, Row   string // the latter is the place of its row in the table
	Value       string
	Picture     template.HTML
	from        float64 // the limit, towards the better side; 1 is the end of the rule's own scale
	low, high   float64
	Met, Hollow bool // hollow dots decide nothing
}

// distancesOf is the picture of all rules that have a value and a limit: the nearest to its limit, or the farthest
// beyond it, first; what is needed, what the heart shows, and what decides nothing apart. A rule that is met for a reason
// other than its value, such as a break after which the client has returned, has no place on the axis.
func distancesOf(all []record.Reason) []distances {
	var out []distances
	for _, k := range []policy.Kind{policy.Required, policy.Evidence, policy.Informative} {
		g := distances{Name: reasons.Kind(k)}
		for _, r := range all {
			if r.Kind == k && r.Observed != nil && r.Threshold != nil && r.Met != nil && *r.Met == policy.Within(*r.Observed, r.Is, *r.Threshold) && r.Rule != policy.EnoughEvidence {
				g.Dots = append(g.Dots, distanceOf(r))
			}
		}
		slices.SortStableFunc(g.Dots, func(a, b distance) int {
			switch {
			case a.from < b.from:
				return -1
			case a.from > b.from:
				return 1
			}
			return 0
		})
		if len(g.Dots) > 0 {
			out = append(out, g)
		}
	}
	return out
}

func distanceOf(r record.Reason) distance {
	from, to := scaleRange(r)
	limit := *r.Threshold
	at := func(v float64) float64 {
		d := v - limit
		if r.Is == policy.AtMost {
			d = -d
		}
		room := to - limit // the good side of an "at least", the bad one of an "at most"
		if (d < 0) == (r.Is == policy.AtLeast) {
			room = limit - from
		}
		if room <= 0 {
			room = max(1, math.Abs(limit))
		}
		return max(-1, min(1, d/room))
	}
	d := distance{Name: wording.Capital(reasons.Rule(r.Rule)), Row: "row-" + string(r.Rule), Met: *r.Met, Hollow: r.Kind == policy.Informative,
		Value: bareValue(r) + ", " + limitText(r), from: at(*r.Observed)}
	d.low, d.high = d.from, d.from
	if r.Low != nil && r.High != nil {
		d.low, d.high = min(at(*r.Low), at(*r.High)), max(at(*r.Low), at(*r.High))
	}
	d.Picture = d.draw()
	return d
}

// bareValue is a rule's value, without the unit where its name shows that.
func bareValue(r record.Reason) string {
	if r.Unit.Share() {
		return wording.Number(*r.Observed) + " %"
	}
	return wording.Number(*r.Observed)
}

// limitText is a rule's limit beside its value: "needed 75", "limit 13".
func limitText(r record.Reason) string {
	word := "limit"
	if r.Is == policy.AtLeast {
		word = "needed"
	}
	return word + " " + wording.Number(*r.Threshold)
}

// draw puts the dot and its interval on the axis; the style sheet draws the limit through all of them.
func (d distance) draw() template.HTML {
	const width, middle, reach, y = 200.0, 70.0, 60.0, 11.0
	x := func(v float64) float64 {
		if v > 0 {
			return middle + v*(width-middle-8)
		}
		return middle + v*reach
	}
	class := "dot"
	if d.Hollow {
		class = "dot hollow"
	} else if !d.Met {
		class = "dot unmet"
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="distance" viewBox="0 0 %.0f 22" aria-hidden="true" focusable="false">`, width)
	if x(d.high)-x(d.low) > 2 {
		fmt.Fprintf(&b, `<path class="span" d="M%.1f %.0fH%.1f"/>`, x(d.low), y, x(d.high))
	}
	fmt.Fprintf(&b, `<circle class="%s" cx="%.1f" cy="%.0f" r="5"/></svg>`, class, x(d.from), y)
	return template.HTML(b.String())
}

// scaleRange gives the ends of a rule's own scale: from 0 to twice the threshold, or further if the value or its interval
// lies beyond that; effort has its whole scale, and shares end at 100 %.
func scaleRange(r record.Reason) (from, to float64) {
	t := *r.Threshold
	low, high := *r.Observed, *r.Observed
	if r.Low != nil && r.High != nil {
		low, high = min(low, *r.Low), max(high, *r.High)
	}
	from, to = min(0, 2*t), max(0, 2*t)
	switch {
	case r.Unit == policy.UnitRPE && t > 10:
		from, to = 6, 20
	case r.Unit == policy.UnitRPE:
		from, to = 0, 10
	case r.Unit.Share():
		to = max(100, t)
	}
	if from, to = min(from, low), max(to, high); from == to {
		to++
	}
	return from, to
}
