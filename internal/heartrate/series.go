// Package heartrate turns the heart-rate readings of one workout into a clean series of one value
// a second, keeps where each second comes from, and says how far the series may be trusted.
// It knows nothing of people, zones or effort.
package heartrate

import "nextrung/internal/workout"

// Origin says where the value of a second comes from.
type Origin uint8

// The origins. A paused second may still carry a measured value, which recovery measurements use.
const (
	Missing Origin = iota
	Measured
	Bridged
	Paused
)

// Lowest and Highest are the limits of plausible heart rate in bpm; both are plausible.
const (
	Lowest  = 30
	Highest = 230
)

// Series is the clean heart rate of one workout, one entry for each whole second since its start.
type Series struct {
	// BPM holds NaN where there is no value; unrounded.
	BPM    []float64
	Origin []Origin
	// Rejected counts seconds whose reading was implausible and was removed.
	Rejected int
	Source   workout.Sensor
	// Faults are the faults of the sensor that were found, in order of time.
	Faults []Fault
	// Grade says what the series may be used for.
	Grade   Grade
	Remarks []workout.Fact
}
