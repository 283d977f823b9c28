package simulate

import (
	"math"
	"math/rand/v2"
	"slices"

	"nextrung/internal/workout"
)

// FaultKind is a way in which a heart-rate sensor fails.
type FaultKind string

// The faults. Lock reads the step rate (walk, run) or the pedal or stroke rate times Factor instead
// of the heart; optical sensors show motion artefacts at the step rate and its harmonics (Wijshoff
// 2017). DryStart is a strap without sweat: spikes and losses.
const (
	Dropout  FaultKind = "dropout"
	Frozen   FaultKind = "frozen"
	Lock     FaultKind = "lock"
	Zeros    FaultKind = "zeros"    // the value 0 leaks out
	Sentinel FaultKind = "sentinel" // the value 255 leaks out
	Doubled  FaultKind = "doubled"
	Halved   FaultKind = "halved"
	DryStart FaultKind = "dry-start"
	Lag      FaultKind = "lag" // what the heart did Late seconds ago
)

// Fault is one fault to plant over a span of seconds since the recording's start.
type Fault struct {
	Kind FaultKind
	workout.Span
	Factor float64 // of Lock: 1 (also when 0), 2 or 0.5
	Late   int     // of Lag, in s
}

// WristFaults draws the faults of an ordinary wrist sensor over a session of so many seconds: a
// loss of 12-40 s about every 15 min, and in one session of three a lock of 2-4 min. Invented; no
// published prevalence was found.
func WristFaults(seed uint64, seconds int) []Fault {
	rng := rand.New(rand.NewPCG(seed, streamFaults))
	var fs []Fault
	for at := 300 + rng.IntN(900); at < seconds-60; at += 500 + rng.IntN(900) {
		fs = append(fs, Fault{Kind: Dropout, Span: workout.Span{From: at, To: at + 12 + rng.IntN(29)}})
	}
	if rng.IntN(3) == 0 && seconds > 900 {
		at := 300 + rng.IntN(seconds-600)
		fs = append(fs, Fault{Kind: Lock, Span: workout.Span{From: at, To: min(at+120+rng.IntN(121), seconds)}})
	}
	return fs
}

// Noise of the sensors in bpm (standard deviation) and the wrist's smoothing in s. Invented within
// the published spread: best-case wrist sensors have a mean absolute error of at most 3 bpm (Sartor
// et al. 2018).
const (
	strapNoise = 0.4
	wristNoise = 1.5
	wristLag   = 8.0
)

// read turns the true heart rate into what the sensor says each second: NaN is nothing. The second
// result are the faults with the spans they came to lie on.
func read(truth, cadence []float64, m workout.Mode, o Options) ([]float64, []Fault) {
	rng := rand.New(rand.NewPCG(o.Seed, streamSensor+o.Unit))
	out := make([]float64, len(truth))
	noise, keep := strapNoise, 1.0
	if o.Sensor == workout.Wrist {
		noise, keep = wristNoise, 1-math.Exp(-1/wristLag)
	}
	if o.Ideal {
		noise, keep = 0, 1
	}
	var shown float64
	for k, bpm := range truth {
		if k == 0 {
			shown = bpm
		}
		shown += (bpm - shown) * keep
		out[k] = shown
		if noise > 0 {
			out[k] += noise * rng.NormFloat64()
		}
	}
	var planted []Fault
	for _, f := range o.Faults {
		f.From, f.To = max(f.From, 0), min(f.To, len(out))
		if f.Factor == 0 {
			f.Factor = 1
		}
		if f.From >= f.To {
			continue
		}
		if f.Kind == Lag {
			before := slices.Clone(out)
			for k := f.From; k < f.To; k++ {
				out[k] = before[max(k-f.Late, 0)]
			}
		}
		first := out[f.From]
		for k := f.From; k < f.To; k++ {
			out[k] = f.value(out[k], first, steps(cadence[k], m), rng)
		}
		planted = append(planted, f)
	}
	return out, planted
}

// value is the reading of one second under a fault.
func (f Fault) value(bpm, first, steps float64, rng *rand.Rand) float64 {
	switch f.Kind {
	case Dropout:
		return math.NaN()
	case Frozen:
		return first
	case Lock:
		return steps*f.Factor + 0.5*rng.NormFloat64()
	case Zeros:
		return 0
	case Sentinel:
		return 255
	case Doubled:
		return 2 * bpm
	case Halved:
		return bpm / 2
	case DryStart:
		switch u := rng.Float64(); {
		case u < 0.3:
			return math.NaN()
		case u < 0.5:
			return bpm + 30 + 50*rng.Float64()
		}
	}
	return bpm
}

// steps is the rate at which the body shakes: two steps a stride on foot, else the cadence itself.
func steps(cadence float64, m workout.Mode) float64 {
	if m == workout.Run || m == workout.Walk || m == workout.OtherMode {
		return 2 * cadence
	}
	return cadence
}

// cadence is the usual strides, revolutions or strokes per minute at a load; 0 at rest. Invented.
func cadence(m workout.Mode, load float64) float64 {
	if load <= 0 {
		return 0
	}
	switch m {
	case workout.Bike:
		return 72 + load/12
	case workout.Row:
		return 18 + load/25
	case workout.Swim:
		return 26
	case workout.Run:
		return 72 + 3.5*load
	}
	return 34 + 15*load
}
