package heartrate_test

import (
	"cmp"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// realSeries is one workout of a real recording.
type realSeries struct {
	name   string
	digest string // its first digits
	w      workout.Workout
	s      heartrate.Series
}

// dataDir is the folder with real recordings, which are no part of the project.
func dataDir(t *testing.T) string {
	t.Helper()
	dir := cmp.Or(os.Getenv("NEXTRUNG_DATA"), "../../../shared/data")
	if _, err := os.Stat(dir); err != nil {
		if os.Getenv("NEXTRUNG_DATA_REQUIRED") == "1" {
			t.Fatalf("real recordings are required: %v", err)
		}
		t.Skipf("no real recordings in %s; set NEXTRUNG_DATA", dir)
	}
	return dir
}

// realWorkouts reads every recording under dir.
func realWorkouts(t *testing.T, dir string) []realSeries {
	t.Helper()
	var out []realSeries
	err := filepath.WalkDir(dir, func(file string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Contains(file, "research") {
			return err
		}
		b, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		for _, f := range recording.Decode(filepath.Base(file), b) {
			for _, w := range f.Workouts {
				out = append(out, realSeries{f.Name, f.Digest.Short(), w, heartrate.Clean(w)})
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Real recordings lose next to nothing to the rejection of artefacts, but for those known to be
// nonsense.
func TestCleanRealRecordings(t *testing.T) {
	all := realWorkouts(t, dataDir(t))
	if len(all) < 50 {
		t.Fatalf("only %d workouts", len(all))
	}
	for _, r := range all {
		measured, wild := 0, 0
		for _, o := range r.s.Origin {
			if o == heartrate.Measured {
				measured++
			}
		}
		for _, f := range r.s.Faults {
			if f.Kind == heartrate.Spike || f.Kind == heartrate.Implausible {
				wild += f.Seconds()
			}
		}
		c, _ := r.s.Coverage()
		t.Logf("%-44s %6d s, measured %5d, coverage %.3f, rejected %3d, longest gap %4d, restless %v",
			r.name, r.w.Seconds, measured, c, r.s.Rejected, r.s.LongestGap(), told(r.s, "restless"))
		if wild*200 > measured && measured > 0 {
			t.Errorf("%s: %d of %d s are wild", r.name, wild, measured)
		}
		if got, _ := again(t, r.s); !same(got, r.s) {
			t.Errorf("%s: the stored series differs", r.name)
		}
	}
}

func told(s heartrate.Series, code workout.Code) bool {
	for _, r := range s.Remarks {
		if r.Code == code {
			return true
		}
	}
	return false
}

// A runner who stops: 150, 130, 118 bpm five seconds apart at the end (a fall of 59 bpm in 60 s).
func TestRealFallIsKept(t *testing.T) {
	for _, r := range realWorkouts(t, filepath.Join(dataDir(t), "fit")) {
		if r.name != "run-laps-compressed-tail-01.fit" {
			continue
		}
		end, ok := r.s.Near(3820)
		after, ok2 := r.s.Near(3880)
		if !ok || !ok2 || end != 177 || after != 118 {
			t.Errorf("177 and 118 bpm are read as %v %v and %v %v", end, ok, after, ok2)
		}
		return
	}
	t.Fatal("the recording is not there")
}

// The pairs that are one workout: two devices whose clocks are 12 s apart (finding 12), or one
// recording in two formats.
var realTwins = map[[2]string]float64{
	{"indoor-ride-power-steady-01.fit", "virtual-ride-laps-01.fit"}:      1.5,
	{"ride-power-recovery-01.gpx", "ride-power-recovery-01.tcx"}:         0.001,
	{"broken-xml-01.tcx", "run-laps-two-activities-01.tcx"}:              0.001,
	{"run-compressed-records-01.csv", "run-laps-compressed-tail-01.fit"}: 0.001,
}

// Every other pair, laid side by side as if both had begun together, is told apart by more than 2
// bpm.
func TestCompareRealRecordings(t *testing.T) {
	var all []realSeries
	for _, r := range realWorkouts(t, dataDir(t)) {
		if r.s.Usable() && r.w.Seconds >= 600 {
			all = append(all, r)
		}
	}
	pairs, nearest, who := 0, math.Inf(1), ""
	twins := map[[2]string]bool{}
	for i, a := range all {
		for _, b := range all[i+1:] {
			if a.name == b.name {
				continue // the same activity twice in one file
			}
			l := heartrate.Compare(a.s, b.s, 0)
			key := [2]string{min(a.name, b.name), max(a.name, b.name)}
			if most, ok := realTwins[key]; ok {
				twins[key] = true
				t.Logf("%s and %s: %+v", a.name, b.name, l)
				if !l.Comparable || l.Difference > most {
					t.Errorf("%s and %s: %+v, want at most %v bpm", a.name, b.name, l, most)
				}
				continue
			}
			pairs++
			if l.Quarters != 0 || l.Comparable && l.Difference < 2 {
				t.Errorf("%s and %s are taken for one workout: %+v", a.name, b.name, l)
			}
			if l.Comparable && l.Difference < nearest {
				nearest, who = l.Difference, fmt.Sprintf("%s and %s over %d s", a.name, b.name, l.Common)
			}
		}
	}
	t.Logf("%d other pairs; the nearest differ by %.2f bpm (%s)", pairs, nearest, who)
	if len(twins) != len(realTwins) {
		t.Errorf("twins seen: %v", twins)
	}
}
