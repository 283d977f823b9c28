package reports

import (
	"fmt"
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
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
		sum, n := 0.0, 0
		for _, v := range bpm[k:min(len(bpm), k+every)] {
			if !math.IsNaN(v) {
				sum += v
				n++
			}
		}
		if n == 0 {
			deltas = append(deltas, nil)
			continue
		}
		v := int(math.Round(float64(parts) * sum / float64(n)))
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
// a strip below, pauses, and the stops after which the fall was measured.
func traceChart(id string, s heartrate.Series, w workout.Workout, m physiology.Measurements) (*chart, error) {
	values := shown(s)
	low, high, known := math.Inf(1), math.Inf(-1), false
	for _, v := range values {
		if !math.IsNaN(v) {
			low, high, known = min(low, v), max(high, v), true
		}
	}
	c := &chart{ID: id, Title: "Heart rate through the workout", Size: "tall", Caption: "No heart rate was recorded.",
		Table: table{Head: []string{"From", "Mean heart rate"}}}
	if known {
		c.Caption = fmt.Sprintf("Between %d and %d beats a minute.", int(math.Round(low)), int(math.Round(high)))
		low, high = math.Floor((low-4)/20)*20, math.Ceil((high+4)/20)*20
	} else {
		low, high = 60, 180
	}
	x := opts.XAxis{Type: "value", Name: "minutes", Min: "0", Max: max(60, len(values)), AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("$minutes")}}
	d := newDrawing(x, opts.YAxis{Type: "value", Name: "beats a minute"}, "moment:bpm")
	d.scaleY(low, high, 20)
	d.base.GridList = []opts.Grid{{Left: "44", Right: traceRight, Top: "34", Bottom: "50"}}
	d.rest["xAxis"].([]any)[0].(map[string]any)["interval"] = tickSeconds(len(values))
	line := charts.SingleSeries{Name: "heart rate", Type: "line", ShowSymbol: opts.Bool(false), LineStyle: &opts.LineStyle{Color: "var(--ink)", Width: 1.6},
		ItemStyle: &opts.ItemStyle{Color: "var(--ink)"}}
	more := map[string]any{"data": steps(values, 1), "connectNulls": false, "z": 5, "silent": false}
	if m.Edges != nil {
		more["markArea"] = zoneBands(*m.Edges, low, high)
		c.Caption += " The bands are the zones, named at the right."
	}
	if marks := stopMarks(m.Recoveries); len(marks) > 0 {
		more["markLine"] = map[string]any{"silent": true, "animation": false, "symbol": []string{"none", "none"}, "data": marks,
			"lineStyle": map[string]any{"color": "var(--ink)", "type": []int{2, 3}, "width": 1.2},
			"label":     map[string]any{"color": "var(--ink)", "fontSize": 11, "fontFamily": fonts, "formatter": "{b}", "position": "end", "rotate": 0}}
		c.Caption += " Dotted uprights are stops, with the fall of the 60 seconds after each."
	}
	d.add(line, more)
	if len(w.Pauses) > 0 {
		d.add(charts.SingleSeries{Name: "paused", Type: "line", Data: []opts.LineData{}}, map[string]any{"markArea": pauseAreas(w.Pauses)})
		c.Caption += " Grey stretches are pauses."
	}
	if len(m.Phases) > 0 {
		d.addPhases(m.Phases, max(60, len(values)))
		c.Caption += " The strip below names the parts."
		for _, kind := range []workout.StepKind{workout.WarmUp, workout.Steady, workout.Work, workout.Recovery, workout.CoolDown, workout.OtherPart} {
			for _, p := range m.Phases {
				if p.Kind == kind {
					c.Keys = append(c.Keys, phaseFills[kind].key())
					break
				}
			}
		}
	}
	row := 60 * max(1, (len(values)/60+119)/120) // at most 120 rows
	for k := 0; k < len(values); k += row {
		c.Table.Rows = append(c.Table.Rows, []string{clock(k), orWord(meanOf(values[k:min(len(values), k+row)]), "bpm", notRecorded)})
	}
	var err error
	c.Option, err = d.option()
	return c, err
}

func meanOf(values []float64) *float64 {
	sum, n := 0.0, 0
	for _, v := range values {
		if !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	if n == 0 {
		return nil
	}
	v := math.Round(sum / float64(n))
	return &v
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
		if (to-from)/(high-low) < 0.04 {
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

func stopMarks(recoveries []physiology.Recovery) []any {
	var out []any
	for _, r := range recoveries {
		name := "stop"
		if r.Drop60 != nil {
			name = "−" + figure(math.Round(*r.Drop60))
			if *r.Drop60 < 0 {
				name = "+" + figure(math.Round(-*r.Drop60))
			}
		}
		out = append(out, map[string]any{"name": name, "xAxis": r.Stop})
	}
	return out
}

func pauseAreas(pauses []workout.Span) map[string]any {
	var data []any
	for _, p := range pauses {
		data = append(data, []any{map[string]any{"xAxis": p.From, "itemStyle": map[string]any{"color": "var(--soft)", "opacity": 0.25}}, map[string]any{"xAxis": p.To}})
	}
	return map[string]any{"silent": true, "animation": false, "data": data}
}

// addPhases draws the parts of the workout as a strip in a second grid under the trace.
func (d *drawing) addPhases(phases []physiology.Phase, seconds int) {
	d.base.GridList = []opts.Grid{{Left: "44", Right: traceRight, Top: "34", Bottom: "84"}, {Left: "44", Right: traceRight, Height: "24", Bottom: "52"}}
	// The strip lies between the trace and the labels of the time axis.
	d.base.ExtendXAxis(opts.XAxis{Type: "value", Min: "0", Max: seconds, Show: opts.Bool(false), GridIndex: 1})
	d.base.ExtendYAxis(opts.YAxis{Type: "value", Min: -0.5, Max: 0.5, Show: opts.Bool(false), GridIndex: 1})
	var data []any
	for _, p := range phases {
		f := phaseFills[p.Kind]
		ink := "var(--ink)"
		if p.Kind == workout.Work {
			ink = "var(--page)"
		}
		data = append(data, []any{p.From, p.To, 0, f.Color, f.Name, ink})
	}
	d.add(charts.SingleSeries{Name: "parts", Type: "custom", XAxisIndex: 1, YAxisIndex: 1, RenderItem: types.FuncStr("$span"), Data: data},
		map[string]any{"silent": true, "encode": map[string]any{"x": []int{0, 1}, "y": 2}, "tooltip": map[string]any{"show": false}})
	// The labels of the time axis move below the strip.
	first := d.rest["xAxis"].([]any)[0].(map[string]any)
	first["axisLabel"] = map[string]any{"margin": 40}
	first["nameGap"] = 62
	first["axisTick"] = map[string]any{"show": false}
	d.rest["xAxis"] = []any{first, map[string]any{}}
	d.rest["yAxis"] = []any{d.rest["yAxis"].([]any)[0], map[string]any{}}
}
