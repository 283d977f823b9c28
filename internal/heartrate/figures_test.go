package heartrate_test

import (
	"encoding/json"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// near compares within rounding.
func near(a, b float64) bool { return math.Abs(a-b) < 1e-9 }

func TestFigures(t *testing.T) {
	// Seconds 0-4 at 100, 11 s missing, then a paused 115, then 110 to 118 by twos.
	w := readings(30, 0, 100, 1, 100, 2, 100, 3, 100, 4, 100, 16, 115, 20, 110, 21, 112, 22, 114, 23, 116, 24, 118)
	w.Pauses = []workout.Span{{From: 16, To: 20}}
	s := heartrate.Clean(w)

	for name, c := range map[string]struct {
		got  func() (float64, bool)
		want float64
	}{
		"coverage":           {s.Coverage, 10.0 / 26},
		"mean":               {s.Mean, 107},
		"min":                {s.Min, 100},
		"peak is a 5-s mean": {s.Peak, 114},
	} {
		if got, ok := c.got(); !ok || !near(got, c.want) {
			t.Errorf("%s is %v %v, want %v", name, got, ok, c.want)
		}
	}
	if got := s.LongestGap(); got != 11 {
		t.Errorf("longest gap %d s, want 11", got)
	}
	if got := s.Paused(); got != 4 {
		t.Errorf("paused %d s, want 4", got)
	}
	if got, ok := s.LowIn(20, 30); !ok || got != 114 {
		t.Errorf("lowest 5-s mean from 20 s on %v %v, want 114", got, ok)
	}
	if _, ok := s.PeakIn(21, 30); ok {
		t.Error("four seconds have a 5-s mean")
	}
	if got, ok := s.MeanIn(22, 99); !ok || got != 116 {
		t.Errorf("mean from 22 s on %v, want 116", got)
	}
}

func TestFiguresOfNothing(t *testing.T) {
	paused := readings(3)
	paused.Pauses = []workout.Span{{From: 0, To: 3}}
	for name, s := range map[string]heartrate.Series{
		"no second":         heartrate.Clean(readings(0)),
		"no reading":        heartrate.Clean(readings(9)),
		"nothing but pause": heartrate.Clean(paused),
		"nothing but 255":   heartrate.Clean(recordingOf(level(20, 255)...)),
	} {
		for what, f := range map[string]func() (float64, bool){"mean": s.Mean, "min": s.Min, "peak": s.Peak} {
			if v, ok := f(); ok || v != 0 {
				t.Errorf("%s: %s is %v %v, want none", name, what, v, ok)
			}
		}
		if s.Usable() {
			t.Errorf("%s: usable", name)
		}
	}
	if _, ok := heartrate.Clean(paused).Coverage(); ok {
		t.Error("coverage of nothing but pause is a number")
	}
	if c, ok := heartrate.Clean(readings(9)).Coverage(); !ok || c != 0 {
		t.Errorf("coverage without readings %v %v, want 0", c, ok)
	}
}

func TestUsable(t *testing.T) {
	for name, c := range map[string]struct {
		bpm  []float64
		want bool
	}{
		"clean":                    {level(60, 120), true},
		"one second":               {level(1, 120), true},
		"as much out as left":      {slices.Concat(level(60, 120), level(60, 255)), true},
		"more taken out than left": {slices.Concat(level(60, 120), level(61, 255)), false},
	} {
		if got := heartrate.Clean(recordingOf(c.bpm...)).Usable(); got != c.want {
			t.Errorf("%s: usable %v, want %v", name, got, c.want)
		}
	}
}

func TestNear(t *testing.T) {
	w := readings(45, 0, 100, 1, 101, 2, 102, 3, 103, 5, 105, 20, 120, 34, 98, 38, 99)
	w.Pauses = []workout.Span{{From: 30, To: 40}}
	s := heartrate.Clean(w)
	for name, c := range map[string]struct {
		k    int
		want float64
		ok   bool
	}{
		"the second itself":              {5, 105, true},
		"a bridged second":               {4, 104, true},
		"two later":                      {18, 120, true},
		"too far":                        {17, 0, false},
		"before the start":               {-1, 100, true},
		"a reading in a pause":           {38, 99, true},
		"equally near takes the earlier": {36, 98, true},
		"beyond the end":                 {45, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			if got, ok := s.Near(c.k); ok != c.ok || math.Abs(got-c.want) > 1e-9 {
				t.Errorf("Near(%d) is %v %v, want %v %v", c.k, got, ok, c.want, c.ok)
			}
		})
	}
}

func TestShares(t *testing.T) {
	w := readings(20, 0, 100, 1, 102, 2, 104, 12, 90)
	w.Pauses = []workout.Span{{From: 10, To: 15}}
	s := heartrate.Clean(w)
	if got := s.CoverageIn(0, 20); got != 3./15 {
		t.Errorf("CoverageIn is %v, want 3 of 15 s", got)
	}
	if got := s.CoverageIn(-5, 3); got != 1 {
		t.Errorf("CoverageIn is %v, want all of 3 s", got)
	}
	if got := s.CoverageIn(11, 14); got != 0 {
		t.Errorf("CoverageIn of a pause is %v", got)
	}
	if mean, share := s.ValuesIn(0, 20); mean != 99 || share != 4./20 {
		t.Errorf("ValuesIn are %v bpm in %v, want 99 bpm in 4 of 20 s", mean, share)
	}
}

// Taking readings away never makes a recording look more complete. (Sampling as a whole may become
// sparse and allow longer bridges, so the step stays dense here.)
func TestGapsNeverRaiseCoverageProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bpm := exercise(t, 600)
		w := recordingOf(bpm...)
		holes := w
		holes.HeartRate = workout.Channel{}
		from := rapid.IntRange(0, 590).Draw(t, "from")
		long := rapid.IntRange(1, 200).Draw(t, "length")
		for k, v := range bpm {
			if k < from || k >= from+long {
				holes.HeartRate.Add(float64(k), v)
			}
		}
		before, _ := heartrate.Clean(w).Coverage()
		after, _ := heartrate.Clean(holes).Coverage()
		if after > before {
			t.Fatalf("coverage rises from %v to %v", before, after)
		}
		if gap := heartrate.Clean(holes).LongestGap(); long > 9 && from > 0 && from+long < 600 && gap != long {
			t.Fatalf("a hole of %d s gives a longest gap of %d s", long, gap)
		}
	})
}

func TestClockShiftChangesNothingProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		a := heartrate.Clean(w)
		w.Start = w.Start.AddDate(0, 0, rapid.IntRange(0, 20000).Draw(t, "days"))
		for i := range w.HeartRate.T {
			w.HeartRate.T[i] = math.Floor(w.HeartRate.T[i]) + 0.25
		}
		if b := heartrate.Clean(w); !same(a, b) {
			t.Fatal("another start or another fraction of the second changes the series")
		}
	})
}

// written is a grade as JSON has it, where every number is of one type.
func written(g heartrate.Grade) string {
	b, _ := json.Marshal(g)
	return string(b)
}

// same compares two series bit by bit.
func same(a, b heartrate.Series) bool {
	return slices.EqualFunc(a.BPM, b.BPM, func(x, y float64) bool { return math.Float64bits(x) == math.Float64bits(y) }) &&
		slices.Equal(a.Origin, b.Origin) && a.Rejected == b.Rejected && a.Source == b.Source && slices.EqualFunc(a.Remarks, b.Remarks, workout.Fact.Equal) &&
		slices.EqualFunc(a.Faults, b.Faults, func(x, y heartrate.Fault) bool { return x.Span == y.Span && x.Says().Equal(y.Says()) }) &&
		written(a.Grade) == written(b.Grade)
}
