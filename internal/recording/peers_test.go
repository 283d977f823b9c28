package recording_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	tormoder "github.com/tormoder/fit"

	"nextrung/internal/outside"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// The twins are the same recording exported in two formats by somebody else. Second by second the
// heart rate must agree within 1 %.
func TestTwinsAgreeAcrossFormats(t *testing.T) {
	for _, c := range []struct {
		name, a, b string
		dated      bool
	}{
		{"ride", "tcx/ride-power-recovery-01.tcx", "gpx/ride-power-recovery-01.gpx", true},
		{"run with compressed times", "fit/run-laps-compressed-tail-01.fit", "csv/run-compressed-records-01.csv", false},
		{"short run", "fit/run-short-hrv-01.fit", "csv/run-short-records-01.csv", true},
		{"tiny run", "fit/run-tiny-no-gps-01.fit", "gpx/run-tiny-pair-01.gpx", true},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, b := only(t, real(t, c.a)), only(t, real(t, c.b))
			shift := int(b.HeartRate.T[0] - a.HeartRate.T[0]) // undated: by the first reading
			if c.dated {
				shift = int(a.Start.Sub(b.Start).Seconds())
			}
			one, two := beats(a), beats(b)
			if len(one) != len(two) {
				t.Errorf("%d seconds with heart rate against %d", len(one), len(two))
			}
			for k, v := range one {
				if o, ok := two[k+shift]; !ok || math.Abs(o-v) > 0.01*v {
					t.Fatalf("second %d: %g bpm against %g (there: %v)", k, v, o, ok)
				}
			}
		})
	}
}

// absolute is the heart rate of all workouts of a file by Unix second, 0 and 255 left out.
func absolute(ws []workout.Workout) map[int64]float64 {
	out := map[int64]float64{}
	for _, w := range ws {
		for k, v := range beats(w) {
			out[w.Start.Unix()+int64(k)] = v
		}
	}
	return out
}

// Finding 3: another reader cannot read all files, so that ours stands alone there. Where both can,
// github.com/tormoder/fit v0.15.0 must give the same heart rate. It reads the first sequence of a chain alone.
func TestFinding03PeerReaderOfFIT(t *testing.T) {
	var files []string
	for _, m := range []string{"github.com/muktihari/fit", "github.com/tormoder/fit"} {
		files = append(files, filesUnder(t, outside.Module(t, m), ".fit")...)
	}
	comparePeer(t, files, 20)
	comparePeer(t, filesUnder(t, filepath.Join(outside.Data(t), "fit"), ".fit"), 20)
}

// comparePeer reads each file with both readers and wants at least some with heart rate in both.
func comparePeer(t *testing.T, files []string, atLeast int) {
	t.Helper()
	compared := 0
	for _, p := range files {
		b, err := os.ReadFile(p)
		if err != nil {
			t.Fatal(err)
		}
		name := filepath.Base(p)
		ours := recording.Decode(name, b)[0]
		theirs, err := peerHeartRate(b)
		switch {
		case err != nil && ours.Err != nil:
			t.Logf("%-50s both refuse: %v; peer: %v", name, ours.Err, err)
			continue
		case err != nil:
			t.Logf("%-50s peer refuses: %v (%d workouts here)", name, err, len(ours.Workouts))
			continue
		case ours.Err != nil && len(theirs) > 0:
			t.Errorf("%-50s refused here, but the peer reads %d seconds: %v", name, len(theirs), ours.Err)
			continue
		case ours.Err != nil:
			t.Logf("%-50s refused here: %v; the peer finds no heart rate either", name, ours.Err)
			continue
		}
		undated := false
		for _, w := range ours.Workouts {
			undated = undated || w.Start.IsZero()
		}
		mine := absolute(ours.Workouts)
		if undated { // the peer takes seconds since switching on for a date
			mine, theirs = fromFirst(mine), fromFirst(theirs)
		}
		left := 0 // seconds of transitions, which are left out here
		for k, v := range theirs {
			o, ok := mine[k]
			switch {
			case !ok && has(ours.Remarks, "transition"):
				left++
			case o != v:
				t.Errorf("%s: second %d: %g bpm here, %g by the peer", name, k, o, v)
			}
		}
		if n := len(theirs) - left; len(mine) < n || len(mine) > n && len(ours.Workouts) < 2 {
			t.Errorf("%s: %d seconds here, %d by the peer", name, len(mine), n)
		}
		if len(mine) > 0 {
			compared++
		}
	}
	t.Logf("%d files, %d compared with heart rate", len(files), compared)
	if compared < atLeast {
		t.Errorf("only %d files compared", compared)
	}
}

func fromFirst(m map[int64]float64) map[int64]float64 {
	first := int64(math.MaxInt64)
	for k := range m {
		first = min(first, k)
	}
	out := map[int64]float64{}
	for k, v := range m {
		out[k-first] = v
	}
	return out
}

func peerHeartRate(b []byte) (out map[int64]float64, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v", p)
		}
	}()
	f, err := tormoder.Decode(bytes.NewReader(b))
	if err != nil {
		return nil, err
	}
	a, err := f.Activity()
	if err != nil {
		return nil, err
	}
	out = map[int64]float64{}
	for _, r := range a.Records {
		if r.HeartRate != 0 && r.HeartRate != 255 && !r.Timestamp.IsZero() && !tormoder.IsBaseTime(r.Timestamp) {
			out[r.Timestamp.Unix()] = float64(r.HeartRate)
		}
	}
	return out, nil
}

// A third opinion from outside Go: gpsbabel, a general-purpose converter, by its table output. It
// drops points without a position, so that only what it writes is compared.
func TestPeerConverter(t *testing.T) {
	path, err := exec.LookPath("gpsbabel")
	if err != nil {
		outside.Absent(t, "gpsbabel is not installed; apt-get install gpsbabel")
	}
	for _, name := range []string{
		"fit/run-1s-laps-01.fit",
		"fit/ride-power-laps-01.fit",
		"fit/run-long-pauses-02.fit",
		"tcx/run-laps-irregular-01.tcx",
		"tcx/ride-power-recovery-01.tcx",
		"gpx/run-tiny-pair-01.gpx",
		"gpx/ride-power-recovery-01.gpx",
	} {
		t.Run(name, func(t *testing.T) {
			mine := absolute(real(t, name).Workouts)
			theirs := convert(t, path, name[:3], filepath.Join(outside.Data(t), name))
			for k, v := range theirs {
				if mine[k] != v {
					t.Fatalf("second %d: %g bpm here, %g by gpsbabel", k, mine[k], v)
				}
			}
		})
	}
}

// What Encode writes is read by others with the same heart rate.
func TestPeersReadWhatIsWritten(t *testing.T) {
	w := workout.Workout{
		Sport: workout.Walking, Place: workout.Outdoor, Start: time.Unix(1_800_000_000, 0).UTC(), Seconds: 900,
		Sensor: workout.Strap, Pauses: []workout.Span{{From: 300, To: 360}},
	}
	for k := range 900 {
		if k < 300 || k >= 360 {
			w.HeartRate.Add(float64(k), float64(90+k/20))
			w.Speed.Add(float64(k), 1.4)
		}
	}
	want := absolute([]workout.Workout{w})
	same := func(t *testing.T, who string, got map[int64]float64) {
		t.Helper()
		if len(got) != len(want) {
			t.Errorf("%s reads %d seconds, want %d", who, len(got), len(want))
		}
		for k, v := range got {
			if want[k] != v {
				t.Fatalf("%s: second %d: %g bpm, want %g", who, k, v, want[k])
			}
		}
	}
	b, err := recording.Encode("fit", w)
	if err != nil {
		t.Fatal(err)
	}
	got, err := peerHeartRate(b)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "tormoder/fit", got)

	path, err := exec.LookPath("gpsbabel")
	if err != nil {
		outside.Absent(t, "gpsbabel is not installed; apt-get install gpsbabel")
	}
	for _, format := range []string{"fit", "tcx", "gpx"} {
		b, err := recording.Encode(format, w)
		if err != nil {
			t.Fatal(err)
		}
		in := filepath.Join(t.TempDir(), "in")
		if err := os.WriteFile(in, b, 0o600); err != nil {
			t.Fatal(err)
		}
		same(t, "gpsbabel "+format, convert(t, path, format, in))
	}
}

// convert has gpsbabel write the heart rate of a file. Its own name of a format is looked up by
// the extension.
func convert(t *testing.T, gpsbabel, format, in string) map[int64]float64 {
	t.Helper()
	list, err := exec.Command(gpsbabel, "-^2").Output()
	if err != nil {
		t.Fatal(err)
	}
	reader := ""
	for line := range strings.Lines(string(list)) {
		f := strings.Split(line, "\t")
		if len(f) > 3 && f[0] == "file" && strings.HasPrefix(f[3], format) {
			reader = f[2]
		}
	}
	out := filepath.Join(t.TempDir(), "out.csv")
	cmd := exec.Command(gpsbabel, "-t", "-i", reader, "-f", in, "-o", "unicsv,utc=0", "-F", out)
	if msg, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("gpsbabel: %v: %s", err, msg)
	}
	got := converterHeartRate(t, out)
	if len(got) < 10 {
		t.Fatalf("gpsbabel writes %d seconds with heart rate", len(got))
	}
	return got
}

func converterHeartRate(t *testing.T, path string) map[int64]float64 {
	t.Helper()
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(b)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[strings.TrimSpace(name)] = i
	}
	for _, need := range []string{"Date", "Time", "Heartrate"} {
		if _, ok := at[need]; !ok {
			t.Fatalf("no column %s in %v", need, rows[0])
		}
	}
	out := map[int64]float64{}
	for _, row := range rows[1:] {
		when, err := time.Parse("2006/01/02 15:04:05", row[at["Date"]]+" "+row[at["Time"]][:8])
		if err != nil {
			t.Fatal(err)
		}
		if v, err := strconv.ParseFloat(row[at["Heartrate"]], 64); err == nil && v > 0 && v < 255 {
			out[when.Unix()] = v
		}
	}
	return out
}
