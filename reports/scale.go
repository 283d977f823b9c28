package reports

import (
	"fmt"
	"html"
	"html/template"
	"strings"

	"nextrung/internal/progression"
)

// scale draws one rule's observed value with its interval against its threshold. The good side is
// the thick part of the line. It is hidden from screen readers: the same numbers stand beside it.
func scale(r progression.Reason) template.HTML {
	if r.Observed == nil || r.Threshold == nil {
		return ""
	}
	const left, right, line = 6.0, 170.0, 12.0
	low, high := *r.Observed, *r.Observed
	if r.Low != nil && r.High != nil {
		low, high = min(low, *r.Low), max(high, *r.High)
	}
	from, to := min(low, *r.Threshold), max(high, *r.Threshold)
	room := (to - from) * 0.25
	if room == 0 {
		room = max(1, 0.25*to)
	}
	from, to = from-room, to+room
	if from < 0 && low >= 0 && *r.Threshold >= 0 {
		from = 0 // counts and shares have nothing below zero to show
	}
	x := func(v float64) float64 { return left + (v-from)/(to-from)*(right-left) }
	edge := x(*r.Threshold)
	good := [2]float64{left, edge}
	if r.Is == "at least" {
		good = [2]float64{edge, right}
	}
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	put(`<svg class="scale" viewBox="0 0 176 34" aria-hidden="true" focusable="false">`)
	put(`<path class="axis" d="M%.1f %.1fH%.1f"/><path class="good" d="M%.1f %.1fH%.1f"/>`, left, line, right, good[0], line, good[1])
	if r.Low != nil && r.High != nil {
		put(`<path class="span" d="M%.1f %.1fv8m0-4H%.1fm0-4v8"/>`, x(*r.Low), line-4, x(*r.High))
	}
	put(`<path class="edge" d="M%.1f 3v18"/>`, edge)
	put(`<circle class="value" cx="%.1f" cy="%.1f" r="4.5"/>`, x(*r.Observed), line)
	put(`<text x="%.1f" y="32" text-anchor="middle">%s</text></svg>`, max(12, min(164, edge)), html.EscapeString(figure(*r.Threshold)))
	return template.HTML(b.String())
}
