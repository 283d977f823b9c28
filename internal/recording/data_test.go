package recording_test

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// recordings is the folder of real recordings, which lie outside the project and are never copied
// into it. Without them a test skips, unless NEXTRUNG_DATA_REQUIRED=1.
func recordings(t testing.TB) string {
	t.Helper()
	dir := os.Getenv("NEXTRUNG_DATA")
	if dir == "" {
		dir = "../../../shared/data"
	}
	if _, err := os.Stat(dir); err != nil {
		lacking(t, "the real recordings are not here; set NEXTRUNG_DATA to their folder")
	}
	return dir
}

// lacking skips a test for want of something outside the project, or fails it when that is required.
func lacking(t testing.TB, why string) {
	t.Helper()
	if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
		t.Fatal(why)
	}
	t.Skip(why)
}

func load(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(recordings(t), name))
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

// module is the folder of a Go module's source, whose test data is read in place.
func module(t testing.TB, path string) string {
	t.Helper()
	out, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", path).Output()
	dir := strings.TrimSpace(string(out))
	if err != nil || dir == "" {
		lacking(t, "module "+path+" is not in the module cache; run go mod download")
	}
	return dir
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
