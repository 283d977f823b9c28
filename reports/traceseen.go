package reports

import (
	"math"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// faultNames are what the sensor did wrong, in the few words that have room on the trace.
var faultNames = map[heartrate.FaultKind]string{
	heartrate.Implausible: "implausible", heartrate.Doubled: "read double", heartrate.Halved: "read half", heartrate.Lock: "locked on steps",
	heartrate.Frozen: "frozen", heartrate.DryStart: "dry strap", heartrate.Dropout: "lost", heartrate.Restless: "restless",
	heartrate.EvenLeap: "leapt", heartrate.Lag: "late",
}

// markedFrom is the length in seconds from which what the sensor did wrong is marked on the trace.
const markedFrom = 15

// stretch is a part of the trace with its name.
type stretch struct {
	workout.Span
	name string
}

// odd are the stretches of a trace that are no heart rate: pauses, losses, and faults of the sensor.
func odd(s heartrate.Series, w workout.Workout) []stretch {
	out := record.Map(w.Pauses, func(p workout.Span) stretch { return stretch{p, "away"} })
	for from := 0; from < len(s.Origin); {
		to := from
		for to < len(s.Origin) && s.Origin[to] == heartrate.Missing {
			to++
		}
		if to-from >= markedFrom {
			out = append(out, stretch{workout.Span{From: from, To: to}, lossName(s.Faults, from, to)})
		}
		from = max(to, from+1)
	}
	for _, f := range s.Faults { // those whose readings stay in the series
		if name := faultNames[f.Kind]; name != "" && f.Seconds() >= markedFrom && s.Origin[min(f.From+f.Seconds()/2, len(s.Origin)-1)] != heartrate.Missing {
			out = append(out, stretch{f.Span, name})
		}
	}
	return out
}

// lossName names a stretch without values by the fault that took most of it, and else "lost".
func lossName(faults []heartrate.Fault, from, to int) string {
	name, most := "lost", 0
	for _, f := range faults {
		if n := min(to, f.To) - max(from, f.From); n > most && faultNames[f.Kind] != "" {
			name, most = faultNames[f.Kind], n
		}
	}
	return name
}

// addStretches lays stretches over the trace, each with its name: upright where there is little room.
func (d *drawing) addStretches(all []stretch, seconds int) {
	if len(all) == 0 {
		return
	}
	data := record.Map(all, func(p stretch) any {
		label := map[string]any{"show": true, "position": "insideTop", "color": "var(--ink)", "fontSize": 12, "fontFamily": fonts}
		if float64(p.Seconds()) < 0.012*float64(len(p.name)*seconds) {
			merge(label, map[string]any{"rotate": 90, "align": "right", "verticalAlign": "middle"})
		}
		return []any{map[string]any{"name": p.name, "xAxis": p.From, "itemStyle": map[string]any{"color": "var(--soft)", "opacity": 0.2}, "label": label},
			map[string]any{"xAxis": p.To}}
	})
	d.add(charts.SingleSeries{Type: "line", Data: []opts.LineData{}}, map[string]any{"markArea": map[string]any{"silent": true, "animation": false, "data": data}})
}

// addTargets frames the heart rates that a plan gives for its bouts, and writes what each bout ended at.
func (d *drawing) addTargets(bouts []physiology.Bout, plan *record.Intervals, low float64) {
	var frames []any
	var ends []opts.ScatterData
	for _, b := range bouts {
		if plan != nil && plan.High > 0 {
			frames = append(frames, []any{map[string]any{"xAxis": b.From, "yAxis": max(low, plan.Low),
				"itemStyle": map[string]any{"color": "none", "borderColor": "var(--ink)", "borderWidth": 1.2, "borderType": []int{4, 3}}},
				map[string]any{"xAxis": b.To, "yAxis": plan.High}})
		}
		if b.End != nil {
			v := math.Round(*b.End)
			ends = append(ends, opts.ScatterData{Name: wording.Number(v), Value: []any{b.To, v}})
		}
	}
	if len(frames) > 0 {
		d.add(charts.SingleSeries{Type: "line", Data: []opts.LineData{}}, map[string]any{"markArea": map[string]any{"silent": true, "animation": false, "data": frames}})
	}
	if len(ends) > 0 {
		d.add(charts.SingleSeries{Type: "scatter", Data: ends, Symbol: "circle", SymbolSize: 5, ItemStyle: &opts.ItemStyle{Color: "var(--ink)"},
			Label: &opts.Label{Show: opts.Bool(true), Formatter: "{b}", Position: "left", Color: "var(--ink)", FontSize: 12, FontFamily: fonts}},
			map[string]any{"silent": true, "z": 6, "labelLayout": map[string]any{"hideOverlap": true}})
	}
}

// lapMarks are the beginnings of laps, without a name; of very many none.
func lapMarks(laps []workout.Lap) (out []any) {
	const most = 40
	if len(laps) < 2 || len(laps) > most {
		return nil
	}
	for _, l := range laps[1:] {
		out = append(out, map[string]any{"xAxis": l.From, "label": map[string]any{"show": false},
			"lineStyle": map[string]any{"color": "var(--outline)", "type": "solid", "width": 0.7, "opacity": 0.6}})
	}
	return out
}
