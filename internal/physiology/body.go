package physiology

import "nextrung/internal/workout"

// Sex at birth, as far as published formulas need it.
type Sex string

// The sexes; UnknownSex is the zero value.
const (
	UnknownSex Sex = ""
	Female     Sex = "female"
	Male       Sex = "male"
)

// Body is what must be known of a person to read a heart rate, on one day.
type Body struct {
	Age    float64 // years; 0 unknown. Under 18 no age formula is used.
	Sex    Sex
	HRRest float64 // bpm, mean of at least three mornings; 0 unknown
	// HRMax is the measured maximal heart rate by mode.
	HRMax map[workout.Mode]float64
	// HRMaxAny is a maximal heart rate given without a mode; it gets no offset. 0 unknown.
	HRMaxAny float64
	// T1 and T2 are heart rates at which talking stops being comfortable and is hardly possible; 0 unknown.
	T1, T2 float64
	// Limit in bpm is a ceiling over every zone, set by a doctor; 0 none.
	Limit float64
	// Fixed are explicit zone edges by mode; the key "" holds for every mode.
	Fixed map[workout.Mode][4]float64
	// Slowed means that a medicine slows the heart: no zones, no heart-rate rules.
	Slowed bool
}

// alarmsBefore is how far in bpm under a limit an alarm sounds: a heart rate rises on for some seconds after the
// effort is taken back (common practice, no source).
const alarmsBefore = 5

// Ceiling is the highest heart rate that may be prescribed under the limit; 0 without one.
func (b Body) Ceiling() float64 { return max(0, b.Limit-alarmsBefore) }

// Unlimited is the body with the zones that it would have without the limit.
func (b Body) Unlimited() Body {
	b.Limit = 0
	return b
}
