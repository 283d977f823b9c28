package progression

import (
	"math"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"testing"
)

// TestVerdictOrder is the decision table: refer > step back > ease > screening not answered > hold >
// not assessable > advance. Each row has everything of the rows below it as well.
func TestVerdictOrder(t *testing.T) {
	all := circumstances{
		stage: 2, refer: true, stepBack: true, doubt: true, unanswered: true, ease: true, unscreened: true, returning: true, unmet: true, staying: true,
		lacking: true, stale: true,
	}
	rows := []struct {
		name string
		drop func(*circumstances)
		want record.Verdict
	}{
		{"everything", func(*circumstances) {}, record.Refer},
		{"nobody to see", func(c *circumstances) { c.refer = false }, record.NotAssessable},
		{"asked about the sign", func(c *circumstances) { c.doubt = false }, record.StepBack},
		{"no step back", func(c *circumstances) { c.stepBack = false }, record.Ease},
		{"not tired", func(c *circumstances) { c.ease = false }, record.NotAssessable},
		{"screened", func(c *circumstances) { c.unscreened = false }, record.Hold},
		{"asked about the rest", func(c *circumstances) { c.unanswered = false }, record.Hold},
		{"no return", func(c *circumstances) { c.returning = false }, record.Hold},
		{"nothing unmet", func(c *circumstances) { c.unmet = false }, record.Hold},
		{"may move", func(c *circumstances) { c.staying = false }, record.NotAssessable},
		{"all data there", func(c *circumstances) { c.lacking = false }, record.Refer},
		{"cleared for vigorous work", func(c *circumstances) { c.stale = false }, record.Advance},
	}
	c := all
	for _, row := range rows {
		row.drop(&c)
		if got := c.conclude(); got != row.want {
			t.Errorf("%s: %s, want %s", row.name, got, row.want)
		}
	}
}

// TestVerdictTable goes through every combination and holds the promises that each one must keep.
func TestVerdictTable(t *testing.T) {
	for bits := range 1 << 11 {
		for stage := 1; stage <= 3; stage++ {
			on := func(i int) bool { return bits>>i&1 == 1 }
			c := circumstances{
				stage: stage, refer: on(0), stepBack: on(1), ease: on(2), unscreened: on(3), returning: on(4), unmet: on(5), lacking: on(6),
				staying: on(7) || stage == 3, stale: on(8), doubt: on(9), unanswered: on(10),
			}
			switch got := c.conclude(); {
			case c.refer && got != record.Refer:
				t.Errorf("%+v: %s instead of a doctor", c, got)
			case c.doubt && got != record.Refer && got != record.NotAssessable:
				t.Errorf("%+v: %s before somebody has asked about a grave sign", c, got)
			case got == record.Advance && (c.refer || c.doubt || c.unanswered || c.stepBack || c.ease || c.unscreened || c.returning || c.unmet || c.lacking || c.staying || c.stale):
				t.Errorf("%+v: advances against a rule", c)
			case got == record.StepBack && stage == 1:
				t.Errorf("%+v: steps back from stage 1", c)
			case got == record.Advance && stage == 3:
				t.Errorf("%+v: advances from the last stage", c)
			case got == record.NotAssessable && !c.unscreened && !c.doubt && (c.unanswered || c.unmet || c.returning):
				t.Errorf("%+v: not assessable although something is against", c)
			}
		}
	}
}

// TestEvidence is the table of "2 of 4", and of "none against" where none have to be met: met counts, against and untold.
func TestEvidence(t *testing.T) {
	yes, no := true, false
	kinds := map[byte]finding{
		'm': {Reason: record.Reason{Met: &yes}}, 'n': {Reason: record.Reason{Met: &no}}, 'a': {Reason: record.Reason{Met: &no}, against: true}, '?': {},
	}
	for needed, table := range map[float64]map[string]string{
		2: {
			"mmmm": "met", "mmm?": "met", "mm??": "met", "mmnn": "met", "mm?n": "met",
			"mmma": "unmet", "mm?a": "unmet", "m??a": "unmet", "????": "untold", "m???": "untold", "m??n": "untold", "??nn": "untold",
			"m?nn": "untold", "mnnn": "unmet", "?nnn": "unmet", "nnnn": "unmet", "aaaa": "unmet", "???a": "unmet",
		},
		0: {"mmmm": "met", "????": "met", "?nnn": "met", "nnnn": "met", "mmma": "unmet", "???a": "unmet", "aaaa": "unmet"},
	} {
		p := policy.Default()
		for i := range p.Rules {
			if p.Rules[i].ID == policy.EnoughEvidence {
				p.Rules[i].Threshold = &needed
			}
		}
		v := NewReview(p, 0, record.Record{Client: record.Client{Stage: 1}})
		for rules, want := range table {
			var all []finding
			for i := range rules {
				all = append(all, kinds[rules[i]])
			}
			got := "untold"
			if f := v.evidence(all); f.IsMet() {
				got = "met"
			} else if f.IsUnmet() {
				got = "unmet"
			}
			if got != want {
				t.Errorf("%g needed: %s is %s, want %s", needed, rules, got, want)
			}
		}
	}
}

// TestReached: the value that k weeks reach.
func TestReached(t *testing.T) {
	for _, c := range []struct {
		weeks []float64
		k     int
		want  float64
	}{
		{[]float64{3, 1, 2, 5, 4}, 4, 2},
		{[]float64{3, 1}, 4, 1},
		{[]float64{2, 2, 2, 2}, 4, 2},
	} {
		if got := reached(c.weeks, c.k); got != c.want {
			t.Errorf("%v: %d weeks reach %v, want %v", c.weeks, c.k, got, c.want)
		}
	}
}

// TestWilson holds the interval against R 4: prop.test(4, 5, conf.level = 0.9, correct = FALSE)
// gives 0.4352926 to 0.9540375.
func TestWilson(t *testing.T) {
	low, high := wilson(4, 5)
	if math.Abs(low-0.4352926) > 1e-4 || math.Abs(high-0.9540375) > 1e-4 {
		t.Errorf("%v to %v", low, high)
	}
	if low, high := wilson(10, 10); low >= 1 || high != 1 {
		t.Errorf("all of ten: %v to %v", low, high)
	}
}

func TestUrgencyOrdersEveryVerdict(t *testing.T) {
	order := []record.Verdict{record.Refer, record.StepBack, record.Ease, record.Advance, record.NotAssessable, record.Hold}
	for i, v := range order {
		if v.Urgency() != i {
			t.Errorf("%s has urgency %d, want %d", v, v.Urgency(), i)
		}
	}
}
