package reports

import (
	"math"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// weekAxis labels weeks by their last day.
func weekAxis(weeks []record.Week) opts.XAxis {
	return opts.XAxis{Type: "category", Data: record.Map(weeks, func(w record.Week) string { return w.To.Short() })}
}

// planned is the minutes prescribed for a week, nil when no session was.
func planned(w record.Week) *int {
	if w.Plan == nil || w.Plan.Sessions == 0 {
		return nil
	}
	return new(w.Plan.Total())
}

func plannedText(w record.Week) string {
	switch n := planned(w); {
	case n != nil:
		return strconv.Itoa(*n) + " min"
	case w.Plan != nil:
		return "no session"
	}
	return "no plan"
}

// noZero leaves out what would be an outline without a body: the chart library reads "-" as a gap.
func noZero(v float64) any {
	if v == 0 {
		return "-"
	}
	return v
}

// plannedMarks draws what was planned as a short line at each week.
func plannedMarks(d *drawing, weeks []record.Week) bool {
	var data []opts.ScatterData
	some := false
	for _, w := range weeks {
		point := opts.ScatterData{Value: "-"}
		if n := planned(w); n != nil {
			point.Value, some = *n, true
		}
		data = append(data, point)
	}
	if some {
		d.add(charts.SingleSeries{Name: "planned", Type: "scatter", Data: data, Symbol: "rect", SymbolSize: []int{max(6, min(28, 220/len(weeks))), 3},
			ItemStyle: &opts.ItemStyle{Color: "var(--ink)"}}, map[string]any{"z": 4})
	}
	return some
}

// newestDated puts the marks of an axis of n weeks beside their bars, and a date on as many as have room, the newest first.
func (d *drawing) newestDated(n int) {
	const most = 6
	every := max(1, (n+most-1)/most)
	var dates []int
	for i := n - 1; i >= 0; i -= every {
		dates = append(dates, i)
	}
	merge(d.axis("xAxis"), map[string]any{"axisTick": map[string]any{"alignWithLabel": true}, "axisLabel": map[string]any{"customValues": dates}})
}

// valueLabel writes a bar's value so many pixels above it.
func valueLabel(v, above float64) map[string]any {
	return map[string]any{"label": map[string]any{"show": true, "formatter": wording.Number(v), "position": "top", "distance": 5 + above,
		"color": "var(--ink)", "fontSize": 12, "fontFamily": fonts}}
}

// clearOf is how far above a bar its value has to stand to miss the mark of what was planned, in pixels; top is the
// highest bar, of some 75 pixels.
func clearOf(w record.Week, top float64) float64 {
	if n := planned(w); n != nil && float64(*n) >= w.Minutes {
		if off := 75 * (float64(*n) - w.Minutes) / top; off < 22 {
			return off
		}
	}
	return 0
}

// minutesChart shows the minutes of each week and what was planned; the first and the newest have their value.
func minutesChart(id string, weeks []record.Week, caption string) (*chart, error) {
	d := newDrawing(weekAxis(weeks), opts.YAxis{Type: "value", Name: "minutes", MinInterval: 10}, "rows:min")
	d.newestDated(len(weeks))
	d.base.GridList = []opts.Grid{{Left: "44", Right: "14", Top: "34", Bottom: "28"}}
	var bars []opts.BarData
	t := table{Head: []string{"Week to", "Minutes", "Planned", "Longest session", "Sessions"}}
	labels := make([]any, len(weeks))
	for i := range labels {
		labels[i] = map[string]any{}
	}
	top := 1.0
	for _, w := range weeks {
		top = max(top, w.Minutes)
	}
	for i, w := range weeks {
		bar := minutesBar(w)
		long, minutes := "none", wording.Number(math.Round(w.Minutes))+" min"
		if len(w.Sessions) > 0 {
			long = wording.Number(math.Round(w.Longest)) + " min"
		}
		if w.Paused && len(w.Sessions) == 0 {
			minutes, long = "away", "away"
		}
		if newest := i == len(weeks)-1; (i == 0 || newest) && w.Minutes > 0 {
			labels[i] = valueLabel(math.Round(w.Minutes), clearOf(w, top))
			if newest {
				bar.ItemStyle = &opts.ItemStyle{Color: "var(--z3)"}
			}
		}
		bars = append(bars, bar)
		t.Rows = append(t.Rows, []string{w.To.Long(), minutes, plannedText(w), long, strconv.Itoa(len(w.Sessions))})
	}
	d.add(charts.SingleSeries{Name: "minutes", Type: "bar", Data: bars, BarWidth: "58%"},
		map[string]any{"data": labels, "barMaxWidth": 38, "itemStyle": map[string]any{"color": "var(--z1)", "borderColor": "var(--outline)", "borderWidth": 1,
			"borderRadius": []int{3, 3, 0, 0}}})
	if plannedMarks(d, weeks) {
		caption += plannedNote
	}
	return d.finish(chart{ID: id, Title: minutesHead(weeks), Caption: caption, Size: "weeks", Table: t})
}

// plannedNote explains the marks of plannedMarks.
const plannedNote = " Short lines: planned."

// minutesBar is one week's bar; a week away says so in its place.
func minutesBar(w record.Week) opts.BarData {
	if !w.Paused || w.Minutes > 0 {
		return opts.BarData{Value: noZero(math.Round(w.Minutes))}
	}
	return opts.BarData{Value: 0, ItemStyle: &opts.ItemStyle{Color: "transparent", BorderColor: "transparent"},
		Label: &opts.Label{Show: opts.Bool(true), Formatter: "away", Position: "top", Color: "var(--soft)", FontSize: 11, FontFamily: fonts}}
}

// nameRoom is the part of the highest bar that a name needs beside it: a twelfth.
const nameRoom = 12

// zonesChart shows the time in each zone of each week against what was planned.
func zonesChart(id string, weeks []record.Week) (*chart, error) {
	d := newDrawing(weekAxis(weeks), opts.YAxis{Type: "value", Name: "minutes", MinInterval: 10}, "rows:min")
	d.newestDated(len(weeks))
	d.base.GridList = []opts.Grid{{Left: "44", Right: "82", Top: "34", Bottom: "28"}}
	most := 0
	for _, w := range weeks {
		most = max(most, w.Zones.Sum())
	}
	t := table{Head: []string{"Week to"}}
	var keys []key
	caption := "Minutes in each zone."
	rows := make([][]string, len(weeks))
	for i, w := range weeks {
		rows[i] = []string{w.To.Long()}
	}
	for z, f := range parts(weeks[0].Zones) {
		data := make([]opts.BarData, len(weeks))
		shown := false
		for i, w := range weeks {
			m := math.Round(float64(weekParts(w)[z].Seconds)/6) / 10
			shown = shown || m > 0
			data[i] = opts.BarData{Value: noZero(m)}
		}
		if !shown {
			continue
		}
		t.Head = append(t.Head, wording.Capital(f.Name))
		for i, w := range weeks {
			rows[i] = append(rows[i], minutes(weekParts(w)[z].Seconds))
		}
		if n := weekParts(weeks[len(weeks)-1])[z].Seconds; n*nameRoom >= most && n > 0 { // named at the newest bar
			data[len(data)-1].Label = &opts.Label{Show: opts.Bool(true), Formatter: f.Name, Position: "right", Color: "var(--ink)", FontSize: 12, FontFamily: fonts}
		} else {
			keys = append(keys, f.key())
		}
		more := f.itemStyle()
		more["barMaxWidth"] = 38
		d.add(charts.SingleSeries{Name: f.Name, Type: "bar", Stack: "week", Data: data, BarWidth: "58%"}, more)
	}
	if plannedMarks(d, weeks) {
		caption += plannedNote
		t.Head = append(t.Head, "Planned")
		for i, w := range weeks {
			rows[i] = append(rows[i], plannedText(w))
		}
	}
	t.Rows = rows
	return d.finish(chart{ID: id, Title: zonesFinding(weeks), Caption: caption, Size: "low", Keys: keys, Table: t})
}

// weekParts is the week's time by zone; sessions that were reported without a recording, and
// recordings without zones, add to the time without a heart rate in zones.
func weekParts(w record.Week) []part {
	z := w.Zones
	for _, s := range w.Sessions {
		if s.Reported {
			z.NotRecorded += int(s.Minutes * 60)
		}
		for _, r := range s.Recordings {
			if r.Measured.Zones == nil {
				z.NotRecorded += r.Measured.HeartRate.Elapsed - r.Measured.HeartRate.Paused
			}
		}
	}
	return parts(z)
}
