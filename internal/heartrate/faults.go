package heartrate

import (
	"cmp"
	"maps"
	"slices"

	"nextrung/internal/workout"
)

// FaultKind is a way in which a heart-rate sensor fails.
type FaultKind string

// The faults. The readings of all but the last six are removed from the series, since they would
// put seconds into wrong zones.
const (
	Marker      FaultKind = "marker"      // 0 or 255, the marks of "no value", leaked out as readings
	Implausible FaultKind = "implausible" // outside Lowest to Highest
	Spike       FaultKind = "spike"       // a single value or a short run far from the rest
	Doubled     FaultKind = "doubled"     // twice the heart rate
	Halved      FaultKind = "halved"      // half of it
	Lock        FaultKind = "lock"        // the step, pedal or stroke rate or a multiple of it
	Frozen      FaultKind = "frozen"      // one value over and over
	DryStart    FaultKind = "dry-start"   // spikes and losses until a dry strap makes contact
	Dropout     FaultKind = "dropout"     // no reading where one was due
	Restless    FaultKind = "restless"    // a start that wavers as with a dry strap, at a believable level
	EvenLeap    FaultKind = "even-leap"   // a leap that the load does not explain, until the leap back
	Lag         FaultKind = "lag"         // the sensor follows the heart late
	Disagree    FaultKind = "disagree"    // two sources of one workout differ
)

// Fault is one fault that was found. Its span is that of the readings concerned, each standing until
// the next one.
type Fault struct {
	Kind FaultKind `json:"kind"`
	workout.Span
	// Args are what was found of it: of Restless "minutes", of EvenLeap "bpm", of Lag "delay" in s, of Disagree "apart" in bpm.
	Args workout.Args `json:"args,omitempty"`
	// Text is the clause: in JSON for people, and alone in books of an earlier version.
	Text string `json:"text,omitempty"`
}

// Says is what the fault is, without when.
func (f Fault) Says() workout.Fact {
	return workout.Fact{Code: workout.Code(f.Kind), Args: f.Args, Text: f.Text}
}

// remark is what the fault is, with when: "seconds" and "at", or "seconds" and how many more "times".
func (f Fault) remark(when workout.Args) workout.Fact {
	maps.Copy(when, f.Args)
	return workout.Say(workout.Code(f.Kind), when)
}

// mark says of a reading which fault it shows; 0 for none.
type mark uint8

const (
	good mark = iota
	isMarker
	isImplausible
	isSpike
	isDoubled
	isHalved
	isLocked
	isFrozen
	isDry
)

var markKinds = [...]FaultKind{"", Marker, Implausible, Spike, Doubled, Halved, Lock, Frozen, DryStart}

// longestHold is how many seconds a reading stands for in the span of a fault (common practice, no source: as
// long as a gap that is bridged in sparse recordings).
const longestHold = 30

// mostSpikes is how many spikes of a recording are listed, the first ones; all of their seconds are counted as rejected.
const mostSpikes = 500

// faultsOf turns the marks of readings into faults: runs of neighbouring readings with one mark.
func faultsOf(at []int, marks []mark) []Fault {
	var out []Fault
	spikes := 0
	for i := 0; i < len(at); {
		m := marks[at[i]]
		j := i + 1
		if m == good {
			i = j
			continue
		}
		for j < len(at) && marks[at[j]] == m && at[j]-at[j-1] <= longestHold {
			j++
		}
		to := at[j-1] + 1
		if j < len(at) && at[j]-at[j-1] <= longestHold {
			to = at[j]
		}
		if m == isSpike {
			spikes++
		}
		if m != isSpike || spikes <= mostSpikes {
			out = append(out, Fault{Kind: markKinds[m], Span: workout.Span{From: at[i], To: to}})
		}
		i = j
	}
	return out
}

// How long a silence must be to count as a dropout (common practice, no source).
const (
	dropoutLeast = 3 // s
	dropoutSteps = 3 // usual steps between readings
)

// dropouts are the silences of the sensor outside pauses that are longer than 3 s and than three usual
// steps (at most ten seconds each). The usual step is the one that nine of ten readings stay within, since
// devices that save memory write at uneven steps.
func dropouts(at []int, paused func(k int) bool, n int) []Fault {
	if len(at) == 0 {
		return nil
	}
	var out []Fault
	most := max(dropoutLeast, dropoutSteps*min(stepCap, stepAt(at, 0.9)))
	look := func(from, to int) {
		if to-from <= most {
			return
		}
		for k := from; k < to; {
			for k < to && paused(k) {
				k++
			}
			run := k
			for k < to && !paused(k) {
				k++
			}
			if k-run > most {
				out = append(out, Fault{Kind: Dropout, Span: workout.Span{From: run, To: k}})
			}
		}
	}
	last := -1
	for _, k := range at {
		look(last+1, k)
		last = k
	}
	look(last+1, n)
	return out
}

// stepAt is the step between the seconds listed in at that a share of all steps does not exceed, at most 60 s;
// 0 for none.
func stepAt(at []int, share float64) int {
	if len(at) < 2 {
		return 0
	}
	var count [61]int
	for i := 1; i < len(at); i++ {
		count[min(at[i]-at[i-1], 60)]++
	}
	rest := int(share * float64(len(at)-2))
	for d, c := range count {
		if rest -= c; rest < 0 {
			return d
		}
	}
	return 60
}

// inOrder sorts faults by their beginning.
func inOrder(fs []Fault) []Fault {
	slices.SortStableFunc(fs, func(a, b Fault) int { return cmp.Or(a.From-b.From, a.To-b.To) })
	return fs
}

// faultRemarks names the faults that a trainer must know about; dropouts, spikes and leaked markers have
// remarks of their own.
func faultRemarks(fs []Fault) []workout.Fact {
	var out []workout.Fact
	told := map[FaultKind]int{}
	seconds := map[FaultKind]int{}
	for _, f := range fs {
		switch f.Kind {
		case Doubled, Halved, Lock, Frozen, DryStart, EvenLeap, Lag, Disagree:
		default:
			continue
		}
		if f.Seconds() < toldFrom {
			continue
		}
		if told[f.Kind]++; told[f.Kind] <= toldSingly {
			out = append(out, f.remark(workout.Args{"seconds": f.Seconds(), "at": f.From}))
		} else {
			seconds[f.Kind] += f.Seconds()
		}
	}
	for _, kind := range []FaultKind{Doubled, Halved, Lock, Frozen, DryStart, EvenLeap, Lag, Disagree} {
		if n := told[kind] - toldSingly; n > 0 {
			out = append(out, Fault{Kind: kind}.remark(workout.Args{"times": n, "seconds": seconds[kind]}))
		}
	}
	return out
}

// toldFrom is the length in seconds from which a doubling and the like is worth a remark (common practice, no
// source).
const toldFrom = 10
