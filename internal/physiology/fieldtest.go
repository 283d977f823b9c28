package physiology

import (
	"fmt"
	"math"

	"nextrung/internal/workout"
)

// FieldTest is what a first assessment in the field tells: figures with their errors, and all that
// contradicts the protocol. It adds to history, screening and talk, and never decides alone.
type FieldTest struct {
	Protocol string `json:"protocol"` // "step-test", "walk-test" or "talk-test"
	Enough   bool   `json:"assessable"`
	Why      string `json:"why"` // what was missing, as a clause; "" when assessable
	// Figures holds the result first, then what it was computed from.
	Figures []Figure `json:"figures"`
	// Rating is a class of the test's norms; "" without a confirmed one. Norms says which or why not.
	Rating   string           `json:"rating"`
	Norms    string           `json:"norms"`
	Remarks  []workout.Remark `json:"remarks"`
	Cautions []string         `json:"cautions"`
}

// Figure is one number of a field test. Low and High are nil where no error is known.
type Figure struct {
	Name  string   `json:"name"`
	Value float64  `json:"value"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
	Unit  string   `json:"unit"`
	Error string   `json:"error"` // what low and high are, and where they come from
}

func newFieldTest(protocol string, cautions ...string) FieldTest {
	return FieldTest{Protocol: protocol, Figures: []Figure{}, Remarks: []workout.Remark{}, Cautions: cautions}
}

func (t *FieldTest) remark(code, format string, args ...any) {
	t.Remarks = append(t.Remarks, workout.Remark{Code: code, Text: fmt.Sprintf(format, args...)})
}

// lacks makes t not assessable; the first reason stands.
func (t *FieldTest) lacks(format string, args ...any) {
	if t.Why == "" {
		t.Why = fmt.Sprintf(format, args...)
	}
}

// person says what is odd about age and mass, and what makes the heart rate useless.
func (t *FieldTest) person(b Body, massKG float64) {
	if b.Slowed {
		t.remark("slowed", "a medicine slows the heart, so this heart rate says nothing of fitness: go by effort and talk")
	}
	if massKG > 150 || massKG > 0 && massKG < 35 {
		t.remark("mass-odd", "a mass of %.0f kg is unusual: were pounds typed as kilograms, or the other way round", massKG)
	}
}

// plusMinus is a figure with its standard error on both sides.
func plusMinus(name string, v, see float64, unit, basis string) Figure {
	return Figure{Name: name, Value: v, Low: some(v-see, true), High: some(v+see, true), Unit: unit, Error: basis}
}

// movements gives the stretches of effort: at least half of its mean, parted by stand seconds and more
// of less. Seconds of which nothing is known part nothing.
func movements(v []float64, stand int) []workout.Span {
	var out []workout.Span
	limit, still := fallen*levelOf(positive(v)), stand
	for k := range v {
		switch {
		case math.IsNaN(v[k]):
		case v[k] < limit || levelOf(v[max(0, k-sustained+1):k+1]) < limit && levelOf(v[k:min(k+sustained, len(v))]) < limit:
			still++
		case still >= stand:
			out, still = append(out, workout.Span{From: k, To: k + 1}), 0
		default:
			out[len(out)-1].To, still = k+1, 0
		}
	}
	return out
}

// nearest is the span whose measure is nearest to what the protocol asks for, false without any.
func nearest(spans []workout.Span, want float64, measure func(workout.Span) float64) (workout.Span, bool) {
	best, least := workout.Span{}, math.Inf(1)
	for _, s := range spans {
		if d := math.Abs(measure(s) - want); d < least {
			best, least = s, d
		}
	}
	return best, !math.IsInf(least, 1)
}
