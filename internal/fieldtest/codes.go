package fieldtest

import "nextrung/internal/workout"

// What makes a field test not assessable, with the arguments of each.
const (
	NoHeartRate  workout.Code = "test-without-heart-rate"
	EndsEarly    workout.Code = "test-ends-early"
	NoCount      workout.Code = "no-count"
	NoSpeed      workout.Code = "test-without-speed"
	NotWalking   workout.Code = "not-walking" // sport
	SpeedLost    workout.Code = "speed-lost"
	LastQuarter  workout.Code = "last-quarter" // why
	Slowing      workout.Code = "equation-slowed"
	NoBody       workout.Code = "equation-body"
	AdultsOnly   workout.Code = "adults-only"
	NothingTyped workout.Code = "walk-incomplete"
	NotAMile     workout.Code = "not-a-mile"     // metres
	UnlikelyTime workout.Code = "unlikely-time"  // minutes
	TenSeconds   workout.Code = "ten-seconds"    // bpm
	Impossible   workout.Code = "impossible-bpm" // bpm
	BelowRest    workout.Code = "below-rest"
	NoneEasy     workout.Code = "none-comfortable"
	NoneHard     workout.Code = "all-comfortable" // bpm
)

// What is odd about a test and does not stop it.
const (
	Slowed        workout.Code = "slowed"        // protocol
	MassOdd       workout.Code = "mass-odd"      // kg
	TooOld        workout.Code = "too-old"       // age
	KnownDisease  workout.Code = "known-disease" // disease
	OutsideAges   workout.Code = "ages-of-equation"
	OnWrist       workout.Code = "wrist"
	Moved         workout.Code = "moved"
	Bench         workout.Code = "bench"    // cm, 0 for unknown; is: "unknown", "inches" or "other"
	Duration      workout.Code = "duration" // seconds, 0 for unknown
	Late          workout.Code = "late"     // seconds
	Count         workout.Code = "count"    // beats; is: "few" or "impossible"
	CalledRun     workout.Code = "run"
	Pause         workout.Code = "pause" // seconds
	Distance      workout.Code = "distance"
	Slow          workout.Code = "slow"    // bpm
	Decimal       workout.Code = "decimal" // typed, minutes, seconds, whole, part
	Untold        workout.Code = "untold"
	Contradiction workout.Code = "contradiction"
	Apart         workout.Code = "apart" // bpm
	NoT2          workout.Code = "no-t2"
	Order         workout.Code = "order"
	StageBPM      workout.Code = "bpm"    // bpm
	Early         workout.Code = "early"  // bpm, seconds
	Answer        workout.Code = "answer" // bpm
)

// The figures.
const (
	StepCount   workout.Code = "beats-of-the-minute"
	TimeStepped workout.Code = "time-stepped"
	UptakePerKG workout.Code = "uptake-per-kg"
	Uptake      workout.Code = "uptake"
	WalkTime    workout.Code = "time-of-the-walk"
	WalkEnd     workout.Code = "last-quarter-bpm"
	T1          workout.Code = "t1"
	T2          workout.Code = "t2"
)

// By which norms a result is classed, or why it is not.
const (
	Handbook        workout.Code = "norms-of-handbook"
	NoRow           workout.Code = "no-row-of-norms"
	NotUnderSlowing workout.Code = "norms-slowed"
	NotKept         workout.Code = "norms-protocol"
	NotForAnybody   workout.Code = "norms-person"
	NextEstimate    workout.Code = "no-norms"
)
