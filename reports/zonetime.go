package reports

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/physiology"
	"nextrung/internal/wording"
)

// zoneTimeChart shows the time in each zone of one workout as bars.
func zoneTimeChart(id string, z physiology.ZoneTime) (*chart, error) {
	var names []string
	var data []any
	t := table{Head: []string{"Zone", "Time", "Share of the recorded time"}}
	easy, known := comfortable(z)
	for _, p := range parts(z) {
		if p.Seconds == 0 {
			continue
		}
		names = append(names, p.Name)
		bar := p.itemStyle()
		bar["value"], bar["text"] = noZero(math.Round(float64(p.Seconds)/6)/10), wording.Clock(p.Seconds)
		data = append(data, bar)
		share := "none"
		if p.Pattern != empty && known > 0 {
			share = percent(p.Seconds, known)
		}
		t.Rows = append(t.Rows, []string{wording.Capital(p.Name), wording.Clock(p.Seconds), share})
	}
	if z.Paused > 0 {
		t.Rows = append(t.Rows, []string{"Paused", wording.Clock(z.Paused), "none"})
	}
	d := newDrawing(opts.XAxis{Type: "value", Name: "minutes"}, opts.YAxis{Type: "category", Inverse: opts.Bool(true), Data: names}, "rows:min")
	d.base.GridList = []opts.Grid{{Left: "158", Right: "20", Top: "10", Bottom: "44"}}
	d.add(charts.SingleSeries{Name: "time", Type: "bar", BarWidth: "62%", Data: data}, map[string]any{"barMaxWidth": 22})
	title := "No heart rate was recorded"
	if known > 0 {
		title = percent(easy, known) + " of the recorded time was below the top of zone 1"
	}
	return d.finish(chart{ID: id, Title: title, Size: "short", Table: t})
}
