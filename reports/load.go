package reports

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/workout"
)

// load is the speed or the power of a workout as it is drawn below the heart rate.
type load struct {
	name, unit string
	v          []float64 // one value for each second, NaN where it is not known
	top        float64   // end of its axis
}

// How the load is drawn (common practice, no source).
const (
	loadBridge = 15  // s: a longer silence stays a gap
	loadMean   = 15  // s: a running mean takes out what devices flicker
	loadShare  = 0.5 // of the seconds without a pause that must be known
)

// loadOf gives the power of a workout, else its speed in km/h; false when neither covers half of
// it. Paused seconds are gaps.
func loadOf(w workout.Workout, n int) (load, bool) {
	for _, c := range []struct {
		load
		channel workout.Channel
		factor  float64
	}{{load{name: "power", unit: "W"}, w.Power, 1}, {load{name: "speed", unit: "km/h"}, w.Speed, 3.6}} {
		if c.channel.Len() == 0 {
			continue
		}
		raw := c.channel.Grid(n, loadBridge)
		counted := n
		for _, p := range w.Pauses {
			for k := max(0, p.From); k < min(n, p.To); k++ {
				raw[k] = math.NaN()
				counted--
			}
		}
		out, known, most := c.load, 0, 0.0
		out.v = make([]float64, n)
		for k := range raw {
			if out.v[k] = math.NaN(); math.IsNaN(raw[k]) {
				continue
			}
			sum, seen := 0.0, 0
			for j := max(0, k-loadMean/2); j <= min(n-1, k+loadMean/2); j++ {
				if !math.IsNaN(raw[j]) {
					sum, seen = sum+raw[j], seen+1
				}
			}
			out.v[k] = c.factor * sum / float64(seen)
			known, most = known+1, max(most, out.v[k])
		}
		if most > 0 && float64(known) >= loadShare*float64(counted) {
			_, out.top, _ = axis(0, most, 1)
			return out, true
		}
	}
	return load{}, false
}

// addLoad draws the load as a quiet line in a grid of its own, that many pixels above the foot.
func (d *drawing) addLoad(l load, seconds, bottom, height int) {
	i := d.addGrid(opts.XAxis{Type: "value", Min: "0", Max: seconds, Show: opts.Bool(false)},
		opts.YAxis{Type: "value", Name: l.unit, Min: 0, Max: l.top,
			NameGap: 6, AxisLabel: &opts.AxisLabel{Color: "var(--soft)", FontSize: 11, FontFamily: fonts}, AxisLine: &opts.AxisLine{Show: opts.Bool(false)},
			SplitLine: &opts.SplitLine{LineStyle: &opts.LineStyle{Color: "var(--line)"}}}, bottom, height,
		map[string]any{"interval": l.top / 2, "nameTextStyle": map[string]any{"color": "var(--soft)", "fontSize": 11, "fontFamily": fonts, "align": "right"}})
	d.add(charts.SingleSeries{Name: l.name, Type: "line", XAxisIndex: i, YAxisIndex: i, ShowSymbol: opts.Bool(false),
		LineStyle: &opts.LineStyle{Color: "var(--soft)", Width: 1.2}, ItemStyle: &opts.ItemStyle{Color: "var(--soft)"}},
		map[string]any{"data": steps(l.v, 10), "connectNulls": false, "unit": l.unit})
}
