package reports

import (
	"encoding/json"
	"fmt"
	"html/template"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
	"github.com/go-echarts/go-echarts/v2/types"
)

// chart is one figure of a page: a heading that says what it shows, a caption that says what to see
// in it, the picture, its key, and its numbers as a table.
type chart struct {
	ID      string // letters and dashes only
	Title   string
	Caption string
	Size    string // class of the height: "short", "low", "tall", "taller" or ""
	Top     bool   // stands for itself and not within a section
	Keys    []key
	Table   table
	Drawn   []picture       // the picture, once for each width at which it is shown
	Option  json.RawMessage // for the runtime; nil on a page without it
}

// key explains one mark of a chart.
type key struct {
	Name string
	Mark template.HTML
}

// table holds the numbers behind a chart, finished for reading.
type table struct {
	Head []string
	Rows [][]string
}

// drawing is a chart being built: axes and series in the option types of the chart library, and
// beside them what those types have no field for.
type drawing struct {
	base *charts.Bar
	more []map[string]any // by series
	rest map[string]any
}

const fonts = "system-ui, sans-serif"

// newDrawing starts a chart. The tooltip is one of the functions of bundle/entry.js.
func newDrawing(x opts.XAxis, y opts.YAxis, tooltip string) *drawing {
	quiet := func(label *opts.AxisLabel) *opts.AxisLabel {
		if label == nil {
			label = &opts.AxisLabel{FontFamily: fonts}
		}
		label.Color, label.FontSize, label.HideOverlap = "var(--soft)", 12, opts.Bool(true)
		return label
	}
	line := &opts.LineStyle{Color: "var(--line)"}
	x.AxisLabel, x.AxisLine, x.SplitLine = quiet(x.AxisLabel), &opts.AxisLine{LineStyle: line}, &opts.SplitLine{LineStyle: line, Show: opts.Bool(false)}
	y.AxisLabel, y.AxisLine, y.SplitLine = quiet(y.AxisLabel), &opts.AxisLine{LineStyle: line, Show: opts.Bool(false)}, &opts.SplitLine{LineStyle: line}
	x.NameLocation, x.NameGap = "middle", 28
	d := &drawing{base: charts.NewBar()}
	d.base.SetGlobalOptions(
		charts.WithAnimation(false),
		charts.WithLegendOpts(opts.Legend{Show: opts.Bool(false)}),
		charts.WithXAxisOpts(x), charts.WithYAxisOpts(y),
		charts.WithGridOpts(opts.Grid{Left: "44", Right: "14", Top: "34", Bottom: "50"}),
		charts.WithTooltipOpts(opts.Tooltip{
			Trigger: "axis", Formatter: types.FuncStr("$" + tooltip), BackgroundColor: "var(--card)", BorderColor: "var(--line)",
			AxisPointer: &opts.AxisPointer{Type: "line"},
		}),
	)
	named := map[string]any{"color": "var(--soft)", "fontSize": 12, "fontFamily": fonts}
	left := map[string]any{"color": "var(--soft)", "fontSize": 12, "fontFamily": fonts, "align": "left", "padding": []int{0, 0, 4, -36}}
	d.rest = map[string]any{
		"textStyle": map[string]any{"fontFamily": fonts, "color": "var(--ink)"},
		"tooltip": map[string]any{
			// An HTML tooltip would set style attributes, which the page's own policy forbids.
			"renderMode": "richText", "confine": true, "transitionDuration": 0,
			"textStyle":   map[string]any{"color": "var(--ink)", "fontSize": 13, "fontFamily": fonts, "lineHeight": 19},
			"axisPointer": map[string]any{"lineStyle": map[string]any{"color": "var(--soft)"}, "animation": false},
		},
		"xAxis": []any{map[string]any{"nameTextStyle": named, "axisTick": map[string]any{"lineStyle": map[string]any{"color": "var(--line)"}}}},
		"yAxis": []any{map[string]any{"nameTextStyle": left}},
	}
	return d
}

// add appends a series; more holds what its type has no field for.
func (d *drawing) add(s charts.SingleSeries, more map[string]any) {
	d.base.MultiSeries = append(d.base.MultiSeries, s)
	// Highlighting would compute a lighter colour, which a CSS variable has not: the mark would vanish.
	all := map[string]any{"emphasis": map[string]any{"disabled": true}}
	merge(all, more)
	d.more = append(d.more, all)
}

// scaleY fixes the ends and the steps of the value axis.
func (d *drawing) scaleY(from, to, step float64) {
	d.base.YAxisList[0].Min, d.base.YAxisList[0].Max = from, to
	d.axis("yAxis")["interval"] = step
}

// axis holds what the type of a chart's first x or y axis has no field for.
func (d *drawing) axis(name string) map[string]any { return d.rest[name].([]any)[0].(map[string]any) }

// finish puts the option into a chart whose words are ready.
func (d *drawing) finish(c chart) (*chart, error) {
	var err error
	c.Option, err = d.option()
	return &c, err
}

// option is the finished option as JSON.
func (d *drawing) option() (json.RawMessage, error) {
	axis := d.base.XAxisList[0].Data
	d.base.SetXAxis(axis).Validate()
	b, err := json.Marshal(d.base.JSON())
	if err != nil {
		return nil, fmt.Errorf("write chart option: %w", err)
	}
	var all map[string]any
	if err := json.Unmarshal(b, &all); err != nil {
		return nil, fmt.Errorf("read chart option: %w", err)
	}
	delete(all, "title")
	delete(all, "toolbox")
	delete(all, "legend")
	merge(all, d.rest)
	series, _ := all["series"].([]any)
	for i, more := range d.more {
		merge(series[i].(map[string]any), more)
	}
	return json.Marshal(all)
}

// merge lays src over dst, maps and lists entry by entry.
func merge(dst, src map[string]any) {
	for k, v := range src {
		switch v := v.(type) {
		case map[string]any:
			if old, ok := dst[k].(map[string]any); ok {
				merge(old, v)
				continue
			}
		case []any:
			if old, ok := dst[k].([]any); ok && len(old) == len(v) {
				for i := range v {
					a, isMap := old[i].(map[string]any)
					b, too := v[i].(map[string]any)
					if isMap && too {
						merge(a, b)
					} else {
						old[i] = v[i]
					}
				}
				continue
			}
		}
		dst[k] = v
	}
}

// itemStyle paints with a fill: colour, pattern and an outline that keeps pale colours visible.
func (f fill) itemStyle() map[string]any {
	style := map[string]any{"color": f.Color, "borderColor": "var(--outline)", "borderWidth": 1}
	if f.Pattern == empty {
		style["borderType"] = []int{3, 3}
		style["borderColor"] = "var(--soft)"
	}
	if d := f.Pattern.decal(); d != nil {
		style["decal"] = d
	}
	return map[string]any{"itemStyle": style}
}

func (f fill) key() key { return key{f.Name, f.Swatch()} }

// standAlone marks charts that are sections of their own.
func standAlone(all ...*chart) {
	for _, c := range all {
		if c != nil {
			c.Top = true
		}
	}
}
