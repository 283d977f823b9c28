package reports

import (
	"fmt"
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"

	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// behind names the unit of the values behind a rule, and whether its threshold has the same.
type behind struct {
	unit  policy.Unit
	asked bool    // the threshold can be drawn among the values
	step  float64 // the smallest step of the axis
	some  string  // what of the values some have to reach, "" where the last or all count
	each  string  // what one value belongs to
}

// drawn are the rules whose values are worth a chart of their own. Those of the others stand in the
// charts of the weeks and in the list of sessions.
var drawn = map[policy.ID]behind{
	policy.Sessions:         {"sessions a week", true, 1, "week", "week"},
	policy.Minutes:          {"min a week", true, 10, "week", "week"},
	policy.Longest:          {"min", true, 5, "", "session"},
	policy.Effort:           {"RPE", true, 1, "", "session"},
	policy.BoutEffort:       {"RPE", true, 1, "", "session"},
	policy.LongerBouts:      {"s", false, 30, "", "session"},
	policy.IntervalSessions: {"% of the bouts", false, 10, "", "session"},
	policy.Zone:             {"% of the main part", true, 5, "", "session"},
	policy.Steady:           {"bpm/10 min", true, 0.5, "session", "session"},
	policy.CheckSession:     {"bpm", true, 1, "", "session"},
	policy.Fall:             {"bpm", false, 1, "", "session"},
	policy.SameEffort:       {"bpm", false, 1, "", "session"},
	policy.BackInZone:       {"% of bouts", true, 5, "", "session"},
	policy.Creep:            {"bpm", true, 1, "session", "session"},
	policy.Resting:          {"bpm", false, 1, "", "morning"},
}

// unixDay turns a date into days since 1970, as the day function of bundle/options.js expects.
func unixDay(d workout.Date) int { return int(d.Time().Unix() / 86400) }

// behindRule is the picture of the values behind a rule that has at least two, or a line where they hardly differ.
func behindRule(id string, r record.Reason, c Client) (*chart, string, error) {
	b, ok := drawn[r.Rule]
	if !ok || len(r.Points) < 2 {
		return nil, "", nil
	}
	if r.Rule == policy.IntervalSessions {
		return boutChart(id, boutSessions(c, r)), "", nil
	}
	if level := levelText(r, b); level != "" {
		return nil, level, nil
	}
	if r.Rule == policy.SameEffort {
		if seen := paceOf(c, r); len(seen) == len(r.Points) {
			out, err := paceChart(id, r, seen)
			return out, "", err
		}
	}
	out, err := ruleChart(id, r, b, c)
	return out, "", err
}

// levelText says the values that differ by less than a step of their axis: "12 to 12.4 bpm in 6 sessions, 7 Sep to 3 Oct";
// "" where they differ by more.
func levelText(r record.Reason, b behind) string {
	low, high := ends(r.Points)
	if high-low >= b.step {
		return ""
	}
	text := pointText(low, r, b)
	if wording.Number(low) != wording.Number(high) {
		text = wording.Number(low) + " to " + pointText(high, r, b)
	}
	return fmt.Sprintf("%s in %s, %s to %s.", wording.Capital(text), wording.Part(len(r.Points), len(r.Points), b.each), r.Points[0].Date.Short(), r.Points[len(r.Points)-1].Date.Short())
}

// ends are the lowest and the highest of some values.
func ends(all []record.Point) (low, high float64) {
	low, high = all[0].Value, all[0].Value
	for _, p := range all {
		low, high = min(low, p.Value), max(high, p.Value)
	}
	return low, high
}

// ruleChart shows each value behind a rule on its day, with its interval where it has one. No line joins them: between
// two sessions nothing was measured.
func ruleChart(id string, r record.Reason, b behind, client Client) (*chart, error) {
	first, last := r.Points[0].Date, r.Points[len(r.Points)-1].Date
	d := newDrawing(opts.XAxis{Type: "value", Min: unixDay(first) - 1, Max: unixDay(last) + 1, AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("$day")}},
		opts.YAxis{Type: "value", Name: string(b.unit)}, "days:"+string(b.unit))
	d.weeklyTicks(first, last, client.Assessment.AsOf)
	d.base.GridList = []opts.Grid{{Left: "44", Right: "14", Top: "34", Bottom: "28"}} // the axis has no name
	t := table{Head: []string{"Day", wording.Capital(reasons.Rule(r.Rule))}}
	var data []opts.ScatterData
	var spans [][]float64
	low, high := ends(r.Points)
	for _, p := range r.Points {
		data = append(data, opts.ScatterData{Value: []any{unixDay(p.Date), math.Round(10*p.Value) / 10}})
		row := []string{p.Date.Long(), pointText(p.Value, r, b)}
		if from, to, ok := intervalOf(client, r, p.Date); ok {
			spans = append(spans, []float64{float64(unixDay(p.Date)), from, to})
			low, high = min(low, from), max(high, to)
			row[1] += fmt.Sprintf(" (%s to %s)", wording.Number(from), wording.Number(to))
		}
		t.Rows = append(t.Rows, row)
	}
	dots := charts.SingleSeries{Name: reasons.Rule(r.Rule), Type: "scatter", Data: data, Symbol: "circle", SymbolSize: 9,
		ItemStyle: &opts.ItemStyle{Color: "var(--accent)", BorderColor: "var(--page)", BorderWidth: 1.5}}
	more := map[string]any{"z": 5}
	if b.each == "week" { // what is counted in a week stands on the ground
		dots.Type, dots.ItemStyle, low = "bar", nil, 0
		merge(more, fill{Color: "var(--z1)"}.itemStyle())
		more["barWidth"] = 16
	}
	if r.Threshold != nil && b.asked {
		dots.MarkLines = thresholdLine(r)
		more["markLine"] = map[string]any{"silent": true, "animation": false, "label": map[string]any{"backgroundColor": "var(--page)", "padding": []int{1, 4}}}
		low, high = min(low, *r.Threshold), max(high, *r.Threshold)
	}
	if c, ok := changeOf(r); ok {
		more["markArea"] = chanceBand(c)
		low, high = min(low, c.before-c.chance), max(high, c.before+c.chance)
	}
	if low > 0 && low <= high/2 {
		low = 0 // there is room for an honest foot
	}
	from, to, step := axis(low, high, b.step)
	if b.unit.Share() {
		to = min(to, 100)
	}
	d.scaleY(from, to, step)
	if len(spans) > 0 {
		d.addWhiskers(spans)
	}
	d.add(dots, more)
	d.breakY(from)
	return d.finish(chart{ID: id, Title: ruleFinding(r, b), Caption: ruleCaption(r, b, len(spans) > 0), Size: "short", Table: t})
}

// weeklyTicks puts the marks of an axis of days on the ends of the weeks, of which the newest always has its date.
func (d *drawing) weeklyTicks(first, last, on workout.Date) {
	const most = 5 // dates that have room
	end := on
	for end > last+1 {
		end -= 7
	}
	n := int(end-first)/7 + 1
	every := max(1, (n+most-1)/most)
	var ticks, dates []int
	for i := range max(n, 1) {
		at := unixDay(end) - 7*i
		if ticks = append(ticks, at); i%every == 0 {
			dates = append(dates, at)
		}
	}
	merge(d.axis("xAxis"), map[string]any{"axisTick": map[string]any{"show": true, "customValues": ticks}, "axisLabel": map[string]any{"customValues": dates}})
}

// addWhiskers draws intervals [x, from, to] as upright bars.
func (d *drawing) addWhiskers(spans [][]float64) {
	data := record.Map(spans, func(s []float64) any { return s })
	d.add(charts.SingleSeries{Type: "custom", RenderItem: types.FuncStr("$whisker"), Data: data},
		map[string]any{"silent": true, "z": 4, "encode": map[string]any{"x": 0, "y": []int{1, 2}}, "tooltip": map[string]any{"show": false}})
}

// breakY marks the foot of a value axis that does not begin at 0.
func (d *drawing) breakY(from float64) {
	if from <= 0 {
		return
	}
	d.add(charts.SingleSeries{Type: "custom", RenderItem: types.FuncStr("$break"), Data: []any{[]float64{0, from}}},
		map[string]any{"silent": true, "clip": false, "tooltip": map[string]any{"show": false}})
}

// intervalOf is the interval of the value that one day has behind a rule, of the rules whose values have one each.
func intervalOf(c Client, r record.Reason, on workout.Date) (from, to float64, ok bool) {
	for _, rec := range c.Record.Recordings {
		if rec.Date == on && r.Rule == policy.Steady && rec.Measured.Drift.Enough {
			return rec.Measured.Drift.Low, rec.Measured.Drift.High, true
		}
	}
	return 0, 0, false
}

func thresholdLine(r record.Reason) *opts.MarkLines {
	// The label stands at the end where the values keep farther away from the threshold.
	at := "insideEndTop"
	if n := len(r.Points); math.Abs(r.Points[n-1].Value-*r.Threshold) < math.Abs(r.Points[0].Value-*r.Threshold) {
		at = "insideStartTop"
	}
	return dashedLine(opts.MarkLineNameYAxisItem{Name: asked(r), YAxis: *r.Threshold}, at)
}

// dashedLine marks one value of an axis across the chart, its name at that place along the line.
func dashedLine(value any, at string) *opts.MarkLines {
	return &opts.MarkLines{Data: []any{value}, MarkLineStyle: opts.MarkLineStyle{
		Symbol:    []string{"none", "none"},
		Label:     &opts.Label{Formatter: "{b}", Position: at, Color: "var(--ink)", FontSize: 12, FontFamily: fonts},
		LineStyle: &opts.LineStyle{Color: "var(--ink)", Type: "dashed", Width: 1.5},
	}}
}

func chanceBand(c change) map[string]any {
	return map[string]any{"silent": true, "animation": false, "data": []any{[]any{
		map[string]any{"yAxis": c.before - c.chance, "name": "usual at first", "itemStyle": map[string]any{"color": "var(--z1)", "opacity": 0.45},
			"label": map[string]any{"show": true, "position": "insideTopLeft", "color": "var(--soft)", "fontSize": 12, "fontFamily": fonts}},
		map[string]any{"yAxis": c.before + c.chance},
	}}}
}

// axis rounds a range outwards to ends and steps that read well, with at most six steps, none
// smaller than least.
func axis(low, high, least float64) (from, to, step float64) {
	for _, step = range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200} {
		if step < least {
			continue
		}
		from, to = math.Floor(low/step)*step, math.Ceil(high/step)*step
		if (to-from)/step <= 6 {
			break
		}
	}
	if to == from {
		from, to = from-step, to+step
	}
	return from, to, step
}

// pointText writes one value behind a rule: "1 session a week", "54 min a week".
func pointText(v float64, r record.Reason, b behind) string {
	if b.unit == r.Unit {
		return reasons.Value(v, r)
	}
	return reasons.InUnit(v, b.unit)
}

// ruleFinding says what the values behind a rule show: how many meet it, or how they changed.
func ruleFinding(r record.Reason, b behind) string {
	if c, ok := changeOf(r); ok {
		return fmt.Sprintf("On average %s at first and %s lately", withUnit(c.before, string(b.unit)), withUnit(c.after, string(b.unit)))
	}
	first, last := r.Points[0], r.Points[len(r.Points)-1]
	if r.Threshold == nil || !b.asked || r.Rule == policy.Longest {
		return fmt.Sprintf("%s on %s, %s on %s", wording.Capital(pointText(first.Value, r, b)), first.Date.Short(), pointText(last.Value, r, b), last.Date.Short())
	}
	n := len(record.Keep(r.Points, func(p record.Point) bool { return policy.Within(p.Value, r.Is, *r.Threshold) }))
	return fmt.Sprintf("%s with %s", wording.Capital(wording.Part(n, len(r.Points), b.each)), askedInUnit(r))
}

// ruleCaption says how to read what the chart holds beside the values.
func ruleCaption(r record.Reason, b behind, bars bool) string {
	if c, ok := changeOf(r); ok {
		return fmt.Sprintf("A difference of %s is normal day-to-day variation.", withUnit(c.chance, string(b.unit)))
	}
	if bars {
		return "The bars show where the true values may lie."
	}
	return ""
}
