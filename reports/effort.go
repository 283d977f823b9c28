package reports

import (
	"nextrung/internal/record"
	"nextrung/internal/wording"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// effortChart shows the perceived effort of each session that was rated; nil when none was. The
// two scales are never mixed: the one with more answers is drawn, both stand in the table.
func effortChart(id string, weeks []record.Week) (*chart, error) {
	t := table{Head: []string{"Day", "Effort", "Talking", "Minutes"}}
	rated := map[int][]record.Session{} // by scale
	for _, w := range weeks {
		for _, s := range w.Sessions {
			if s.RPE != nil || s.Talk != record.NotAsked {
				t.Rows = append(t.Rows, []string{s.Date.Long(), effort(s.RPE), talk(s.Talk), wording.Number(s.Minutes) + " min"})
			}
			if s.RPE != nil {
				rated[s.RPE.Scale] = append(rated[s.RPE.Scale], s)
			}
		}
	}
	if len(rated) == 0 {
		return nil, nil
	}
	scale, low, caption := 20, 6, "Comfortable sessions are around 11 to 13 on the scale from 6 to 20."
	if len(rated[10]) > len(rated[20]) {
		scale, low, caption = 10, 0, "Comfortable sessions are around 2 to 4 on the scale from 0 to 10."
	}
	names := record.Map(rated[scale], func(s record.Session) string { return s.Date.Short() })
	data := record.Map(rated[scale], func(s record.Session) opts.ScatterData { return opts.ScatterData{Value: s.RPE.Value} })
	d := newDrawing(opts.XAxis{Type: "category", Name: "session on", Data: names}, opts.YAxis{Type: "value", Name: "effort"}, "rows:")
	d.scaleY(float64(low), float64(scale), 2)
	d.add(charts.SingleSeries{Name: "effort", Type: "scatter", Data: data, Symbol: "circle", SymbolSize: 9,
		ItemStyle: &opts.ItemStyle{Color: "var(--z2)", BorderColor: "var(--outline)", BorderWidth: 1}}, nil)
	return d.finish(chart{ID: id, Title: "How hard it felt", Caption: caption, Size: "short", Table: t})
}
