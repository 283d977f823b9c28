package physiology_test

import (
	"testing"

	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// Values of the published equations at 25, 40 and 60 years, worked from the formulas: Fox 1971 (as
// in Robergs & Landwehr 2002), Tanaka 2001, Gellish 2007, Gulati 2010, Nes 2013, Sydó 2014.
func TestSpread(t *testing.T) {
	want := map[string][3]float64{
		"Fox 1971":           {195, 180, 160},
		"Tanaka 2001":        {190.5, 180, 166},
		"Gellish 2007":       {189.5, 179, 165},
		"Gulati 2010, women": {184, 170.8, 153.2},
		"Nes 2013":           {195, 185.4, 172.6},
		"Sydó 2014, men":     {196.25, 182, 163},
		"Sydó 2014, women":   {190.25, 178.4, 162.6},
	}
	for i, age := range [3]float64{25, 40, 60} {
		seen := 0
		for _, e := range physiology.Spread(age, physiology.UnknownSex) {
			w, ok := want[e.Author]
			if !ok || !within(e.BPM, w[i], 1e-9) {
				t.Errorf("%s at %v years: %v bpm, want %v", e.Author, age, e.BPM, w[i])
			}
			seen++
		}
		if seen != len(want) {
			t.Errorf("%d equations at %v years, want %d", seen, age, len(want))
		}
	}
	for sex, n := range map[physiology.Sex]int{physiology.Female: 6, physiology.Male: 5} {
		if got := len(physiology.Spread(40, sex)); got != n {
			t.Errorf("%d equations for %s, want %d", got, sex, n)
		}
	}
	if got := physiology.Spread(17, physiology.Male); got != nil {
		t.Errorf("under 18: %v", got)
	}
}

func TestMaximum(t *testing.T) {
	measured := physiology.Body{Age: 40, HRMax: map[workout.Mode]float64{workout.Run: 190}}
	given := physiology.Body{Age: 40, HRMaxAny: 181}
	both := physiology.Body{Age: 40, HRMaxAny: 181, HRMax: map[workout.Mode]float64{workout.Run: 190}}
	aged := physiology.Body{Age: 40}
	for name, c := range map[string]struct {
		body physiology.Body
		mode workout.Mode
		want physiology.Maximum
		none bool
	}{
		"measured in the mode":               {measured, workout.Run, physiology.Maximum{BPM: 190, Basis: "measured"}, false},
		"measured in another mode":           {measured, workout.Bike, physiology.Maximum{BPM: 177.4, SEE: 10.8, Basis: "estimate"}, false},
		"given without a mode has no offset": {given, workout.Bike, physiology.Maximum{BPM: 181, Basis: "given"}, false},
		"measured stands before given":       {both, workout.Run, physiology.Maximum{BPM: 190, Basis: "measured"}, false},
		"given for the other modes":          {both, workout.Swim, physiology.Maximum{BPM: 181, Basis: "given"}, false},
		// Nes 2013 with offsets by mode that are common practice, no source.
		"estimate, run":      {aged, workout.Run, physiology.Maximum{BPM: 185.4, SEE: 10.8, Basis: "estimate"}, false},
		"estimate, walk":     {aged, workout.Walk, physiology.Maximum{BPM: 185.4, SEE: 10.8, Basis: "estimate"}, false},
		"estimate, row":      {aged, workout.Row, physiology.Maximum{BPM: 182.4, SEE: 10.8, Basis: "estimate"}, false},
		"estimate, bike":     {aged, workout.Bike, physiology.Maximum{BPM: 177.4, SEE: 10.8, Basis: "estimate"}, false},
		"estimate, swim":     {aged, workout.Swim, physiology.Maximum{BPM: 173.4, SEE: 10.8, Basis: "estimate"}, false},
		"estimate, other":    {aged, workout.OtherMode, physiology.Maximum{BPM: 185.4, SEE: 10.8, Basis: "estimate"}, false},
		"at 18":              {physiology.Body{Age: 18}, workout.Run, physiology.Maximum{BPM: 199.48, SEE: 10.8, Basis: "estimate"}, false},
		"under 18":           {physiology.Body{Age: 17.99}, workout.Run, physiology.Maximum{}, true},
		"under 18, measured": {physiology.Body{Age: 15, HRMaxAny: 201}, workout.Run, physiology.Maximum{BPM: 201, Basis: "given"}, false},
		"nothing known":      {physiology.Body{}, workout.Run, physiology.Maximum{}, true},
	} {
		t.Run(name, func(t *testing.T) {
			got, ok := c.body.Maximum(c.mode)
			if ok == c.none || !within(got.BPM, c.want.BPM, 1e-9) || got.SEE != c.want.SEE || got.Basis != c.want.Basis {
				t.Errorf("%+v %v, want %+v", got, ok, c.want)
			}
		})
	}
}
