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

// longGap is the number of days from one value to the next over which no line is drawn.
const longGap = 14

// unixDay turns a date into days since 1970, as the day function of bundle/entry.js expects.
func unixDay(d workout.Date) int { return int(d.Time().Unix() / 86400) }

// ruleCharts draws the values behind each rule that has at least two, the rules that are met apart.
func ruleCharts(all []record.Reason) (open, met []*chart, err error) {
	for i, r := range all {
		b, ok := drawn[r.Rule]
		if !ok || len(r.Points) < 2 {
			continue
		}
		c, err := ruleChart(fmt.Sprintf("rule-%d", i), r, b)
		switch {
		case err != nil:
			return nil, nil, err
		case r.Met != nil && *r.Met:
			met = append(met, c)
		default:
			open = append(open, c)
		}
	}
	return open, met, nil
}

func ruleChart(id string, r record.Reason, b behind) (*chart, error) {
	first, last := r.Points[0].Date, r.Points[len(r.Points)-1].Date
	x := opts.XAxis{Type: "value", Min: unixDay(first), Max: max(unixDay(last), unixDay(first)+1), MinInterval: 1,
		AxisLabel: &opts.AxisLabel{Formatter: types.FuncStr("$day")}}
	d := newDrawing(x, opts.YAxis{Type: "value", Name: string(b.unit)}, "days:"+string(b.unit))
	d.base.GridList = []opts.Grid{{Left: "44", Right: "14", Top: "34", Bottom: "28"}} // the axis has no name
	t := table{Head: []string{"Day", wording.Capital(reasons.Rule(r.Rule))}}
	var data []opts.LineData
	low, high := r.Points[0].Value, r.Points[0].Value
	for i, p := range r.Points {
		if i > 0 && p.Date-r.Points[i-1].Date >= longGap { // no line across weeks without a value
			data = append(data, opts.LineData{Value: []any{unixDay(p.Date) - 1, "-"}})
		}
		data = append(data, opts.LineData{Value: []any{unixDay(p.Date), math.Round(10*p.Value) / 10}})
		t.Rows = append(t.Rows, []string{p.Date.Long(), pointText(p.Value, r, b)})
		low, high = min(low, p.Value), max(high, p.Value)
	}
	line := charts.SingleSeries{Name: reasons.Rule(r.Rule), Type: "line", Data: data, Symbol: "circle", SymbolSize: 8,
		LineStyle: &opts.LineStyle{Color: "var(--z2)", Width: 2},
		ItemStyle: &opts.ItemStyle{Color: "var(--accent)", BorderColor: "var(--page)", BorderWidth: 1.5}}
	more := map[string]any{}
	if r.Threshold != nil && b.asked {
		line.MarkLines = thresholdLine(r)
		more["markLine"] = map[string]any{"silent": true, "animation": false, "label": map[string]any{"backgroundColor": "var(--page)", "padding": []int{1, 4}}}
		low, high = min(low, *r.Threshold), max(high, *r.Threshold)
	}
	caption := ruleCaption(r, b)
	if c, ok := changeOf(r); ok {
		more["markArea"] = chanceBand(c)
		low, high = min(low, c.before-c.chance), max(high, c.before+c.chance)
		caption = fmt.Sprintf("On average %s at first and %s lately. The band is normal day-to-day variation around the first.",
			withUnit(c.before, string(b.unit)), withUnit(c.after, string(b.unit)))
	}
	from, to, step := axis(low, high, b.step)
	if b.unit.Share() {
		to = min(to, 100)
	}
	d.scaleY(from, to, step)
	d.add(line, more)
	return d.finish(chart{ID: id, Title: wording.Capital(reasons.Rule(r.Rule)), Caption: caption, Size: "short", Table: t})
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
		map[string]any{"yAxis": c.before - c.chance, "itemStyle": map[string]any{"color": "var(--z1)", "opacity": 0.45}},
		map[string]any{"yAxis": c.before + c.chance},
	}}}
}

// axis rounds a range outwards to ends and steps that read well, with at most six steps, none
// smaller than least.
func axis(low, high, least float64) (from, to, step float64) {
	for _, step = range []float64{0.5, 1, 2, 5, 10, 20, 50, 100, 200} {
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

// ruleCaption says what to see: the first and the last value, and how many lie on the asked side.
func ruleCaption(r record.Reason, b behind) string {
	first, last := r.Points[0], r.Points[len(r.Points)-1]
	text := fmt.Sprintf("%s: %s; %s: %s.", first.Date.Short(), pointText(first.Value, r, b), last.Date.Short(), pointText(last.Value, r, b))
	if r.Threshold == nil || !b.asked || r.Rule == policy.Longest {
		return text
	}
	n := len(record.Keep(r.Points, func(p record.Point) bool { return policy.Within(p.Value, r.Is, *r.Threshold) }))
	return text + fmt.Sprintf(" %s met the threshold (%s).", wording.Capital(wording.Part(n, len(r.Points), b.each)), askedInUnit(r))
}
