package recording

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"nextrung/internal/workout"
)

// Encode writes a workout as fit, tcx, gpx or csv, one sample a second, the same bytes for the
// same workout. It is for workouts that the program made up: real recordings are kept as they
// came.
//
// Heart rate is a whole number in all four formats; a value that does not fit in 1-254 is left
// out. FIT keeps everything but R-R intervals; TCX has no effort and no sensor, and samples within
// a pause are left out; GPX has no laps and no power, and carries speed as positions along an
// invented line; CSV has samples alone. TCX and GPX need a date.
func Encode(format string, w workout.Workout) ([]byte, error) {
	if w.Seconds <= 0 || w.Seconds > longest {
		return nil, fmt.Errorf("encode %s: workout lasts %d s; it must last between 1 s and 7 days", format, w.Seconds)
	}
	if w.Start.IsZero() && (format == "tcx" || format == "gpx") {
		return nil, fmt.Errorf("encode %s: workout has no date, which the format needs; use fit or csv", format)
	}
	switch format {
	case "fit":
		return encodeFIT(w)
	case "tcx":
		return encodeTCX(w), nil
	case "gpx":
		return encodeGPX(w), nil
	case "csv":
		return encodeCSV(w), nil
	}
	return nil, fmt.Errorf("encode %q: format is not fit, tcx, gpx or csv", format)
}

// sample is one second to be written; what it lacks is NaN.
type sample struct {
	second                    int
	hr, speed, power, cadence float64
	metres                    float64 // since the start
	paused, gap               bool    // gap: a pause lies between the sample before and this one
}

// samples gives the seconds to be written: those with a value, the first and the last, and those
// beside a pause, so that length and pauses come back.
func samples(w workout.Workout) []sample {
	n := w.Seconds
	hr, beats := w.HeartRate.Grid(n, 0), w.BeatHeartRate.Grid(n, 0)
	speed, power, cadence := w.Speed.Grid(n, 0), w.Power.Grid(n, 0), w.Cadence.Grid(n, 0)
	paused, edge := make([]bool, n), make([]bool, n+1)
	edge[0], edge[n-1] = true, true
	for _, p := range w.Pauses {
		for k := max(p.From, 0); k < min(p.To, n); k++ {
			paused[k] = true
		}
		if p.From > 0 && p.To <= n {
			edge[p.From-1], edge[p.To] = true, true
		}
	}
	var out []sample
	metres, gap := 0.0, false
	for k := range n {
		s := sample{k, hr[k], speed[k], power[k], cadence[k], metres, paused[k], gap}
		if math.IsNaN(s.hr) {
			s.hr = beats[k]
		}
		if s.hr = math.Round(s.hr); !(s.hr >= 1 && s.hr <= 254) {
			s.hr = math.NaN()
		}
		if speed[k] > 0 {
			metres += speed[k]
		}
		gap = gap || paused[k]
		if edge[k] || !math.IsNaN(s.hr) || !math.IsNaN(s.speed) || !math.IsNaN(s.power) || !math.IsNaN(s.cadence) {
			out = append(out, s)
			gap = false
		}
	}
	return out
}

// timed leaves out the samples within pauses, but for the ends, and gives the samples after the
// gaps their mark.
func timed(w workout.Workout) []sample {
	var out []sample
	gap := false
	for _, s := range samples(w) {
		gap = gap || s.gap
		if s.paused && s.second != 0 && s.second != w.Seconds-1 {
			gap = true
			continue
		}
		s.gap = gap && len(out) > 0
		out = append(out, s)
		gap = false
	}
	return out
}

// invented is a point on a line in the open sea, metres along it. The line runs north and, after
// 1000 km, back.
func invented(metres float64) (lat, lon float64) {
	const turn = 1e6
	if metres = math.Mod(metres, 2*turn); metres > turn {
		metres = 2*turn - metres
	}
	return 42 + metres/earthRadius*180/math.Pi, -33
}

func at(w workout.Workout, second int) string {
	return w.Start.Add(time.Duration(second) * time.Second).UTC().Format(time.RFC3339)
}

// fixed writes a number without needless digits, at most n after the point; NaN is "".
func fixed(v float64, n int) string {
	if math.IsNaN(v) {
		return ""
	}
	s := strconv.FormatFloat(v, 'f', n, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// element writes <name>v</name> unless v is NaN.
func element(b *strings.Builder, name string, v float64, decimals int) {
	if !math.IsNaN(v) {
		b.WriteString("<" + name + ">" + fixed(v, decimals) + "</" + name + ">")
	}
}

// lapsOf gives the laps of a workout in order, made to cover it without overlap; without laps it
// is one.
func lapsOf(w workout.Workout) []workout.Lap {
	out := slices.DeleteFunc(slices.Clone(w.Laps), func(l workout.Lap) bool { return l.From >= w.Seconds })
	slices.SortStableFunc(out, func(a, b workout.Lap) int { return a.From - b.From })
	out = slices.CompactFunc(out, func(a, b workout.Lap) bool { return a.From == b.From })
	if len(out) == 0 {
		return []workout.Lap{{Span: workout.Span{From: 0, To: w.Seconds}}}
	}
	out[0].From = 0
	for i := range out {
		out[i].To = w.Seconds
		if i > 0 {
			out[i-1].To = out[i].From
		}
	}
	return out
}

func encodeCSV(w workout.Workout) []byte {
	var b strings.Builder
	clock, when := "time", func(second int) string { return at(w, second) }
	if w.Start.IsZero() {
		clock, when = "elapsed [s]", strconv.Itoa
	}
	b.WriteString(clock + ",heart rate [bpm],speed [m/s],power [W],cadence [1/min]\n")
	for _, s := range samples(w) {
		row := []string{when(s.second), fixed(s.hr, 0), fixed(s.speed, 3), fixed(s.power, 0), fixed(s.cadence, 0)}
		b.WriteString(strings.Join(row, ",") + "\n")
	}
	return []byte(b.String())
}
