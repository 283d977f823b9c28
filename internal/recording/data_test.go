package recording_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/outside"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

func load(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(outside.Data(t), name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// decode reads bytes that hold one file which is not refused.
func decode(t testing.TB, name string, b []byte) recording.File {
	t.Helper()
	files := recording.Decode(name, b)
	if len(files) != 1 {
		t.Fatalf("%s: %d files, want 1", name, len(files))
	}
	if files[0].Err != nil {
		t.Fatalf("%s: refused: %v", name, files[0].Err)
	}
	return files[0]
}

// real reads a real recording.
func real(t testing.TB, name string) recording.File {
	t.Helper()
	return decode(t, filepath.Base(name), load(t, name))
}

// only gives the one workout of a file.
func only(t testing.TB, f recording.File) workout.Workout {
	t.Helper()
	if len(f.Workouts) != 1 {
		t.Fatalf("%s: %d workouts, want 1", f.Name, len(f.Workouts))
	}
	return f.Workouts[0]
}

// refused gives the reason why bytes are refused.
func refused(t testing.TB, b []byte) string {
	t.Helper()
	f := recording.Decode("x", b)[0]
	if f.Err == nil {
		t.Fatalf("not refused: %d workouts", len(f.Workouts))
	}
	if len(f.Workouts) > 0 {
		t.Fatalf("refused, yet with %d workouts", len(f.Workouts))
	}
	return f.Err.Error()
}

func has(rs []workout.Fact, code workout.Code) bool {
	for _, r := range rs {
		if r.Code == code {
			return true
		}
	}
	return false
}

func wantRemark(t testing.TB, rs []workout.Fact, code workout.Code) {
	t.Helper()
	if !has(rs, code) {
		t.Errorf("no remark %q in %v", code, rs)
	}
}

// beats is the heart rate by second: the last sample in file order stands.
func beats(w workout.Workout) map[int]float64 {
	out := map[int]float64{}
	for i, t := range w.HeartRate.T {
		out[int(math.Floor(t))] = w.HeartRate.V[i]
	}
	return out
}

func pausedSeconds(w workout.Workout) int {
	n := 0
	for _, p := range w.Pauses {
		n += p.Seconds()
	}
	return n
}

func lowest(c workout.Channel) float64 {
	v := math.Inf(1)
	for _, x := range c.V {
		v = min(v, x)
	}
	return v
}

func highest(c workout.Channel) float64 {
	v := math.Inf(-1)
	for _, x := range c.V {
		v = max(v, x)
	}
	return v
}

// filesUnder lists files by extension.
func filesUnder(t testing.TB, dir, ext string) []string {
	t.Helper()
	var out []string
	err := filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() && strings.EqualFold(filepath.Ext(p), ext) {
			out = append(out, p)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}
