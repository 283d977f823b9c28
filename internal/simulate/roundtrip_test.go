package simulate_test

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"flag"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var update = flag.Bool("update", false, "write the recordings in testdata again")

// sample is a short session that is kept as a file in testdata.
type sample struct {
	name   string // without extension
	format string
	mode   workout.Mode
	steps  []workout.Step
	o      simulate.Options
}

// samples are the recordings that testdata/README.md describes.
func samples() []sample {
	at := func(day int) time.Time { return time.Date(2026, 9, day, 6, 10, 0, 0, time.UTC) }
	plain := []workout.Step{step(workout.WarmUp, 180, 98), step(workout.Steady, 360, 124), step(workout.CoolDown, 180, 92)}
	bouts := []workout.Step{step(workout.WarmUp, 180, 98)}
	for range 3 {
		bouts = append(bouts, step(workout.Work, 60, 150), step(workout.Recovery, 60, 95))
	}
	bouts = append(bouts, step(workout.CoolDown, 180, 92))
	fault := func(kind simulate.FaultKind, from, to int) simulate.Fault {
		return simulate.Fault{Kind: kind, Span: workout.Span{From: from, To: to}}
	}
	return []sample{
		{"walk-steady", "fit", workout.Walk, plain, simulate.Options{Seed: 1, Start: at(1), Sensor: workout.Strap, Place: workout.Indoor, Laps: true}},
		{"bike-bouts", "tcx", workout.Bike, bouts, simulate.Options{Seed: 2, Start: at(2), Sensor: workout.Strap, Every: 3, Laps: true}},
		{"walk-wrist-sparse", "gpx", workout.Walk, plain, simulate.Options{
			Seed: 3, Start: at(3), Sensor: workout.Wrist, Sparse: true, Faults: []simulate.Fault{fault(simulate.Dropout, 300, 345)},
		}},
		{"row-steady", "csv", workout.Row, plain, simulate.Options{Seed: 4, Start: at(4), Sensor: workout.Strap, Every: 2}},
		{"run-pause", "tcx", workout.Run, plain, simulate.Options{
			Seed: 5, Start: at(5), Sensor: workout.Strap, Every: 5, Laps: true, Pauses: []workout.Span{{From: 400, To: 470}},
		}},
		{"walk-locked", "fit", workout.Walk, plain, simulate.Options{
			Seed: 6, Start: at(6), Sensor: workout.Wrist, Faults: []simulate.Fault{fault(simulate.Lock, 240, 330), fault(simulate.Zeros, 400, 420)},
		}},
		{"bike-cut-short", "fit", workout.Bike, plain, simulate.Options{Seed: 7, Start: at(7), Sensor: workout.Strap, Tail: -175, Laps: true}},
	}
}

func (s sample) play() workout.Workout {
	w, _ := simulate.Play(workout.Plan{Mode: s.mode, Steps: s.steps}, simulate.Beginner(62, 185), s.o)
	return w
}

func encode(t testing.TB, format string, w workout.Workout) []byte {
	t.Helper()
	b, err := recording.Encode(format, w)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// The recordings in testdata are exactly what the model plays; -update writes them.
func TestTestdataIsWhatWasPlayed(t *testing.T) {
	files := map[string][]byte{}
	for _, s := range samples() {
		files[s.name+"."+s.format] = encode(t, s.format, s.play())
	}
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(files["run-pause.tcx"]); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	files["run-pause.tcx.gz"] = packed.Bytes()
	delete(files, "run-pause.tcx")

	var archive bytes.Buffer
	a := zip.NewWriter(&archive)
	for _, name := range []string{"walk-locked.fit", "bike-cut-short.fit"} {
		e, err := a.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := e.Write(files[name]); err != nil {
			t.Fatal(err)
		}
		delete(files, name)
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	files["week.zip"] = archive.Bytes()

	for name, b := range files {
		path := filepath.Join("..", "..", "testdata", name)
		if *update {
			if err := os.WriteFile(path, b, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		have, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(have, b) {
			t.Errorf("%s differs from what the model plays; run `go test ./internal/simulate -update` if that is meant", name)
		}
	}
}

// A played workout written to a file and read again has the same clean heart rate, in every format.
func TestEveryFormatKeepsTheSeries(t *testing.T) {
	for _, s := range samples() {
		for _, format := range []string{"fit", "tcx", "gpx", "csv"} {
			t.Run(s.name+"."+format, func(t *testing.T) {
				w := s.play()
				files := recording.Decode(s.name+"."+format, encode(t, format, w))
				if len(files) != 1 || files[0].Err != nil || len(files[0].Workouts) != 1 {
					t.Fatalf("read %+v", files)
				}
				back := files[0].Workouts[0]
				if !back.Start.Equal(w.Start) || back.Seconds != w.Seconds {
					t.Errorf("starts %v for %d s, want %v for %d s", back.Start, back.Seconds, w.Start, w.Seconds)
				}
				want, got := heartrate.Clean(w), heartrate.Clean(back)
				if len(want.BPM) != len(got.BPM) {
					t.Fatalf("%d seconds, want %d", len(got.BPM), len(want.BPM))
				}
				for k := range want.BPM {
					if format == "csv" && want.Origin[k] == heartrate.Paused {
						want.Origin[k] = heartrate.Missing // a table shows no timer
					}
					same := want.BPM[k] == got.BPM[k] || math.IsNaN(want.BPM[k]) && math.IsNaN(got.BPM[k])
					if !same || want.Origin[k] != got.Origin[k] {
						t.Fatalf("second %d: %v (%v), want %v (%v)", k, got.BPM[k], got.Origin[k], want.BPM[k], want.Origin[k])
					}
				}
			})
		}
	}
}

// The clean series of a strap lies within a beat and a half of the truth on average.
func TestCleaningFindsTheTruth(t *testing.T) {
	for _, s := range samples() {
		w, truth := simulate.Play(workout.Plan{Mode: s.mode, Steps: s.steps}, simulate.Beginner(62, 185), s.o)
		clean := heartrate.Clean(w)
		off, n := 0.0, 0
		for k, bpm := range clean.BPM {
			planted := false
			for _, f := range truth.Faults {
				planted = planted || f.Contains(k)
			}
			if !planted && !math.IsNaN(bpm) {
				off += math.Abs(bpm - truth.BPM[k])
				n++
			}
		}
		limit := 1.5
		if s.o.Sensor == workout.Wrist {
			limit = 3 // best case of wrist sensors: a mean absolute error of at most 3 bpm (Sartor et al. 2018)
		}
		if n < 100 || off/float64(n) > limit {
			t.Errorf("%s: mean difference %.2f bpm over %d s", s.name, off/float64(n), n)
		}
	}
}
