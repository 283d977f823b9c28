package physiology_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// readings makes a clean chest-strap series; 0 is a missing second, a negative value a bridged one.
func readings(bpm ...float64) heartrate.Series {
	s := heartrate.Series{Source: workout.Strap, Grade: heartrate.Grade{UseZones: true, UseDrift: true, UseRecovery: true, UsePeaks: true}}
	for _, v := range bpm {
		origin := heartrate.Measured
		switch {
		case v == 0:
			v, origin = math.NaN(), heartrate.Missing
		case v < 0:
			v, origin = -v, heartrate.Bridged
		}
		s.BPM, s.Origin = append(s.BPM, v), append(s.Origin, origin)
	}
	return s
}

// plateau is n seconds at one value.
func plateau(bpm float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = bpm
	}
	return out
}

// TestHeld by arithmetic: at 15 s and just under, over a dip, a gap and what was bridged.
func TestHeld(t *testing.T) {
	join := func(parts ...[]float64) (out []float64) {
		for _, p := range parts {
			out = append(out, p...)
		}
		return out
	}
	sparse := func(every, n int) []float64 { // one reading, then bridged seconds
		out := plateau(-170, n)
		for k := 0; k < n; k += every {
			out[k] = 170
		}
		return out
	}
	for _, c := range []struct {
		name     string
		bpm      []float64
		want     float64 // 0: not found
		from     int
		coverage float64
	}{
		{"15 s on top", join(plateau(150, 30), plateau(180, 15), plateau(150, 30)), 180, 30, 1},
		{"14 s on top", join(plateau(150, 30), plateau(180, 14), plateau(150, 30)), 150, 0, 1},
		{"15 s at the very end", join(plateau(150, 30), plateau(180, 15)), 180, 30, 1},
		{"a dip to 178 on top", join(plateau(150, 30), plateau(180, 8), plateau(178, 1), plateau(180, 8), plateau(150, 30)), 178, 30, 1},
		{"the first of two alike", join(plateau(180, 15), plateau(150, 5), plateau(180, 15)), 180, 0, 1},
		{"a gap on top", join(plateau(150, 30), plateau(180, 14), plateau(0, 1), plateau(180, 14), plateau(150, 30)), 150, 0, 1},
		{"15 s in all", plateau(160, 15), 160, 0, 1},
		{"14 s in all", plateau(160, 14), 0, 0, 0},
		{"every fifth second", sparse(5, 30), 170, 0, 0.2},
		{"every eighth second", sparse(8, 30), 0, 0, 0},
		{"nothing", plateau(0, 60), 0, 0, 0},
	} {
		h := physiology.HeldOf(readings(c.bpm...))
		switch {
		case c.want == 0 && h != nil:
			t.Errorf("%s: %+v, want nothing", c.name, *h)
		case c.want == 0:
		case h == nil:
			t.Errorf("%s: nothing, want %g", c.name, c.want)
		case h.BPM != c.want || h.From != c.from || h.To != c.from+15 || !within(h.Coverage, c.coverage, 1e-9) || !h.Enough || len(h.Why) > 0:
			t.Errorf("%s: %+v, want %g from %d", c.name, *h, c.want, c.from)
		}
	}
}

// A value from anything but a sound chest strap is shown and says why it does not speak of a maximum.
func TestHeldSaysWhatItMayNotBeUsedFor(t *testing.T) {
	strap := readings(plateau(180, 20)...)
	unknown, wrist, dry := strap, strap, strap
	unknown.Source = workout.UnknownSensor
	wrist.Source = workout.Wrist
	wrist.Grade = heartrate.Grade{Reasons: []heartrate.Reason{{Code: heartrate.Locked, Against: []heartrate.Use{heartrate.Peaks}}}}
	dry.Grade = heartrate.Grade{Reasons: []heartrate.Reason{{Code: heartrate.DryStrap, Against: []heartrate.Use{heartrate.Peaks}}}}
	for name, c := range map[string]struct {
		s   heartrate.Series
		why workout.Code
	}{"unknown": {unknown, physiology.NotFromStrap}, "wrist": {wrist, heartrate.Locked}, "dry": {dry, heartrate.DryStrap}} {
		h := physiology.HeldOf(c.s)
		if h == nil || h.Enough || h.BPM != 180 || codeOf(h.Why) != c.why {
			t.Errorf("%s: %+v", name, h)
		}
	}
}

// Whatever the series, the value is what a search over every window finds, and a longer series never
// holds less.
func TestHeldIsTheBestWindow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.SliceOfN(rapid.SampledFrom([]float64{0, -120, -121, 120, 121, 122, 123}), 0, 60).Draw(t, "bpm")
		s := readings(v...)
		best := math.Inf(-1)
		for k := 0; k+15 <= len(v); k++ {
			lowest, n, whole := math.Inf(1), 0, true
			for _, x := range v[k : k+15] {
				whole = whole && x != 0
				lowest = min(lowest, math.Abs(x))
				n += count(x > 0)
			}
			if whole && n >= 3 {
				best = max(best, lowest)
			}
		}
		h := physiology.HeldOf(s)
		if (h == nil) != math.IsInf(best, -1) || h != nil && h.BPM != best {
			t.Fatalf("got %+v, the search finds %v", h, best)
		}
	})
}

// A played bout to the maximum: what is held lies within the noise below the true peak, never above the
// highest reading.
func TestHeldOfAPlayedMaximum(t *testing.T) {
	body := simulate.Beginner(62, 188)
	plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, High: 110}, {Kind: workout.Work, Seconds: 300, Low: 185, High: 195}, {Kind: workout.CoolDown, Seconds: 120, High: 100},
	}}
	for seed := range uint64(20) {
		w, truth := simulate.Play(plan, body, simulate.Options{Seed: seed, Sensor: workout.Strap, Place: workout.Outdoor})
		h := physiology.Measure(heartrate.Clean(w), w, knownBody(), false).Held
		if h == nil || !h.Enough {
			t.Fatalf("seed %d: %+v", seed, h)
		}
		peak := 0.0
		for _, v := range truth.BPM {
			peak = max(peak, v)
		}
		if h.BPM > peak+1 || h.BPM < peak-5 {
			t.Errorf("seed %d: held %.1f, the heart's highest second was %.1f", seed, h.BPM, peak)
		}
	}
}

// heldInR is the definition once more in base R, by embed(): y are the seconds of a series, NA where there
// is no heart rate, r is 1 where a second is a reading.
const heldInR = `
tell <- function(y, r) {
  if (length(y) < 15) { cat("0\n"); return(invisible(NULL)) }
  low <- apply(embed(y, 15), 1, min)
  low[rowSums(embed(r, 15)) < 3] <- NA
  cat(format(if (all(is.na(low))) 0 else max(low, na.rm = TRUE), digits = 15), "\n")
}
`

func TestHeldAgainstR(t *testing.T) {
	dir := t.TempDir()
	var script strings.Builder
	script.WriteString(heldInR)
	var names []string
	var got []float64
	put := func(name string, v []string) string {
		file := filepath.Join(dir, fmt.Sprintf("%s%d.txt", name, len(names)))
		if err := os.WriteFile(file, []byte(strings.Join(v, "\n")+"\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		return "scan(" + strconv.Quote(file) + ", quiet = TRUE)"
	}
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		s := heartrate.Clean(w)
		if len(s.BPM) == 0 {
			return
		}
		y, r := make([]string, len(s.BPM)), make([]string, len(s.BPM))
		for k, v := range s.BPM {
			y[k], r[k] = "NA", strconv.Itoa(count(s.Origin[k] == heartrate.Measured))
			if s.Has(k) {
				y[k] = strconv.FormatFloat(v, 'g', -1, 64)
			}
		}
		fmt.Fprintf(&script, "tell(%s, %s)\n", put("y", y), put("r", r))
		bpm := 0.0
		if h := physiology.HeldOf(s); h != nil {
			bpm = h.BPM
		}
		names, got = append(names, name), append(got, bpm)
	})
	rows := outside.R(t, script.String())
	if len(rows) != len(names) || len(names) < 40/physiology.OneIn() {
		t.Fatalf("R prints %d lines for %d recordings", len(rows), len(names))
	}
	told := 0
	for i, want := range rows {
		told += count(got[i] > 0)
		if !within(got[i], want[0], 1e-9) {
			t.Errorf("%s: held %v, R has %v", names[i], got[i], want[0])
		}
	}
	t.Logf("%d recordings agree, %d of them hold a heart rate", len(names), told)
	if told < 40/physiology.OneIn() {
		t.Errorf("only %d recordings hold a heart rate for 15 s", told)
	}
}

// A book of an earlier program has no such value: it is not shown.
func TestOlderMeasurementsHaveNoHeld(t *testing.T) {
	var old physiology.Measurements
	if err := json.Unmarshal([]byte(`{"heart_rate":{"usable":true,"peak_bpm":171}}`), &old); err != nil {
		t.Fatal(err)
	}
	if old.Held != nil {
		t.Errorf("an older measurement tells %+v", old.Held)
	}
}
