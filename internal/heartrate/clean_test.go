package heartrate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// recordingOf is a workout with one reading a second.
func recordingOf(bpm ...float64) workout.Workout {
	w := workout.Workout{Seconds: len(bpm)}
	for k, v := range bpm {
		w.HeartRate.Add(float64(k), v)
	}
	return w
}

// level is n seconds at one rate.
func level(n int, bpm float64) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = bpm
	}
	return out
}

// readings is a workout of n seconds with the given second-value pairs.
func readings(n int, pairs ...float64) workout.Workout {
	w := workout.Workout{Seconds: n}
	for i := 0; i < len(pairs); i += 2 {
		w.HeartRate.Add(pairs[i], pairs[i+1])
	}
	return w
}

// letters writes the origins of a series: M measured, b bridged, p paused, . missing.
func letters(s heartrate.Series) string {
	out := make([]byte, len(s.Origin))
	for k, o := range s.Origin {
		out[k] = ".Mbp"[o]
	}
	return string(out)
}

// The rule by which readings become seconds is the project's own; these cases pin each point of it.
func TestCleanSeconds(t *testing.T) {
	pause := func(w workout.Workout, spans ...workout.Span) workout.Workout {
		w.Pauses = spans
		return w
	}
	for name, c := range map[string]struct {
		w        workout.Workout
		origin   string
		bpm      map[int]float64
		rejected int
	}{
		"empty":                                {w: readings(0), origin: ""},
		"nothing recorded":                     {w: readings(4), origin: "...."},
		"a fraction belongs to its second":     {w: readings(3, 0.9, 100, 1.0, 101, 2.99, 102), origin: "MMM", bpm: map[int]float64{0: 100, 1: 101, 2: 102}},
		"the last in file order stands":        {w: readings(2, 1.8, 100, 1.2, 104, 0, 100), origin: "MM", bpm: map[int]float64{1: 104}},
		"the last valid one stands":            {w: readings(1, 0, 100, 0.5, 255), origin: "M", bpm: map[int]float64{0: 100}},
		"an implausible second is missing":     {w: readings(2, 0, 100, 1, 255), origin: "M.", rejected: 1},
		"a second counts as rejected once":     {w: readings(1, 0, 0, 0.3, 255, 0.6, 300), origin: ".", rejected: 1},
		"30 and 230 are plausible":             {w: readings(2000, 0, 30, 1000, 230), origin: "M" + dots(999) + "M" + dots(999)},
		"29.9 and 230.1 are not":               {w: readings(2, 0, 29.9, 1, 230.1), origin: "..", rejected: 2},
		"outside the workout nothing counts":   {w: readings(2, -0.1, 100, 0, 101, 2, 102, math.NaN(), 99), origin: "M."},
		"a dense gap of 10 s is bridged":       {w: dense(30, 10), origin: ms(10) + bs(9) + ms(11)},
		"a dense gap of 11 s is not":           {w: dense(30, 11), origin: ms(10) + dots(10) + ms(10)},
		"a sparse gap of 30 s is bridged":      {w: readings(37, 0, 100, 2, 100, 4, 100, 6, 100, 36, 106), origin: "MbMbMbM" + bs(29) + "M", bpm: map[int]float64{21: 103}},
		"a sparse gap of 31 s is not":          {w: readings(38, 0, 100, 2, 100, 4, 100, 6, 100, 37, 106), origin: "MbMbMbM" + dots(30) + "M"},
		"the lower median decides":             {w: readings(15, 0, 100, 1, 100, 3, 100, 14, 100), origin: "MMbM" + bs(10) + "M"},
		"an even count takes the lower":        {w: readings(16, 0, 100, 1, 100, 2, 100, 4, 100, 15, 100), origin: "MMMbM" + dots(10) + "M"},
		"nothing before the first, after last": {w: readings(9, 3, 100, 5, 101), origin: "...MbM...", bpm: map[int]float64{4: 100.5}},
		"a pause is not bridged":               {w: pause(readings(8, 0, 100, 1, 100, 6, 100, 7, 100), workout.Span{From: 3, To: 4}), origin: "MM.p..MM"},
		"a paused second keeps its value":      {w: pause(readings(3, 0, 100, 1, 99, 2, 98), workout.Span{From: 1, To: 2}), origin: "MpM", bpm: map[int]float64{1: 99}},
		"a pause is clipped":                   {w: pause(readings(3, 0, 100, 1, 100, 2, 100), workout.Span{From: -5, To: 1}, workout.Span{From: 2, To: 99}), origin: "pMp"},
		"bridging starts anew after a pause":   {w: pause(readings(9, 0, 100, 4, 100, 6, 102), workout.Span{From: 1, To: 3}), origin: "Mpp.MbM..", bpm: map[int]float64{5: 101}},
	} {
		t.Run(name, func(t *testing.T) {
			s := heartrate.Clean(c.w)
			if got := letters(s); got != c.origin {
				t.Errorf("origins\n got %s\nwant %s", got, c.origin)
			}
			if s.Rejected != c.rejected {
				t.Errorf("rejected %d s, want %d", s.Rejected, c.rejected)
			}
			for k, want := range c.bpm {
				if s.BPM[k] != want {
					t.Errorf("second %d is %v bpm, want %v", k, s.BPM[k], want)
				}
			}
		})
	}
}

func repeat(n int, c byte) string {
	out := make([]byte, n)
	for i := range out {
		out[i] = c
	}
	return string(out)
}

func dots(n int) string { return repeat(n, '.') }
func ms(n int) string   { return repeat(n, 'M') }
func bs(n int) string   { return repeat(n, 'b') }

// dense is n seconds at 100 bpm with a step of the given length after second 9.
func dense(n, step int) workout.Workout {
	w := workout.Workout{Seconds: n}
	for k := range n {
		if k <= 9 || k >= 9+step {
			w.HeartRate.Add(float64(k), 100)
		}
	}
	return w
}

func TestCleanNeverInventsProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := anyWorkout(t)
		s := heartrate.Clean(w)
		if len(s.BPM) != w.Seconds || len(s.Origin) != w.Seconds {
			t.Fatalf("%d values and %d origins for %d s", len(s.BPM), len(s.Origin), w.Seconds)
		}
		for k, v := range s.BPM {
			none := math.IsNaN(v)
			switch s.Origin[k] {
			case heartrate.Missing:
				if !none {
					t.Fatalf("missing second %d has %v bpm", k, v)
				}
			case heartrate.Measured, heartrate.Bridged:
				if none || v < heartrate.Lowest || v > heartrate.Highest {
					t.Fatalf("second %d has %v bpm", k, v)
				}
			}
		}
	})
}

// anyWorkout draws a recording with gaps, wild values, several readings a second and pauses.
func anyWorkout(t *rapid.T) workout.Workout {
	n := rapid.IntRange(0, 400).Draw(t, "seconds")
	w := workout.Workout{Seconds: n}
	bpm := rapid.Float64Range(60, 160).Draw(t, "start")
	step := rapid.IntRange(1, 8).Draw(t, "step")
	for k := 0; k < n; k += rapid.IntRange(1, step).Draw(t, "dt") {
		bpm = min(200, max(45, bpm+rapid.Float64Range(-3, 3).Draw(t, "change")))
		v := bpm
		if rapid.IntRange(0, 30).Draw(t, "wild") == 0 {
			v = rapid.Float64Range(-10, 300).Draw(t, "value")
		}
		w.HeartRate.Add(float64(k)+rapid.Float64Range(0, 0.99).Draw(t, "fraction"), v)
	}
	for at := 0; at < n; {
		from := at + rapid.IntRange(10, 200).Draw(t, "run")
		to := min(n, from+rapid.IntRange(1, 60).Draw(t, "pause"))
		if from < to {
			w.Pauses = append(w.Pauses, workout.Span{From: from, To: to})
		}
		at = to + 1
		if from >= n {
			break
		}
	}
	return w
}

func FuzzClean(f *testing.F) {
	f.Add([]byte{100, 101, 102, 255, 0, 120}, uint16(10), uint8(1))
	f.Add([]byte{90, 91, 199, 199, 90, 24, 24, 90}, uint16(60), uint8(5))
	f.Fuzz(func(t *testing.T, values []byte, seconds uint16, step uint8) {
		w := workout.Workout{Seconds: int(seconds)}
		at := 0.0
		for i, v := range values {
			w.HeartRate.Add(at, float64(v)*1.1)
			at += float64(step) * float64(i%3) / 2
		}
		w.Pauses = []workout.Span{{From: len(values), To: len(values) + int(step)}}
		s := heartrate.Clean(w)
		n, rejected := 0, 0
		for k, o := range s.Origin {
			if (o == heartrate.Missing) != math.IsNaN(s.BPM[k]) && o != heartrate.Paused {
				t.Fatalf("second %d is %v with %v bpm", k, o, s.BPM[k])
			}
			if s.Recorded(k) {
				n++
			}
		}
		rejected = s.Rejected
		if n+rejected > len(values) {
			t.Fatalf("%d recorded and %d rejected seconds of %d readings", n, rejected, len(values))
		}
		if c, ok := s.Coverage(); ok && (c < 0 || c > 1) {
			t.Fatalf("coverage %v", c)
		}
		if got, _ := again(t, s); !same(got, s) {
			t.Fatal("the stored series differs")
		}
	})
}
