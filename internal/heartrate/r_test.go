package heartrate_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
)

// The seconds that the Hampel filter takes out of 40 drawn recordings are those that base R's
// median and mad name, with the MAD floored at 1 bpm. The spikes stay under 15 bpm, so that no
// leap is found first.
func TestHampelAgainstR(t *testing.T) {
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
	lines := outside.R(t, script.String())
	if len(lines) != len(drawn) {
		t.Fatalf("R prints %d lines for %d recordings", len(lines), len(drawn))
	}
	found := 0
	for i, v := range drawn {
		s := heartrate.Clean(recordingOf(v...))
		got := rejectedOf(recordingOf(v...), s)
		var want []int
		for _, k := range lines[i] {
			want = append(want, int(k))
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
