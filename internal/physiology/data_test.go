package physiology_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

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
