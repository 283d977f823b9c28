package physiology_test

import (
	"math"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// leg is a stretch of a made-up session: heart rate runs to aim with a time constant of 40 s.
type leg struct {
	seconds int
	speed   float64
	aim     float64
}

// made strings legs together; without speed when none is to be recorded.
func made(speed bool, legs ...leg) workout.Workout {
	w := workout.Workout{Sport: workout.Running}
	hr := 80.0
	for _, l := range legs {
		for range l.seconds {
			hr += (l.aim - hr) / 40
			if speed {
				w.Speed.Add(float64(w.Seconds), l.speed)
			}
			w.HeartRate.Add(float64(w.Seconds), math.Round(hr))
			w.Seconds++
		}
	}
	return w
}

func repeated(n int, legs ...leg) []leg {
	var out []leg
	for range n {
		out = append(out, legs...)
	}
	return out
}

// TestStops asks which ends of effort are found, by what, and how far off.
func TestStops(t *testing.T) {
	type want struct {
		at, within int
		by         physiology.By
		enough     bool
	}
	work, walk, jog := leg{120, 4, 165}, leg{120, 1.4, 110}, leg{120, 2.6, 140}
	marked := func(w workout.Workout, at ...int) workout.Workout {
		from := 0
		for _, k := range append(at, w.Seconds) {
			w.Laps = append(w.Laps, workout.Lap{Span: workout.Span{From: from, To: k}, Label: "rest"})
			from = k
		}
		return w
	}
	for name, c := range map[string]struct {
		w    workout.Workout
		want []want
	}{
		"run, then walk home":    {made(true, leg{1200, 3, 150}, leg{300, 1.2, 100}), []want{{1199, 2, "speed", true}}},
		"run, jog, then stand":   {made(true, leg{1200, 3, 150}, leg{300, 2.3, 130}, leg{120, 0, 90}), []want{{1499, 2, "speed", true}}},
		"run to the very end":    {made(true, leg{1200, 3, 150}), []want{{1199, 0, "speed", false}}},
		"run, stand for 30 s":    {made(true, leg{1200, 3, 150}, leg{30, 0, 90}), []want{{1199, 2, "speed", false}}},
		"heart rate, then rest":  {made(false, leg{1200, 3, 150}, leg{300, 1.2, 90}), []want{{1199, 15, "heart rate", true}}},
		"heart rate to the end":  {made(false, leg{1200, 3, 150}), []want{{1199, 0, "heart rate", false}}},
		"bouts with walks":       {made(true, repeated(4, work, walk)...), []want{{119, 2, "speed", true}, {359, 2, "speed", true}, {599, 2, "speed", true}, {839, 2, "speed", true}}},
		"bouts with quick jogs":  {made(true, append(repeated(4, work, jog), leg{120, 0, 90})...), []want{{959, 2, "speed", true}}},
		"bouts by heart rate":    {made(false, repeated(4, work, walk)...), []want{{119, 15, "heart rate", true}, {359, 15, "heart rate", true}, {599, 15, "heart rate", true}, {839, 15, "heart rate", true}}},
		"bouts by lap marks":     {marked(made(false, repeated(4, work, walk)...), 120, 240, 360, 480, 600, 720, 840), []want{{120, 0, "laps", true}, {360, 0, "laps", true}, {600, 0, "laps", true}, {840, 0, "laps", true}}},
		"the last bout ends all": {made(true, append(repeated(3, work, walk), work)...), []want{{119, 2, "speed", true}, {359, 2, "speed", true}, {599, 2, "speed", true}, {839, 0, "speed", false}}},
		"nothing recorded":       {workout.Workout{Seconds: 900}, nil},
	} {
		t.Run(name, func(t *testing.T) {
			got := measured(c.w, false).Recoveries
			if len(got) != len(c.want) {
				t.Fatalf("%d stops, want %d: %s", len(got), len(c.want), stops(got))
			}
			for i, w := range c.want {
				if d := got[i].Stop - w.at; d < -w.within || d > w.within || got[i].By != w.by || got[i].Basis.Enough != w.enough {
					t.Errorf("stop %d by %s, enough %v (%s); want %d within %d by %s, %v", got[i].Stop, got[i].By,
						got[i].Basis.Enough, got[i].Basis.Why, w.at, w.within, w.by, w.enough)
				}
			}
		})
	}
}

func stops(rs []physiology.Recovery) string {
	out := ""
	for _, r := range rs {
		out += string(r.By) + " " + text(some(float64(r.Stop))) + ", "
	}
	return out
}

func some(v float64) *float64 { return &v }

// TestFallsOfPlayedSessions compares the drops in 60 s with what the invented heart really did. A single
// fall differs by the unrest of its two readings (0.8 bpm from beat to beat, rounding) and, from heart rate
// alone, by where the turn is found; on average it is right within 1 to 2 bpm.
func TestFallsOfPlayedSessions(t *testing.T) {
	for name, c := range map[string]struct {
		o               simulate.Options
		single, average float64 // bpm
	}{
		"speed":            {simulate.Options{Tail: 180, Still: true}, 5, 1},
		"sparse speed":     {simulate.Options{Tail: 180, Still: true, Sparse: true}, 6, 1.5},
		"heart rate alone": {simulate.Options{Tail: 180, Still: true, NoLoad: true}, 6, 2},
	} {
		sum, n := 0.0, 0
		for seed := range uint64(20) {
			o := c.o
			o.Seed = seed
			plan := workout.Plan{Mode: workout.Run, Steps: []workout.Step{
				planned(workout.WarmUp, 300, 95, 110), planned(workout.Steady, 1500, 120, 132)}}
			w, truth := simulate.Play(plan, simulate.Beginner(65, 180), o)
			m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
			if len(m.Recoveries) != 1 {
				t.Fatalf("%s, seed %d: %d recoveries", name, seed, len(m.Recoveries))
			}
			if m.Recoveries[0].Drop60 == nil { // the place is in doubt
				continue
			}
			want := truth.Falls[len(truth.Falls)-1]
			d := *m.Recoveries[0].Drop60 - want.Drop60
			sum += d
			n++
			if math.Abs(d) > c.single {
				t.Errorf("%s, seed %d: fall %.1f, truth %.1f", name, seed, *m.Recoveries[0].Drop60, want.Drop60)
			}
		}
		if n < 18 {
			t.Errorf("%s: only %d of 20 falls shown", name, n)
		}
		if bias := sum / float64(n); math.Abs(bias) > c.average {
			t.Errorf("%s: falls are %.2f bpm off on average", name, bias)
		}
	}
}
