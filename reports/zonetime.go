package reports

import (
	"fmt"
	"math"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/heartrate"
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
	caption := "No heart rate was recorded."
	if known > 0 {
		caption = percent(easy, known) + " of the recorded time was below the top of zone 1."
	}
	return d.finish(chart{ID: id, Title: "Time in each zone", Caption: caption, Table: t})
}

// dashes tell the lines of one chart apart; the fifth looks like the first again.
var dashes = [][]int{{26, 0}, {6, 3}, {2, 3}, {8, 3, 2, 3}}

// fallChart lays the two minutes after each stop over each other; nil without a stop.
func fallChart(id string, s heartrate.Series, recoveries []physiology.Recovery) (*chart, error) {
	if len(recoveries) == 0 {
		return nil, nil
	}
	d := newDrawing(opts.XAxis{Type: "value", Name: "seconds after the stop", Min: "0", Max: 120}, opts.YAxis{Type: "value", Name: "beats a minute", Scale: opts.Bool(true)}, "moment:bpm")
	d.axis("xAxis")["interval"] = 30
	t := table{Head: []string{"Seconds after the stop"}}
	marks := []int{0, 15, 30, 60, 90, 120}
	for _, k := range marks {
		t.Rows = append(t.Rows, []string{fmt.Sprintf("%d s", k)})
	}
	var keys []key
	least, most := math.Inf(1), math.Inf(-1)
	for i, r := range recoveries {
		values := make([]float64, 0, 121)
		for k := r.Stop; k <= r.Stop+120 && k < len(s.BPM); k++ {
			values = append(values, s.BPM[k])
		}
		d.add(charts.SingleSeries{Name: "stop at " + wording.Clock(r.Stop), Type: "line", ShowSymbol: opts.Bool(false),
			LineStyle: &opts.LineStyle{Color: "var(--accent)", Width: 1.8}},
			map[string]any{"data": steps(values, 10), "connectNulls": false, "lineStyle": map[string]any{"type": dashes[i%len(dashes)]}})
		keys = append(keys, key{"stop at " + wording.Clock(r.Stop), mark(`<path class="mark" stroke-dasharray="` + strings.Trim(fmt.Sprint(dashes[i%len(dashes)]), "[]") + `" d="M0 7H26"/>`)})
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
	caption := "No heart rate was recorded 60 seconds after a stop: keep recording for 3 minutes after the last effort."
	switch low, high := wording.Number(math.Round(least)), wording.Number(math.Round(most)); {
	case most < least:
	case low == high:
		caption = fmt.Sprintf("In the first 60 seconds the heart rate dropped by %s beats.", high)
	default:
		caption = fmt.Sprintf("In the first 60 seconds the heart rate dropped by %s to %s beats.", low, high)
	}
	return d.finish(chart{ID: id, Title: "Recovery after each stop", Caption: caption, Keys: keys, Table: t})
}
