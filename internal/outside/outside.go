// Package outside is for tests only. It owns what they compare with that is no part of the project: real
// recordings, tables of figures that others published, the test recordings of modules of the build, and R.
// Where one of these is not at hand a test skips, and fails with NEXTRUNG_DATA_REQUIRED=1. What is compared,
// and with which tolerance, stands in the tests.
package outside

import (
	"cmp"
	"encoding/csv"
	"io/fs"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// Absent skips a test whose outside material is not there, and fails it where that is required.
func Absent(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
		t.Fatal(why)
	}
	t.Skip(why)
}

// Data is the folder with real recordings: NEXTRUNG_DATA, or ../shared/data beside the project, seen from a
// package in internal.
func Data(t testing.TB) string {
	t.Helper()
	dir := cmp.Or(os.Getenv("NEXTRUNG_DATA"), "../../../shared/data")
	if _, err := os.Stat(dir); err != nil {
		Absent(t, "no real recordings in "+dir+"; set NEXTRUNG_DATA")
	}
	return dir
}

// Module is the folder of a Go module of the build, whose test files are read in place.
func Module(t testing.TB, module string) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", module).Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		Absent(t, "module "+module+" is not on disk; run go mod download")
	}
	return dir
}

// Files decodes every oneIn-th file under dir that may be a recording, but for the tables of research.
func Files(t testing.TB, dir string, oneIn int, f func(recording.File)) {
	t.Helper()
	n := 0
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		may := slices.Contains([]string{".fit", ".tcx", ".gpx", ".gz", ".zip", ".csv"}, strings.ToLower(filepath.Ext(file)))
		if err != nil || d.IsDir() || !may || strings.Contains(file, "research") {
			return err
		}
		if n++; n%oneIn != 0 {
			return nil
		}
		b, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, in := range recording.Decode(filepath.Base(file), b) {
			f(in)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// Workouts calls f for every workout of every oneIn-th recording under dir.
func Workouts(t testing.TB, dir string, oneIn int, f func(name string, w workout.Workout)) {
	t.Helper()
	Files(t, dir, oneIn, func(in recording.File) {
		for _, w := range in.Workouts {
			f(in.Name, w)
		}
	})
}

// Recorded reads a real recording the ordinary way and gives its first workout and clean heart rate.
func Recorded(t testing.TB, name string) (heartrate.Series, workout.Workout) {
	t.Helper()
	file := filepath.Join(Data(t), name)
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	files := recording.Decode(filepath.Base(file), b)
	if files[0].Err != nil || len(files[0].Workouts) == 0 {
		t.Fatalf("%s: %v", name, files[0].Err)
	}
	w := files[0].Workouts[0]
	return heartrate.Clean(w), w
}

// Table reads a CSV file with a header, whose name is given from the folder with real recordings, into one map
// for each row.
func Table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(Data(t), name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, name := range rows[0] {
			m[name] = row[i]
		}
		out = append(out, m)
	}
	return out
}

// Cell reads a cell; "" and "NA" are not there.
func Cell(t testing.TB, text string) (float64, bool) {
	t.Helper()
	if text == "" || text == "NA" {
		return 0, false
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v, true
}

// R runs a script of base R and gives the numbers that it prints, line by line; NA is NaN. Of R's packages only
// base and stats are loaded, which halves the time that it takes to start.
func R(t testing.TB, script string) [][]float64 {
	t.Helper()
	path, err := exec.LookPath("Rscript")
	if err != nil {
		Absent(t, "Rscript is not installed")
	}
	file := filepath.Join(t.TempDir(), "check.R")
	if err := os.WriteFile(file, []byte(script), 0o600); err != nil {
		t.Fatal(err)
	}
	run := exec.Command(path, "--vanilla", file)
	run.Env = append(os.Environ(), "R_DEFAULT_PACKAGES=stats")
	out, err := run.CombinedOutput()
	if err != nil {
		t.Fatalf("Rscript: %v\n%s", err, out)
	}
	var rows [][]float64
	for line := range strings.Lines(string(out)) {
		var row []float64
		for f := range strings.FieldsSeq(line) {
			v := math.NaN()
			if f != "NA" {
				if v, err = strconv.ParseFloat(f, 64); err != nil {
					t.Fatalf("R prints %q", line)
				}
			}
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rows
}
