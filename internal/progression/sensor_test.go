package progression_test

import (
	"math"
	"strings"
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
)

// doubting makes the sensor of some sessions doubtful, with so much of their main parts below the top of zone 1
// in percent; what cannot be measured on is not usable either.
func doubting(usable bool, below int, sessions ...int) func(*record.Record) {
	return func(r *record.Record) {
		for _, i := range sessions {
			m := &r.Recordings[i].Measured
			m.HeartRate.Usable, m.HeartRate.Doubtful = usable, true
			for bpm := range m.Main.PerBPM {
				m.Main.PerBPM[bpm] = 0
			}
			m.Main.PerBPM[130-30], m.Main.PerBPM[150-30] = 10*below, 10*(100-below)
			m.Drift.Enough, m.Drift.Slope = false, 0
		}
	}
}

// What a sensor says against the client comes after whether it can be trusted.
func TestSensorDoubtedBeforeTheClient(t *testing.T) {
	first := func(a record.Assessment) string {
		if len(a.Summary) < 2 || a.Summary[1].Code != progression.SensorDoubted {
			return ""
		}
		return reasons.Text(a.Summary[1])
	}
	for _, c := range []struct {
		name string
		s    *story.Story
		want string
	}{
		{"all leap", twoRules(0, 0).Then(doubting(false, 20, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)),
			"The sensor could not be trusted in all 12 recordings of the last 28 days."},
		{"half leap", twoRules(0, 0).Then(doubting(false, 20, 0, 2, 4, 6, 8, 10)),
			"The sensor could not be trusted in 6 of 12 recordings of the last 28 days."},
		{"half are counted, though doubtful", twoRules(0, 0).Then(doubting(true, 20, 0, 2, 4, 6, 8, 10)),
			"The sensor could not be trusted in 6 of 12 recordings of the last 28 days."},
		{"one of twelve", twoRules(0, 0).Then(doubting(false, 20, 4)), ""},
		{"none", twoRules(0, 0), ""},
		{"with a move up too", twoRules(0, 0).Then(doubting(false, 20, 0, 1, 2)),
			"The sensor could not be trusted in 3 of 12 recordings of the last 28 days."},
		{"heart rate does not lead", twoRules(0, 0).Who(story.Slowed(story.Day(0))).Then(doubting(false, 20, 0, 2, 4, 6, 8, 10)), ""},
	} {
		a := assess(c.s)
		if got := first(a); got != c.want {
			t.Errorf("%s: %s says %q first, want %q", c.name, story.Verdict(a), got, c.want)
		}
		asked := false
		for _, l := range a.Lacking {
			asked = asked || l.Says.Code == progression.SensorDoubted && strings.Contains(reasons.Text(l.Needed), "strap")
		}
		if asked != (c.want != "") {
			t.Errorf("%s: asks for a better sensor %v", c.name, asked)
		}
	}
}

// Sessions that cannot be measured on say nothing about zone 1, whatever they show.
func TestSensorDoubtedIsNoEvidence(t *testing.T) {
	a := assess(twoRules(0, 0).Then(doubting(false, 0, 0, 1, 2, 3)))
	if r, _ := story.Reason(a, "zone"); r.Observed == nil || math.Abs(*r.Observed-95) > 1e-9 || len(r.Points) != 8 || story.Verdict(a) != record.Advance {
		t.Errorf("%s: %+v", story.Verdict(a), r)
	}
	a = assess(twoRules(0, 0).Then(doubting(false, 0, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11)))
	if r, _ := story.Reason(a, "zone"); r.Met != nil || story.Verdict(a) == record.Advance {
		t.Errorf("%s without one trusted recording: %+v", story.Verdict(a), r)
	}
}

// TestDoubtfulSensorsAreDrawn compares the share of repetitions with the exact one: each of four doubtful
// sessions is in or out with 1/2, then as many are drawn with replacement as there are, and the share of them
// below zone 1 has to be 80 % or more for a move: sums of binomial probabilities.
func TestDoubtfulSensorsAreDrawn(t *testing.T) {
	binomial := func(n, k int, p float64) float64 {
		c := 1.0
		for i := range k {
			c *= float64(n-i) / float64(i+1)
		}
		return c * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
	}
	advance := 0.0
	for k := range 5 {
		n := 8 + k
		for bad := range n + 1 {
			if 95*float64(n-bad)/float64(n) >= 80 {
				advance += binomial(4, k, 0.5) * binomial(n, bad, float64(k)/float64(n))
			}
		}
	}
	for _, usable := range []bool{true, false} {
		s := twoRules(0, 0).Then(doubting(usable, 0, 0, 1, 2, 3))
		want, verdict := 1-advance, record.NotAssessable // zone 1 is not kept, the other rules lack data
		if !usable {
			want, verdict = advance, record.Advance
		}
		a := progression.AssessOften(defaults, s.Last(), s.Record())
		if r := a.Robustness; story.Verdict(a) != verdict || math.Abs(r.SameVerdict-want) > 0.08 || r.DependsOn != progression.OnSensors {
			t.Errorf("usable %v: %s, %+v, want %s in %.3f of the repetitions", usable, story.Verdict(a), r, verdict, want)
		}
	}
}

// A doubtful sensor suggests no higher zone: the four sessions that do so with a sound one are left out.
func TestDoubtfulSensorMovesNoZone(t *testing.T) {
	s := easyAbove(6)
	if len(progression.HigherTops(s.Record(), s.Last())) == 0 {
		t.Fatal("nothing is suggested with a sound sensor")
	}
	s.Then(func(r *record.Record) {
		for i := range r.Recordings {
			r.Recordings[i].Measured.HeartRate.Doubtful = true
		}
	})
	if got := progression.HigherTops(s.Record(), s.Last()); len(got) != 0 {
		t.Errorf("%d suggested with a doubtful sensor", len(got))
	}
}
