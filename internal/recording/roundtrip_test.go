package recording_test

import (
	"bytes"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

var formats = []string{"fit", "tcx", "gpx", "csv"}

// anyWorkout draws a workout with gaps in each channel and pauses inside it.
func anyWorkout(t *rapid.T) workout.Workout {
	n := rapid.IntRange(3, 400).Draw(t, "seconds")
	w := workout.Workout{
		Sport:   rapid.SampledFrom([]workout.Sport{workout.Running, workout.Cycling, workout.Walking, workout.Rowing, workout.Swimming, workout.Strength, workout.Other}).Draw(t, "sport"),
		Place:   rapid.SampledFrom([]workout.Place{workout.AnyPlace, workout.Indoor}).Draw(t, "place"),
		Start:   time.Unix(rapid.Int64Range(1_000_000_000, 2_000_000_000).Draw(t, "start"), 0).UTC(),
		Seconds: n,
		Sensor:  rapid.SampledFrom([]workout.Sensor{workout.UnknownSensor, workout.Strap, workout.Wrist}).Draw(t, "sensor"),
		Device:  rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "device"),
	}
	if rapid.Bool().Draw(t, "effort") {
		w.Effort = &workout.RPE{Value: float64(rapid.IntRange(1, 10).Draw(t, "rpe")), Scale: 10}
	}
	for from := rapid.IntRange(1, 200).Draw(t, "first pause"); from < n-2; {
		to := min(from+rapid.IntRange(1, 60).Draw(t, "pause"), n-1)
		w.Pauses = append(w.Pauses, workout.Span{From: from, To: to})
		from = to + rapid.IntRange(1, 200).Draw(t, "between")
	}
	for k := range n {
		if rapid.IntRange(0, 9).Draw(t, "dice") > 1 {
			w.HeartRate.Add(float64(k), float64(rapid.IntRange(1, 254).Draw(t, "bpm")))
		}
		if k%3 == 0 {
			w.Speed.Add(float64(k), float64(rapid.IntRange(0, 9000).Draw(t, "mm/s"))/1000)
		}
		if k%2 == 0 {
			w.Power.Add(float64(k), float64(rapid.IntRange(0, 900).Draw(t, "W")))
			w.Cadence.Add(float64(k), float64(rapid.IntRange(0, 200).Draw(t, "rpm")))
		}
	}
	for from := 0; rapid.Bool().Draw(t, "lap") && from < n-10; {
		to := rapid.IntRange(from+1, n).Draw(t, "lap end")
		w.Laps = append(w.Laps, workout.Lap{Span: workout.Span{From: from, To: to}, Label: "active"})
		from = to
	}
	return w
}

func paused(w workout.Workout, k int) bool {
	for _, p := range w.Pauses {
		if p.Contains(k) {
			return true
		}
	}
	return false
}

// Whatever format a workout passes through, the same seconds have the same heart rate, and length,
// start and (where the format knows them) pauses stay. TCX and GPX have no samples within pauses.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		for _, format := range formats {
			b, err := recording.Encode(format, w)
			if err != nil {
				t.Fatalf("%s: %v", format, err)
			}
			again, _ := recording.Encode(format, w)
			if !bytes.Equal(b, again) {
				t.Fatalf("%s: the same workout gives different bytes", format)
			}
			files := recording.Decode("x."+format, b)
			if len(files) != 1 || files[0].Err != nil || files[0].Format != format || len(files[0].Workouts) != 1 {
				t.Fatalf("%s: read back as %+v", format, files)
			}
			if len(files[0].Remarks) > 0 {
				t.Fatalf("%s: remarks on a file of our own: %v", format, files[0].Remarks)
			}
			got := files[0].Workouts[0]
			if got.Seconds != w.Seconds || !got.Start.Equal(w.Start) {
				t.Fatalf("%s: %v + %d s, want %v + %d s", format, got.Start, got.Seconds, w.Start, w.Seconds)
			}
			wantBeats := beats(w)
			if format == "tcx" || format == "gpx" {
				for k := range wantBeats {
					if paused(w, k) {
						delete(wantBeats, k)
					}
				}
			}
			if d := cmp.Diff(wantBeats, beats(got)); d != "" {
				t.Fatalf("%s: heart rate differs (-want +got):\n%s", format, d)
			}
			if format != "csv" {
				if d := cmp.Diff(w.Pauses, got.Pauses); d != "" {
					t.Fatalf("%s: pauses differ (-want +got):\n%s", format, d)
				}
			}
		}
	})
}

// FIT keeps all that a simulated recording has but the R-R intervals.
func TestRoundTripFITKeepsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		b, err := recording.Encode("fit", w)
		if err != nil {
			t.Fatal(err)
		}
		got := recording.Decode("x.fit", b)[0].Workouts[0]
		if got.Sport != w.Sport || got.Sensor != w.Sensor || (got.Device == "") != (w.Device == "") {
			t.Fatalf("sport %s sensor %s device %q, want %s %s %q", got.Sport, got.Sensor, got.Device, w.Sport, w.Sensor, w.Device)
		}
		if w.Place == workout.Indoor && w.Sport != workout.Strength && got.Place != workout.Indoor {
			t.Fatalf("place %q", got.Place)
		}
		if d := cmp.Diff(w.Effort, got.Effort); d != "" {
			t.Fatal(d)
		}
		if len(w.Laps) > 1 && len(got.Laps) != len(w.Laps) {
			t.Fatalf("%d laps, want %d", len(got.Laps), len(w.Laps))
		}
		for name, c := range map[string][2]workout.Channel{
			"speed": {w.Speed, got.Speed}, "power": {w.Power, got.Power}, "cadence": {w.Cadence, got.Cadence},
		} {
			if d := cmp.Diff(c[0], c[1]); d != "" {
				t.Fatalf("%s differs (-want +got):\n%s", name, d)
			}
		}
	})
}

// GPX carries speed as positions only: at a steady speed it must come back.
func TestRoundTripGPXSpeed(t *testing.T) {
	w := workout.Workout{Sport: workout.Running, Place: workout.Outdoor, Start: time.Unix(1_800_000_000, 0).UTC(), Seconds: 600}
	for k := range 600 {
		w.HeartRate.Add(float64(k), 120)
		speed := 3.0
		if k >= 300 {
			speed = 1.5
		}
		w.Speed.Add(float64(k), speed)
	}
	b, err := recording.Encode("gpx", w)
	if err != nil {
		t.Fatal(err)
	}
	got := recording.Decode("x.gpx", b)[0].Workouts[0]
	if got.Place != workout.Outdoor {
		t.Errorf("place %q, want outdoor", got.Place)
	}
	if got.Speed.Len() != 600 {
		t.Fatalf("%d speeds, want 600", got.Speed.Len())
	}
	for i, k := range got.Speed.T {
		want := 3.0
		if k >= 300 {
			want = 1.5
		}
		if math.Abs(k-300) > 6 && math.Abs(got.Speed.V[i]-want) > 0.01 {
			t.Fatalf("speed at %g s is %.3f m/s, want %.1f", k, got.Speed.V[i], want)
		}
	}
}

func TestEncodeRefuses(t *testing.T) {
	w := workout.Workout{Seconds: 10, HeartRate: workout.Channel{T: []float64{0, 9}, V: []float64{100, 101}}}
	for _, c := range []struct {
		name, format string
		w            workout.Workout
	}{
		{"unknown format", "xls", w},
		{"no date in tcx", "tcx", w},
		{"no date in gpx", "gpx", w},
		{"no length", "fit", workout.Workout{}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := recording.Encode(c.format, c.w); err == nil {
				t.Error("no error")
			}
		})
	}
	for _, format := range []string{"fit", "csv"} {
		b, err := recording.Encode(format, w)
		if err != nil {
			t.Fatal(err)
		}
		got := only(t, decode(t, "x", b))
		if !got.Start.IsZero() || got.Seconds != 10 {
			t.Errorf("%s: undated workout came back as %v + %d s", format, got.Start, got.Seconds)
		}
		wantRemark(t, got.Remarks, "undated")
	}
}
