// Package workout holds the nouns that every other package speaks: a workout as one device
// recorded it, its channels, spans, remarks and digests, calendar dates, and the plan of a
// session still to be done.
//
// Units are fixed here and nowhere converted again: seconds, beats per minute (bpm), metres per
// second, watts, revolutions or steps per minute, UTC. Absent values do not exist in a channel;
// the sentinels of the file formats (255, 0, empty) end in package recording.
package workout

import (
	"math"
	"slices"
	"time"
)

// Workout is what one device recorded of one activity, as read from a file and not yet cleaned.
// All times are seconds since Start, the whole second of the earliest sample of any channel.
type Workout struct {
	Sport Sport `json:"sport"`
	Place Place `json:"place,omitempty"`
	// Start is UTC at a whole second; the zero time means the file has no date.
	Start time.Time `json:"start,omitzero"`
	// Seconds is the elapsed length E: the second of the last sample of any channel, plus one.
	Seconds int `json:"seconds"`

	HeartRate Channel `json:"-"` // bpm, from record-like samples
	// BeatHeartRate is bpm from messages that hold only heart rate and carry a clock of their own
	// (a strap that was read out after a swim).
	BeatHeartRate Channel `json:"-"`
	Intervals     Channel `json:"-"` // R-R intervals in seconds, at the time each one ended
	Speed         Channel `json:"-"` // m/s
	Power         Channel `json:"-"` // W
	Cadence       Channel `json:"-"` // per minute: revolutions, strides or strokes as the device counts

	Laps   []Lap  `json:"laps,omitempty"`
	Pauses []Span `json:"pauses,omitempty"` // the timer was stopped; sorted, disjoint, within [0, Seconds)

	Effort *RPE   `json:"effort,omitempty"` // perceived effort, when the file carries it
	Sensor Sensor `json:"sensor,omitempty"`
	// Device is a digest of the recording device's serial number, "" when the file has none. The
	// number itself is never kept.
	Device string `json:"device,omitempty"`
	// Remarks say what was repaired, skipped or found odd. Their codes are stable and for programs.
	Remarks []Fact `json:"remarks,omitempty"`
}

// Channel is one quantity with its own clock: V[i] was recorded T[i] seconds after the workout's
// start. Samples stand in file order, so T may repeat or step back.
type Channel struct{ T, V []float64 }

// Add appends one sample.
func (c *Channel) Add(t, v float64) {
	c.T = append(c.T, t)
	c.V = append(c.V, v)
}

// Grow makes room for n more samples.
func (c *Channel) Grow(n int) {
	c.T, c.V = slices.Grow(c.T, n), slices.Grow(c.V, n)
}

// Len is the number of samples.
func (c Channel) Len() int { return len(c.T) }

// Grid lays the channel on the whole seconds [0, n). Of several samples in one second the last in
// file order stands; a gap of at most bridge seconds between neighbours is filled by a straight
// line; every other second is NaN.
func (c Channel) Grid(n, bridge int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = math.NaN()
	}
	for i, t := range c.T {
		if k := int(math.Floor(t)); k >= 0 && k < n {
			out[k] = c.V[i]
		}
	}
	Bridge(out, bridge)
	return out
}

// Bridge joins known values at most so many seconds apart by straight lines, in place; NaN is unknown.
func Bridge(v []float64, most int) {
	last := -1
	for k := range v {
		if math.IsNaN(v[k]) {
			continue
		}
		if d := k - last; last >= 0 && d > 1 && d <= most {
			step := (v[k] - v[last]) / float64(d)
			for j := last + 1; j < k; j++ {
				v[j] = v[last] + step*float64(j-last)
			}
		}
		last = k
	}
}

// Span is the half-open range of whole seconds [From, To) since the start of a workout.
type Span struct {
	From int `json:"from_s"`
	To   int `json:"to_s"`
}

// Seconds is the length of the span.
func (s Span) Seconds() int { return s.To - s.From }

// Contains says whether second k lies in the span.
func (s Span) Contains(k int) bool { return k >= s.From && k < s.To }

// Overlap is the number of seconds that two spans share.
func (s Span) Overlap(o Span) int { return max(0, min(s.To, o.To)-max(s.From, o.From)) }

// Lap is a span that the device or the athlete marked. Label is the intensity word of the file
// ("active", "rest", "warmup", ...); it is kept as read and never believed alone.
type Lap struct {
	Span
	Label string `json:"label,omitempty"`
}

// RPE is a rating of perceived exertion with the scale it was given on: 20 for the 6-20 scale, 10
// for the 0-10 scale. The two are never converted into each other.
type RPE struct {
	Value float64 `json:"value"`
	Scale int     `json:"scale"`
}

// Reaches says that an effort is at least this hard on its own scale; nil, for no answer, never is.
func (e *RPE) Reaches(on20, on10 float64) bool {
	return e != nil && (e.Scale == 10 && e.Value >= on10 || e.Scale != 10 && e.Value >= on20)
}

// Sensor is the kind of heart-rate sensor.
type Sensor string

// The kinds of heart-rate sensor. Unknown is the zero value: neither a file nor a person said.
const (
	UnknownSensor Sensor = ""
	Strap         Sensor = "strap"
	Wrist         Sensor = "wrist"
)

// String spells the unknown sensor "unknown".
func (s Sensor) String() string {
	if s == UnknownSensor {
		return "unknown"
	}
	return string(s)
}
