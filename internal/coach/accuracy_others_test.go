package coach_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// againstOthers holds every measure against what we did not make: figures computed from real recordings
// without this program, a second recording of the same thing, published values.
func againstOthers(t *testing.T, folder string) *errorsBy {
	e := newErrors()
	read := func(name string) taken {
		b, err := os.ReadFile(filepath.Join(folder, name))
		if err != nil {
			t.Fatal(err)
		}
		f := recording.Decode(filepath.Base(name), b)[0]
		if len(f.Workouts) == 0 {
			t.Fatalf("%s: %v", name, f.Err)
		}
		return takenFrom(f.Workouts[0])
	}
	ofIntervals(t, e, read)
	ofEffortTests(t, e)
	for _, pair := range [][2]string{
		{"tcx/ride-power-recovery-01.tcx", "gpx/ride-power-recovery-01.gpx"}, {"fit/run-laps-compressed-tail-01.fit", "csv/run-compressed-records-01.csv"},
		{"fit/run-short-hrv-01.fit", "csv/run-short-records-01.csv"}, {"fit/run-tiny-no-gps-01.fit", "gpx/run-tiny-pair-01.gpx"},
	} {
		ofPair(e, "two formats", read(pair[0]), read(pair[1]), 0)
	}
	// finding 12: their clocks are 12 s apart.
	a, b := read("fit/indoor-ride-power-steady-01.fit"), read("fit/virtual-ride-laps-01.fit")
	offset := int(b.w.Start.Sub(a.w.Start).Seconds())
	ofPair(e, "two devices", a, b, offset+heartrate.Compare(a.s, b.s, offset).Shift)
	e.say("time in zone", "R counts the same seconds (`TestZonesAgainstR`)")
	e.say("mean heart rate", "R has the same (`TestZonesAgainstR`)")
	e.say("peak heart rate", "R has the same (`TestZonesAgainstR`)")
	e.say("T30", "R has the same line on the effort tests (`TestFitAgainstR`)")
	e.say("drift slope", "no figure of others found; two devices over one stretch: `TestDriftOfTwoDevices`")
	e.say("onset tau", "R's `nls` on effort tests within 5 % (`TestRiseAgainstR`)")
	e.say("sensor faults", "planted into real recordings: precision 85 %, recall 90 % at least for most kinds (`TestFaultsPlantedIntoRealRecordings`)")
	ofMonth(e, read)
	return e
}

// ofIntervals reads the work laps of five recordings and heart rate around their ends.
func ofIntervals(t *testing.T, e *errorsBy, read func(string) taken) {
	for _, row := range outside.Table(t, "research/interval_reference.csv") {
		from := int(number(row["start_s"]))
		end := from + int(number(row["duration_s"]))
		x := read(row["file"])
		falls := func(heading string, x taken) {
			r, _ := nearest(x.m.Recoveries, end)
			compare(e, "drop in 60 s", heading, "bpm", r.Drop60, number(row["hrr60"]))
			compare(e, "drop in 120 s", heading, "bpm", r.Drop120, number(row["hrr120"]))
		}
		if strings.Contains(row["file"], "treadmill-ramp") {
			falls("treadmill ramp, stop from heart rate alone", x)
			continue
		}
		falls("`interval_reference.csv`", x)
		x.w.Laps = nil // they are the marks that the athlete pressed
		x = takenFrom(x.w)
		falls("the same without laps", x)
		edge(e, "bout edges", "work laps of `interval_reference.csv`, found without laps", from, x.m.Bouts)
		edge(e, "bout edges", "work laps of `interval_reference.csv`, found without laps", end, x.m.Bouts)
	}
}

// compare adds a figure that there is; one that is NaN is not compared.
func compare(e *errorsBy, measure, heading, unit string, got *float64, want float64) {
	switch {
	case math.IsNaN(want):
	case got == nil:
		e.miss(measure, heading, unit)
	case unit == "%":
		e.add(measure, heading, unit, 100*(*got/want-1))
	default:
		e.add(measure, heading, unit, *got-want)
	}
}

// ofEffortTests reads 21 effort tests of R's data set cardio (package doremi); the figures are those of base
// R, with nls for the time constant.
func ofEffortTests(t *testing.T, e *errorsBy) {
	at, hr := map[string][]float64{}, map[string][]float64{}
	for _, row := range outside.Table(t, "research/cardio.csv") {
		if v := number(row["hr"]); v > 0 {
			at[row["id"]] = append(at[row["id"]], number(row["time"]))
			hr[row["id"]] = append(hr[row["id"]], v)
		}
	}
	const heading = "R, `cardio_reference.csv`"
	for _, row := range outside.Table(t, "research/cardio_reference.csv") {
		id, stop := row["id"], number(row["t_off_s"])
		series := heartrate.Clean(workout.Workout{Seconds: int(at[id][len(at[id])-1]) + 1, HeartRate: workout.Channel{T: at[id], V: hr[id]}})
		fall := func(after int) *float64 {
			end, ok := series.Near(int(stop))
			later, ok2 := series.Near(int(stop) + after)
			if !ok || !ok2 {
				return nil
			}
			return new(end - later)
		}
		compare(e, "drop in 60 s", heading, "bpm", fall(60), number(row["hrr60"]))
		compare(e, "drop in 120 s", heading, "bpm", fall(120), number(row["hrr120"]))
		var x, y []float64
		for i, k := range at[id] {
			if k >= stop && k <= stop+number(row["fit_until_s"]) {
				x, y = append(x, k-stop), append(y, hr[id][i])
			}
		}
		if row["fit_at_bound"] == "FALSE" {
			var tau *float64
			if f, ok := physiology.FitRecovery(x, y); ok {
				tau = &f.Tau
			}
			compare(e, "tau of recovery", heading, "%", tau, number(row["fit_tau_s"]))
		}
	}
}

// ofPair compares two recordings of one workout; second k of a is k-later of b.
func ofPair(e *errorsBy, heading string, a, b taken, later int) {
	both := func(measure, unit string, x, y *float64) {
		switch {
		case x == nil && y == nil:
		case x == nil || y == nil:
			e.miss(measure, heading, unit)
		default:
			compare(e, measure, heading, unit, x, *y)
		}
	}
	e.add("time in zone", heading, "% in another zone", elsewhere(*a.m.Zones, *b.m.Zones))
	both("mean heart rate", "bpm", a.m.HeartRate.Mean, b.m.HeartRate.Mean)
	both("peak heart rate", "bpm", a.m.HeartRate.Peak, b.m.HeartRate.Peak)
	for _, r := range a.m.Recoveries {
		if o, ok := nearest(b.m.Recoveries, r.Stop-later); ok {
			both("drop in 60 s", "bpm", r.Drop60, o.Drop60)
			both("drop in 120 s", "bpm", r.Drop120, o.Drop120)
			both("tau of recovery", "%", r.Tau, o.Tau)
			both("T30", "%", r.T30, o.T30)
		}
	}
	if x, y := a.m.Drift, b.m.Drift; x.Enough && y.Enough {
		both("drift slope", "bpm per 10 min", &x.Slope, &y.Slope)
	} else if x.Enough || y.Enough {
		e.miss("drift slope", heading, "bpm per 10 min")
	}
	if x, y := a.m.SameEffort, b.m.SameEffort; x != nil && y != nil && x.Enough && y.Enough {
		both("same-effort heart rate", "bpm", &x.Mean, &y.Mean)
	}
	for _, o := range a.m.Onsets {
		for _, p := range b.m.Onsets {
			if d := o.At - later - p.At; d > -15 && d < 15 {
				both("onset tau", "%", o.Tau, p.Tau)
			}
		}
	}
	for _, x := range a.m.Bouts {
		edge(e, "bout edges", heading, x.From-later, b.m.Bouts)
		edge(e, "bout edges", heading, x.To-later, b.m.Bouts)
	}
}

// ofMonth is what is left of one runner's month of same-effort heart rates around their line over speed: an
// upper limit of the error, with heat, hills and tiredness in it.
func ofMonth(e *errorsBy, read func(string) taken) {
	var x, y []float64
	for i := 1; i <= 17; i++ {
		if s := read(fmt.Sprintf("tcx/run-series-%02d.tcx.gz", i)).m.SameEffort; s != nil && s.Enough {
			x, y = append(x, s.Load), append(y, s.Mean)
		}
	}
	mx, my, sxx, sxy, rest := mean(x), mean(y), 0.0, 0.0, 0.0
	for i := range x {
		sxx, sxy = sxx+(x[i]-mx)*(x[i]-mx), sxy+(x[i]-mx)*(y[i]-my)
	}
	for i := range x {
		d := y[i] - my - sxy/sxx*(x[i]-mx)
		rest += d * d
	}
	e.say("same-effort heart rate", fmt.Sprintf("one runner's month: SD %.1f %% around the line over speed (n = %d), published typical error 3 %% (Buchheit 2014)",
		100*math.Sqrt(rest/float64(len(x)-2))/my, len(x)))
}
