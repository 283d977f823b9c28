package reports

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// steps writes a series for the page as running differences of its values in parts of a beat, a
// fifth of the size of the values themselves; null is a second without a value. A long series is
// thinned to some thousands of points, each the mean of its seconds.
func steps(bpm []float64, parts int) map[string]any {
	const most = 5400
	every := max(1, (len(bpm)+most-1)/most)
	last := 0
	deltas := []any{}
	for k := 0; k < len(bpm); k += every {
		mean := meanOf(bpm[k:min(len(bpm), k+every)])
		if mean == nil {
			deltas = append(deltas, nil)
			continue
		}
		v := int(math.Round(float64(parts) * *mean))
		deltas = append(deltas, v-last)
		last = v
	}
	return map[string]any{"$steps": deltas, "every": every, "parts": parts}
}

// traceRight leaves room for the names of the zones.
const traceRight = "80"

// shown are the values to draw: paused seconds count nowhere and are drawn as a gap.
func shown(s heartrate.Series) []float64 {
	out := make([]float64, len(s.BPM))
	for k, v := range s.BPM {
		if out[k] = v; s.Origin[k] == heartrate.Paused {
			out[k] = math.NaN()
		}
	}
	return out
}

// traceChart shows the heart rate second by second over the zones, with the parts of the workout in
// a strip below, pauses, the stops after which the fall was measured, and further marks.
func traceChart(id string, s heartrate.Series, w workout.Workout, m physiology.Measurements, plan *record.Intervals, further ...any) (*chart, error) {
	values := shown(s)
	recorded := slices.DeleteFunc(slices.Clone(values), math.IsNaN)
	low, high := 60.0, 180.0
	c := chart{ID: id, Title: "No heart rate was recorded", Size: "tall",
		Table: table{Head: []string{"From", "Mean heart rate"}}}
	if len(recorded) > 0 {
		low, high = slices.Min(recorded), slices.Max(recorded)
		c.Title = fmt.Sprintf("Between %d and %d beats a minute", int(math.Round(low)), int(math.Round(high)))
		low, high = math.Floor((low-4)/20)*20, math.Ceil((high+4)/20)*20
	}
	seconds := max(60, len(values))
	x := opts.XAxis{Type: "value", Name: "minutes", Min: "0", Max: seconds, AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("$minutes")}}
	d := newDrawing(x, opts.YAxis{Type: "value", Name: "beats a minute"}, "moment:bpm")
	d.scaleY(low, high, 20)
	foot := 50 // pixels below the trace
	l, hasLoad := loadOf(w, len(values))
	if len(m.Phases) > 0 {
		foot += stripHeight
	}
	loadBottom := foot
	if hasLoad {
		foot += loadHeight
		c.Size = "taller"
	}
	d.base.GridList = []opts.Grid{{Left: "44", Right: traceRight, Top: "34", Bottom: strconv.Itoa(foot)}}
	d.axis("xAxis")["interval"] = tickSeconds(len(values))
	line := charts.SingleSeries{Name: "heart rate", Type: "line", ShowSymbol: opts.Bool(false), LineStyle: &opts.LineStyle{Color: "var(--ink)", Width: 1.6},
		ItemStyle: &opts.ItemStyle{Color: "var(--ink)"}}
	more := map[string]any{"data": steps(values, 1), "connectNulls": false, "z": 5, "silent": false}
	var says []string
	if m.Edges != nil {
		more["markArea"] = zoneBands(*m.Edges, low, high)
	}
	marks := stopMarks(m.Recoveries)
	if len(marks) > 0 {
		says = append(says, "Dotted: stops, with the drop in 60 s.")
	}
	if laps := lapMarks(w.Laps); len(laps) > 0 {
		marks, says = append(marks, laps...), append(says, "Thin: laps.")
	}
	if m.Edges != nil {
		marks = append(marks, edgeMarks(*m.Edges, low, high)...)
	}
	if marks = append(marks, further...); len(marks) > 0 {
		more["markLine"] = map[string]any{"silent": true, "animation": false, "symbol": []string{"none", "none"}, "data": marks,
			"lineStyle": map[string]any{"color": "var(--ink)", "type": []int{2, 3}, "width": 1.2},
			"label":     map[string]any{"color": "var(--ink)", "fontSize": 11, "fontFamily": fonts, "formatter": "{b}", "position": "end", "rotate": 0}}
	}
	d.add(line, more)
	d.addStretches(odd(s, w), seconds)
	if len(m.Bouts) > 0 {
		d.addTargets(m.Bouts, plan, low)
		says = append(says, map[bool]string{true: "Framed: the planned heart rates; numbers: where each bout ended.", false: "Numbers: where each bout ended."}[plan != nil && plan.High > 0])
	}
	if hasLoad {
		d.addLoad(l, seconds, loadBottom+8, loadHeight-34)
		says = append(says, "Below: "+l.name+", averaged over 15 s.")
	}
	if slices.ContainsFunc(m.Phases, func(p physiology.Phase) bool { return p.Kind == workout.Work }) {
		says = append(says, "Dark parts: bouts.")
	}
	c.Caption = strings.Join(says, " ")
	if foot > 50 { // the labels of the time axis move to the foot
		first := d.axis("xAxis")
		first["axisLabel"], first["nameGap"] = map[string]any{"margin": foot - 44}, foot-22
		first["axisTick"] = map[string]any{"show": false}
	}
	if len(m.Phases) > 0 {
		d.addPhases(m.Phases, seconds)
	}
	if hasLoad {
		c.Table.Head = append(c.Table.Head, "Mean "+l.name)
	}
	row := 60 * max(1, (len(values)/60+119)/120) // at most 120 rows
	for k := 0; k < len(values); k += row {
		to := min(len(values), k+row)
		cells := []string{wording.Clock(k), orWord(whole(meanOf(values[k:to])), "bpm", notRecorded)}
		if hasLoad {
			cells = append(cells, orWord(meanOf(l.v[k:to]), l.unit, notRecorded))
		}
		c.Table.Rows = append(c.Table.Rows, cells)
	}
	return d.finish(c)
}

func meanOf(values []float64) *float64 {
	sum, n := 0.0, 0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return nil
	}
	return new(sum / float64(n))
}

// tickSeconds is a round number of minutes between the marks of the time axis.
func tickSeconds(n int) int {
	for _, m := range []int{1, 2, 5, 10, 15, 20, 30, 60} {
		if n <= m*60*7 {
			return m * 60
		}
	}
	return (n/7/3600 + 1) * 3600
}

// zoneBands paints the zones behind the trace, clipped to what the axis shows.
func zoneBands(e physiology.Edges, low, high float64) map[string]any {
	borders := []float64{low, e.BPM[0], e.BPM[1], e.BPM[2], e.BPM[3], high}
	var data []any
	for i, f := range []fill{underFill, zone1Fill, zone2Fill, zone3Fill, overFill} {
		from, to := max(low, borders[i]), min(high, borders[i+1])
		if to <= from {
			continue
		}
		name := f.Name
		if (to-from)/(high-low) < 0.13 {
			name = "" // no room for it
		}
		data = append(data, []any{
			map[string]any{"name": name, "yAxis": from, "itemStyle": map[string]any{"color": f.Color, "opacity": 0.42},
				"label": map[string]any{"show": true, "position": "right", "color": "var(--soft)", "fontSize": 11, "fontFamily": fonts}},
			map[string]any{"yAxis": to},
		})
	}
	return map[string]any{"silent": true, "animation": false, "data": data}
}

// edgeMarks writes at the right of the trace the lowest whole beat of each zone that is shown.
func edgeMarks(e physiology.Edges, low, high float64) []any {
	var out []any
	for _, bpm := range e.BPM {
		if bpm <= low || bpm >= high {
			continue
		}
		first, _ := wording.Beats(bpm, bpm)
		out = append(out, map[string]any{"name": wording.Number(first), "yAxis": bpm,
			"lineStyle": map[string]any{"color": "var(--outline)", "type": "solid", "width": 0.8, "opacity": 0.6},
			"label":     map[string]any{"color": "var(--ink)", "fontSize": 11, "fontFamily": fonts, "formatter": "{b}", "position": "end"}})
	}
	return out
}

func stopMarks(recoveries []physiology.Recovery) []any {
	return record.Map(recoveries, func(r physiology.Recovery) any {
		name := "stop"
		switch {
		case r.Drop60 != nil && *r.Drop60 < 0:
			name = "+" + wording.Number(math.Round(-*r.Drop60))
		case r.Drop60 != nil:
			name = "−" + wording.Number(math.Round(*r.Drop60))
		}
		return map[string]any{"name": name, "xAxis": r.Stop}
	})
}

// What the strip of parts and the line of the load take below the trace, in pixels.
const (
	stripHeight = 34
	loadHeight  = 104
)

// addGrid adds a grid with its two axes below the trace and returns its index; more holds what the
// type of the value axis has no field for.
func (d *drawing) addGrid(x opts.XAxis, y opts.YAxis, bottom, height int, more map[string]any) int {
	i := len(d.base.GridList)
	d.base.GridList = append(d.base.GridList, opts.Grid{Left: "44", Right: traceRight, Height: strconv.Itoa(height), Bottom: strconv.Itoa(bottom)})
	x.GridIndex, y.GridIndex = i, i
	d.base.ExtendXAxis(x)
	d.base.ExtendYAxis(y)
	d.rest["xAxis"] = append(d.rest["xAxis"].([]any), map[string]any{})
	d.rest["yAxis"] = append(d.rest["yAxis"].([]any), more)
	return i
}

// addPhases draws the parts of the workout as a strip between the trace and the labels of the time
// axis.
func (d *drawing) addPhases(phases []physiology.Phase, seconds int) {
	i := d.addGrid(opts.XAxis{Type: "value", Min: "0", Max: seconds, Show: opts.Bool(false)},
		opts.YAxis{Type: "value", Min: -0.5, Max: 0.5, Show: opts.Bool(false)}, 52, 24, map[string]any{})
	data := record.Map(phases, func(p physiology.Phase) any {
		f, ink := phaseFills[p.Kind], "var(--ink)"
		if p.Kind == workout.Work {
			ink = "var(--page)"
		}
		return []any{p.From, p.To, 0, f.Color, f.Name, ink}
	})
	d.add(charts.SingleSeries{Name: "parts", Type: "custom", XAxisIndex: i, YAxisIndex: i, RenderItem: types.FuncStr("$span"), Data: data},
		map[string]any{"silent": true, "encode": map[string]any{"x": []int{0, 1}, "y": 2}, "tooltip": map[string]any{"show": false}})
}
