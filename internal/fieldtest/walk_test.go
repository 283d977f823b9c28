package fieldtest_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/fieldtest"
	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

const pound = 0.45359237 // kg, exactly

func walk(lb, seconds, bpm float64) fieldtest.Walk {
	return fieldtest.Walk{MassKG: lb * pound, Seconds: seconds, EndBPM: bpm, Metres: 1609}
}

// The first two rows are a published worked example ("about 40" and "about 46"); the others are
// arithmetic from the published equation (Kline 1987).
func TestWalkEquation(t *testing.T) {
	for name, c := range map[string]struct {
		body               physiology.Body
		test               fieldtest.Walk
		relative, absolute float64
	}{
		"woman of 30, 150 lb, 15:12, 128 bpm": {physiology.Body{Age: 30, Sex: physiology.Female}, walk(150, 912, 128), 40.029, 2.6824},
		"man with the same data":              {physiology.Body{Age: 30, Sex: physiology.Male}, walk(150, 912, 128), 46.344, 3.2779},
		"man of 45, 180 lb, 14:30, 135 bpm":   {physiology.Body{Age: 45, Sex: physiology.Male}, walk(180, 870, 135), 39.411, 0},
		"woman of 55, 140 lb, 16:15, 140 bpm": {physiology.Body{Age: 55, Sex: physiology.Female}, walk(140, 975, 140), 25.799, 0},
	} {
		t.Run(name, func(t *testing.T) {
			got := c.test.Result(c.body)
			if !got.Enough || math.Abs(got.Figures[0].Value-c.relative) > 0.001 {
				t.Fatalf("%+v, want %v", got, c.relative)
			}
			f := got.Figures[1]
			if c.absolute != 0 && math.Abs(f.Value-c.absolute) > 0.0001 {
				t.Errorf("%v L/min, want %v", f.Value, c.absolute)
			}
			if math.Abs(*f.High-*f.Low-2*0.325) > 1e-9 || math.Abs(*got.Figures[0].High-*got.Figures[0].Low-10) > 1e-9 {
				t.Errorf("ranges %v to %v and %v to %v", *got.Figures[0].Low, *got.Figures[0].High, *f.Low, *f.High)
			}
			if len(got.Classes) > 0 {
				t.Errorf("classed %q without norms", got.Classes)
			}
		})
	}
}

// 300 drawn walks against base R, in pounds.
func TestWalkEquationAgainstR(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	script := `
kline <- function(lb, y, sex, min, hr) cat(format(c(
  132.853 - 0.0769*lb - 0.3877*y + 6.315*sex - 3.2649*min - 0.1565*hr,
  6.9652 + 0.0091*lb - 0.0257*y + 0.5955*sex - 0.2240*min - 0.0115*hr), digits = 12), "\n")
`
	var tests []fieldtest.Walk
	var bodies []physiology.Body
	for range 300 {
		lb, age, seconds, bpm := 100+120*r.Float64(), 30+40*r.Float64(), 660+300*r.Float64(), 110+70*r.Float64()
		sex, man := physiology.Female, 0
		if r.IntN(2) == 1 {
			sex, man = physiology.Male, 1
		}
		tests, bodies = append(tests, walk(lb, seconds, bpm)), append(bodies, physiology.Body{Age: age, Sex: sex})
		script += fmt.Sprintf("kline(%.17g, %.17g, %d, %.17g, %.17g)\n", lb, age, man, seconds/60, bpm)
	}
	rows := outside.R(t, script)
	if len(rows) != len(tests) {
		t.Fatalf("R prints %d lines", len(rows))
	}
	for i, want := range rows {
		got := tests[i].Result(bodies[i])
		// the pound is rounded to 2.20462 in a kg: 220 lb differ by 2e-7 lb
		if !got.Enough || math.Abs(got.Figures[0].Value-want[0]) > 1e-4 || math.Abs(got.Figures[1].Value-want[1]) > 1e-5 {
			t.Errorf("%+v: %+v, R has %v", tests[i], got.Figures, want)
		}
	}
}

func TestWalkProtocol(t *testing.T) {
	woman := physiology.Body{Age: 40, Sex: physiology.Female}
	for name, c := range map[string]struct {
		change func(*fieldtest.Walk, *physiology.Body)
		why    workout.Code
		code   workout.Code
	}{
		"kept":                 {func(w *fieldtest.Walk, b *physiology.Body) {}, "", ""},
		"four rounds of 400 m": {func(w *fieldtest.Walk, b *physiology.Body) { w.Metres = 1600 }, "", ""},
		"distance not given":   {func(w *fieldtest.Walk, b *physiology.Body) { w.Metres = 0 }, "", "distance"},
		"a kilometre":          {func(w *fieldtest.Walk, b *physiology.Body) { w.Metres = 1000 }, fieldtest.NotAMile, ""},
		"a 10-s count":         {func(w *fieldtest.Walk, b *physiology.Body) { w.EndBPM = 21 }, fieldtest.TenSeconds, ""},
		"strolled":             {func(w *fieldtest.Walk, b *physiology.Body) { w.EndBPM = 105 }, "", "slow"},
		"no sex":               {func(w *fieldtest.Walk, b *physiology.Body) { b.Sex = "" }, fieldtest.NoBody, ""},
		"no age":               {func(w *fieldtest.Walk, b *physiology.Body) { b.Age = 0 }, fieldtest.NoBody, ""},
		"no mass":              {func(w *fieldtest.Walk, b *physiology.Body) { w.MassKG = 0 }, fieldtest.NoBody, ""},
		"a child":              {func(w *fieldtest.Walk, b *physiology.Body) { b.Age = 12 }, fieldtest.AdultsOnly, ""},
		"young":                {func(w *fieldtest.Walk, b *physiology.Body) { b.Age = 22 }, "", fieldtest.OutsideAges},
		"old":                  {func(w *fieldtest.Walk, b *physiology.Body) { b.Age = 70 }, "", fieldtest.OutsideAges},
		"69 and a half":        {func(w *fieldtest.Walk, b *physiology.Body) { b.Age = 69.5 }, "", ""},
		"pounds as kilograms":  {func(w *fieldtest.Walk, b *physiology.Body) { w.MassKG = 154 }, "", "mass-odd"},
		"slowed":               {func(w *fieldtest.Walk, b *physiology.Body) { b.Slowed = true }, fieldtest.Slowing, "slowed"},
		"ran it":               {func(w *fieldtest.Walk, b *physiology.Body) { w.Seconds = 540 }, fieldtest.UnlikelyTime, ""},
		"seconds as minutes":   {func(w *fieldtest.Walk, b *physiology.Body) { w.Seconds = 15.2 }, fieldtest.UnlikelyTime, ""},
		"time missing":         {func(w *fieldtest.Walk, b *physiology.Body) { w.Seconds = 0 }, fieldtest.NothingTyped, ""},
		"less than rest":       {func(w *fieldtest.Walk, b *physiology.Body) { w.Seconds, w.MassKG, b.Age = 1790, 140, 69 }, fieldtest.BelowRest, ""},
	} {
		t.Run(name, func(t *testing.T) {
			w, b := walk(150, 912, 128), woman
			c.change(&w, &b)
			got := w.Result(b)
			if got.Enough != (c.why == "") || codeOf(got.Why) != c.why || got.Enough != (len(got.Figures) > 0) {
				t.Errorf("%+v, want why %q", got, c.why)
			}
			if c.code != "" && !remarked(got, c.code) || c.code == "" && len(got.Remarks) > 0 {
				t.Errorf("remarks %v, want %q", got.Remarks, c.code)
			}
		})
	}
}

// More heart rate, time, mass or years never estimate more uptake for each kg; pounds and kilograms agree.
func TestWalkEstimateIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		body := physiology.Body{Age: rapid.Float64Range(30, 60).Draw(t, "age"), Sex: rapid.SampledFrom([]physiology.Sex{physiology.Female, physiology.Male}).Draw(t, "sex")}
		w := walk(rapid.Float64Range(100, 200).Draw(t, "lb"), rapid.Float64Range(600, 1000).Draw(t, "s"), rapid.Float64Range(90, 180).Draw(t, "bpm"))
		more, older := w, body
		d := rapid.Float64Range(0.01, 5).Draw(t, "more")
		switch rapid.IntRange(0, 3).Draw(t, "which") {
		case 0:
			more.EndBPM += d
		case 1:
			more.Seconds += d
		case 2:
			more.MassKG += d
		case 3:
			older.Age += d
		}
		a, b := w.Result(body), more.Result(older)
		if a.Enough && b.Enough && b.Figures[0].Value >= a.Figures[0].Value {
			t.Fatalf("%v before, %v after", a.Figures[0].Value, b.Figures[0].Value)
		}
	})
}

// Played walks: a mile by the device's own speed, with a heart rate known to the second.
func TestWalkTestOfPlayedRecordings(t *testing.T) {
	const speed = 1.8
	length := int(math.Round(1609.344 / speed))
	plan := func(before, seconds int) workout.Plan {
		return workout.Plan{Mode: workout.Walk, Steps: []workout.Step{
			{Kind: workout.OtherPart, Seconds: before, Low: 1, High: 1}, {Kind: workout.Steady, Seconds: seconds, Low: 130, High: 140}}}
	}
	woman := physiology.Body{Age: 40, Sex: physiology.Female}
	for name, c := range map[string]struct {
		before, seconds int
		o               simulate.Options
		why             workout.Code
	}{
		"standing before and after": {60, length, simulate.Options{Hold: speed, Tail: 120, Still: true}, ""},
		"wrist":                     {60, length, simulate.Options{Hold: speed, Tail: 120, Still: true, Sensor: workout.Wrist}, ""},
		"sparse":                    {60, length, simulate.Options{Hold: speed, Tail: 120, Still: true, Sparse: true}, ""},
		"strolling on, with laps":   {60, length, simulate.Options{Hold: speed, Tail: 400, Laps: true}, ""},
		"two miles":                 {0, 2 * length, simulate.Options{Hold: speed}, fieldtest.NotAMile},
		"no speed":                  {0, length, simulate.Options{Hold: speed, NoLoad: true}, fieldtest.NoSpeed},
		"heart rate lost at the end": {60, length, simulate.Options{Hold: speed, Faults: []simulate.Fault{{Kind: simulate.Dropout,
			Span: workout.Span{From: 60 + length*3/4, To: 60 + length}}}}, fieldtest.LastQuarter},
	} {
		t.Run(name, func(t *testing.T) {
			c.o.Seed = 7
			w, truth := simulate.Play(plan(c.before, c.seconds), simulate.Beginner(64, 180), c.o)
			test := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{MassKG: 68})
			got := test.Result(woman)
			if got.Enough != (c.why == "") || codeOf(got.Why) != c.why {
				t.Fatalf("assessable %v, why %v; want %q", got.Enough, got.Why, c.why)
			}
			if !got.Enough {
				return
			}
			from, to := c.before+length*3/4, c.before+length
			sum := 0.0
			for _, v := range truth.BPM[from:to] {
				sum += v / float64(to-from)
			}
			if math.Abs(test.EndBPM-sum) > 1 || math.Abs(test.Seconds-float64(length)) > 10 || math.Abs(test.Metres/1609.344-1) > 0.015 {
				t.Errorf("%.1f bpm, %.0f s, %.0f m; truth %.1f, %d, 1609", test.EndBPM, test.Seconds, test.Metres, sum, length)
			}
			clean := fieldtest.Walk{MassKG: 68, Seconds: float64(length), EndBPM: sum, Metres: 1609}.Result(woman)
			if d := got.Figures[0].Value - clean.Figures[0].Value; math.Abs(d) > 0.6 {
				t.Errorf("estimate off by %.2f mL/kg/min", d)
			}
		})
	}
	t.Run("a pause on the way", func(t *testing.T) {
		o := simulate.Options{Seed: 7, Hold: speed, Pauses: []workout.Span{{From: 300, To: 340}}}
		w, _ := simulate.Play(plan(0, length), simulate.Beginner(64, 180), o)
		got := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{MassKG: 68})
		if r := got.Result(woman); !remarked(r, "pause") || math.Abs(got.Seconds-float64(length+40)) > 5 {
			t.Errorf("%.0f s, remarks %v", got.Seconds, r.Remarks)
		}
	})
	t.Run("walking to the start and home again", func(t *testing.T) {
		p := plan(60, length)
		stand := workout.Step{Kind: workout.OtherPart, Seconds: 90, Low: 1, High: 1}
		stroll := workout.Step{Kind: workout.CoolDown, Seconds: 240, Low: 115, High: 115}
		p.Steps = append([]workout.Step{stroll, stand}, p.Steps[1], stand, stroll)
		w, _ := simulate.Play(p, simulate.Beginner(64, 180), simulate.Options{Seed: 7, Hold: speed})
		got := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{MassKG: 68})
		if r := got.Result(woman); !r.Enough || math.Abs(got.Seconds-float64(length)) > 10 {
			t.Errorf("%.0f s, %.0f m, %v", got.Seconds, got.Metres, r.Why)
		}
	})
	t.Run("a run and a ride", func(t *testing.T) {
		w, _ := simulate.Play(plan(0, length), simulate.Beginner(64, 180), simulate.Options{Seed: 7, Hold: speed})
		w.Sport = workout.Running
		if r := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{MassKG: 68}).Result(woman); !remarked(r, "run") {
			t.Errorf("run: %+v", r)
		}
		w.Sport = workout.Cycling
		if r := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{MassKG: 68}).Result(woman); r.Enough || codeOf(r.Why) != fieldtest.NotWalking {
			t.Errorf("ride: %+v", r)
		}
	})
	t.Run("typed values stand", func(t *testing.T) {
		w, _ := simulate.Play(plan(0, length), simulate.Beginner(64, 180), simulate.Options{Hold: speed})
		got := fieldtest.ReadWalk(heartrate.Clean(w), w, fieldtest.Walk{Seconds: 912, EndBPM: 128})
		if got.Seconds != 912 || got.EndBPM != 128 {
			t.Errorf("%+v", got)
		}
	})
}

func TestClockTime(t *testing.T) {
	for text, c := range map[string]struct {
		seconds float64
		odd     bool
	}{
		"15:12": {912, false}, "15.2": {912, false}, "15.12": {907.2, true}, "15.75": {945, false}, "16": {960, false}, "3.00": {180, false}, "9:05.5": {545.5, false},
	} {
		got, odd, ok := fieldtest.ClockTime(text)
		if !ok || math.Abs(got-c.seconds) > 1e-9 || (len(odd) > 0) != c.odd {
			t.Errorf("%q: %v, %v, %v", text, got, odd, ok)
		}
	}
	for _, text := range []string{"", "15:", "15:72", "-3", "912", "NaN", "1:2:3", "x:10", "-1:30", "15:NaN"} {
		if got, _, ok := fieldtest.ClockTime(text); ok {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}
