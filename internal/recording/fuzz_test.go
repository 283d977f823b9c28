package recording_test

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"math"
	"testing"
	"time"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// small is a workout with everything in it, as a seed.
func small() workout.Workout {
	w := workout.Workout{
		Sport: workout.Rowing, Place: workout.Indoor, Start: time.Unix(1_800_000_000, 0).UTC(), Seconds: 20,
		Sensor: workout.Strap, Device: "d", Effort: &workout.RPE{Value: 4, Scale: 10},
		Pauses: []workout.Span{{From: 5, To: 8}}, Laps: []workout.Lap{{Span: workout.Span{From: 0, To: 10}}, {Span: workout.Span{From: 10, To: 20}}},
	}
	for k := range 20 {
		w.HeartRate.Add(float64(k), float64(100+k))
		w.Speed.Add(float64(k), 2.5)
		w.Power.Add(float64(k), 100)
		w.Cadence.Add(float64(k), 24)
	}
	return w
}

func written(t testing.TB, format string) []byte {
	t.Helper()
	b, err := recording.Encode(format, small())
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// sound checks what holds of every file, however broken.
func sound(t *testing.T, files []recording.File) {
	t.Helper()
	if len(files) == 0 {
		t.Fatal("no file")
	}
	for _, f := range files {
		if (f.Err == nil) != (len(f.Workouts) > 0) {
			t.Fatalf("%q: %d workouts, error %v", f.Name, len(f.Workouts), f.Err)
		}
		if f.Err != nil && (f.Err.Error() == "" || len(f.Err.Error()) > 300) {
			t.Fatalf("reason %q", f.Err)
		}
		for _, w := range f.Workouts {
			soundWorkout(t, w)
		}
	}
}

func soundWorkout(t *testing.T, w workout.Workout) {
	t.Helper()
	if w.Seconds < 1 || w.Seconds > 7*86400 {
		t.Fatalf("%d seconds", w.Seconds)
	}
	if !w.Start.IsZero() && (w.Start.Nanosecond() != 0 || w.Start.Year() < 1998) {
		t.Fatalf("start %v", w.Start)
	}
	for name, c := range map[string]workout.Channel{
		"heart rate": w.HeartRate, "beats": w.BeatHeartRate, "intervals": w.Intervals,
		"speed": w.Speed, "power": w.Power, "cadence": w.Cadence,
	} {
		if len(c.T) != len(c.V) {
			t.Fatalf("%s: %d times, %d values", name, len(c.T), len(c.V))
		}
		for i, s := range c.T {
			if !(s >= 0 && s < float64(w.Seconds)) {
				t.Fatalf("%s: sample at %g s of %d", name, s, w.Seconds)
			}
			if v := c.V[i]; math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
				t.Fatalf("%s: value %g", name, v)
			}
		}
	}
	for _, v := range w.HeartRate.V {
		if v == 0 || v == 255 {
			t.Fatalf("heart rate %g", v)
		}
	}
	end := 0
	for _, p := range w.Pauses {
		if p.From < end || p.To <= p.From || p.To > w.Seconds {
			t.Fatalf("pauses %v of %d s", w.Pauses, w.Seconds)
		}
		end = p.To
	}
	for _, l := range w.Laps {
		if l.From < 0 || l.To <= l.From || l.To > w.Seconds {
			t.Fatalf("lap %v of %d s", l, w.Seconds)
		}
	}
}

// FuzzFIT decodes messages after a header that fits, so that mutations reach the reader.
func FuzzFIT(f *testing.F) {
	b := written(f, "fit")
	f.Add(b[14:])
	f.Add(b[14:200])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, body []byte) {
		sound(t, recording.Decode("raw", append([]byte{14, 32, 0, 0, 0, 0, 0, 0, '.', 'F', 'I', 'T', 0, 0}, body...)))
		header := []byte{12, 32, 0, 0, 0, 0, 0, 0, '.', 'F', 'I', 'T'}
		binary.LittleEndian.PutUint32(header[4:], uint32(len(body)))
		sound(t, recording.Decode("fit", append(append(header, body...), 0, 0)))
	})
}

func FuzzTCX(f *testing.F) {
	f.Add(written(f, "tcx"))
	f.Add([]byte(tcx("<Creator><UnitId>12</UnitId></Creator>", "100", "255", "x", "")))
	fuzzText(f)
}

func FuzzGPX(f *testing.F) {
	f.Add(written(f, "gpx"))
	f.Add([]byte(gpx(point("2026-09-01T06:00:00.5+02:00", 100), point("2026-09-01", 0))))
	fuzzText(f)
}

func FuzzCSV(f *testing.F) {
	f.Add(written(f, "csv"))
	for _, s := range []string{
		"date;time;hr\n25.9.2011;06:00:22;100\n26.9.2011;06:00:23;101,5\n",
		"Time,HR\n9/25/2011 6:00:22 AM,100\n9/25/2011 12:00:22 PM,100 bpm\n",
		"time\thr\n00:59\t100\n01:00\tnull\n", "hr\n100\n", "t,hr\n1e300,100\n-5,100\nNaN,1\n",
	} {
		f.Add([]byte(s))
	}
	fuzzText(f)
}

func fuzzText(f *testing.F) {
	f.Fuzz(func(t *testing.T, b []byte) { sound(t, recording.Decode("x", b)) })
}

func FuzzArchive(f *testing.F) {
	var z bytes.Buffer
	w := gzip.NewWriter(&z)
	if _, err := w.Write(written(f, "csv")); err != nil {
		f.Fatal(err)
	}
	if err := w.Close(); err != nil {
		f.Fatal(err)
	}
	f.Add(z.Bytes())
	f.Add(zipped(f, entry{"a/b.csv", written(f, "csv")}, entry{"__MACOSX/x", nil}, entry{"c.gz", z.Bytes()}))
	fuzzText(f)
}
