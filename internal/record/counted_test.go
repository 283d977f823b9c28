package record_test

import (
	"fmt"
	"testing"

	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// done is a session of some minutes with a share of its time under zone 1, in percent.
func done(sport workout.Sport, minutes, under int, estimated bool) record.Recording {
	day := workout.MustDate("2026-09-07")
	seconds := 60 * minutes
	return record.Recording{
		ID: "a#0", Date: day, Received: day,
		Workout: workout.Workout{Sport: sport, Start: day.Time(), Seconds: seconds},
		Measured: physiology.Measurements{
			Edges: &physiology.Edges{Estimated: estimated},
			Zones: &physiology.ZoneTime{Under: seconds * under / 100, Zone1: seconds - seconds*under/100},
		},
	}
}

func without(x record.Recording) record.Recording {
	x.Measured = physiology.Measurements{}
	return x
}

func effort(value float64, scale int) []record.Note {
	return []record.Note{{Date: workout.MustDate("2026-09-07"), RPE: &workout.RPE{Value: value, Scale: scale}}}
}

// TestWhatCounts: a circuit counts by its minutes in zone 1 and above, weights with long rests do not,
// and a walk under an estimated zone 1 goes by its effort.
func TestWhatCounts(t *testing.T) {
	walker, runner := record.Client{Modes: []workout.Mode{workout.Walk}}, record.Client{Modes: []workout.Mode{workout.Run}}
	strength, walk, run := workout.Strength, workout.Walking, workout.Running
	for _, c := range []struct {
		name    string
		client  record.Client
		done    []record.Recording
		notes   []record.Note
		reports []record.Report
		why     record.Uncounted
		minutes float64
	}{
		{"weights with long rests", runner, []record.Recording{done(strength, 80, 97, false)}, nil, nil, record.LongRests, 2.4},
		{"just under half in zone 1", runner, []record.Recording{done(strength, 60, 51, false)}, nil, nil, record.LongRests, 29.4},
		{"a circuit", runner, []record.Recording{done(strength, 60, 50, false)}, nil, nil, "", 30},
		{"a circuit throughout", runner, []record.Recording{done(strength, 30, 0, true)}, nil, nil, "", 30},
		{"a circuit that leaves 9 min", runner, []record.Recording{done(strength, 18, 50, false)}, nil, nil, record.TooShort, 9},
		{"hard effort makes no circuit of long rests", runner, []record.Recording{done(strength, 80, 97, false)}, effort(17, 20), nil, record.LongRests, 2.4},
		{"weights without a heart rate", runner, []record.Recording{without(done(strength, 40, 0, false))}, nil, nil, record.EffortNeeded, 40},
		{"weights without a heart rate and with effort", runner, []record.Recording{without(done(strength, 40, 0, false))}, effort(13, 20), nil, "", 40},
		{"weights that were entered with effort", runner, nil, nil, []record.Report{{Date: workout.MustDate("2026-09-07"), Minutes: 25, Sport: strength, RPE: &workout.RPE{Value: 4, Scale: 10}}}, "", 25},
		{"weights that were entered without", runner, nil, nil, []record.Report{{Date: workout.MustDate("2026-09-07"), Minutes: 25, Sport: strength}}, record.EffortNeeded, 25},
		{"a walk under an estimated zone 1", walker, []record.Recording{done(walk, 30, 90, true)}, nil, nil, "", 30},
		{"with an effort of very light", walker, []record.Recording{done(walk, 30, 90, true)}, effort(9, 20), nil, "", 30},
		{"with less", walker, []record.Recording{done(walk, 30, 90, true)}, effort(8, 20), nil, record.TooLight, 30},
		{"with none, of ten", walker, []record.Recording{done(walk, 30, 90, true)}, effort(0, 10), nil, record.TooLight, 30},
		{"with little effort in zone 1", walker, []record.Recording{done(walk, 30, 70, true)}, effort(8, 20), nil, "", 30},
		{"a runner's walk", runner, []record.Recording{done(walk, 30, 0, true)}, effort(12, 20), nil, record.WalkNotTrained, 30},
		{"a short run", runner, []record.Recording{done(run, 9, 0, false)}, nil, nil, record.TooShort, 9},
		{"a run under zone 1", runner, []record.Recording{done(run, 30, 97, true)}, effort(7, 20), nil, "", 30},
	} {
		r := record.Record{Client: c.client, Recordings: c.done, Notes: c.notes, Reports: c.reports}
		all := r.Done()
		if len(all) != 1 || all[0].Uncounted != c.why || fmt.Sprintf("%.1f", all[0].Minutes) != fmt.Sprintf("%.1f", c.minutes) {
			t.Errorf("%s: %+v, want %q and %g min", c.name, all, c.why, c.minutes)
		}
		if n := len(r.Sessions()); (n == 1) != (c.why == "") {
			t.Errorf("%s: %d sessions count", c.name, n)
		}
	}
}

// TestANoteGoesToTheTraining: on a day with weights and a shorter run the answer is about the run.
func TestANoteGoesToTheTraining(t *testing.T) {
	run := done(workout.Running, 30, 0, false)
	run.ID, run.Workout.Start = "b#0", run.Workout.Start.Add(5*3600e9)
	all := record.Record{Recordings: []record.Recording{done(workout.Strength, 80, 97, false), run}, Notes: effort(12, 20)}.Done()
	if len(all) != 2 || all[0].RPE != nil || all[1].RPE == nil {
		t.Errorf("%+v", all)
	}
}

// TestARealHourOfWeights: a recording of 80 min of weights, 77 of them under zone 1 of a forty-year-old,
// is no session. For somebody with low zones the same heart rate is a circuit, of which the minutes
// under zone 1 do not count.
func TestARealHourOfWeights(t *testing.T) {
	series, w := outside.Recorded(t, "fit/strength-hr-only-01.fit")
	for _, c := range []struct {
		edges    [4]float64
		why      record.Uncounted
		low, top float64
	}{
		{[4]float64{119, 143, 160, 178}, record.LongRests, 2, 4},
		{[4]float64{90, 110, 130, 150}, "", 45, 60},
		{[4]float64{60, 110, 130, 150}, "", 79, 81},
	} {
		day := workout.DateOf(w.Start, w.Start.Location())
		m := physiology.Measure(series, w, physiology.Body{Fixed: map[workout.Mode][4]float64{"": c.edges}}, false)
		all := record.Record{Recordings: []record.Recording{{ID: "a#0", Date: day, Workout: w, Measured: m}}}.Done()
		if len(all) != 1 || all[0].Uncounted != c.why || all[0].Minutes < c.low || all[0].Minutes > c.top {
			t.Errorf("zone 1 from %g: %q, %.1f min; want %q, %g to %g", c.edges[0], all[0].Uncounted, all[0].Minutes, c.why, c.low, c.top)
		}
	}
}
