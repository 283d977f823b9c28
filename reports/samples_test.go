package reports_test

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/record"
	"nextrung/internal/workout"
	"nextrung/reports"
)

var update = flag.Bool("update", false, "write the pages of testdata/pages anew")

// sampleInput is what the samples show: the only place that says so.
func sampleInput() (on workout.Date, everybody []reports.Client, one reports.Client, rec record.Recording, s heartrate.Series, w workout.Workout) {
	rec, s, w = ride()
	return asOf, crew(), avelin(), rec, s, w
}

// samples renders one page of each kind, the runtime left out.
func samples(t *testing.T) map[string][]byte {
	t.Helper()
	on, everybody, one, rec, s, w := sampleInput()
	out := map[string][]byte{"progress.svg": reports.ProgressPicture(one), "progress.txt": []byte(reports.ProgressText(one))}
	add := func(name string, b []byte, err error) {
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		out[name] = b
	}
	b, err := reports.Roster(on, everybody)
	add("roster.html", b, err)
	b, err = reports.DecisionSample(one)
	add("decision.html", b, err)
	b, err = reports.ProgressSample(one)
	add("progress.html", b, err)
	b, err = reports.WorkoutSample(rec, s, w, one)
	add("workout.html", b, err)
	sick := doctorSheets()["grave sign"]
	b, err = reports.DoctorSample(sick.client, sick.then)
	add("doctor.html", b, err)
	b, err = reports.RehearsalSample(rehearsed())
	add("rehearsal.html", b, err)
	return out
}

// TestSamples renders the pages of made input again; a wanted change is accepted with -update.
func TestSamples(t *testing.T) {
	for name, got := range samples(t) {
		file := filepath.Join("testdata", "pages", name)
		if *update {
			if err := os.WriteFile(file, got, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Errorf("%v; write it with: go test ./reports -run TestSamples -update", err)
			continue
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s has changed at byte %d; look at it and accept it with: go test ./reports -run TestSamples -update", name, firstDifference(got, want))
		}
	}
}

func firstDifference(a, b []byte) int {
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return i
		}
	}
	return min(len(a), len(b))
}
