package fieldtest_test

import (
	"cmp"
	"encoding/csv"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// dataDir is the folder with real recordings, which are no part of the project.
func dataDir(t *testing.T) string {
	t.Helper()
	dir := cmp.Or(os.Getenv("NEXTRUNG_DATA"), "../../../shared/data")
	if _, err := os.Stat(dir); err != nil {
		skipOrFail(t, "no real recordings in "+dir+"; set NEXTRUNG_DATA")
	}
	return dir
}

// skipOrFail skips a test whose outside material is absent, and fails it where that is required.
func skipOrFail(t *testing.T, why string) {
	t.Helper()
	if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
		t.Fatal(why)
	}
	t.Skip(why)
}

// inR runs a script of base R and gives the numbers that it prints, line by line.
func inR(t *testing.T, script string) [][]float64 {
	t.Helper()
	path, err := exec.LookPath("Rscript")
	if err != nil {
		skipOrFail(t, "Rscript is not installed")
	}
	file := filepath.Join(t.TempDir(), "check.R")
	if err := os.WriteFile(file, []byte(script), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(path, "--vanilla", file).CombinedOutput()
	if err != nil {
		t.Fatalf("Rscript: %v\n%s", err, out)
	}
	var rows [][]float64
	for line := range strings.Lines(string(out)) {
		var row []float64
		for f := range strings.FieldsSeq(line) {
			if f == "NA" {
				f = "NaN"
			}
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatalf("R prints %q", line)
			}
			row = append(row, v)
		}
		rows = append(rows, row)
	}
	return rows
}

// recorded reads a real recording the ordinary way and gives its first workout and clean heart rate.
func recorded(t *testing.T, name string) (heartrate.Series, workout.Workout) {
	t.Helper()
	file := filepath.Join(dataDir(t), name)
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

// table reads a CSV file with a header into one map for each row.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join(dataDir(t), name))
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

// cell reads a cell; "" and "NA" are not there.
func cell(t *testing.T, text string) (float64, bool) {
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

// each calls f for every workout of every recording under dir.
func each(t *testing.T, dir string, f func(name string, w workout.Workout)) {
	t.Helper()
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Contains(file, "research") {
			return err
		}
		switch strings.ToLower(filepath.Ext(file)) {
		case ".fit", ".tcx", ".gpx", ".gz", ".zip", ".csv":
		default:
			return nil
		}
		b, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, in := range recording.Decode(filepath.Base(file), b) {
			for _, w := range in.Workouts {
				f(in.Name, w)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func count(b bool) int {
	if b {
		return 1
	}
	return 0
}
