package reports

import (
	"fmt"
	"html"
	"html/template"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"strings"
)

// scaleRule is the one rule of the scales, as the page writes it.
const scaleRule = "Each scale runs from 0 to twice the threshold, or further if the value or its interval lies beyond that; " +
	"effort has its whole scale, and shares end at 100 %."

// scaleRange gives the ends of a rule's scale.
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

// scale draws one rule's observed value with its interval against its threshold, at their true
// places. The good side is the thick part of the line. It is hidden from screen readers: the same
// numbers stand beside it.
func scale(r record.Reason) template.HTML {
	if r.Observed == nil || r.Threshold == nil {
		return ""
	}
	const left, right, line = 6.0, 170.0, 12.0
	from, to := scaleRange(r)
	x := func(v float64) float64 { return left + (v-from)/(to-from)*(right-left) }
	edge := x(*r.Threshold)
	good := [2]float64{left, edge}
	if r.Is == policy.AtLeast {
		good = [2]float64{edge, right}
	}
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	text := func(at float64, anchor string, v float64) {
		put(`<text x="%.1f" y="32" text-anchor="%s">%s</text>`, at, anchor, html.EscapeString(wording.Number(v)))
	}
	put(`<svg class="scale" viewBox="0 0 176 34" aria-hidden="true" focusable="false">`)
	put(`<path class="axis" d="M%.1f %.1fH%.1f"/><path class="good" d="M%.1f %.1fH%.1f"/>`, left, line, right, good[0], line, good[1])
	if r.Low != nil && r.High != nil {
		put(`<path class="span" d="M%.1f %.1fv8m0-4H%.1fm0-4v8"/>`, x(*r.Low), line-4, x(*r.High))
	}
	put(`<path class="edge" d="M%.1f 3v18"/>`, edge)
	put(`<circle class="value" cx="%.1f" cy="%.1f" r="4.5"/>`, x(*r.Observed), line)
	text(left-5, "start", from)
	const letter = 9.0 // of the larger letters on paper
	wide := func(v float64) float64 { return letter * float64(len([]rune(wording.Number(v)))) }
	half := wide(*r.Threshold) / 2
	if edge-half > left+wide(from) && edge+half < right-wide(to) { // else it would touch the label of an end
		text(edge, "middle", *r.Threshold)
	}
	text(right+5, "end", to)
	put(`</svg>`)
	return template.HTML(b.String())
}
