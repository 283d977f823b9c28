package physiology

import (
	"math"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// beats makes a clean series without gaps.
func beats(n int, f func(k int) float64) heartrate.Series {
	s := heartrate.Series{BPM: make([]float64, n), Origin: make([]heartrate.Origin, n)}
	for k := range n {
		s.BPM[k], s.Origin[k] = f(k), heartrate.Measured
	}
	return s
}

// TestAimUndoesTheResponse: the inverse of a first-order response to a step gives the step back, at once and
// not minutes later; a level heart rate is its own aim.
func TestAimUndoesTheResponse(t *testing.T) {
	const step, late = 300, aimLate
	s := beats(600, func(k int) float64 {
		if k < step+late {
			return 80
		}
		return 80 + 60*(1-math.Exp(-float64(k-step-late)/aimTau))
	})
	got := aim(s)
	for k, want := range map[int]float64{0: 80, 200: 80, step - aimSpan - 1: 80, step + aimSpan + 1: 140, 400: 140, 550: 140} {
		if math.Abs(got[k]-want) > 1.5 {
			t.Errorf("second %d: aims at %.1f, want %.0f", k, got[k], want)
		}
	}
	if s.BPM[step+30] > 110 {
		t.Fatalf("heart rate itself is at %.0f after 30 s: the check shows nothing", s.BPM[step+30])
	}
	hole := aim(heartrate.Series{BPM: []float64{math.NaN(), math.NaN(), 90}, Origin: make([]heartrate.Origin, 3)})
	if !math.IsNaN(hole[0]) {
		t.Errorf("a lone reading aims at %v", hole[0])
	}
}

func TestLevelsJoinWhatIsNotClearlyApart(t *testing.T) {
	for name, c := range map[string]struct {
		g    signal
		want []segment
	}{
		"one speed": {signal{by: "speed", share: clearShare, v: plateaus(3, 600)}, []segment{{0, 600, 3}}},
		"5 % quicker in the middle": {signal{by: "speed", share: clearShare, v: plateaus(3, 200, 3.15, 200, 3, 200)},
			[]segment{{0, 600, 3.05}}},
		"run and walk": {signal{by: "speed", share: clearShare, v: plateaus(3, 200, 1.5, 100, 3, 200)},
			[]segment{{0, 200, 3}, {200, 300, 1.5}, {300, 500, 3}}},
		"30 s of 250 W": {signal{by: "power", share: clearShare, v: plateaus(100, 200, 250, 30, 100, 200)},
			[]segment{{0, 200, 100}, {200, 230, 250}, {230, 430, 100}}},
		"heart rate 5 bpm up": {signal{by: "heart rate", bpm: clearBPM, v: plateaus(130, 300, 135, 300)}, []segment{{0, 600, 132.5}}},
		"heart rate 30 bpm up": {signal{by: "heart rate", bpm: clearBPM, v: plateaus(120, 300, 150, 300)},
			[]segment{{0, 300, 120}, {300, 600, 150}}},
		"nothing known": {signal{by: "speed", share: clearShare, v: plateaus(math.NaN(), 100)}, []segment{{0, 100, math.NaN()}}},
	} {
		c.g.penalty = penalty{noisePenalty, clearPenalty}
		got := c.g.levels(0, len(c.g.v))
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
			continue
		}
		for i, w := range c.want {
			if got[i].from != w.from || got[i].to != w.to || math.Abs(got[i].level-w.level) > 1e-9 {
				t.Errorf("%s: stretch %d is %v, want %v", name, i, got[i], w)
			}
		}
	}
}

// TestLapLevels: laps cut the signal; the second that devices leave between two laps belongs to the next
// one, a longer gap is a stretch of its own, and laps that overlap or go back do no harm.
func TestLapLevels(t *testing.T) {
	lap := func(from, to int) workout.Lap { return workout.Lap{Span: workout.Span{From: from, To: to}} }
	g := signal{by: "speed", share: clearShare, v: plateaus(3, 100, 1, 100, 3, 100)}
	for name, c := range map[string]struct {
		laps []workout.Lap
		want []int // where stretches end
	}{
		"none":              {nil, []int{300}},
		"one after another": {[]workout.Lap{lap(0, 100), lap(100, 200), lap(200, 300)}, []int{100, 200, 300}},
		"a second between":  {[]workout.Lap{lap(0, 99), lap(100, 199), lap(200, 299)}, []int{99, 199, 299, 300}},
		"a gap":             {[]workout.Lap{lap(0, 100), lap(150, 200)}, []int{100, 150, 200, 300}},
		"overlapping":       {[]workout.Lap{lap(0, 150), lap(100, 200), lap(50, 60)}, []int{150, 200, 300}},
		"beyond the end":    {[]workout.Lap{lap(0, 250), lap(250, 900)}, []int{250, 300}},
	} {
		got := g.lapLevels(workout.Workout{Seconds: 300, Laps: c.laps})
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want ends %v", name, got, c.want)
			continue
		}
		at := 0
		for i, s := range got {
			if s.from != at || s.to != c.want[i] {
				t.Errorf("%s: stretch %d is %v, want %d to %d", name, i, s, at, c.want[i])
			}
			at = s.to
		}
	}
}

// TestTurnIsTheCorner: a plateau, straight or slowly falling, and then a fall; a peak before it does not
// move the corner, and neither does unrest of a beat.
func TestTurnIsTheCorner(t *testing.T) {
	const corner = 300
	for name, before := range map[string]func(k int) float64{
		"level":            func(int) float64 { return 170 },
		"rising":           func(k int) float64 { return 150 + float64(k)/15 },
		"slowly falling":   func(k int) float64 { return 175 - float64(k)/60 },
		"a peak before it": func(k int) float64 { return 170 + 4*math.Exp(-math.Pow(float64(k-270)/6, 2)) },
		"uneasy":           func(k int) float64 { return 170 + math.Sin(float64(k)) },
	} {
		s := beats(420, func(k int) float64 {
			if k < corner {
				return before(k)
			}
			return before(corner) - 60*(1-math.Exp(-float64(k-corner)/60))
		})
		for _, guess := range []int{corner - 15, corner, corner + 20} {
			if got := Turn(s, guess, 0, 420); got < corner-6 || got > corner+6 {
				t.Errorf("%s: from %d the turn is at %d, want %d within 6", name, guess, got, corner)
			}
		}
	}
	level := beats(400, func(int) float64 { return 120 })
	if got := Turn(level, 200, 0, 400); got != 200 {
		t.Errorf("level heart rate: turn at %d, want the guess", got)
	}
}

func TestSteadiness(t *testing.T) {
	minutes := func(v ...float64) Effort {
		e := Effort{By: "speed", unit: "m/s"}
		for _, x := range v {
			e.v = append(e.v, plateaus(x, 60)...)
		}
		return e
	}
	s := steadinessOf(minutes(2, 4, 2, 4), 0, 240)
	// Four means 2, 4, 2, 4: mean 3, sample standard deviation sqrt(4/3), so a coefficient of 0.385.
	if s.mean != 3 || s.halves != 0 || math.Abs(s.cv-math.Sqrt(4.0/3)/3) > 1e-12 || s.known != 1 {
		t.Errorf("2, 4, 2, 4: %+v", s)
	}
	s = steadinessOf(minutes(2, 2, 2.5, 2.5), 0, 240)
	if math.Abs(s.halves-0.25) > 1e-12 {
		t.Errorf("2 then 2.5: halves differ by %v", s.halves)
	}
	for name, c := range map[string]struct {
		e    Effort
		want bool
	}{
		"level":          {minutes(3, 3, 3, 3), true},
		"2 % quicker":    {minutes(3, 3, 3.06, 3.06), true},
		"unknown":        {minutes(3, math.NaN(), math.NaN(), 3), false},
		"standing":       {minutes(0, 0, 0, 0), false},
		"4 % quicker":    {minutes(3, 3, 3.12, 3.12), false},
		"quick and slow": {minutes(2, 4, 4, 2), false},
	} {
		if got := steadinessOf(c.e, 0, 240).one(); got != c.want {
			t.Errorf("%s: one load %v, want %v", name, got, c.want)
		}
	}
}
