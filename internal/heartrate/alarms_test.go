package heartrate_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/wording"
)

// moduleWorkouts reads the test recordings of a Go module of the build in place. They go by the first
// digits of their digests.
func moduleWorkouts(t *testing.T, module string) []realSeries {
	t.Helper()
	all := realWorkouts(t, outside.Module(t, module)+"/testdata")
	for i := range all {
		all[i].name = all[i].digest
	}
	return all
}

// realAlarms is what is flagged in real recordings, looked at by hand, "kind number/seconds". Dropouts
// are silences that are really there: nothing was written for so long, or samples without heart rate.
var realAlarms = map[string]struct{ flagged, why string }{
	"ride-long-records-01.csv 12692":       {"dropout 38/1988", "right: no rows for 12 to 1018 s at traffic stops; the file tells no pauses"},
	"run-compressed-records-01.csv 3876":   {"dropout 1/114", "right: a pause of 115 s, which the file does not tell"},
	"ride-hr-dropout-01.fit 12719":         {"dropout 6/2336", "right: samples without heart rate, 1614 s of them in one run, and one pause that the file does not tell"},
	"ride-power-laps-01.fit 4700":          {"dropout 1/29", "right: samples without heart rate"},
	"run-crc-bad-01.fit 1578":              {"frozen 1/113", "tolerated: 21 samples of 145 bpm at constant speed from a wrist sensor that moves every other sample before and after; stuck or smoothed"},
	"run-long-pauses-02.fit 8631":          {"dropout 1/11", "right: samples without heart rate"},
	"run-sparse-laps-01.fit 2625":          {"dropout 1/51", "right: nothing was written"},
	"run-tiny-no-gps-01.fit 33":            {"dropout 1/14", "right: nothing was written"},
	"run-tiny-pair-01.gpx 33":              {"dropout 1/14", "right: the same recording"},
	"ski-duplicate-timestamps-01.fit 2989": {"dropout 1/8", "right: samples without heart rate"},
	"strength-hr-only-01.fit 4804":         {"spike 1/1", "right: one value off from both neighbours"},
	"triathlon-sessions-last-01.fit 676":   {"dropout 1/675", "right: heart rate under water is not recorded"},
	"triathlon-sparse-chained-hr-01.fit 2654": {"restless 1/600 spike 1/2",
		"spike right; restless tolerated: strap messages of a swim waver by 4 bpm throughout, most in the first 10 min; costs the peaks of a swim"},
	"virtual-ride-laps-01.fit 3182":             {"dropout 1/14", "right: nothing was written"},
	"ride-tail-01.gpx 2470":                     {"dropout 9/582", "right: no points for up to 172 s"},
	"open-water-swim-tail-01.tcx 1866":          {"dropout 15/154", "right: points 7 to 16 s apart"},
	"paddle-mixed-time-format-01.tcx 1113":      {"dropout 8/322", "right: points up to 53 s apart"},
	"ride-sparse-01.zip!ride-smart-01.tcx 6556": {"dropout 1/37", "right: points 38 s apart"},
	"run-series-01.tcx.gz 3932":                 {"restless 1/296", "right: swings of 10 to 20 bpm in seconds, then calm at an even pace"},
	"run-series-02.tcx.gz 2755":                 {"dry-start 1/480", "right: 170 to 190 bpm at the pace that later takes 131"},
	"run-series-05.tcx.gz 2326":                 {"restless 1/418 spike 2/2", "right: as run-series-01"},
	"run-series-06.tcx.gz 3689":                 {"dropout 1/182", "right: nothing was written"},
	"run-series-07.tcx.gz 1186":                 {"dropout 1/534", "right: the strap was lost"},
	"run-series-08.tcx.gz 5675":                 {"restless 1/397", "right: as run-series-01"},
	"run-series-09.tcx.gz 2392":                 {"dry-start 1/420", "right: up to 189 bpm at the pace that later takes 139"},
	"run-series-10.tcx.gz 3647":                 {"restless 1/420", "right: as run-series-01"},
	"run-sparse-02.tcx 1993":                    {"even-leap 1/239", "right: from 94 to 158 bpm within 20 s at an even 2.5 m/s"},
	"ski-laps-irregular-01.tcx 2402":            {"dropout 1/32", "right: points 33 s apart"},
	"walk-laps-irregular-01.tcx 4496":           {"dropout 5/197", "right: points up to 51 s apart"},
	"walk-offset-timezone-01.tcx.gz 4877":       {"frozen 1/484", "right: one value for 8 min, else never for more than 60 s"},
	"e278d208 4700":                             {"dropout 1/29", "right: samples without heart rate"},
	"446a91e2 11740":                            {"dropout 3/12", "right: nothing was written for 4 s"},
	"446a91e2 6765":                             {"dropout 5/20", "right: nothing was written for 4 s"},
	"446a91e2 3212":                             {"dropout 6/49", "right: nothing was written"},
	"e72c0dcc 2625":                             {"dropout 1/51", "right: nothing was written"},
	"a4792575 8631":                             {"dropout 1/11", "right: samples without heart rate"},
	"5cd8f07a 3601":                             {"implausible 72/1512", "right: an invented saw-tooth that leaves 30 to 230 bpm"},
	"774ea26b 676":                              {"dropout 1/675", "right: heart rate under water is not recorded"},
	"ce81c255 676":                              {"dropout 1/675", "right: heart rate under water is not recorded"},
	"949a238e 3601":                             {"implausible 72/1512", "right: the invented saw-tooth"},
	"a804d518 3601":                             {"implausible 72/1512", "right: the invented saw-tooth"},
	"a9599f7f 3601":                             {"implausible 72/1512", "right: the invented saw-tooth"},
	"84062b90 1090":                             {"dropout 1/295 spike 1/1", "right: the strap's messages end, the samples hold none"},
	"d8b32283 4900":                             {"spike 2/3", "right: single values off from their neighbours"},
}

// What is flagged in real recordings is known and explained; a new alarm fails.
func TestAlarmsInRealRecordings(t *testing.T) {
	all := realWorkouts(t, outside.Data(t))
	all = append(all, moduleWorkouts(t, "github.com/tormoder/fit")...)
	all = append(all, moduleWorkouts(t, "github.com/muktihari/fit")...)
	seen := map[string]bool{}
	for _, r := range all {
		key := fmt.Sprintf("%s %d", r.name, r.w.Seconds)
		got, want := summary(r.s.Faults), realAlarms[key]
		if got != want.flagged {
			t.Errorf("%s: flagged %q, known are %q", key, got, want.flagged)
		}
		if got != "" && !seen[key] {
			t.Logf("%-46s %-28s %s", key, got, want.why)
		}
		seen[key] = true
	}
	for key := range realAlarms {
		if !seen[key] {
			t.Errorf("%s was not read", key)
		}
	}
	t.Logf("%d workouts, %d with an alarm", len(all), len(realAlarms))
}

// summary writes faults as "kind number/seconds".
func summary(fs []heartrate.Fault) string {
	n, seconds := map[heartrate.FaultKind]int{}, map[heartrate.FaultKind]int{}
	for _, f := range fs {
		n[f.Kind]++
		seconds[f.Kind] += f.Seconds()
	}
	var out []string
	for _, kind := range slices.Sorted(maps.Keys(n)) {
		out = append(out, fmt.Sprintf("%s %d/%d", kind, n[kind], seconds[kind]))
	}
	return strings.Join(out, " ")
}

// Runners' heart rate lies within 3 bpm of their step rate for long; none of that is a lock: heart rate
// does not copy the cadence there and did not jump onto it. (No true lock is labelled in these
// recordings; how planted ones are found is measured apart.)
func TestHeartRateNearTheCadenceIsNoLock(t *testing.T) {
	stretches, seconds, top, where := 0, 0, -1.0, ""
	for _, r := range realWorkouts(t, outside.Data(t)) {
		step := 10
		if r.w.Seconds > 2*r.w.HeartRate.Len() {
			step = 30
		}
		cad := r.w.Cadence.Grid(r.w.Seconds, step)
		for _, f := range []float64{0.5, 1, 2, 4} {
			near := func(k int) bool {
				return k < len(cad) && r.s.Has(k) && cad[k] >= 15 && math.Abs(r.s.BPM[k]-f*cad[k]) <= 3
			}
			for from := 0; from < r.w.Seconds; from++ {
				to := from
				for near(to) {
					to++
				}
				if to-from >= 30 {
					stretches, seconds = stretches+1, seconds+to-from
					c := correlation(r.s.BPM[from:to], cad[from:to])
					if c > top {
						top, where = c, fmt.Sprintf("%s at %s for %d s", r.name, wording.Clock(from), to-from)
					}
				}
				from = max(from, to)
			}
		}
		for _, f := range r.s.Faults {
			if f.Kind == heartrate.Lock {
				t.Errorf("%s: %v", r.name, f)
			}
		}
	}
	t.Logf("%d stretches of 30 s and more, %d s in all, within 3 bpm of the cadence or a multiple; correlation at most %.2f (%s)", stretches, seconds, top, where)
	if stretches < 30 || top > 0.85 {
		t.Errorf("%d stretches, correlation up to %.2f", stretches, top)
	}
}

// correlation is Pearson's.
func correlation(x, y []float64) float64 {
	var mx, my, xx, yy, xy float64
	for i := range x {
		mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(x))
	}
	for i := range x {
		xx, yy, xy = xx+(x[i]-mx)*(x[i]-mx), yy+(y[i]-my)*(y[i]-my), xy+(x[i]-mx)*(y[i]-my)
	}
	if xx == 0 || yy == 0 {
		return 0
	}
	return xy / math.Sqrt(xx*yy)
}
