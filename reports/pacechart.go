package reports

import (
	"fmt"
	"math"
	"strconv"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// atPace is the heart rate of one workout at its load.
type atPace struct {
	date workout.Date
	physiology.SameEffort
}

// paceOf are the heart rates behind a comparison at the same effort, in the order of its values.
func paceOf(c Client, r record.Reason) (out []atPace) {
	for _, id := range r.Workouts {
		for _, rec := range c.Record.Recordings {
			if rec.ID == id && rec.Measured.SameEffort != nil {
				out = append(out, atPace{rec.Date, *rec.Measured.SameEffort})
			}
		}
	}
	return out
}

// load is the load as people read it, in km/h or W.
func (p atPace) load() (v float64, unit string) {
	if p.Unit == "m/s" {
		return math.Round(36*p.Load) / 10, "km/h"
	}
	return math.Round(p.Load), p.Unit
}

// paceChart shows heart rate over pace or power, each workout with its number in the order of their days: what is compared
// is where the dots lie and not when. The upright band is the usual heart rate of the first ones, moved to the latest load.
func paceChart(id string, r record.Reason, seen []atPace) (*chart, error) {
	c, ok := changeOf(r)
	if !ok {
		return ruleChart(id, r, drawn[r.Rule], Client{})
	}
	slow, fast := math.Inf(1), math.Inf(-1)
	low, high := c.before-c.chance, c.before+c.chance
	latest, unit := seen[len(seen)-1].load()
	then, now := []opts.ScatterData{}, []opts.ScatterData{}
	split := baselineOf(r.Points, c)
	t := table{Head: []string{"No.", "Day", "Load", "Heart rate", "At the latest load"}}
	for i, p := range seen {
		v, _ := p.load()
		slow, fast, low, high = min(slow, v), max(fast, v), min(low, p.Mean), max(high, p.Mean)
		dot := opts.ScatterData{Name: strconv.Itoa(i + 1), Value: []any{v, math.Round(10*p.Mean) / 10}}
		if i < split {
			then = append(then, dot)
		} else {
			now = append(now, dot)
		}
		t.Rows = append(t.Rows, []string{dot.Name, p.date.Long(), withUnit(v, unit), withUnit(p.Mean, "bpm"), withUnit(r.Points[i].Value, "bpm")})
	}
	from, to, step := axis(slow, fast, map[string]float64{"km/h": 0.2, "W": 5}[unit])
	d := newDrawing(opts.XAxis{Type: "value", Name: unit, Min: from - step/2, Max: to + step/2}, opts.YAxis{Type: "value", Name: "bpm"}, "pairs:"+unit)
	d.base.GridList = []opts.Grid{{Left: "44", Right: "24", Top: "34", Bottom: "44"}}
	d.axis("xAxis")["interval"] = step
	bottom, top, stepY := axis(low, high, 1)
	d.scaleY(bottom, top, stepY)
	d.addWhiskers([][]float64{{latest, c.before - c.chance, c.before + c.chance}})
	label := &opts.Label{Show: opts.Bool(true), Formatter: "{b}", Position: "right", Color: "var(--ink)", FontSize: 12, FontFamily: fonts}
	d.add(charts.SingleSeries{Name: "first", Type: "scatter", Data: then, Symbol: "circle", SymbolSize: 9, Label: label,
		ItemStyle: &opts.ItemStyle{Color: "var(--page)", BorderColor: "var(--z2)", BorderWidth: 2}}, map[string]any{"z": 4})
	d.add(charts.SingleSeries{Name: "lately", Type: "scatter", Data: now, Symbol: "circle", SymbolSize: 10, Label: label,
		ItemStyle: &opts.ItemStyle{Color: "var(--z3)"}}, map[string]any{"z": 5})
	d.breakY(bottom)
	read := func(v float64) float64 { return math.Round(10*v) / 10 } // the difference is that of the figures beside it
	title := fmt.Sprintf("%s bpm %s at the same load", wording.Number(math.Abs(read(c.after)-read(c.before))), map[bool]string{true: "lower", false: "higher"}[c.after < c.before])
	if math.Abs(c.after-c.before) <= c.chance {
		title += ": within chance"
	}
	caption := fmt.Sprintf("On average %s bpm at first and %s bpm lately. Numbered by day; filled: the last %d; the bar: normal variation around the first.",
		wording.Number(c.before), wording.Number(c.after), len(now))
	return d.finish(chart{ID: id, Title: title, Caption: caption, Size: "short", Table: t})
}

// baselineOf counts the values of a comparison that its first mean is made of; those of its second follow.
func baselineOf(all []record.Point, c change) int {
	mean := func(some []record.Point) (m float64) {
		for _, p := range some {
			m += p.Value / float64(len(some))
		}
		return m
	}
	best, near := 1, math.Inf(1)
	for n := 1; n < len(all); n++ {
		if off := math.Abs(mean(all[:n])-c.before) + math.Abs(mean(all[n:])-c.after); off < near {
			best, near = n, off
		}
	}
	return best
}
