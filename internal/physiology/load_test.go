package physiology_test

import (
	"testing"

	"gonum.org/v1/gonum/floats"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// flat is n minutes at one heart rate.
func flat(minutes int, bpm float64) heartrate.Series {
	v := make([]float64, 60*minutes)
	for i := range v {
		v[i] = bpm
	}
	return heartrate.Clean(oneASecond(v))
}

// Worked from the formula with the coefficients as later papers quote them (men 0.64, 1.92; women
// 0.86, 1.67).
func TestBanister(t *testing.T) {
	for _, c := range []struct {
		minutes                    int
		bpm, rest, max, men, women float64
	}{
		{60, 150, 60, 190, 100.44, 113.52},
		{30, 110, 60, 190, 15.45, 18.86},
		{40, 125, 65, 180, 36.37, 42.90},
	} {
		s := flat(c.minutes, c.bpm)
		for sex, want := range map[physiology.Sex]float64{physiology.Male: c.men, physiology.Female: c.women} {
			b := physiology.Body{Sex: sex, HRRest: c.rest, HRMaxAny: c.max}
			if got, ok := physiology.Banister(s, b, workout.Run); !ok || !within(got, want, 0.005) {
				t.Errorf("%d min at %v bpm, %s: %.3f %v, want %v", c.minutes, c.bpm, sex, got, ok, want)
			}
		}
	}
}

func TestBanisterIsLargerWhenHeartRateVaries(t *testing.T) {
	b := physiology.Body{Sex: physiology.Male, HRRest: 60, HRMaxAny: 190}
	var v []float64
	for k := range 3600 {
		v = append(v, 150+20*float64(k/300%2*2-1))
	}
	even, _ := physiology.Banister(flat(60, 150), b, workout.Run)
	varied, _ := physiology.Banister(heartrate.Clean(oneASecond(v)), b, workout.Run)
	if varied <= even {
		t.Errorf("varied %v, even %v: the sum over seconds must be larger", varied, even)
	}
}

func TestNoBanister(t *testing.T) {
	whole := physiology.Body{Sex: physiology.Female, HRRest: 60, HRMaxAny: 190}
	for name, change := range map[string]func(*physiology.Body){
		"no sex":        func(b *physiology.Body) { b.Sex = physiology.UnknownSex },
		"no rest":       func(b *physiology.Body) { b.HRRest = 0 },
		"no maximum":    func(b *physiology.Body) { b.HRMaxAny = 0 },
		"rest over max": func(b *physiology.Body) { b.HRRest = 195 },
		"slowed":        func(b *physiology.Body) { b.Slowed = true },
	} {
		b := whole
		change(&b)
		if got, ok := physiology.Banister(flat(10, 120), b, workout.Run); ok || got != 0 {
			t.Errorf("%s: %v", name, got)
		}
	}
	if got, ok := physiology.Banister(heartrate.Clean(workout.Workout{Seconds: 600}), whole, workout.Run); ok {
		t.Errorf("nothing recorded: %v", got)
	}
	if got, ok := physiology.Banister(flat(10, 50), whole, workout.Run); !ok || got != 0 {
		t.Errorf("below rest: %v %v, want 0", got, ok)
	}
}

// 40, 15 and 5 min in the three zones are 85 (worked from the definition).
func TestLucia(t *testing.T) {
	for name, c := range map[string]struct {
		z    physiology.ZoneTime
		want float64
	}{
		"three zones":                       {physiology.ZoneTime{Zone1: 2400, Zone2: 900, Zone3: 300}, 85},
		"under and over":                    {physiology.ZoneTime{Under: 1200, Zone1: 1200, Zone2: 900, Zone3: 240, Over: 60}, 85},
		"what is not recorded adds nothing": {physiology.ZoneTime{Zone1: 60, NotRecorded: 600, Paused: 600}, 1},
	} {
		if got := c.z.Lucia(); !within(got, c.want, 1e-12) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

func TestSessionRPE(t *testing.T) {
	if got, ok := physiology.SessionRPE(workout.RPE{Value: 5, Scale: 10}, 40); !ok || got != 200 {
		t.Errorf("5 for 40 min is %v %v, want 200 (Foster 2001)", got, ok)
	}
	if got, ok := physiology.SessionRPE(workout.RPE{Value: 13, Scale: 20}, 40); ok {
		t.Errorf("a rating on 6-20 gives %v", got)
	}
	if _, ok := physiology.SessionRPE(workout.RPE{Value: 5, Scale: 10}, 0); ok {
		t.Error("no minutes give a load")
	}
}

// Worked from the definition of Foster 1998 with the sample standard deviation.
func TestMonotony(t *testing.T) {
	for _, c := range []struct {
		days             []float64
		monotony, strain float64
	}{
		{[]float64{180, 0, 200, 0, 180, 240, 0}, 1.051, 840.7},
		{[]float64{300, 200, 0, 350, 150, 400, 0}, 1.244, 1742},
		{[]float64{210, 230, 200, 240, 220, 0, 190}, 2.219, 2863},
	} {
		m, ok := physiology.Monotony(c.days)
		s := m * floats.Sum(c.days) // what Foster calls strain
		if !ok || !within(m, c.monotony, 0.0005) || !within(s, c.strain, 0.5) {
			t.Errorf("%v: monotony %.4f, strain %.1f, want %v and %v", c.days, m, s, c.monotony, c.strain)
		}
	}
	for name, days := range map[string][]float64{
		"seven equal days": {100, 100, 100, 100, 100, 100, 100},
		"a week of rest":   {0, 0, 0, 0, 0, 0, 0},
		"six days":         {1, 2, 3, 4, 5, 6},
	} {
		if m, ok := physiology.Monotony(days); ok {
			t.Errorf("%s: monotony %v", name, m)
		}
	}
}
