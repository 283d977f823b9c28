package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Energy is the gross energy of a workout as a range; a single number would claim more than heart rate
// can show.
type Energy struct {
	Low  *float64 `json:"low"` // kcal; nil when it is not assessable
	High *float64 `json:"high"`
	// Says is how the range was made, or why there is none; Basis is that in words, for JSON.
	Says  workout.Fact `json:"basis_fact"`
	Basis string       `json:"basis"`
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
		return noEnergy(Slowing, nil)
	case b.Sex == UnknownSex || b.Age == 0 || massKG == 0:
		return noEnergy(NoBody, nil)
	case b.Age < energyYoungest || b.Age >= energyOldest:
		return noEnergy(OutsideAges, workout.Args{"from": energyYoungest, "to": energyOldest - 1})
	case massKG < energyLightest || massKG > energyHeaviest:
		return noEnergy(OutsideMass, workout.Args{"from": energyLightest, "to": energyHeaviest})
	case intervals:
		return noEnergy(BehindEffort, nil)
	case coverage < heartrate.Enough:
		return Energy{Says: workout.Say(NoEnergy, workout.Args{"why": workout.Facts{heartrate.TooLittle(coverage)}})}
	case seconds == 0 || seconds < all/2:
		return noEnergy(MostlyBelow, workout.Args{"bpm": energyLeastBPM})
	}
	minutes := seconds / 60
	perMinute := keytel(b, massKG, sum/seconds)
	kcal := func(kJ float64) *float64 {
		return some(minutes*max(kJ/kilojoules, RestUptake*massKG/200), true)
	}
	return Energy{
		Low: kcal(perMinute - z90*energySEE), High: kcal(perMinute + z90*energySEE),
		Says: workout.Say(EnergyRange, workout.Args{"minutes": minutes, "bpm": energyLeastBPM}),
	}
}

func noEnergy(code workout.Code, args workout.Args) Energy {
	return Energy{Says: workout.Say(NoEnergy, workout.Args{"why": because(code, args)})}
}

// keytel is the equation without maximal oxygen uptake, in kJ/min.
func keytel(b Body, kg, bpm float64) float64 {
	if b.Sex == Male {
		return -55.0969 + 0.6309*bpm + 0.1988*kg + 0.2017*b.Age
	}
	return -20.4022 + 0.4472*bpm - 0.1263*kg + 0.0740*b.Age
}
