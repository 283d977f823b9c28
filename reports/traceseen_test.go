package reports

import (
	"math"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// TestOddStretches: what the sensor did wrong is named where it did it; a short loss is not.
func TestOddStretches(t *testing.T) {
	s := heartrate.Series{BPM: make([]float64, 600), Origin: make([]heartrate.Origin, 600)}
	for k := range s.Origin {
		s.Origin[k] = heartrate.Measured
	}
	lose := func(from, to int) {
		for k := from; k < to; k++ {
			s.BPM[k], s.Origin[k] = math.NaN(), heartrate.Missing
		}
	}
	lose(100, 140)
	lose(200, 210) // too short
	lose(300, 330)
	s.Faults = []heartrate.Fault{{Kind: heartrate.Doubled, Span: workout.Span{From: 300, To: 330}}, {Kind: heartrate.Lag, Span: workout.Span{From: 400, To: 460}},
		{Kind: heartrate.Spike, Span: workout.Span{From: 500, To: 530}}}
	got := odd(s, workout.Workout{Pauses: []workout.Span{{From: 20, To: 60}}})
	want := []stretch{{workout.Span{From: 20, To: 60}, "away"}, {workout.Span{From: 100, To: 140}, "lost"}, {workout.Span{From: 300, To: 330}, "read double"},
		{workout.Span{From: 400, To: 460}, "late"}}
	if !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestFallsAreBrokenAtGaps: each stop has its panel, no line goes over seconds without a heart rate, and the heading is
// what the drops are.
func TestFallsAreBrokenAtGaps(t *testing.T) {
	var s heartrate.Series
	for k := range 400 {
		s.BPM = append(s.BPM, 150-float64(k%200)/4)
	}
	for k := 30; k < 40; k++ {
		s.BPM[k] = math.NaN()
	}
	stops := []physiology.Recovery{{Stop: 0, Drop60: new(15.0), End: new(150.0), At60: new(135.0)}, {Stop: 200, Drop60: new(-3.0)}}
	c := fallChart("falls", s, stops)
	svg := string(c.Drawn[0].SVG)
	paths := strings.Split(svg, `class="fall" d="`)[1:]
	if len(paths) != 2 || strings.Count(paths[0][:strings.Index(paths[0], `"`)], "M") != 2 || strings.Count(paths[1][:strings.Index(paths[1], `"`)], "M") != 1 {
		t.Errorf("the lines are %d, want one with a gap and one without", len(paths))
	}
	for _, want := range []string{"at 0:00", "at 3:20", "−15 in 60 s", "+3 in 60 s", ">150<", ">135<"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the drawing does not say %q", want)
		}
	}
	if want := "Not after every stop did the heart rate drop in the first 60 seconds"; c.Title != want {
		t.Errorf("the heading is %q, want %q", c.Title, want)
	}
	if fallChart("falls", s, []physiology.Recovery{{Stop: 390}}) != nil {
		t.Error("a chart of a stop without a minute behind it")
	}
}

// TestLapMarks: one lap is no division, and very many would be a hatching.
func TestLapMarks(t *testing.T) {
	for laps, want := range map[int]int{0: 0, 1: 0, 2: 1, 40: 39, 41: 0} {
		if got := len(lapMarks(make([]workout.Lap, laps))); got != want {
			t.Errorf("%d laps have %d marks, want %d", laps, got, want)
		}
	}
}
