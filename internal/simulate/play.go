// Package simulate plays a planned session on an invented body with an invented sensor, and says
// what was true: the heart rate at every second, when load changed, how far heart rate really fell,
// how fast it really drifted, and which faults were planted. Tests measure the program against it,
// and the demo and the rehearsal draw their clients from it. It knows no zones, stages or policy.
//
// # The model
//
// Load x is speed (m/s) or power (W). It leads to a steady heart rate
//
//	target = rest + upright + gain·x + drift, at most the maximum
//
// which heart rate follows after a delay: up with one time constant, h' = (target - h) / rise, down
// in two parts of which the first, vagal one is quick:
//
//	h(t) = target + A·(w·e^(-t/fast) + (1-w)·e^(-t/slow))
//
// Two speeds of a fall are common in physiology; the single published constants are recovered by a
// fit. Drift begins after ten minutes of exercise (Coyle and González-Alonso 2001), is proportional
// to the share of the reserve (a slow component that grows with intensity: Teso et al. 2022) and
// grows linearly with heat above 22 °C so that 35 °C gives five times as much (+2 % against +11 %
// in 30 min: Lafrenz et al. 2008). At rest it dies away over 5 min (invented).
//
// A day shifts the whole curve by a normal deviate; from second to second heart rate varies as a
// first-order autoregression (invented). The athlete follows a step's band by taking the load that
// leads to its middle plus a bias, and holds that load to the end of the step; without beats the
// step's feel decides, against the athlete's own talking thresholds.
//
// The sensor adds noise, a wrist sensor also lag; faults are planted where asked. Values are rounded
// as devices do. Everything follows from the seed: equal input gives equal output.
//
// A second of the body costs well under a microsecond, an hour 1 to 2 ms.
package simulate

import (
	"cmp"
	"math"
	"math/rand/v2"
	"time"

	"nextrung/internal/workout"
)

// The random streams of one seed: body, sensor and faults never disturb each other, so that two
// devices can record one session.
const (
	streamBody   = 0x6f1d
	streamFaults = 0x2b3c
	streamSensor = 0x9a00
)

// Options says how a session is done and recorded. The zero value is a chest strap of unknown kind
// at one reading a second, in 22 °C, that stops with the last step.
type Options struct {
	Seed  uint64
	Unit  uint64    // distinguishes devices that record the same session
	Start time.Time // the body's second 0, brought to a whole second UTC

	// How it is done.
	Bias float64 // bpm above the middle of each band that the athlete aims for
	// Hold is a fixed load for steady steps instead of the band, as on a machine set to the usual
	// speed; 0 for none.
	Hold   float64
	DayBPM float64 // bpm above the usual, all through this day
	DayRPE float64 // points of the 6-20 scale above the usual
	HeatC  float64 // 0 is 22
	Skip   int     // so many work steps from the end are not done but rested through
	Pauses []workout.Span

	// How it is recorded.
	Place  workout.Place
	Sensor workout.Sensor
	Ideal  bool // a sensor without noise and lag
	Faults []Fault
	Every  int  // seconds between samples; 0 is 1
	Sparse bool // 1-9 s between samples, as devices that save memory do
	Begin  int  // the recording begins so many seconds after the body
	Clock  int  // seconds by which the device's clock is fast
	// Tail is how many seconds the recording goes on after the last step; a negative one stops it so
	// many seconds before the plan's end. Still: the athlete stands in the tail, else moves easily.
	Tail   int
	Still  bool
	Laps   bool   // one lap for each step
	NoLoad bool   // neither speed, power nor cadence
	Device string // digest of the device
}

// Truth is what really happened. Seconds count from the recording's start, as in the workout.
type Truth struct {
	BPM   []float64 // the heart itself, unrounded
	Load  []float64 // m/s or W
	Steps []Done    // the plan as it was done, then the tail
	Falls []Fall    // one for each drop of load after work or steady effort
	// Drift is the model's slow rise in bpm per 10 min over DriftSpan, the part of the longest steady
	// step after the tenth minute; the span is empty when there is none.
	Drift     float64
	DriftSpan workout.Span
	Rise      float64 // s
	Faults    []Fault
	RPE       float64 // 6-20, as the athlete would answer, whole points
	Talk      string  // "comfortable", "hard" or "no"
	Share     float64 // of the heart-rate reserve, on which RPE and Talk rest
}

// Done is a step with the seconds it took.
type Done struct {
	Step workout.Step
	workout.Span
	Load float64 // aimed for
}

// Fall is the true fall of heart rate after the last second of an effort, without beat-to-beat noise.
// Drop60 and Drop120 are NaN when the body was not followed so long or load rose again.
type Fall struct {
	Stop            int
	End             float64
	Drop60, Drop120 float64
}

// Play does a plan. It never fails: a plan without seconds and without a tail gives an empty workout.
func Play(plan workout.Plan, body Athlete, o Options) (workout.Workout, Truth) {
	b := run(plan, body, o)
	begin := min(max(o.Begin, 0), len(b.bpm))
	end := len(b.bpm)
	if o.Tail < 0 {
		end = max(begin, end+o.Tail)
	}
	t := b.truth(body, begin)
	w := workout.Workout{
		Sport: plan.Mode.Sport(), Place: o.Place, Sensor: o.Sensor, Device: o.Device,
		Start: o.Start.UTC().Truncate(time.Second).Add(time.Duration(begin+o.Clock) * time.Second),
	}
	cad := make([]float64, end-begin)
	for i := range cad {
		cad[i] = cadence(plan.Mode, b.load[begin+i])
	}
	shown, planted := read(b.bpm[begin:end], cad, plan.Mode, o)
	t.Faults = planted
	for _, p := range o.Pauses {
		if p = moved(p, begin); p.From > 0 && p.From < p.To && p.To < end-begin {
			w.Pauses = append(w.Pauses, p)
		}
	}
	load, parts := &w.Speed, 1000.0 // recorded in mm/s
	if plan.Mode == workout.Bike || plan.Mode == workout.Row {
		load, parts = &w.Power, 1
	}
	seconds := samples(end-begin, w.Pauses, o)
	w.HeartRate.Grow(len(seconds))
	if !o.NoLoad {
		load.Grow(len(seconds))
		w.Cadence.Grow(len(seconds))
	}
	for _, k := range seconds {
		at := float64(k)
		if !math.IsNaN(shown[k]) {
			w.HeartRate.Add(at, math.Round(shown[k]))
		}
		if !o.NoLoad {
			load.Add(at, math.Round(b.load[begin+k]*parts)/parts)
			w.Cadence.Add(at, math.Round(cad[k]))
		}
	}
	if o.Laps {
		for _, s := range t.Steps {
			w.Laps = append(w.Laps, workout.Lap{Span: s.Span, Label: cmp.Or(labels[s.Step.Kind], "active")})
		}
	}
	return fromFirst(w, t)
}

// samples are the seconds at which the device writes a sample: never in a pause, always at its edges
// and at the end.
func samples(n int, pauses []workout.Span, o Options) []int {
	rng := rand.New(rand.NewPCG(o.Seed, streamSensor+o.Unit+1<<32))
	every := max(o.Every, 1)
	out := make([]int, 0, n/every+2)
	next, p := 0, 0
	for k := range n {
		if p < len(pauses) && k >= pauses[p].To {
			p++
			next = k
		}
		if p < len(pauses) && pauses[p].Contains(k) {
			continue
		}
		if k < next && k != n-1 && (p >= len(pauses) || k != pauses[p].From-1) {
			continue
		}
		out = append(out, k)
		next = k + every
		if o.Sparse {
			next = k + 1 + rng.IntN(9)
		}
	}
	return out
}

// fromFirst makes the earliest sample the recording's second 0, as readers of files see it, and sets
// the length.
func fromFirst(w workout.Workout, t Truth) (workout.Workout, Truth) {
	first, last := math.Inf(1), math.Inf(-1)
	chans := []*workout.Channel{&w.HeartRate, &w.Speed, &w.Power, &w.Cadence}
	for _, c := range chans {
		if c.Len() > 0 {
			first, last = min(first, c.T[0]), max(last, c.T[c.Len()-1])
		}
	}
	if math.IsInf(first, 1) {
		w.Pauses, w.Laps = nil, nil
		return w, t
	}
	w.Seconds = int(last-first) + 1
	d := int(first)
	for _, c := range chans {
		for i := range c.T {
			c.T[i] -= first
		}
	}
	w.Start = w.Start.Add(time.Duration(d) * time.Second)
	pauses, laps := w.Pauses, w.Laps
	w.Pauses, w.Laps = nil, nil
	for _, p := range pauses {
		if p = moved(p, d); p.From > 0 && p.To < w.Seconds {
			w.Pauses = append(w.Pauses, p)
		}
	}
	for _, l := range laps {
		l.Span = moved(l.Span, d)
		if l.From, l.To = max(l.From, 0), min(l.To, w.Seconds); l.From < l.To {
			w.Laps = append(w.Laps, l)
		}
	}
	return w, t.moved(d)
}

func moved(s workout.Span, d int) workout.Span { return workout.Span{From: s.From - d, To: s.To - d} }

// labels are the intensity words that devices write for a lap that is not "active".
var labels = map[workout.StepKind]string{
	workout.WarmUp: "warmup", workout.CoolDown: "cooldown", workout.Recovery: "rest", workout.OtherPart: "rest",
}
