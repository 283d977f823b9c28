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
	return opts.XAxis{Type: "category", Name: "week to", Data: record.Map(weeks, func(w record.Week) string { return w.To.Short() })}
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

var (
	plannedKey = key{"planned", mark(`<path class="mark" d="M1 7H25"/>`)}
	longestKey = key{"longest session", mark(`<circle class="dot" cx="13" cy="7" r="4"/>`)}
)

// minutesChart shows the minutes of each week, what was planned, and the longest session.
func minutesChart(id string, weeks []record.Week, caption string) (*chart, error) {
	d := newDrawing(weekAxis(weeks), opts.YAxis{Type: "value", Name: "minutes", MinInterval: 10}, "rows:min")
	var bars []opts.BarData
	var longest []opts.ScatterData
	t := table{Head: []string{"Week to", "Minutes", "Planned", "Longest session", "Sessions"}}
	for _, w := range weeks {
		bars = append(bars, minutesBar(w))
		long, minutes := "none", wording.Number(math.Round(w.Minutes))+" min"
		point := opts.ScatterData{Value: "-"}
		if len(w.Sessions) > 0 {
			point.Value, long = math.Round(w.Longest), wording.Number(math.Round(w.Longest))+" min"
		}
		if w.Paused && len(w.Sessions) == 0 {
			minutes, long = "away", "away"
		}
		longest = append(longest, point)
		t.Rows = append(t.Rows, []string{w.To.Long(), minutes, plannedText(w), long, strconv.Itoa(len(w.Sessions))})
	}
	d.add(charts.SingleSeries{Name: "minutes", Type: "bar", Data: bars, BarWidth: "58%"},
		map[string]any{"barMaxWidth": 38, "itemStyle": map[string]any{"color": "var(--z1)", "borderColor": "var(--outline)", "borderWidth": 1,
			"borderRadius": []int{3, 3, 0, 0}}})
	keys := []key{{"minutes in the week", fill{Color: "var(--z1)"}.Swatch()}, longestKey}
	if plannedMarks(d, weeks) {
		keys = append(keys, plannedKey)
	}
	d.add(charts.SingleSeries{Name: "longest session", Type: "scatter", Data: longest, Symbol: "circle", SymbolSize: 9,
		ItemStyle: &opts.ItemStyle{Color: "var(--card)", BorderColor: "var(--ink)", BorderWidth: 2}}, map[string]any{"z": 5})
	return d.finish(chart{ID: id, Title: "Minutes and the longest session, week by week", Caption: caption, Keys: keys, Table: t})
}

// minutesBar is one week's bar; a week away says so in its place.
func minutesBar(w record.Week) opts.BarData {
	if !w.Paused || w.Minutes > 0 {
		return opts.BarData{Value: noZero(math.Round(w.Minutes))}
	}
	return opts.BarData{Value: 0, ItemStyle: &opts.ItemStyle{Color: "transparent", BorderColor: "transparent"},
		Label: &opts.Label{Show: opts.Bool(true), Formatter: "away", Position: "top", Color: "var(--soft)", FontSize: 11, FontFamily: fonts}}
}

// zonesChart shows the time in each zone of each week against what was planned.
func zonesChart(id string, weeks []record.Week, caption string) (*chart, error) {
	d := newDrawing(weekAxis(weeks), opts.YAxis{Type: "value", Name: "minutes", MinInterval: 10}, "rows:min")
	t := table{Head: []string{"Week to"}}
	var keys []key
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
		keys = append(keys, f.key())
		more := f.itemStyle()
		more["barMaxWidth"] = 38
		d.add(charts.SingleSeries{Name: f.Name, Type: "bar", Stack: "week", Data: data, BarWidth: "58%"}, more)
	}
	if plannedMarks(d, weeks) {
		keys = append(keys, plannedKey)
		t.Head = append(t.Head, "Planned")
		for i, w := range weeks {
			rows[i] = append(rows[i], plannedText(w))
		}
	}
	t.Rows = rows
	return d.finish(chart{ID: id, Title: "Time in each zone, week by week", Caption: caption, Keys: keys, Table: t})
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
