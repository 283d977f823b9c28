package physiology

import "nextrung/internal/workout"

// What a measurement can lack, with the arguments of each. A new one gets a code here, its sentence in
// package reasons (lacks.go), and is given to Basis.Why by because.
const (
	NoSteadyStretch workout.Code = "no-steady-stretch" // minutes, after: how long, and after how many
	LoadNotKnown    workout.Code = "load-not-known"
	EvenTooShort    workout.Code = "even-too-short" // minutes
	SlopeWanders    workout.Code = "slope-wanders"
	EffortWanders   workout.Code = "effort-wanders"
	LittleLoad      workout.Code = "little-load" // by, percent: "speed", "power" or "cadence", of the time
	NoMovement      workout.Code = "no-movement"
	LoadUneven      workout.Code = "load-uneven"  // by, percent, within, needed: of the time near to the median
	LoadVaries      workout.Code = "load-varies"  // by, percent, most: between half minutes
	LoadChanged     workout.Code = "load-changed" // by, percent, most: between the halves

	NoHeartAtStop workout.Code = "no-heart-rate-at-stop"
	NoHeartAfter  workout.Code = "no-heart-rate-after-stop"
	NextEffort    workout.Code = "next-effort"     // seconds: after the stop
	EndsAfterStop workout.Code = "ends-after-stop" // seconds
	RisesOn       workout.Code = "rises-on"
	StopUncertain workout.Code = "stop-uncertain" // low, high: bpm that the drop could be

	NotFromStrap workout.Code = "not-from-strap"
)

// What is said of energy; NoEnergy has one of those after it as "why", or that heart rate is lacking.
const (
	EnergyRange  workout.Code = "energy-range" // minutes, bpm
	NoEnergy     workout.Code = "no-energy"
	Slowing      workout.Code = "slowing-medicine"
	NoBody       workout.Code = "no-body"
	OutsideAges  workout.Code = "outside-ages" // from, to
	OutsideMass  workout.Code = "outside-mass" // from, to in kg
	BehindEffort workout.Code = "behind-effort"
	MostlyBelow  workout.Code = "mostly-below" // bpm
)

// EffortStuck is the remark that a channel is not used: by, bpm.
const EffortStuck workout.Code = "effort-stuck"

// because gives one reason why a measurement is not enough.
func because(code workout.Code, args workout.Args) workout.Facts {
	return workout.Facts{workout.Say(code, args)}
}
