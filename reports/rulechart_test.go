package reports

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

var sunday = workout.MustDate("2026-10-04")

// valued is a rule at most 3 with values three days apart, the last on a Sunday.
func valued(rule policy.ID, values ...float64) record.Reason {
	r := record.Reason{Rule: rule, Is: policy.AtMost, Threshold: new(3.0), Unit: drawn[rule].unit, Enough: true}
	for i, v := range values {
		r.Points = append(r.Points, record.Point{Date: sunday - workout.Date(3*(len(values)-1-i)), Value: v})
	}
	return r
}

// TestRuleFinding: the heading of a chart is what its values say, and the mornings of a week, whose baseline is not
// drawn, are never taken for one.
func TestRuleFinding(t *testing.T) {
	mornings := valued(policy.Resting, 65, 68, 74)
	mornings.Unit, mornings.Observed, mornings.High = "bpm above the own", new(6.0), new(12.5)
	if c, ok := changeOf(mornings); ok {
		t.Errorf("the mornings of one week are compared with %g bpm", c.before)
	}
	minutes := valued(policy.Minutes, 72, 85, 109)
	minutes.Is, minutes.Threshold = policy.AtLeast, new(75.0)
	same := valued(policy.SameEffort, 126, 124, 118, 117)
	same.Says.Args = record.Args{"before": 125.0, "after": 117.5, "chance": 4.0}
	for _, c := range []struct {
		r    record.Reason
		want string
	}{
		{minutes, "2 of 3 weeks with at least 75 min a week"},
		{valued(policy.Steady, 4, 5, 6), "None of the 3 sessions with at most 3 bpm/10 min"},
		{valued(policy.Steady, 1, 2, 0), "All 3 sessions with at most 3 bpm/10 min"},
		{mornings, "65 bpm on 28 Sep, 74 bpm on 4 Oct"},
		{same, "On average 125 bpm at first and 117.5 bpm lately"},
	} {
		if got := ruleFinding(c.r, drawn[c.r.Rule]); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}

// TestLevelValuesAreALine: values that differ by less than a step of their axis are a line of text, others a chart.
func TestLevelValuesAreALine(t *testing.T) {
	for _, c := range []struct {
		r    record.Reason
		want string
	}{
		{valued(policy.Effort, 12, 12, 12), "RPE 12 in all 3 sessions, 28 Sep to 4 Oct."},
		{valued(policy.Effort, 12, 13, 12), ""},
		{valued(policy.Zone, 97, 99.5, 100), "97 to 100 % of the main part in all 3 sessions, 28 Sep to 4 Oct."},
		{valued(policy.Zone, 90, 100), ""},
	} {
		if got := levelText(c.r, drawn[c.r.Rule]); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
		chart, level, err := behindRule("rule", c.r, Client{})
		if err != nil || (chart == nil) != (c.want != "") || level != c.want {
			t.Errorf("%v is drawn: %v, and says %q, %v", c.r.Points, chart != nil, level, err)
		}
	}
}

// TestNoLineBetweenSessions: between two sessions nothing was measured, and what is counted in a week stands on 0.
func TestNoLineBetweenSessions(t *testing.T) {
	type option struct {
		XAxis, YAxis []struct {
			Min       float64
			AxisTick  struct{ CustomValues []int }
			AxisLabel struct{ CustomValues []int }
		}
		Series []struct{ Type, RenderItem string }
	}
	read := func(r record.Reason) (o option, kinds string) {
		c, err := ruleChart("rule", r, drawn[r.Rule], Client{Assessment: record.Assessment{AsOf: sunday}})
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(c.Option, &o); err != nil {
			t.Fatal(err)
		}
		for _, s := range o.Series {
			kinds += s.Type + s.RenderItem + " "
		}
		return o, kinds
	}
	if _, kinds := read(valued(policy.Steady, 4, 1, 5)); kinds != "scatter " {
		t.Errorf("drift is drawn as %s", kinds)
	}
	if o, kinds := read(valued(policy.Fall, 24, 31, 27)); kinds != "scatter custom$break " || o.YAxis[0].Min != 24 {
		t.Errorf("drops from 24 on are drawn as %s from %g", kinds, o.YAxis[0].Min)
	}
	weeks := valued(policy.Minutes, 54, 80)
	if o, kinds := read(weeks); kinds != "bar " || o.YAxis[0].Min != 0 {
		t.Errorf("minutes a week are drawn as %s from %g", kinds, o.YAxis[0].Min)
	}
	long := valued(policy.Steady, make([]float64, 20)...) // eight weeks and a day
	o, _ := read(long)
	ticks, dates := o.XAxis[0].AxisTick.CustomValues, o.XAxis[0].AxisLabel.CustomValues
	if len(ticks) != 9 || len(dates) != 5 || dates[0] != unixDay(sunday) || ticks[1] != unixDay(sunday)-7 {
		t.Errorf("marks at %v, dates at %v, want each Sunday back from %d", ticks, dates, unixDay(sunday))
	}
}

// TestPaceChart: each workout stands at its own load, and the first ones, whose mean is the baseline, are hollow.
func TestPaceChart(t *testing.T) {
	r := valued(policy.SameEffort, 126, 128, 127, 119, 118, 117)
	r.Says.Args = record.Args{"before": 127.0, "after": 118.0, "chance": 5.0}
	var c Client
	for i, p := range r.Points {
		id := fmt.Sprint("w", i)
		r.Workouts = append(r.Workouts, id)
		c.Record.Recordings = append(c.Record.Recordings, record.Recording{ID: id, Date: p.Date,
			Measured: physiology.Measurements{SameEffort: &physiology.SameEffort{Mean: p.Value, Load: 1.5 + 0.01*float64(i), Unit: "m/s"}}})
	}
	if n := baselineOf(r.Points, change{before: 127, after: 118}); n != 3 {
		t.Errorf("the baseline is taken for the first %d", n)
	}
	chart, _, err := behindRule("rule", r, c)
	if err != nil {
		t.Fatal(err)
	}
	if chart.Title != "9 bpm lower at the same load" {
		t.Errorf("the heading is %q", chart.Title)
	}
	if !strings.HasPrefix(chart.Caption, "On average 127 bpm at first and 118 bpm lately.") {
		t.Errorf("the caption is %q", chart.Caption)
	}
	if row := chart.Table.Rows[5]; row[0] != "6" || row[2] != "5.6 km/h" || row[3] != "117 bpm" {
		t.Errorf("the last workout reads %v", row)
	}
	r.Says.Args["after"] = 125.0
	if chart, _, _ = behindRule("rule", r, c); !strings.HasSuffix(chart.Title, "within chance") {
		t.Errorf("2 bpm of 5 read as %q", chart.Title)
	}
}

// TestBoutChart: a bout of its length is a bar, one that is short or missing is filled up to its length.
func TestBoutChart(t *testing.T) {
	bout := func(seconds int) physiology.Bout {
		return physiology.Bout{Span: workout.Span{To: seconds}}
	}
	all := []boutSession{{date: sunday - 3, plan: record.Intervals{Bouts: 4, Work: 60}, bouts: []physiology.Bout{bout(60), bout(60), bout(30)}},
		{date: sunday, plan: record.Intervals{Bouts: 2, Work: 120}, bouts: []physiology.Bout{bout(120), bout(130), bout(120)}, rpe: &workout.RPE{Value: 17, Scale: 20}}}
	chart := boutChart("bouts", all)
	if chart.Title != "5 of 6 planned bouts done in 2 sessions" {
		t.Errorf("the heading is %q", chart.Title)
	}
	svg := string(chart.Drawn[0].SVG)
	if did, missing := strings.Count(svg, `class="did"`), strings.Count(svg, `class="missing"`); did != 6 || missing != 2 {
		t.Errorf("%d bars and %d filled, want 6 and 2", did, missing)
	}
	for _, want := range []string{">1 min<", ">2 min<", ">1 Oct<", ">4 Oct<", ">RPE 17<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing does not say %s", want)
		}
	}
	if boutChart("bouts", nil) != nil {
		t.Error("a chart of no session")
	}
}
