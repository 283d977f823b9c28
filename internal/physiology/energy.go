package physiology

import (
	"fmt"

	"nextrung/internal/heartrate"
)

// Energy is the gross energy of a workout as a range; a single number would claim more than heart rate
// can tell.
type Energy struct {
	Low   *float64 `json:"low"` // kcal; nil when it is not assessable
	High  *float64 `json:"high"`
	Basis string   `json:"basis"` // how the range was made, or why there is none
}

// Where the equation may be used (Keytel et al., Journal of Sports Sciences 2005: 115 regular exercisers
// of 18-45 years and 47-120 kg at 35-80 % of maximal oxygen uptake); below about 90 bpm it gives nonsense.
const (
	energyYoungest, energyOldest   = 18, 46 // the first age beyond
	energyLightest, energyHeaviest = 47.0, 120.0
	energyLeastBPM                 = 90.0
	kilojoules                     = 4.184 // in a kcal
)

// RestUptake is 1 MET, the oxygen uptake at rest by convention, in mL/kg/min.
const RestUptake = 3.5

// energySEE is the standard error of one person's prediction in kJ/min. The paper gives r = 0.857 and no
// error that was seen; SEE = SD sqrt(1-r²)/r, with SD = 15.0 kJ/min the spread of the predictions
// themselves when age and mass are spread evenly over the study's limits, heart rate over 103-166 bpm
// (35-80 % of maximal uptake at a maximum of 185 bpm), and half of the people are men. The limits are
// published; spreading evenly and the heart rates are common practice, no source.
const energySEE = 9.0

// EnergyOf is the gross energy of the seconds at 90 bpm or more after Keytel 2005, in kJ/min:
//
//	men   -55.0969 + 0.6309 bpm + 0.1988 kg + 0.2017 y
//	women -20.4022 + 0.4472 bpm - 0.1263 kg + 0.0740 y
//
// with coefficients from memory. The range is 90 %: z90 energySEE on either side for the whole time
// (one person's error does not average out), not below rest (1 MET, 3.5 kg/200 kcal/min). There is none
// without sex, age and mass, outside the limits of the study, under a medicine that slows the heart, for
// interval sessions (heart rate runs behind the effort), or when less than half of the time has a heart
// rate of 90 bpm.
func EnergyOf(s heartrate.Series, b Body, massKG float64, intervals bool) Energy {
	coverage, _ := s.Coverage()
	sum, seconds, all := 0.0, 0.0, 0.0
	for k, v := range s.BPM {
		if s.Has(k) {
			all++
			if v >= energyLeastBPM {
				sum += v
				seconds++
			}
		}
	}
	switch {
	case b.Slowed:
		return noEnergy("a medicine slows the heart")
	case b.Sex == UnknownSex || b.Age == 0 || massKG == 0:
		return noEnergy("sex, age and mass are needed")
	case b.Age < energyYoungest || b.Age >= energyOldest:
		return noEnergy("the equation was made on 18 to 45 years")
	case massKG < energyLightest || massKG > energyHeaviest:
		return noEnergy("the equation was made on 47 to 120 kg; check that the mass is in kilograms")
	case intervals:
		return noEnergy("in intervals heart rate runs behind the effort")
	case coverage < heartrate.Enough:
		return noEnergy(heartrate.TooLittle(coverage))
	case seconds == 0 || seconds < all/2:
		return noEnergy("heart rate was below 90 bpm for most of the time")
	}
	minutes := seconds / 60
	perMinute := keytel(b, massKG, sum/seconds)
	kcal := func(kJ float64) *float64 {
		return some(minutes*max(kJ/kilojoules, RestUptake*massKG/200), true)
	}
	return Energy{
		Low: kcal(perMinute - z90*energySEE), High: kcal(perMinute + z90*energySEE),
		Basis: fmt.Sprintf("gross, for the %.0f min at 90 bpm or more; Keytel 2005, coefficients from memory; 90 %% range made from r = 0.857 and a spread that is common practice, no source; not for heat or changing effort", minutes),
	}
}

func noEnergy(why string) Energy { return Energy{Basis: "not assessable: " + why} }

// keytel is the equation without maximal oxygen uptake, in kJ/min.
func keytel(b Body, kg, bpm float64) float64 {
	if b.Sex == Male {
		return -55.0969 + 0.6309*bpm + 0.1988*kg + 0.2017*b.Age
	}
	return -20.4022 + 0.4472*bpm - 0.1263*kg + 0.0740*b.Age
}
