package reports

import (
	"fmt"
	"html/template"
	"math"
	"strings"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/wording"
)

// fallChart shows the two minutes after each stop side by side; nil when no heart rate a minute after one was recorded.
func fallChart(id string, s heartrate.Series, recoveries []physiology.Recovery) *chart {
	t := table{Head: []string{"Seconds after the stop"}}
	marks := []int{0, 15, 30, 60, 90, 120}
	for _, k := range marks {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%d s", k)})
	}
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range recoveries {
		values := afterStop(s, r)
		t.Head = append(t.Head, "Stop at "+wording.Clock(r.Stop))
		for n, k := range marks {
			text := notRecorded
			if k < len(values) && !math.IsNaN(values[k]) {
				text = withUnit(math.Round(values[k]), "bpm")
			}
			t.Rows[n] = append(t.Rows[n], text)
		}
		if r.Drop60 != nil {
			least, most = min(least, *r.Drop60), max(most, *r.Drop60)
		}
	}
	if most < least {
		return nil
	}
	title := "The heart rate dropped by " + span(math.Round(least), math.Round(most), "beats") + " in the first 60 seconds"
	if math.Round(least) <= 0 {
		title = "Not after every stop did the heart rate drop in the first 60 seconds"
		if math.Round(most) <= 0 {
			title = "The heart rate did not drop in the first 60 seconds"
		}
	}
	return &chart{ID: id, Title: title, Table: t,
		Drawn: []picture{{halfWidth.at[0].class, drawFalls(s, recoveries)}}}
}

// afterStop is the heart rate from a stop on, for two minutes at most.
func afterStop(s heartrate.Series, r physiology.Recovery) []float64 {
	from := min(r.Stop, len(s.BPM))
	return s.BPM[from:min(len(s.BPM), from+121)]
}

// drawFalls draws each stop in a panel of its own, all on one scale: the line is broken where nothing was recorded, and
// upright at 60 s. Of more than six stops it shows the first six.
func drawFalls(s heartrate.Series, recoveries []physiology.Recovery) template.HTML {
	const width, high, head, across = 400.0, 100.0, 52.0, 3
	recoveries = recoveries[:min(len(recoveries), 2*across)]
	least, most := math.Inf(1), math.Inf(-1)
	for _, r := range recoveries {
		for _, v := range afterStop(s, r) {
			if !math.IsNaN(v) {
				least, most = min(least, v), max(most, v)
			}
		}
	}
	columns := min(across, max(2, len(recoveries)))
	rows := (len(recoveries) + columns - 1) / columns
	room := width / float64(columns)
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	put(`<svg class="falls" viewBox="0 0 %.0f %.0f" aria-hidden="true" focusable="false">`, width, float64(rows)*(high+head+18))
	for i, r := range recoveries {
		left, top := room*float64(i%columns)+4, float64(i/columns)*(high+head+18)+head
		x := func(k int) float64 { return left + (room-20)*float64(k)/120 }
		y := func(v float64) float64 { return top + high*(most-v)/max(1, most-least) }
		put(`<text x="%.1f" y="%.1f">at %s</text>`, left, top-36, wording.Clock(r.Stop))
		if r.Drop60 != nil {
			put(`<text class="strong" x="%.1f" y="%.1f">%s in 60 s</text>`, left, top-20, signed(-math.Round(*r.Drop60)))
		}
		put(`<path class="axis" d="M%.1f %.1fH%.1fM%.1f %.1fV%.1f"/>`, x(0), top+high, x(120), x(60), top, top+high)
		line, pen := "", "M"
		for k, v := range afterStop(s, r) {
			if math.IsNaN(v) {
				pen = "M"
				continue
			}
			line += fmt.Sprintf("%s%.1f %.1f", pen, x(k), y(v))
			pen = "L"
		}
		put(`<path class="fall" d="%s"/>`, line)
		dot := func(k int, v *float64) {
			if v != nil {
				put(`<circle cx="%.1f" cy="%.1f" r="3"/><text x="%.1f" y="%.1f">%s</text>`, x(k), y(*v), x(k)+6, y(*v)-5, wording.Number(math.Round(*v)))
			}
		}
		dot(0, r.End)
		dot(60, r.At60)
	}
	put(`</svg>`)
	return template.HTML(b.String())
}

// signed writes a change with its sign.
func signed(v float64) string {
	if v > 0 {
		return "+" + wording.Number(v)
	}
	return wording.Number(v)
}
