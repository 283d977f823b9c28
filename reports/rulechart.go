package reports

import (
	"fmt"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// unixDay turns a date into days since 1970, as the day function of bundle/entry.js expects.
func unixDay(d workout.Date) int { return int(d.Time().Unix() / 86400) }

// ruleCharts draws the values behind each rule that has at least two.
func ruleCharts(reasons []progression.Reason) ([]*chart, error) {
	var out []*chart
	for i, r := range reasons {
		if len(r.Points) < 2 {
			continue
		}
		c, err := ruleChart(fmt.Sprintf("rule-%d", i), r)
		if err != nil {
			return nil, err
		}
		out = append(out, c)
	}
	return out, nil
}

func ruleChart(id string, r progression.Reason) (*chart, error) {
	unit, relative := strings.CutSuffix(r.Unit, " against the baseline")
	x := opts.XAxis{Type: "value", Min: "dataMin", Max: "dataMax", MinInterval: 1,
		AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("$day")}}
	d := newDrawing(x, opts.YAxis{Type: "value", Name: unit, Scale: opts.Bool(true)}, "days:"+unit)
	t := table{Head: []string{"Day", sentenceCase(shortName(r.Rule))}}
	var data []opts.LineData
	low, high := r.Points[0].Value, r.Points[0].Value
	for _, p := range r.Points {
		data = append(data, opts.LineData{Value: []any{unixDay(p.Date), p.Value}})
		t.Rows = append(t.Rows, []string{p.Date.Long(), inUnit(p.Value, unit)})
		low, high = min(low, p.Value), max(high, p.Value)
	}
	line := charts.SingleSeries{Name: shortName(r.Rule), Type: "line", Data: data, Symbol: "circle", SymbolSize: 8,
		LineStyle: &opts.LineStyle{Color: "var(--z2)", Width: 2},
		ItemStyle: &opts.ItemStyle{Color: "var(--accent)", BorderColor: "var(--page)", BorderWidth: 1.5}}
	if r.Threshold != nil && !relative {
		line.MarkLines = &opts.MarkLines{
			Data: []any{opts.MarkLineNameYAxisItem{Name: asked(r), YAxis: *r.Threshold}},
			MarkLineStyle: opts.MarkLineStyle{Symbol: []string{"none", "none"},
				Label:     &opts.Label{Formatter: "{b}", Position: "insideEndTop", Color: "var(--ink)", FontSize: 12, FontFamily: fonts},
				LineStyle: &opts.LineStyle{Color: "var(--ink)", Type: "dashed", Width: 1.5}},
		}
		low, high = min(low, *r.Threshold), max(high, *r.Threshold)
	}
	room := (high - low) * 0.15
	d.base.YAxisList[0].Min, d.base.YAxisList[0].Max = axisEnd(low-room, false), axisEnd(high+room, true)
	d.add(line, map[string]any{"markLine": map[string]any{"silent": true, "animation": false}})
	option, err := d.option()
	return &chart{ID: id, Title: sentenceCase(shortName(r.Rule)), Caption: ruleCaption(r, unit, relative), Size: "short", Option: option, Table: t}, err
}

// axisEnd rounds an end of an axis outwards to a number that reads well.
func axisEnd(v float64, up bool) float64 {
	step := 1.0
	for _, s := range []float64{0.5, 1, 2, 5, 10, 20, 50} {
		if step = s; max(v, -v) <= 12*s {
			break
		}
	}
	n := float64(int(v / step))
	if up && n*step < v {
		n++
	}
	if !up && n*step > v {
		n--
	}
	return n * step
}

// ruleCaption says what to see: the last value, and how many lie on the asked side.
func ruleCaption(r progression.Reason, unit string, relative bool) string {
	last := r.Points[len(r.Points)-1]
	text := fmt.Sprintf("%s on %s, %s on %s.", inUnit(r.Points[0].Value, unit), r.Points[0].Date.Short(), inUnit(last.Value, unit), last.Date.Short())
	if r.Threshold == nil || relative {
		return text
	}
	n := 0
	for _, p := range r.Points {
		if r.Is == "at most" && p.Value <= *r.Threshold || r.Is == "at least" && p.Value >= *r.Threshold {
			n++
		}
	}
	return text + fmt.Sprintf(" %d of %d keep to %s.", n, len(r.Points), asked(r))
}
