// Package fieldtest reads field tests: the three-minute step test, the one-mile walk and
// the talk test, typed in or recorded. Each gives figures with their errors and says where the protocol was
// not kept. They add to history, screening and talk; none decides alone.
//
// Units: seconds, bpm, beats, metres, kilograms. Pure: no clock, no disk.
package fieldtest

import (
	"math"

	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// Result is what a field test shows: figures with their errors, and all that contradicts the protocol. What
// is said of it in words stands beside the facts in JSON alone, and is empty here.
type Result struct {
	Protocol string `json:"protocol"` // "step-test", "walk-test" or "talk-test"
	Enough   bool   `json:"assessable"`
	// Why says what was missing, none when assessable; Clause is that in words.
	Clause string        `json:"why"`
	Why    workout.Facts `json:"why_facts,omitempty"`
	// Figures holds the result first, then what it was computed from.
	Figures []Figure `json:"figures"`
	// Classes are those of the test's norms between which the result lies: none without a confirmed one.
	// Classed is by which norms, or why not. Rating and Norms are that in words.
	Rating   string         `json:"rating"`
	Classes  []Class        `json:"classes,omitempty"`
	Norms    string         `json:"norms"`
	Classed  workout.Code   `json:"norms_code,omitempty"`
	Remarks  []workout.Fact `json:"remarks"`
	Cautions []string       `json:"cautions"` // of the protocol, in words
}

// Figure is one number of a field test. Low and High are nil where no error is known.
type Figure struct {
	Code  workout.Code  `json:"code"`
	Name  string        `json:"name"` // the code in words
	Value float64       `json:"value"`
	Low   *float64      `json:"low"`
	High  *float64      `json:"high"`
	Unit  string        `json:"unit"`
	By    physiology.By `json:"by,omitempty"` // how the stop was found, where the error comes from that
	Error string        `json:"error"`        // what low and high are, and where they come from, in words
}

func newResult(protocol string) Result {
	return Result{Protocol: protocol, Figures: []Figure{}, Remarks: []workout.Fact{}}
}

func (t *Result) remark(code workout.Code, args workout.Args) {
	t.Remarks = append(t.Remarks, workout.Say(code, args))
}

// lacks makes t not assessable; the first reason is kept.
func (t *Result) lacks(why workout.Facts) {
	if len(t.Why) == 0 {
		t.Why = why
	}
}

// because gives one reason why a test is not assessable.
func because(code workout.Code, args workout.Args) workout.Facts {
	return workout.Facts{workout.Say(code, args)}
}

// The masses in kg outside which a typed mass is questioned (common practice, no source).
const lightest, heaviest = 35, 150

// person says what is odd about the mass, and what makes the heart rate useless.
func (t *Result) person(b physiology.Body, massKG float64) {
	if b.Slowed {
		t.remark(Slowed, workout.Args{"protocol": t.Protocol})
	}
	if massKG > heaviest || massKG > 0 && massKG < lightest {
		t.remark(MassOdd, workout.Args{"kg": massKG})
	}
}

// PerKG is the unit of an uptake of oxygen for each kg.
const PerKG = "mL/kg/min"

// plusMinus is a figure with its standard error on both sides.
func plusMinus(code workout.Code, v, see float64, unit string) Figure {
	return Figure{Code: code, Value: v, Low: new(v - see), High: new(v + see), Unit: unit}
}

// nearest is the span whose measure is nearest to the protocol; false if there is none.
func nearest(spans []workout.Span, want float64, measure func(workout.Span) float64) (workout.Span, bool) {
	best, least := workout.Span{}, math.Inf(1)
	for _, s := range spans {
		if d := math.Abs(measure(s) - want); d < least {
			best, least = s, d
		}
	}
	return best, !math.IsInf(least, 1)
}
