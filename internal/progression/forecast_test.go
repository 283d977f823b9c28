package progression_test

import (
	"math"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// judgedBy is the policy of the stories in which one rule alone says whether a move would be too hard, and the heart rate
// only keeps from one.
func judgedBy(id policy.ID) policy.Policy {
	p := story.Policy()
	for i := range p.Rules {
		switch r := &p.Rules[i]; r.ID {
		case policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast, policy.LongerBouts:
			r.On = new(r.ID == id)
		case policy.EnoughEvidence:
			r.Threshold = new(0.0)
		}
	}
	return p
}

// by assesses a story with one rule on effort alone.
func by(id policy.ID, s *story.Story) record.Assessment {
	return progression.Assess(judgedBy(id), s.Last(), s.Record())
}

// rested gives the client a resting heart rate, so that zones follow from the reserve.
func rested(c *record.Client) { c.Zones[0].HRRest = 65 }

// uneasyUntil lets talk be hard in the first sessions, at an effort of 11.
func uneasyUntil(n int) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		if d.Rpe = story.RPE20(11); i < n {
			d.Talk = record.TalkHard
		}
	}
}

func forecastCases() []ruleCase {
	comfortable := record.TalkComfortable
	once := func(e *workout.RPE, talk record.Talk) func(int, *story.Done) {
		return func(i int, d *story.Done) {
			if i == 9 {
				d.Rpe, d.Talk = e, talk
			}
		}
	}
	return []ruleCase{
		{"forecast", "11 and comfortable", story.Ferry(4).Each(story.Feeling(story.RPE20(11), comfortable)), "met"},
		{"forecast", "15 and hard", story.Ferry(4).Each(story.Feeling(story.RPE20(15), record.TalkHard)), "unmet"},
		{"forecast", "2 on the other scale", story.Ferry(4).Each(story.Feeling(story.RPE10(2), comfortable)), "met"},
		{"forecast", "6 on the other scale", story.Ferry(4).Each(story.Feeling(story.RPE10(6), record.TalkHard)), "unmet"},
		{"forecast", "one odd answer among twelve", story.Ferry(4).Each(story.Feeling(story.RPE20(11), comfortable)).Each(once(story.RPE20(17), record.TalkHard)), "met"},
		{"forecast", "three answers", story.Ferry(4).Each(story.Feeling(story.RPE20(11), comfortable)).Each(story.Only(9, 12)), "met"},
		{"forecast", "two answers", story.Ferry(4).Each(story.Feeling(story.RPE20(11), comfortable)).Each(story.Only(10, 12)), "untold"},
		{"forecast", "two answers, both far too hard", story.Ferry(4).Each(story.Feeling(story.RPE20(18), record.TalkNo)).Each(story.Only(10, 12)), "unmet"},
		{"forecast", "talk alone", story.Ferry(4).Each(story.Feeling(nil, comfortable)), "untold"},
		{"forecast", "not asked", story.Ferry(4).Each(story.Only(0, 0)), "untold"},
		{"forecast", "answers before a change of dose", story.Ferry(4).Each(story.Feeling(story.RPE20(11), comfortable)).Who(func(c *record.Client) { c.DoseChange = story.Day(25) }), "untold"},
		{"forecast", "talking was hard in 4 of 12", story.Ferry(4).Each(uneasyUntil(4)), "met"},
		{"forecast", "talking was hard in 5 of 12", story.Ferry(4).Each(uneasyUntil(5)), "unmet"},
		{"forecast", "no time for two bouts", story.Ferry(4).Who(func(c *record.Client) { c.Minutes = 10 }), "untold"},
		{"forecast", "bouts at 12", story.Intervals(4).Each(story.Feeling(story.RPE20(12), "")).Who(rested), "met"},
		{"forecast", "bouts at 18", story.Intervals(4).Each(story.Feeling(story.RPE20(18), "")).Who(rested), "unmet"},
		{"forecast", "one answer about bouts", story.Intervals(4).Each(story.Feeling(story.RPE20(12), "")).Each(func(i int, d *story.Done) {
			if d.Bouts > 0 && i != 11 {
				d.Rpe = nil
			}
		}), "untold"},

		{"usual-effort", "at 13.5", story.Ferry(4).Each(func(i int, d *story.Done) { d.Rpe = story.RPE20(float64(13 + i%2)) }), "met"},
		{"usual-effort", "just above", story.Ferry(4).Each(func(i int, d *story.Done) { d.Rpe = story.RPE20(float64(14 - i/11)) }), "unmet"},
		{"usual-effort", "5 on the other scale", story.Ferry(4).Each(story.Feeling(story.RPE10(5), comfortable)), "unmet"},
		{"usual-effort", "one odd answer among twelve", story.Ferry(4).Each(once(story.RPE20(18), record.TalkHard)), "met"},
		{"usual-effort", "no talk once", story.Ferry(4).Each(once(story.RPE20(12), record.TalkNo)), "unmet"},
		{"usual-effort", "hard talk in a third", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i%3 == 0 {
				d.Talk = record.TalkHard
			}
		}), "met"},
		{"usual-effort", "hard talk in half", story.Ferry(4).Each(func(i int, d *story.Done) {
			if i%2 == 0 {
				d.Talk = record.TalkHard
			}
		}), "unmet"},
		{"usual-effort", "two answers", story.Ferry(4).Each(story.Only(10, 12)), "untold"},
		{"usual-effort", "bouts at 14", story.Intervals(4).Each(story.Feeling(story.RPE20(14), "")), "met"},
		{"usual-effort", "bouts at 15", story.Intervals(4).Each(story.Feeling(story.RPE20(15), "")), "unmet"},
	}
}

// TestForecastAtItsThreshold: as sure as needed is enough, a hundredth of a percent less is not.
func TestForecastAtItsThreshold(t *testing.T) {
	for stage, s := range map[int]*story.Story{1: story.Ferry(4), 2: story.Intervals(4).Each(story.Feeling(story.RPE20(13), "")).Who(rested)} {
		r, _ := story.Reason(by(policy.Forecast, s), policy.Forecast)
		if r.Observed == nil || *r.Observed < 1 || *r.Observed > 99.99 {
			t.Fatalf("stage %d: %v", stage, value(r.Observed))
		}
		for more, want := range map[float64]string{-0.01: "met", 0: "met", 0.01: "unmet"} {
			p := judgedBy(policy.Forecast)
			for i := range p.Rules {
				if x := &p.Rules[i]; x.ID == policy.Forecast {
					x.Threshold = new(*r.Observed + more)
					x.More["stage_2"] = *r.Observed + more
				}
			}
			if got, _ := story.Reason(progression.Assess(p, s.Last(), s.Record()), policy.Forecast); story.Met(got) != want {
				t.Errorf("stage %d, needed %+g: %s, want %s", stage, more, story.Met(got), want)
			}
		}
	}
}

// TestScalesAreHeldAgainstTheirOwn: 12 on one scale says as much as 3 on the other.
func TestScalesAreHeldAgainstTheirOwn(t *testing.T) {
	one, _ := story.Reason(by(policy.Forecast, story.Ferry(4).Each(story.Feeling(story.RPE20(12), record.TalkComfortable))), policy.Forecast)
	other, _ := story.Reason(by(policy.Forecast, story.Ferry(4).Each(story.Feeling(story.RPE10(3), record.TalkComfortable))), policy.Forecast)
	if math.Abs(*one.Observed-*other.Observed) > 1e-9 {
		t.Errorf("%.3f and %.3f", *one.Observed, *other.Observed)
	}
}

// TestRosyAnswersAreHeldByTheHeart: who calls everything very light is believed, but not against a heart rate far above
// zone 1.
func TestRosyAnswersAreHeldByTheHeart(t *testing.T) {
	rosy := func() *story.Story { return story.Ferry(4).Each(story.Feeling(story.RPE20(8), record.TalkComfortable)) }
	if got := story.Verdict(by(policy.Forecast, rosy())); got != record.Advance {
		t.Errorf("rosy, and below the top of zone 1: %s", got)
	}
	a := by(policy.Forecast, rosy().Each(func(_ int, d *story.Done) { d.Below = 40 }))
	if r, _ := story.Reason(a, policy.Forecast); story.Met(r) != "met" || story.Verdict(a) != record.Hold {
		t.Errorf("rosy, and 40 %% below the top of zone 1: forecast %s, verdict %s", story.Met(r), story.Verdict(a))
	}
}

// TestWithoutBeatsSingleAnswersDecide: where a medicine slows the heart, effort and talk decide as ever, and nothing is
// forecast from beats.
func TestWithoutBeatsSingleAnswersDecide(t *testing.T) {
	a := by(policy.Forecast, story.Ferry(4).Who(story.Slowed(story.Began-10)))
	if _, ok := story.Reason(a, policy.Forecast); ok {
		t.Error("a session is forecast from beats")
	}
	if r, ok := story.Reason(a, policy.Effort); !ok || r.Kind != policy.Required || story.Verdict(a) != record.Advance {
		t.Errorf("effort: %v %s, verdict %s", ok, r.Kind, story.Verdict(a))
	}
	a = by(policy.Forecast, story.Ferry(4).Who(story.Slowed(story.Began-10)).Each(from(11, story.RPE20(15))))
	if story.Verdict(a) != record.Hold {
		t.Errorf("one 15: %s", story.Verdict(a))
	}
}

// TestMissingHeartRateStopsNobody: with the forecast, heart-rate rules keep from a move only by what they show.
func TestMissingHeartRateStopsNobody(t *testing.T) {
	a := by(policy.Forecast, story.Ferry(4).Each(func(_ int, d *story.Done) { d.NoHeart = true }))
	if got := story.Verdict(a); got != record.Advance {
		t.Errorf("no heart rate at all: %s", got)
	}
	if got := story.Verdict(by(policy.Forecast, story.Ferry(4).Each(story.Drifts(9, 9, 9)))); got != record.Hold {
		t.Errorf("drifts beyond doubt: %s", got)
	}
}

// TestSingleAnswersAreStillShown: the rule that no longer decides stays among the reasons, as informative.
func TestSingleAnswersAreStillShown(t *testing.T) {
	a := by(policy.Forecast, story.Ferry(4).Each(from(11, story.RPE20(15))))
	if r, ok := story.Reason(a, policy.Effort); !ok || r.Kind != policy.Informative || story.Met(r) != "unmet" || story.Verdict(a) != record.Advance {
		t.Errorf("%v %s %s, verdict %s", ok, r.Kind, story.Met(r), story.Verdict(a))
	}
}

// TestTwoModes: the mode in which the next session would be harder decides, so that one more can only lower the forecast.
func TestTwoModes(t *testing.T) {
	sure := func(modes ...workout.Mode) float64 {
		r, _ := story.Reason(by(policy.Forecast, story.Ferry(4).Who(story.Modes(modes...)).Who(rested)), policy.Forecast)
		return *r.Observed
	}
	if run, both := sure(workout.Run), sure(workout.Run, workout.Bike); both > run {
		t.Errorf("running %.2f, running and cycling %.2f", run, both)
	}
}
