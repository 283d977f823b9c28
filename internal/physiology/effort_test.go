package physiology

import (
	"math"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// channel samples f every so many seconds.
func channel(n, every int, f func(k int) float64) workout.Channel {
	var c workout.Channel
	for k := 0; k < n; k += every {
		if v := f(k); !math.IsNaN(v) {
			c.Add(float64(k), v)
		}
	}
	return c
}

func constant(v float64) func(int) float64 { return func(int) float64 { return v } }

func TestEffortOf(t *testing.T) {
	hole := math.NaN()
	for name, c := range map[string]struct {
		w    workout.Workout
		by   By
		want map[int]float64 // at these seconds
	}{
		"power before speed": {workout.Workout{Power: channel(100, 1, constant(200)), Speed: channel(100, 1, constant(8))},
			"power", map[int]float64{50: 200}},
		"speed before cadence": {workout.Workout{Speed: channel(100, 1, constant(3)), Cadence: channel(100, 1, constant(80))},
			"speed", map[int]float64{50: 3}},
		"cadence alone": {workout.Workout{Cadence: channel(100, 1, constant(80))}, "cadence", map[int]float64{50: 80}},
		"none":          {workout.Workout{HeartRate: channel(100, 1, constant(120))}, "", map[int]float64{50: hole}},
		"power of zero is none": {workout.Workout{Power: channel(100, 1, constant(0)), Speed: channel(100, 1, constant(8))},
			"speed", map[int]float64{50: 8}},
		// finding 18: watts are left out while coasting.
		"watts left out while coasting": {workout.Workout{HeartRate: channel(100, 1, constant(120)),
			Power: channel(100, 1, func(k int) float64 {
				if k >= 40 && k < 60 {
					return hole
				}
				return 200
			})}, "power", map[int]float64{39: 200, 40: 0, 59: 0, 60: 200}},
		"speed left out is not known": {workout.Workout{HeartRate: channel(100, 1, constant(120)),
			Speed: channel(100, 1, func(k int) float64 {
				if k >= 20 && k < 60 {
					return hole
				}
				return 3
			})}, "speed", map[int]float64{19: 3, 40: hole, 60: 3}},
		// finding 9: a reading every 5 to 8 s.
		"sparse speed": {workout.Workout{Speed: channel(100, 8, func(k int) float64 { return float64(k) })},
			"speed", map[int]float64{0: 0, 4: 4, 8: 8, 20: 20, 96: 96, 99: hole}},
		"sparse power between the readings": {workout.Workout{HeartRate: channel(100, 7, constant(120)),
			Power: channel(100, 7, constant(150))}, "power", map[int]float64{7: 150, 10: 150}},
		"a pause is no effort": {workout.Workout{Speed: channel(100, 1, constant(3)),
			Pauses: []workout.Span{{From: 30, To: 50}}}, "speed", map[int]float64{29: 3, 30: 0, 49: 0, 50: 3}},
	} {
		t.Run(name, func(t *testing.T) {
			c.w.Seconds = 100
			e := EffortOf(c.w)
			if e.By != c.by || len(e.v) != 100 {
				t.Fatalf("by %q with %d seconds, want %q with 100", e.By, len(e.v), c.by)
			}
			for k, want := range c.want {
				if got := e.v[k]; got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
					t.Errorf("second %d: %v, want %v", k, got, want)
				}
			}
		})
	}
}

// TestStuckPower: an indoor machine goes on writing its last value through the rests. Heart rate, which
// falls by 60 bpm in them, shows that it did not last.
func TestStuckPower(t *testing.T) {
	beats := func(k int) float64 {
		if into := k % 500; into >= 200 {
			return 95 + 65*math.Exp(-float64(into-200)/50)
		}
		return 160
	}
	steady := func(int) float64 { return 160 }
	for name, c := range map[string]struct {
		power, beats func(int) float64
		known        bool
	}{
		"stuck while heart rate falls": {constant(367), beats, false},
		"falling with heart rate": {func(k int) float64 {
			if k%500 >= 200 {
				return 60
			}
			return 250
		}, beats, true},
		"level with level heart rate": {constant(200), steady, true},
	} {
		w := workout.Workout{Seconds: 1500, Power: channel(1500, 1, c.power), HeartRate: channel(1500, 1, c.beats)}
		e := EffortOf(w).believed(heartrate.Clean(w))
		if e.Known() != c.known {
			t.Errorf("%s: known %v, want %v", name, e.Known(), c.known)
		}
		if !c.known && e.not != "power" {
			t.Errorf("%s: not believed %q, want power", name, e.not)
		}
	}
}

func TestMeans(t *testing.T) {
	n := math.NaN()
	got := means([]float64{1, 3, n, n, 5, 5, n, 7}, 0, 8, 2)
	want := []float64{2, n, 5, 7}
	for i, w := range want {
		if got[i] != w && !(math.IsNaN(got[i]) && math.IsNaN(w)) {
			t.Errorf("block %d: %v, want %v", i, got[i], w)
		}
	}
}
