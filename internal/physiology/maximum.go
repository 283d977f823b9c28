package physiology

import (
	"math"

	"nextrung/internal/workout"
)

// Adult is the age in years from which the age formula is used.
const Adult = 18

// SEENes is the standard error of the age formula in bpm (Nes 2013).
const SEENes = 10.8

// Maximum is a maximal heart rate and how sure it is.
type Maximum struct {
	BPM float64
	// SEE is the standard error of estimate in bpm, 0 for a measured maximum.
	SEE   float64
	Basis string // "measured", "given" or "estimate"
}

// Maximum is the maximal heart rate in mode m: measured in that mode; else the one given without a
// mode, as it stands; else the estimate from age. It is false without any of these facts, and
// without a measurement under 18 years.
//
// The estimate is 211 - 0.64 age (Nes 2013: 3320 healthy adults of both sexes, SEE 10.8 bpm), to
// which the mode adds its offset: run and walk 0, row -3, bike -8, swim -12 bpm, anything else 0
// (common practice, no source).
func (b Body) Maximum(m workout.Mode) (Maximum, bool) {
	if v := b.HRMax[m]; v > 0 {
		return Maximum{BPM: v, Basis: "measured"}, true
	}
	if b.HRMaxAny > 0 {
		return Maximum{BPM: b.HRMaxAny, Basis: "given"}, true
	}
	if b.Age < Adult {
		return Maximum{}, false
	}
	return Maximum{BPM: nes(b.Age) + offset(m), SEE: SEENes, Basis: "estimate"}, true
}

// offset is what a mode adds to the estimate, in bpm.
func offset(m workout.Mode) float64 {
	switch m {
	case workout.Row:
		return -3
	case workout.Bike:
		return -8
	case workout.Swim:
		return -12
	}
	return 0
}

// Estimate is the maximal heart rate after one published equation.
type Estimate struct {
	Author string // with the year
	BPM    float64
}

// Spread gives the maximal heart rate at an age after the published equations for healthy adults,
// to show how far they differ; none under 18 years. Equations made for one sex are left out for the
// other and given for both when the sex is unknown.
//
// Fox 1971: 220 - age (no regression). Tanaka 2001: 208 - 0.7 age. Gellish 2007: 207 - 0.7 age.
// Nes 2013: 211 - 0.64 age. Gulati 2010, women: 206 - 0.88 age. Sydó 2014, men: 220 - 0.95 age,
// women: 210 - 0.79 age.
func Spread(age float64, sex Sex) []Estimate {
	if age < Adult {
		return nil
	}
	out := []Estimate{
		{"Fox 1971", 220 - age},
		{"Tanaka 2001", 208 - 0.7*age},
		{"Gellish 2007", 207 - 0.7*age},
		{"Nes 2013", nes(age)},
	}
	if sex != Male {
		out = append(out, Estimate{"Gulati 2010, women", 206 - 0.88*age}, Estimate{"Sydó 2014, women", 210 - 0.79*age})
	}
	if sex != Female {
		out = append(out, Estimate{"Sydó 2014, men", 220 - 0.95*age})
	}
	return out
}

// Lowest is the lowest maximal heart rate that the published equations of Spread give in mode m, for a limit that is
// to be safe whichever is right; false where the maximum is known or the age is not.
func (b Body) Lowest(m workout.Mode) (float64, bool) {
	if most, ok := b.Maximum(m); !ok || most.SEE == 0 {
		return 0, false
	}
	low := math.Inf(1)
	for _, e := range Spread(b.Age, b.Sex) {
		low = min(low, e.BPM+offset(m))
	}
	return low, true
}

// nes is the equation of Nes 2013, who found no effect of sex.
func nes(age float64) float64 { return 211 - 0.64*age }
