package reports

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// improved is one change for the better: what it is in a line, the picture of it, and the sentence.
type improved struct {
	Head, Text, Note string
	Picture          template.HTML
}

// better is what has changed for the better: only changes beyond the smallest detectable one, each with the size of
// a chance difference.
func better(c Client) []improved {
	if !beatsLead(c) {
		return nil
	}
	var out []improved
	for _, r := range c.Assessment.Reasons {
		t, ok := changeOf(r)
		if !ok {
			continue
		}
		before, after, chance := math.Round(t.before), math.Round(t.after), max(1, math.Round(t.chance)) // as they are read
		then, usual := month(t.since, c.Assessment.AsOf), fmt.Sprintf("A change of up to %s is normal from day to day.", beatsOf(chance))
		switch {
		case r.Rule == policy.Fall && after-before > chance:
			when := "After easy efforts"
			if c.Assessment.Stage > 1 {
				when = "After similar efforts"
			}
			out = append(out, improved{
				Head: "Your pulse drops faster after effort",
				Text: fmt.Sprintf("%s your pulse now drops by about %s beats in a minute (%s in %s). %s",
					when, wording.Number(after), wording.Number(before), then, usual),
				Picture: thenAndNow(before, after, chance, then),
			})
		case r.Rule == policy.SameEffort && before-after > chance:
			out = append(out, improved{
				Head: fmt.Sprintf("Your pulse is %s lower at the same pace", beatsOf(before-after)),
				Text: fmt.Sprintf("At the same pace, in similar weather, your pulse is about %s beats lower (%s in %s, %s now). %s",
					wording.Number(before-after), wording.Number(before), then, wording.Number(after), usual),
				Note:    "In similar weather.",
				Picture: thenAndNow(before, after, chance, then),
			})
		}
	}
	return out
}

// thenAndNow draws two means in beats on a line, with the band around the first in which a change would be chance.
func thenAndNow(before, after, chance float64, then string) template.HTML {
	const width, margin, y = 320.0, 46.0, 32.0
	low, high := min(before-chance, after), max(before+chance, after)
	x := func(v float64) float64 { return margin + (v-low)/(high-low)*(width-2*margin) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg class="change" viewBox="0 0 %.0f 84" aria-hidden="true" focusable="false">`, width)
	fmt.Fprintf(&b, `<rect x="%.1f" y="14" width="%.1f" height="36" rx="5"/><text class="soft" x="%.1f" y="9" text-anchor="middle">normal variation</text>`,
		x(before-chance), x(before+chance)-x(before-chance), min(max(x(before), margin), width-margin))
	fmt.Fprintf(&b, `<path class="axis" d="M4 %.0fH%.0f"/><path class="way" d="M%.1f %.0fH%.1f"/>`, y, width-4, x(before), y, x(after))
	fmt.Fprintf(&b, `<circle class="then" cx="%.1f" cy="%.0f" r="7"/><circle class="now" cx="%.1f" cy="%.0f" r="8.5"/>`, x(before), y, x(after), y)
	fmt.Fprintf(&b, `<text x="%.1f" y="66" text-anchor="middle">%s</text><text class="soft" x="%.1f" y="81" text-anchor="middle">%s</text>`, x(before), wording.Number(before), x(before), html.EscapeString(then))
	fmt.Fprintf(&b, `<text class="strong" x="%.1f" y="67" text-anchor="middle">%s</text><text class="soft" x="%.1f" y="81" text-anchor="middle">now</text></svg>`, x(after), wording.Number(after), x(after))
	return template.HTML(b.String())
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
