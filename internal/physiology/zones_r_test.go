package physiology_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// zonesInR is the rule for time in zone once more, in base R and in another way: it lays seconds
// out in vectors and interpolates with approx(). It is called with n, readings, pauses and edges.
const zonesInR = `
tell <- function(n, t, v, from, to, edges) {
  k <- floor(t)
  ok <- v >= 30 & v <= 230 & k >= 0 & k < n
  x <- rep(NA_real_, n)
  for (i in which(ok)) x[k[i] + 1] <- v[i]
  paused <- rep(FALSE, n)
  for (i in seq_along(from)) if (to[i] > from[i]) paused[(from[i] + 1):to[i]] <- TRUE
  m <- which(!is.na(x) & !paused)
  d <- sort(diff(m))
  B <- if (length(d) && d[(length(d) + 1) %/% 2] >= 2) 30 else 10
  y <- rep(NA_real_, n)
  y[m] <- x[m]
  if (length(m) > 1) {
    for (i in which(diff(m) > 1 & diff(m) <= B)) {
      gap <- (m[i] + 1):(m[i + 1] - 1)
      if (!any(paused[gap])) y[gap] <- approx(m[i:(i + 1)], x[m[i:(i + 1)]], gap)$y
    }
  }
  zone <- findInterval(y, edges)
  zone[paused] <- NA
  runs <- rle(is.na(y) & !paused)
  peak <- if (n >= 5) max(-Inf, filter(y, rep(1 / 5, 5)), na.rm = TRUE) else -Inf
  cat(format(c(sapply(0:4, function(z) sum(zone == z, na.rm = TRUE)), sum(is.na(y) & !paused), sum(paused),
    if (all(is.na(y))) 0 else mean(y, na.rm = TRUE), if (all(is.na(y))) 0 else min(y, na.rm = TRUE),
    if (is.finite(peak)) peak else 0, max(0, runs$lengths[runs$values])), digits = 15), "\n")
}
`

// Every real recording from which nothing had to be rejected gives the same seconds in R (every sixth, unless in
// research).
func TestZonesAgainstR(t *testing.T) {
	edges := physiology.Edges{BPM: [4]float64{108.4, 132.5, 150, 167.6}}
	var script strings.Builder
	script.WriteString(zonesInR)
	var names []string
	var series []heartrate.Series
	dir := t.TempDir()
	put := func(name string, v []float64) string {
		file := filepath.Join(dir, fmt.Sprintf("%s%d.txt", name, len(names)))
		var b strings.Builder
		for _, x := range v {
			b.WriteString(strconv.FormatFloat(x, 'g', -1, 64) + "\n")
		}
		if err := os.WriteFile(file, []byte(b.String()), 0o600); err != nil {
			t.Fatal(err)
		}
		return "scan(" + strconv.Quote(file) + ", quiet = TRUE)"
	}
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		s := heartrate.Clean(w)
		if s.Rejected > 0 || w.BeatHeartRate.Len() > 0 || w.HeartRate.Len() == 0 {
			return
		}
		var from, to []float64
		for _, p := range w.Pauses {
			from, to = append(from, float64(p.From)), append(to, float64(p.To))
		}
		fmt.Fprintf(&script, "tell(%d, %s, %s, %s, %s, %s)\n", w.Seconds, put("t", w.HeartRate.T), put("v", w.HeartRate.V),
			vector(from), vector(to), vector(edges.BPM[:]))
		names, series = append(names, name), append(series, s)
	})
	rows := outside.R(t, script.String())
	if len(rows) != len(names) || len(names) < 40/physiology.OneIn() {
		t.Fatalf("R prints %d lines for %d recordings", len(rows), len(names))
	}
	bridged, paused := 0, 0
	for i, want := range rows {
		z := physiology.TimeInZone(series[i], edges)
		h := physiology.Summarise(series[i])
		got := []float64{float64(z.Under), float64(z.Zone1), float64(z.Zone2), float64(z.Zone3), float64(z.Over), float64(z.NotRecorded), float64(z.Paused),
			orZero(h.Mean), orZero(h.Min), orZero(h.Peak), float64(h.Gap)}
		for j := range got {
			if !within(got[j], want[j], 1e-9) {
				t.Errorf("%s:\n got %v\nR has %v", names[i], got, want)
				break
			}
		}
		for _, o := range series[i].Origin {
			bridged += count(o == heartrate.Bridged)
		}
		paused += z.Paused
	}
	t.Logf("%d recordings agree, with %d bridged and %d paused seconds", len(names), bridged, paused)
	if bridged == 0 || paused == 0 {
		t.Error("no bridged or no paused second was compared")
	}
}
