package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"strings"

	"nextrung/internal/physiology"
	"nextrung/internal/wording"
)

// fill is one meaning of colour: its name, its CSS variable and its pattern, so that no page tells
// anything by colour alone.
type fill struct {
	Name    string
	Color   string // a CSS variable, with the value for light and dark in styles/page.css
	Pattern pattern
}

type pattern string

const (
	plain   pattern = ""
	dots    pattern = "dots"
	slanted pattern = "slanted"
	level   pattern = "level"
	empty   pattern = "empty" // an outline only
	hatched pattern = "hatched"
)

// The fills of the zones, easiest first, and of time without a heart rate.
var (
	underFill = fill{"under zone 1", "var(--z0)", plain}
	zone1Fill = fill{"zone 1", "var(--z1)", plain}
	zone2Fill = fill{"zone 2", "var(--z2)", dots}
	zone3Fill = fill{"zone 3", "var(--z3)", slanted}
	overFill  = fill{"over zone 3", "var(--z4)", level}
	noneFill  = fill{"heart rate not recorded", "var(--page)", empty}
)

// part is one piece of a time by zone.
type part struct {
	fill
	Seconds int
}

// parts lists a time by zone, easiest first. Paused time is no training time and is left out.
func parts(z physiology.ZoneTime) []part {
	return []part{
		{underFill, z.Under}, {zone1Fill, z.Zone1}, {zone2Fill, z.Zone2}, {zone3Fill, z.Zone3}, {overFill, z.Over},
		{noneFill, z.NotRecorded},
	}
}

// comfortable is the time below the top of zone 1, and all the time with a heart rate, in seconds.
func comfortable(z physiology.ZoneTime) (easy, known int) {
	easy = z.Under + z.Zone1
	return easy, easy + z.Zone2 + z.Zone3 + z.Over
}

// percent writes a part of a whole: "87 %".
func percent(part, whole int) string {
	return fmt.Sprintf("%d %%", int(math.Round(100*float64(part)/float64(whole))))
}

// decal is the pattern in the words of the chart library; nil for none. It stands in the same
// places as swatch, which draws the key.
func (p pattern) decal() map[string]any {
	const slant = -0.785398 // -45 degrees
	switch p {
	case dots:
		return map[string]any{"symbol": "circle", "symbolSize": 0.7, "dashArrayX": [][]int{{3, 5}, {0, 4, 3, 1}}, "dashArrayY": []int{4, 0},
			"color": "var(--pattern)"}
	case slanted:
		return map[string]any{"symbol": "rect", "dashArrayX": []int{1, 0}, "dashArrayY": []int{2, 5}, "rotation": slant, "color": "var(--pattern)"}
	case level:
		return map[string]any{"symbol": "rect", "dashArrayX": []int{1, 0}, "dashArrayY": []int{2, 3}, "color": "var(--pattern)"}
	case hatched:
		return map[string]any{"symbol": "rect", "dashArrayX": []int{1, 0}, "dashArrayY": []int{2, 4}, "rotation": slant, "color": "var(--ink)"}
	}
	return nil
}

// swatches are the marks of the key, one for each pattern; %s takes no input of people.
var swatches = map[pattern]string{
	dots:    `<circle cx="5" cy="5" r="1.5"/><circle cx="13" cy="5" r="1.5"/><circle cx="21" cy="5" r="1.5"/><circle cx="9" cy="10" r="1.5"/><circle cx="17" cy="10" r="1.5"/>`,
	slanted: `<path d="M2 10 8 2M9 12 17 2M18 12 24 5"/>`,
	level:   `<path d="M1 4H25M1 8H25M1 12H25"/>`,
	hatched: `<path d="M2 8 7 1M4 13 13 1M10 13 19 1M16 13 24 3"/>`,
}

// Swatch is the mark of the fill for the key of a chart.
func (f fill) Swatch() template.HTML {
	class := map[pattern]string{empty: " empty", hatched: " hatched"}[f.Pattern]
	name := cmp.Or(map[string]string{"var(--z0)": "z0", "var(--z1)": "z1", "var(--z2)": "z2", "var(--z3)": "z3", "var(--z4)": "z4"}[f.Color], "none")
	return template.HTML(`<svg class="swatch ` + name + class + `" viewBox="0 0 26 14" width="26" height="14" aria-hidden="true">` +
		`<rect x=".5" y=".5" width="25" height="13" rx="2"/><g>` + swatches[f.Pattern] + `</g></svg>`)
}

// ZoneBar draws a time by zone as one bar, easiest first, and says in words how much of it was comfortable; "" without
// a recorded heart rate.
func ZoneBar(z physiology.ZoneTime) (bar template.HTML, says string) {
	easy, known := comfortable(z)
	if known == 0 {
		return "", ""
	}
	var b strings.Builder
	at, whole := 0.0, float64(known+z.NotRecorded)
	for i, p := range parts(z) {
		wide := 200 * float64(p.Seconds) / whole
		if wide > 0 {
			fmt.Fprintf(&b, `<rect class="%s" x="%.1f" width="%.1f" height="14"><title>%s: %s</title></rect>`, barClasses[i], at, wide, p.Name, wording.Clock(p.Seconds))
		}
		at += wide
	}
	return template.HTML(`<svg class="zonebar" viewBox="0 0 200 14" preserveAspectRatio="none" aria-hidden="true">` + b.String() + `</svg>`),
		percent(easy, known) + " below the top of zone 1"
}

// barClasses are the classes of the parts of a bar, in the order of parts.
var barClasses = [...]string{"z0", "z1", "z2", "z3", "z4", "none"}

// ZoneScale draws the zones of a mode on a scale from 20 bpm below the first edge to 15 above the last.
func ZoneScale(e physiology.Edges) template.HTML {
	const wide, below, above = 600.0, 20, 15
	low, high := e.BPM[0]-below, e.BPM[3]+above
	x := func(bpm float64) float64 { return wide * (bpm - low) / (high - low) }
	var b strings.Builder
	from := 0.0
	for i, class := range barClasses[:5] {
		to := wide
		if i < len(e.BPM) {
			to = x(e.BPM[i])
		}
		if to > from {
			fmt.Fprintf(&b, `<rect class="%s" x="%.1f" y="0" width="%.1f" height="26"/>`, class, from, to-from)
		}
		from = max(from, to)
	}
	last := math.Inf(-1)
	for _, bpm := range e.BPM {
		if at := x(bpm); at-last > 30 { // edges that a limit laid on each other are written once
			fmt.Fprintf(&b, `<text x="%.1f" y="44">%.0f</text>`, at, math.Round(bpm))
			last = at
		}
	}
	return template.HTML(`<svg class="zonescale" viewBox="0 0 600 48" preserveAspectRatio="xMinYMin slice" aria-hidden="true">` + b.String() + `</svg>`)
}

// mark is the mark of the key for anything that is no filled box.
func mark(shapes string) template.HTML {
	return template.HTML(`<svg class="swatch" viewBox="0 0 26 14" width="26" height="14" aria-hidden="true">` + shapes + `</svg>`)
}
