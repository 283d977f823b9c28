package heartrate_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// again stores a series and reads it back.
func again(t interface{ Fatal(...any) }, s heartrate.Series) (heartrate.Series, int) {
	b, err := s.MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	var out heartrate.Series
	if err := out.UnmarshalBinary(b); err != nil {
		t.Fatal(err)
	}
	return out, len(b)
}

func TestStoreGivesBackTheSameProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		if rapid.Bool().Draw(t, "whole beats") {
			for i, v := range w.HeartRate.V {
				w.HeartRate.V[i] = math.Round(v)
			}
		}
		s := heartrate.Clean(w)
		if got, _ := again(t, s); !same(got, s) {
			t.Fatal("the stored series differs")
		}
	})
}

func TestStore(t *testing.T) {
	nan := math.NaN()
	for name, s := range map[string]heartrate.Series{
		"empty":              {BPM: []float64{}, Origin: []heartrate.Origin{}},
		"every whole value":  heartrate.Clean(recordingOf(slices.Concat(ramp(10, 30, 1, 200, 10), ramp(10, 230, -1, 200, 10))...)),
		"a fraction":         heartrate.Clean(recordingOf(100.1, 100.25, 1e2)),
		"a foreign line":     {BPM: []float64{100, 107, 104}, Origin: []heartrate.Origin{heartrate.Measured, heartrate.Bridged, heartrate.Measured}},
		"a pause with holes": {BPM: []float64{100, nan, 98}, Origin: []heartrate.Origin{heartrate.Paused, heartrate.Paused, heartrate.Paused}},
		"what is told":       {BPM: []float64{nan}, Origin: []heartrate.Origin{heartrate.Missing}, Rejected: 7, Source: workout.Wrist, Remarks: []workout.Fact{{Code: "gap", Text: "lost"}}},
	} {
		t.Run(name, func(t *testing.T) {
			if got, _ := again(t, s); !same(got, s) {
				t.Errorf("stored %v, read back %v", s, got)
			}
		})
	}
}

func TestStoreIsCompact(t *testing.T) {
	s := heartrate.Clean(hour())
	if _, n := again(t, s); n > 3600 {
		t.Errorf("an hour takes %d bytes, want at most one a second", n)
	}
}

func TestStoreRefuses(t *testing.T) {
	if _, err := (heartrate.Series{BPM: []float64{1}}).MarshalBinary(); err == nil {
		t.Error("a value without an origin is stored")
	}
	whole, err := heartrate.Clean(recordingOf(level(100, 120)...)).MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string][]byte{
		"nothing":         nil,
		"another version": append([]byte{99}, whole[1:]...),
		"half of it":      whole[:len(whole)/2],
		"noise":           {1, 2, 3, 4, 5, 6},
	} {
		s := heartrate.Series{Rejected: 5}
		if err := s.UnmarshalBinary(b); err == nil {
			t.Errorf("%s: read without an error", name)
		}
		if s.Rejected != 5 {
			t.Errorf("%s: the series was changed by a failed read", name)
		}
	}
}

func FuzzUnmarshal(f *testing.F) {
	for _, w := range []workout.Workout{readings(0), recordingOf(100, 101, 102), recordingOf(100.5), dense(60, 20)} {
		b, err := heartrate.Clean(w).MarshalBinary()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		var s heartrate.Series
		if s.UnmarshalBinary(b) != nil {
			return
		}
		if len(s.BPM) != len(s.Origin) {
			t.Fatalf("%d values and %d origins", len(s.BPM), len(s.Origin))
		}
		if got, _ := again(t, s); !same(got, s) {
			t.Fatal("what was read is stored differently")
		}
	})
}
