// Package physiology knows what heart rate means: a body's maximal and resting heart rate and the
// zones that follow from them, the phases of a workout, and the measurements that decide: time in
// zone, recovery, drift, onset and load. Everything here is pure: no clock, no disk.
//
// Units: seconds since the start of the workout, bpm, minutes where the published measure uses
// them. Every measurement carries its Basis; one without enough data says why and is no number.
package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Basis says what a measurement rests on.
type Basis struct {
	Method   string  `json:"method"`
	From     int     `json:"from_s"`
	To       int     `json:"to_s"`
	Coverage float64 `json:"coverage"` // share of seconds with a heart rate, 0-1
	Enough   bool    `json:"enough"`
	// Why says what was missing; none when Enough. See lacks.go.
	Why workout.Facts `json:"why_facts,omitempty"`
	// Clause is Why in words: in JSON for people, and alone in books of an earlier version.
	Clause string `json:"why,omitempty"`
}

// Measurements is everything that was measured in one workout.
type Measurements struct {
	HeartRate  Summary     `json:"heart_rate"`
	Edges      *Edges      `json:"edges,omitempty"` // nil without the facts for zones
	Zones      *ZoneTime   `json:"zones,omitempty"`
	Phases     []Phase     `json:"phases,omitempty"`
	Main       MainPart    `json:"main"`
	Bouts      []Bout      `json:"bouts,omitempty"`
	Recoveries []Recovery  `json:"recoveries,omitempty"`
	Drift      Drift       `json:"drift"`
	Check      *Check      `json:"check,omitempty"` // only when the workout has the shape of a check session
	SameEffort *SameEffort `json:"same_effort,omitempty"`
	Onsets     []Onset     `json:"onsets,omitempty"`
	Load       Load        `json:"load"`
	// Held is nil without 15 successive seconds of heart rate, and in measurements
	// older than this field.
	Held *Held `json:"held,omitempty"`
	// Effort says where the second-by-second effort came from: "power", "speed", "cadence" or "" for heart rate alone.
	Effort By `json:"effort,omitempty"`
	// PerBPM is the whole workout's seconds at each beat, paused and missing seconds left out.
	PerBPM  Histogram      `json:"per_bpm"`
	Remarks []workout.Fact `json:"remarks,omitempty"`
}

// Summary describes the clean series.
type Summary struct {
	Usable   bool           `json:"usable"`
	Doubtful bool           `json:"doubtful,omitempty"` // the sensor cannot be trusted: heartrate.Series.Doubtful
	Source   workout.Sensor `json:"source"`
	Coverage *float64       `json:"coverage"` // (measured + bridged) / (elapsed - paused); nil if that is 0
	Mean     *float64       `json:"mean_bpm"`
	Min      *float64       `json:"min_bpm"`
	Peak     *float64       `json:"peak_bpm"` // highest centred 5-s mean without a missing second
	Rejected int            `json:"rejected_s"`
	Gap      int            `json:"longest_gap_s"`
	Elapsed  int            `json:"elapsed_s"`
	Paused   int            `json:"paused_s"`
}

// Edges are the borders of the zones in bpm, unrounded: below [0] is under, [0,1) zone 1, [1,2)
// zone 2, [2,3) zone 3, from [3] over.
type Edges struct {
	BPM   [4]float64 `json:"bpm"`
	Basis string     `json:"basis"` // "explicit", "thresholds", "reserve", "maximum"
	// Limited means that a limit in bpm lowered some of them.
	Limited bool `json:"limited,omitempty"`
	// Estimated means that they rest on a maximal heart rate taken from an age formula.
	Estimated bool `json:"estimated"`
}

// ZoneTime is the time of one workout by zone, in seconds; the parts add up to the elapsed time.
type ZoneTime struct {
	Under       int `json:"under_s"`
	Zone1       int `json:"zone1_s"`
	Zone2       int `json:"zone2_s"`
	Zone3       int `json:"zone3_s"`
	Over        int `json:"over_s"`
	NotRecorded int `json:"not_recorded_s"`
	Paused      int `json:"paused_s"`
}

// Sum is the elapsed time.
func (z ZoneTime) Sum() int {
	return z.Under + z.Zone1 + z.Zone2 + z.Zone3 + z.Over + z.NotRecorded + z.Paused
}

// Plus adds two times, zone by zone.
func (z ZoneTime) Plus(o ZoneTime) ZoneTime {
	return ZoneTime{
		z.Under + o.Under, z.Zone1 + o.Zone1, z.Zone2 + o.Zone2, z.Zone3 + o.Zone3, z.Over + o.Over,
		z.NotRecorded + o.NotRecorded, z.Paused + o.Paused,
	}
}

// Phase is a part of a workout found in the data.
type Phase struct {
	Kind workout.StepKind `json:"kind"`
	workout.Span
	Mean *float64 `json:"mean_bpm"` // nil where nothing was recorded
}

// MainPart is what lies between warm-up and cool-down.
type MainPart struct {
	workout.Span
	PerBPM Histogram `json:"per_bpm"` // seconds at each beat, paused and missing left out
}

// Bout is one work bout of an interval session.
type Bout struct {
	workout.Span
	// End is the mean heart rate of its last 30 s (of its last third if it is shorter than 90 s).
	End  *float64 `json:"end_bpm"`
	Peak *float64 `json:"peak_bpm"`
	// Low is the lowest heart rate (5-s mean) between this bout's end and the next bout or the end of the workout.
	Low *float64 `json:"low_after_bpm"`
	// By says how the edges were found: "power", "speed", "cadence", "laps", "heart rate".
	By By `json:"by"`
}

// Activity is what the athlete did while heart rate fell after a stop.
type Activity string

// The activities after a stop.
const (
	Still           Activity = "still"
	Moving          Activity = "moving"
	UnknownActivity Activity = "unknown"
)

// Recovery is the fall of heart rate after one stop. Fields that the recording does not hold are nil. The
// peak is the highest value in [stop-60, stop+90]: heart rate may rise on for up to 90 s.
type Recovery struct {
	Stop       int      `json:"stop_s"`
	End        *float64 `json:"end_bpm"`
	At30       *float64 `json:"at_30_bpm"`
	Drop30     *float64 `json:"drop_30_bpm"`
	FromPeak30 *float64 `json:"from_peak_30_bpm"` // the peak minus At30
	At60       *float64 `json:"at_60_bpm"`
	Drop60     *float64 `json:"drop_60_bpm"`
	FromPeak60 *float64 `json:"from_peak_60_bpm"`
	// Drop60Low and Drop60High are the smallest and the largest drop in 60 s at the seconds that the stop
	// may have been at; both Drop60 where its second is known.
	Drop60Low   *float64 `json:"drop_60_low_bpm"`
	Drop60High  *float64 `json:"drop_60_high_bpm"`
	At120       *float64 `json:"at_120_bpm"`
	Drop120     *float64 `json:"drop_120_bpm"`
	FromPeak120 *float64 `json:"from_peak_120_bpm"`
	// T30 is the time constant of the first 30 s; see the function of that name.
	T30 *float64 `json:"t30_s"`
	// Tau is the time constant of the whole fall with its 90 % interval; see FitRecovery.
	Tau      *float64 `json:"tau_s"`
	TauLow   *float64 `json:"tau_low"`
	TauHigh  *float64 `json:"tau_high"`
	Activity Activity `json:"activity"`
	By       By       `json:"by"` // how the stop was found: "power", "speed", "cadence", "laps", "timer", "heart rate"
	Basis    Basis    `json:"basis"`
}

// Drift is the slow rise of heart rate at constant load.
type Drift struct {
	Basis
	Slope float64 `json:"slope_bpm_per_10min"`
	Low   float64 `json:"low"` // 90 % interval
	High  float64 `json:"high"`
	// Cost is the change in percent of heart rate per speed or power from the first to the second
	// half; shown, never judged. nil without speed and power.
	Cost *float64 `json:"cost_percent"`
}

// Check is a check session: 25 min at one load. Rise is the mean of the last 5 min minus minutes 8-12, in bpm.
type Check struct {
	Basis
	Rise float64 `json:"rise_bpm"`
	// Error is the standard error of Rise within this session.
	Error float64 `json:"error_bpm"`
	Load  float64 `json:"load"` // mean speed (m/s) or power (W)
	Unit  string  `json:"unit"` // "m/s" or "W"
}

// SameEffort is the heart rate at a load that later workouts can be compared at: minutes 5-15 at an even load.
type SameEffort struct {
	Basis
	Mean  float64 `json:"mean_bpm"`
	Error float64 `json:"error_bpm"` // standard error of Mean within this session
	Gain  float64 `json:"gain_bpm"`  // usual rise of heart rate for the whole load, so for a share of it
	Load  float64 `json:"load"`      // mean speed (m/s) or power (W), as the heart feels it
	Unit  string  `json:"unit"`      // "m/s" or "W"
}

// Onset is the rise of heart rate into a work bout.
type Onset struct {
	At  int      `json:"at_s"`
	Tau *float64 `json:"tau_s"`
	// Delay is how long heart rate waits, Gain how far it rises by the fitted curve; nil without Tau.
	Delay *float64 `json:"delay_s"`
	Gain  *float64 `json:"gain_bpm"`
}

// Load holds the published measures of training load; a part without its facts is nil.
type Load struct {
	Banister *float64 `json:"banister_impulse"`
	Lucia    *float64 `json:"lucia_weighted_min"`
}

// Histogram counts seconds by heart rate: entry i is the seconds with floor(bpm) == i + Lowest.
type Histogram []int

// Lowest and Highest are the limits of plausible heart rate in bpm.
const (
	Lowest  = heartrate.Lowest
	Highest = heartrate.Highest
)
