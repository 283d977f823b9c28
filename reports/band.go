package reports

import (
	"fmt"
	"math"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"slices"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"
)

// bandTime is one week's time against what was planned for it, in seconds.
type bandTime struct {
	Comfortable, Brisk, Hard int
	Harder                   int // than planned
	None                     int // heart rate not recorded
}

func (b bandTime) total() int { return b.Comfortable + b.Brisk + b.Hard + b.Harder + b.None }

// againstPlan sorts a week's time by what was planned. Up to the top of zone 1 is comfortable and
// always within the plan. Brisk (zone 2) and hard (zone 3) time is within the plan as far as
// interval sets of that feel were prescribed, their recoveries included, since heart rate follows
// effort late; more than that, and everything above, is harder than planned. Where nothing was planned, nothing
// is harder than planned: see aboveStage.
func againstPlan(w record.Week) bandTime {
	p := weekParts(w)
	zone := func(i int) int { return p[i].Seconds }
	b := bandTime{Comfortable: zone(0) + zone(1), None: zone(5)}
	brisk, hard := 0, 0 // allowed seconds
	switch {
	case planned(w) == nil:
		b.Brisk, b.Hard = zone(2), zone(3)+zone(4)
		return b
	case w.Plan.Intervals != nil:
		set := w.Plan.Intervals
		allowed := set.Count * set.Bouts * (set.Work + set.Rest)
		brisk = allowed
		if set.Feel == "hard" {
			hard = allowed
		}
	}
	b.Hard = min(zone(3), hard)
	b.Brisk = min(zone(2), brisk)
	b.Harder = zone(2) - b.Brisk + zone(3) - b.Hard + zone(4)
	return b
}

// aboveStage is the time above the zones of the week's stage, in seconds.
func aboveStage(w record.Week) (s int) {
	for _, p := range weekParts(w)[max(1, w.Stage)+1 : 5] {
		s += p.Seconds
	}
	return s
}

var bandFills = []fill{
	{"comfortable", "var(--z1)", plain},
	{"brisk", "var(--z2)", dots},
	{"hard", "var(--z3)", slanted},
	{"harder than planned", "var(--page)", hatched},
	noneFill,
}

func (b bandTime) seconds() []int { return []int{b.Comfortable, b.Brisk, b.Hard, b.Harder, b.None} }

// bandChart shows the weeks' time against the planned band, newest week at the bottom; nil when no
// week has a session.
func bandChart(id string, weeks []record.Week, feltHard bool) (*chart, error) {
	weeks = weeks[max(0, len(weeks)-6):]
	d := newDrawing(opts.XAxis{Type: "value", Name: "minutes"}, opts.YAxis{Type: "category", Inverse: opts.Bool(true)}, "rows:min")
	t := table{Head: []string{"Week to"}}
	all := make([]int, len(bandFills))
	for _, w := range weeks {
		t.Rows = append(t.Rows, []string{w.To.Long()})
		for i, s := range againstPlan(w).seconds() {
			all[i] += s
		}
	}
	if slices.Max(all) == 0 {
		return nil, nil
	}
	d.base.YAxisList[0].Data = weekAxis(weeks).Data
	d.base.GridList = []opts.Grid{{Left: "56", Right: "16", Top: "6", Bottom: "46"}}
	var keys []key
	for i, f := range bandFills {
		if all[i] == 0 {
			continue
		}
		var data []opts.BarData
		t.Head = append(t.Head, wording.Capital(f.Name))
		for k, w := range weeks {
			s := againstPlan(w).seconds()[i]
			data = append(data, opts.BarData{Value: noZero(math.Round(float64(s)/6) / 10)})
			t.Rows[k] = append(t.Rows[k], minutes(s))
		}
		keys = append(keys, f.key())
		more := f.itemStyle()
		more["barMaxWidth"] = 22
		d.add(charts.SingleSeries{Name: f.Name, Type: "bar", Stack: "band", Data: data}, more)
	}
	return d.finish(chart{ID: id, Title: "Your time against the plan", Caption: bandCaption(weeks, feltHard), Size: "low", Keys: keys, Table: t})
}

// bandCaption says what to see in the last week with a session. Where it felt harder than it should,
// that comes before what the pulse says.
func bandCaption(weeks []record.Week, feltHard bool) string {
	for _, w := range slices.Backward(weeks) {
		b, week := againstPlan(w), "the week to "+w.To.Long()
		known, faster := b.total()-b.None, b.Brisk+b.Hard
		switch {
		case b.total() == 0:
			continue
		case known == 0:
			return "In " + week + ", no heart rate was recorded. The minutes still count; tell your trainer how hard it felt."
		case planned(w) == nil && feltHard:
			return "It felt harder than it should have, and how it feels comes first: slower is fine."
		case planned(w) == nil && faster > 0:
			return fmt.Sprintf("Nothing was planned for %s; %s of the %s recorded were above your comfortable range.", week, minutes(faster), minutes(known))
		case planned(w) == nil:
			return "Nothing was planned for " + week + ". All of your time was comfortable."
		case b.Harder < 60 && feltHard:
			return "It felt harder than planned, and how it feels comes first: slower is fine. Going by your pulse alone, " + week + " was as planned."
		case b.Harder < 60 && faster > 0:
			return fmt.Sprintf("In %s, %s of the %s recorded were faster, and no more than planned.", week, minutes(faster), minutes(known))
		case b.Harder < 60:
			return "In " + week + ", your time was as comfortable as planned."
		}
		return fmt.Sprintf("In %s, %s of the %s recorded were harder than planned (hatched). Slower is fine.", week, minutes(b.Harder), minutes(known))
	}
	return "No session yet."
}
