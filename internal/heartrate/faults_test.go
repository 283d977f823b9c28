package heartrate_test

import (
	"encoding/hex"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// lively is n seconds around a rate that move as heart rate does.
func lively(n int, bpm float64) []float64 {
	out := level(n, bpm)
	for k := range out {
		out[k] += float64(k*k/3%3) - 1
	}
	return out
}

func TestFaults(t *testing.T) {
	twice := func(n int) []float64 {
		out := lively(n, 80)
		for k := range out {
			out[k] *= 2
		}
		return out
	}
	for name, c := range map[string]struct {
		bpm  []float64
		want string
	}{
		"nothing":                           {lively(600, 120), ""},
		"zeros":                             {slices.Concat(lively(60, 120), level(20, 0), lively(60, 120)), "marker 1/20"},
		"255":                               {slices.Concat(lively(60, 120), level(5, 255), lively(60, 120)), "marker 1/5"},
		"beyond 230":                        {slices.Concat(lively(60, 120), level(5, 300), lively(60, 120)), "implausible 1/5"},
		"a spike":                           {slices.Concat(lively(60, 120), level(5, 199), lively(60, 120)), "spike 1/5"},
		"stuck for 3 min":                   {slices.Concat(lively(200, 120), level(180, 125), lively(200, 120)), "frozen 1/179"},
		"90 s of one value":                 {slices.Concat(lively(200, 120), level(90, 125), lively(200, 120)), ""},
		"stuck to the end":                  {slices.Concat(lively(200, 120), level(200, 125)), "frozen 1/199"},
		"flat in flat surroundings":         {slices.Concat(level(60, 119), level(300, 120), level(60, 121)), ""},
		"doubled for 5 min":                 {slices.Concat(lively(600, 80), twice(300), lively(600, 80)), "doubled 1/300"},
		"halved for 5 min":                  {slices.Concat(twice(600), lively(300, 80), twice(600)), "halved 1/300"},
		"doubled beyond 230":                {slices.Concat(lively(300, 125), level(120, 250), lively(300, 125)), "doubled 1/120"},
		"doubled to the end":                {slices.Concat(lively(600, 80), twice(200)), "doubled 1/200"},
		"halved at the beginning":           {slices.Concat(lively(200, 80), twice(600)), "halved 1/200"},
		"twice the rate from half way on":   {slices.Concat(lively(900, 80), twice(800)), ""},
		"a leap by two thirds is no double": {slices.Concat(lively(300, 90), lively(300, 150)), ""},
	} {
		t.Run(name, func(t *testing.T) {
			if got := summary(heartrate.Clean(recordingOf(c.bpm...)).Faults); got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

func TestDropouts(t *testing.T) {
	without := func(step int, gaps ...workout.Span) workout.Workout {
		w := workout.Workout{Seconds: 601}
		for k := 0; k <= 600; k += step {
			if !slices.ContainsFunc(gaps, func(s workout.Span) bool { return s.Contains(k) }) {
				w.HeartRate.Add(float64(k), 120+float64(k*k/3%3))
			}
		}
		return w
	}
	pause := without(1, workout.Span{From: 100, To: 160})
	pause.Pauses = []workout.Span{{From: 110, To: 150}}
	for name, c := range map[string]struct {
		w    workout.Workout
		want []workout.Span
	}{
		"3 s are none":             {without(1, workout.Span{From: 100, To: 103}), nil},
		"4 s are one":              {without(1, workout.Span{From: 100, To: 104}), []workout.Span{{From: 100, To: 104}}},
		"at both ends":             {without(1, workout.Span{From: 0, To: 30}, workout.Span{From: 590, To: 601}), []workout.Span{{From: 0, To: 30}, {From: 590, To: 601}}},
		"a pause is none":          {pause, []workout.Span{{From: 100, To: 110}, {From: 150, To: 160}}},
		"sparse: two are lost":     {without(5, workout.Span{From: 101, To: 111}), nil},
		"sparse: three are lost":   {without(5, workout.Span{From: 101, To: 116}), []workout.Span{{From: 101, To: 120}}},
		"no heart rate is no loss": {workout.Workout{Seconds: 600}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			var got []workout.Span
			for _, f := range heartrate.Clean(c.w).Faults {
				if f.Kind != heartrate.Dropout {
					t.Errorf("%v", f)
				}
				got = append(got, f.Span)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// Of two sources the better one counts, second by second: whatever befalls the one, the series is that
// of the other.
func TestTwoSourcesMendEachOther(t *testing.T) {
	body := simulate.Beginner(62, 186)
	for _, f := range planted(2) {
		if f.Kind == simulate.Lag {
			continue // no single second of a lagging sensor is faulty
		}
		play := func(fs ...simulate.Fault) (workout.Workout, simulate.Truth) {
			return simulate.Play(bouts(workout.Run), body, simulate.Options{Seed: 5, Sensor: workout.Strap, Faults: fs})
		}
		w, truth := play(f)
		if !plantable(truth.Faults[0], w, truth) {
			continue
		}
		sound, _ := play()
		for _, way := range []string{"record", "messages"} {
			both := w
			both.BeatHeartRate = sound.HeartRate
			if way == "messages" {
				both.HeartRate, both.BeatHeartRate = sound.HeartRate, w.HeartRate
			}
			s, off := heartrate.Clean(both), 0
			for k, v := range s.BPM {
				if math.IsNaN(v) || math.Abs(v-truth.BPM[k]) > 4 {
					off++
				}
			}
			if off > 5 || s.Rejected > 0 {
				t.Errorf("%s x%g in the %s: %d s off the truth, %d s rejected, %v", f.Kind, f.Factor, way, off, s.Rejected, s.Faults)
			}
		}
	}
}

func TestTwoSourcesThatDisagree(t *testing.T) {
	w := recordingOf(lively(900, 120)...)
	w.BeatHeartRate = recordingOf(slices.Concat(lively(300, 120), lively(400, 140), lively(200, 120))...).HeartRate
	s := heartrate.Clean(w)
	if got := summary(s.Faults); got != "disagree 1/400" || s.BPM[400] > 130 {
		t.Errorf("flagged %q, second 400 is %v, want the record-like 120", got, s.BPM[400])
	}
	if s.Grade.UseDrift || s.Grade.UsePeaks || !s.Grade.UseZones {
		t.Errorf("graded %+v", s.Grade)
	}
	w.Sensor = workout.Wrist
	if s := heartrate.Clean(w); s.BPM[400] < 130 {
		t.Errorf("second 400 is %v, want the strap's 140", s.BPM[400])
	}
}

// What would corrupt time in zone is missing afterwards; lag only lowers the grade.
func TestGrade(t *testing.T) {
	body := simulate.Beginner(62, 186)
	all := heartrate.Grade{UseZones: true, UseDrift: true, UseRecovery: true, UsePeaks: true}
	without := func(change func(g *heartrate.Grade)) heartrate.Grade {
		g := all
		change(&g)
		return g
	}
	single := without(func(g *heartrate.Grade) { g.UseRecovery, g.UsePeaks = false, false })
	peaks := without(func(g *heartrate.Grade) { g.UsePeaks = false })
	at := func(k simulate.FaultKind, from, to int) []simulate.Fault {
		return []simulate.Fault{{Kind: k, Span: workout.Span{From: from, To: to}, Factor: 1, Late: 35}}
	}
	for name, c := range map[string]struct {
		o    simulate.Options
		gone bool // the planted readings are missing
		want heartrate.Grade
	}{
		"a strap":           {simulate.Options{Sensor: workout.Strap}, false, all},
		"an unknown sensor": {simulate.Options{}, false, all},
		"a wrist sensor":    {simulate.Options{Sensor: workout.Wrist}, false, single},
		"lag":               {simulate.Options{Faults: at(simulate.Lag, 0, 1e6)}, false, single},
		"a lock":            {simulate.Options{Faults: at(simulate.Lock, 100, 250)}, true, peaks},
		"a long lock":       {simulate.Options{Faults: at(simulate.Lock, 100, 400)}, true, without(func(g *heartrate.Grade) { *g = heartrate.Grade{UseZones: true} })},
		"a dry start":       {simulate.Options{Faults: at(simulate.DryStart, 0, 200)}, true, peaks},
		"a short dropout":   {simulate.Options{Faults: at(simulate.Dropout, 500, 560)}, true, all},
		"half is lost":      {simulate.Options{Faults: at(simulate.Dropout, 500, 2000)}, true, without(func(g *heartrate.Grade) { g.UseZones = false })},
		"nothing":           {simulate.Options{Faults: at(simulate.Zeros, 0, 1e6)}, true, heartrate.Grade{}},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Seed = 3
			w, truth := simulate.Play(bouts(workout.Bike), body, c.o)
			s := heartrate.Clean(w)
			g := s.Grade
			for use, may := range map[heartrate.Use]bool{
				heartrate.Zones: g.UseZones, heartrate.Drift: g.UseDrift, heartrate.Recovery: g.UseRecovery, heartrate.Peaks: g.UsePeaks,
			} {
				if why := g.Why(use); (len(why) == 0) != may {
					t.Errorf("%s is graded %v because of %q", use, may, why)
				}
			}
			if g.Reasons = nil; !reflect.DeepEqual(g, c.want) {
				t.Errorf("graded %+v, want %+v (%v)", s.Grade, c.want, s.Faults)
			}
			for _, f := range truth.Faults {
				for k := f.From + 1; k < f.To-5; k++ {
					if gone := math.IsNaN(s.BPM[k]); gone != c.gone {
						t.Fatalf("second %d reads %v", k, s.BPM[k])
					}
				}
			}
		})
	}
}

// Faults explain what was rejected: they lie in order within the workout, and every second that lost
// its reading lies in one.
func TestFaultsExplainWhatIsMissingProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		w.Sport = rapid.SampledFrom([]workout.Sport{workout.Running, workout.Cycling, workout.Other}).Draw(t, "sport")
		for k := 0; k < w.Seconds; k++ {
			w.Cadence.Add(float64(k), rapid.Float64Range(50, 110).Draw(t, "cadence"))
		}
		s := heartrate.Clean(w)
		last := 0
		for _, f := range s.Faults {
			if f.From < last || f.To <= f.From || f.To > w.Seconds || f.Says().Code == "" {
				t.Fatalf("%v in a workout of %d s", s.Faults, w.Seconds)
			}
			last = f.From
		}
		for _, x := range w.HeartRate.T {
			if k := int(x); math.IsNaN(s.BPM[k]) && !shows(s.Faults, "", k) {
				t.Fatalf("second %d lost its reading without a fault: %v", k, s.Faults)
			}
		}
	})
}

// A series that was stored before there were faults: 40 s of a wrist sensor.
const storedBefore = "013ccb3d0ac2401006d0cc06c1de0b0c5f9dc280d55e452cd664c4989f959d0911428e2e2b69ac1f6f5d31c15fce1592bca43169e1eb0a1ae7d4083c96d4a961d731a45ee1af2b9ad8eef40f154c3e068f6e7c0f61d6ee3e083f2524e3144c7809ca167a9938cec6f1c1352bb6db46074744ae242a4e2511154771aea4fccdf9170000ffff"

func TestAnOlderStoredSeriesIsRead(t *testing.T) {
	b, err := hex.DecodeString(storedBefore)
	if err != nil {
		t.Fatal(err)
	}
	var s heartrate.Series
	if err := s.UnmarshalBinary(b); err != nil {
		t.Fatal(err)
	}
	if s.BPM[4] != 104 || s.BPM[31] != 98 || s.Origin[30] != heartrate.Paused || s.Rejected != 1 || s.Source != workout.Wrist {
		t.Errorf("read %v", s)
	}
	if s.Grade.UseZones || s.Grade.UseRecovery || len(s.Grade.Reasons) != 2 {
		t.Errorf("graded %+v, want no zones (too little) and no falls (a wrist sensor)", s.Grade)
	}
	if got, _ := again(t, s); !reflect.DeepEqual(got.Grade, s.Grade) {
		t.Errorf("stored again it is graded %+v", got.Grade)
	}
}
