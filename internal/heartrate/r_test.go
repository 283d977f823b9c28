package heartrate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
)

// The seconds that the Hampel filter takes out of 40 drawn recordings are those that base R's
// median and mad name, with the MAD floored at 1 bpm. The spikes stay under 15 bpm, so that no
// leap is found first.
func TestHampelAgainstR(t *testing.T) {
	path, err := exec.LookPath("Rscript")
	if err != nil {
		if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
			t.Fatal("Rscript is not installed")
		}
		t.Skip("Rscript is not installed")
	}
	r := rand.New(rand.NewPCG(3, 4))
	var script strings.Builder
	script.WriteString(`
hampel <- function(x) {
  for (i in 4:(length(x) - 3)) {
    w <- x[(i - 3):(i + 3)]
    if (abs(x[i] - median(w)) > 3 * 1.4826 * max(1, mad(w, constant = 1))) cat(i - 1, "")
  }
  cat("\n")
}
`)
	var drawn [][]float64
	for range 40 {
		v := make([]float64, 120)
		bpm := 120.0
		for k := range v {
			bpm += r.NormFloat64()
			v[k] = math.Round(bpm)
			if r.IntN(15) == 0 {
				v[k] += float64(r.IntN(13) - 6)
			}
		}
		drawn = append(drawn, v)
		fmt.Fprintf(&script, "hampel(c(%s))\n", strings.Trim(strings.Join(strings.Fields(fmt.Sprint(v)), ","), "[]"))
	}
	file := filepath.Join(t.TempDir(), "hampel.R")
	if err := os.WriteFile(file, []byte(script.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command(path, "--vanilla", file).Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSuffix(string(out), "\n"), "\n")
	if len(lines) != len(drawn) {
		t.Fatalf("R prints %d lines for %d recordings", len(lines), len(drawn))
	}
	found := 0
	for i, v := range drawn {
		s := heartrate.Clean(recordingOf(v...))
		got := rejectedOf(recordingOf(v...), s)
		var want []int
		for f := range strings.FieldsSeq(lines[i]) {
			var k int
			if _, err := fmt.Sscan(f, &k); err != nil {
				t.Fatal(err)
			}
			want = append(want, k)
		}
		found += len(want)
		if !slices.Equal(got, want) {
			t.Errorf("recording %d: rejected %v, R names %v", i, got, want)
		}
	}
	if found < 20 {
		t.Errorf("R names only %d seconds; the recordings are too tame", found)
	}
}
