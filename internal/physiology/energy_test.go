package physiology_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// held is a series at one heart rate.
func held(bpm float64, seconds int) heartrate.Series {
	var w workout.Workout
	w.Seconds = seconds
	for k := range seconds {
		w.HeartRate.Add(float64(k), bpm)
	}
	return heartrate.Clean(w)
}

func person(sex physiology.Sex, age float64) physiology.Body {
	return physiology.Body{Sex: sex, Age: age}
}

// middle of the range in kcal; exact while the lower end is above rest.
func middle(e physiology.Energy) float64 { return (*e.Low + *e.High) / 2 }

// Arithmetic from the published equation (Keytel 2005, coefficients from memory), in kcal a minute. The
// fourth row, M 110 bpm 90 kg 50 y = 10.105, is outside the study's ages and gives no range.
func TestEnergyEquation(t *testing.T) {
	for name, c := range map[string]struct {
		body      physiology.Body
		bpm, kg   float64
		perMinute float64
	}{
		"man of 35, 80 kg at 140":   {person(physiology.Male, 35), 140, 80, 13.430},
		"woman of 30, 60 kg at 130": {person(physiology.Female, 30), 130, 60, 7.738},
		"woman of 45, 75 kg at 120": {person(physiology.Female, 45), 120, 75, 6.482},
	} {
		t.Run(name, func(t *testing.T) {
			e := physiology.EnergyOf(held(c.bpm, 1800), c.body, c.kg, false)
			if e.Low == nil || math.Abs(middle(e)/30-c.perMinute) > 0.001 {
				t.Fatalf("%+v, want %v kcal/min", e, c.perMinute)
			}
			// 90 %: 1.645 times 9 kJ/min on either side, for 30 min
			if want := 2 * 1.645 * 9 / 4.184 * 30; math.Abs(*e.High-*e.Low-want) > 0.1 {
				t.Errorf("the range is %.1f kcal wide, want %.1f", *e.High-*e.Low, want)
			}
			if e.Says.Code != physiology.EnergyRange {
				t.Errorf("basis %v", e.Says)
			}
		})
	}
}

// The standard error behind the range, computed in R from r = 0.857 and the spread of the predictions over
// the study's limits; and the equation itself on drawn values.
func TestEnergyAgainstR(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	script := `
men <- function(hr, kg, y) -55.0969 + 0.6309*hr + 0.1988*kg + 0.2017*y
women <- function(hr, kg, y) -20.4022 + 0.4472*hr - 0.1263*kg + 0.0740*y
g <- expand.grid(hr = seq(103, 166, length.out = 127), kg = seq(47, 120, length.out = 74), y = seq(18, 45, length.out = 28))
p <- c(men(g$hr, g$kg, g$y), women(g$hr, g$kg, g$y))
cat(sd(p) * sqrt(1 - 0.857^2) / 0.857, "\n")
`
	type drawn struct {
		sex          physiology.Sex
		bpm, kg, age float64
	}
	var all []drawn
	for range 100 {
		d := drawn{physiology.Male, float64(125 + r.IntN(50)), 60 + 50*r.Float64(), 18 + 27*r.Float64()}
		name := "men"
		if r.IntN(2) == 1 {
			d.sex, name, d.bpm = physiology.Female, "women", d.bpm+15
		}
		all = append(all, d)
		script += fmt.Sprintf("cat(format(%s(%.17g, %.17g, %.17g) * 20 / 4.184, digits = 12), \"\\n\")\n", name, d.bpm, d.kg, d.age)
	}
	rows := outside.R(t, script)
	if see := rows[0][0]; math.Abs(see-9.0) > 0.15 {
		t.Errorf("R has a standard error of %.2f kJ/min, the program 9.0", see)
	}
	n := 0
	for i, d := range all {
		e := physiology.EnergyOf(held(d.bpm, 1200), person(d.sex, d.age), d.kg, false)
		if e.Low == nil {
			t.Fatalf("%+v: %v", d, e.Says)
		}
		if *e.Low < 1.001*20*3.5*d.kg/200 {
			continue // cut at rest
		}
		n++
		if math.Abs(middle(e)-rows[i+1][0]) > 1e-6 {
			t.Errorf("%+v: %v kcal, R has %v", d, middle(e), rows[i+1][0])
		}
	}
	if n < 80 {
		t.Errorf("only %d of 100 were compared", n)
	}
}

func TestEnergyIsRefusedOutsideItsLimits(t *testing.T) {
	man := person(physiology.Male, 35)
	slowed := man
	slowed.Slowed = true
	lost := held(140, 1800)
	for k := 600; k < 1200; k++ {
		lost.BPM[k], lost.Origin[k] = math.NaN(), heartrate.Missing
	}
	for name, c := range map[string]struct {
		s         heartrate.Series
		body      physiology.Body
		kg        float64
		intervals bool
		why       workout.Code // "": a range
	}{
		"within":              {held(140, 1800), man, 80, false, ""},
		"45 years and a half": {held(140, 1800), person(physiology.Male, 45.5), 80, false, ""},
		"46 years":            {held(140, 1800), person(physiology.Male, 46), 80, false, physiology.OutsideAges},
		"50 years":            {held(110, 1800), person(physiology.Male, 50), 90, false, physiology.OutsideAges},
		"17 years":            {held(140, 1800), person(physiology.Male, 17), 80, false, physiology.OutsideAges},
		"age unknown":         {held(140, 1800), person(physiology.Male, 0), 80, false, physiology.NoBody},
		"sex unknown":         {held(140, 1800), person("", 35), 80, false, physiology.NoBody},
		"mass unknown":        {held(140, 1800), man, 0, false, physiology.NoBody},
		"pounds":              {held(140, 1800), man, 176, false, physiology.OutsideMass},
		"light":               {held(140, 1800), man, 45, false, physiology.OutsideMass},
		"slowed":              {held(140, 1800), slowed, 80, false, physiology.Slowing},
		"intervals":           {held(140, 1800), man, 80, true, physiology.BehindEffort},
		"75 bpm":              {held(75, 1800), man, 80, false, physiology.MostlyBelow},
		"a third lost":        {lost, man, 80, false, heartrate.LittleHeart},
		"nothing recorded":    {heartrate.Series{}, man, 80, false, heartrate.LittleHeart},
	} {
		t.Run(name, func(t *testing.T) {
			e := physiology.EnergyOf(c.s, c.body, c.kg, c.intervals)
			if (e.Low != nil) != (c.why == "") || (e.Low == nil) != (e.High == nil) {
				t.Fatalf("%+v", e)
			}
			if c.why != "" && (e.Says.Code != physiology.NoEnergy || codeOf(e.Says.Facts("why")) != c.why) {
				t.Errorf("%v, want %q", e.Says, c.why)
			}
		})
	}
}

// More heart rate or more time is never less energy; the range is in order and never below rest.
func TestEnergyIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := person(rapid.SampledFrom([]physiology.Sex{physiology.Female, physiology.Male}).Draw(t, "sex"), rapid.Float64Range(18, 45.9).Draw(t, "age"))
		kg, bpm, n := rapid.Float64Range(47, 120).Draw(t, "kg"), float64(rapid.IntRange(90, 180).Draw(t, "bpm")), rapid.IntRange(60, 900).Draw(t, "s")
		a := physiology.EnergyOf(held(bpm, n), b, kg, false)
		harder := physiology.EnergyOf(held(bpm+5, n), b, kg, false)
		longer := physiology.EnergyOf(held(bpm, n+60), b, kg, false)
		if rest := float64(n) / 60 * 3.5 * kg / 200; *a.Low < rest-1e-9 || *a.Low > *a.High {
			t.Fatalf("%v to %v kcal, rest %v", *a.Low, *a.High, rest)
		}
		if *harder.Low < *a.Low || *harder.High <= *a.High && *a.High > *a.Low || *longer.Low <= *a.Low {
			t.Fatalf("%v to %v; harder %v to %v; longer from %v", *a.Low, *a.High, *harder.Low, *harder.High, *longer.Low)
		}
	})
}

// A real treadmill ramp to exhaustion with its gas exchange, and so with its true energy: 3.941 kcal for
// each litre of oxygen and 1.106 for each of carbon dioxide (Weir 1949, from memory). Who ran is not
// known, and a ramp is nothing but change; the log shows what the equation says of several people. The
// uptake reached is a man's, so it is for men that the range must hold the truth.
func TestEnergyOfGasExchange(t *testing.T) {
	const from, to = 181, 853 // the ramp
	rows := outside.Table(t, "research/treadmill-ramp-gas-exchange.csv")
	truth, last := 0.0, -1.0
	for _, row := range rows {
		at, _ := outside.Cell(t, row["time_s"])
		o2, ok1 := outside.Cell(t, row["vo2_l_per_min"])
		co2, ok2 := outside.Cell(t, row["vco2_l_per_min"])
		if ok1 && ok2 && at > from && at <= to {
			if last < 0 {
				last = from
			}
			truth += (3.941*o2 + 1.106*co2) * (at - last) / 60
			last = at
		}
	}
	s, _ := outside.Recorded(t, "tcx/treadmill-ramp-recovery-01.tcx")
	s.BPM, s.Origin = s.BPM[from:to], s.Origin[from:to]
	for _, kg := range []float64{60, 70, 80} {
		for _, sex := range []physiology.Sex{physiology.Female, physiology.Male} {
			e := physiology.EnergyOf(s, person(sex, 28), kg, false)
			t.Logf("%s of %.0f kg: %.0f to %.0f kcal; gas exchange %.0f kcal", sex, kg, *e.Low, *e.High, truth)
			if inside := *e.Low <= truth && truth <= *e.High; sex == physiology.Male && !inside {
				t.Errorf("the range for a man of %.0f kg does not hold the truth", kg)
			}
		}
	}
}

// Real recordings give a range or a reason, never both, and no more than 20 kcal a minute.
func TestEnergyOfRealRecordings(t *testing.T) {
	physiology.Research(t, "reads some hundred files")
	found := 0
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		e := physiology.EnergyOf(heartrate.Clean(w), person(physiology.Female, 40), 70, false)
		if (e.Low == nil) != (e.High == nil) || (e.Low == nil) != (e.Says.Code == physiology.NoEnergy) {
			t.Errorf("%s: %+v", name, e)
		}
		if e.High != nil {
			found++
			if rate := *e.High / (float64(w.Seconds) / 60); *e.Low > *e.High || rate > 20 {
				t.Errorf("%s: %.0f to %.0f kcal in %d s", name, *e.Low, *e.High, w.Seconds)
			}
		}
	})
	if found < 20 {
		t.Errorf("only %d workouts have a range", found)
	}
}
