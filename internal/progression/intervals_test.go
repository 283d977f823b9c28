package progression_test

import (
	"encoding/json"
	"testing"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// ofFive makes the prescribed sets five bouts of 60 s and the done ones what a test says.
func ofFive(done1 int, length int) func(*story.Story) *story.Story {
	return func(s *story.Story) *story.Story {
		return s.Each(func(_ int, d *story.Done) {
			if d.Bouts > 0 {
				d.Bouts, d.Bout = done1, length
			}
		}).Then(func(r *record.Record) {
			for i := range r.Prescriptions {
				r.Prescriptions[i].Intervals.Bouts, r.Prescriptions[i].Intervals.Work = 5, 60
			}
		})
	}
}

// creeping sets the rise over the bouts of the last three interval sessions.
func creeping(last ...float64) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		if at := map[int]int{8: 0, 9: 1, 11: 2}; d.Bouts > 0 && i >= 8 {
			d.Creep = last[at[i]]
		}
	}
}

// staying lets the heart rate stay up after some bouts in the last five interval sessions, 15
// recoveries; the sessions before show nothing.
func staying(bouts int) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		if d.Bouts == 0 {
			return
		}
		if i < 5 {
			d.Sensor = workout.Wrist
			return
		}
		d.Stays = min(3, bouts)
		bouts -= d.Stays
	}
}

func intervalCases() []ruleCase {
	return []ruleCase{
		// Bouts of 2 min stand in the last two weeks, sessions 6, 8, 9 and 11.
		{"longer-bouts", "two of 2 min", story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i == 6 || i == 9 }), "met"},
		{"longer-bouts", "one of 2 min", story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i >= 6 && i < 11 }), "unmet"},
		{"longer-bouts", "two of 2 min, one of them broken off", story.Intervals(4).Each(func(i int, d *story.Done) {
			if d.Skip = i == 6 || i == 9; i == 11 {
				d.Bouts = 2
			}
		}), "unmet"},
		{"longer-bouts", "of a minute only", story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i >= 6 }), "unmet"},
		{"longer-bouts", "steady sessions only", story.Intervals(4).Each(func(_ int, d *story.Done) { d.Bouts = 0 }), "untold"},

		{"interval-sessions", "at six", story.Intervals(3), "met"},
		{"interval-sessions", "five", story.Intervals(3).Each(func(i int, d *story.Done) { d.Skip = i == 0 }), "unmet"},
		{"interval-sessions", "seven", story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i == 0 }), "met"},
		{"interval-sessions", "four of five bouts", ofFive(4, 60)(story.Intervals(4)), "met"},
		{"interval-sessions", "three of five bouts", ofFive(3, 60)(story.Intervals(4)), "unmet"},
		{"interval-sessions", "bouts a fifth too short", ofFive(5, 48)(story.Intervals(4)), "met"},
		{"interval-sessions", "bouts more than a fifth too short", ofFive(5, 47)(story.Intervals(4)), "unmet"},
		{"interval-sessions", "bouts a fifth too long", ofFive(5, 72)(story.Intervals(4)), "met"},
		{"interval-sessions", "bouts half as long again", ofFive(5, 90)(story.Intervals(4)), "met"},
		{"interval-sessions", "three bouts for five, with the time of five", ofFive(3, 100)(story.Intervals(4)), "met"},
		{"interval-sessions", "three bouts for five, a little longer", ofFive(3, 79)(story.Intervals(4)), "unmet"},
		{"longer-bouts", "two minutes where one was prescribed", ofFive(5, 120)(story.Intervals(4)), "met"},
		{"longer-bouts", "90 s where one minute was prescribed", ofFive(5, 90)(story.Intervals(4)), "unmet"},
		{"failed-sessions", "bouts of 90 s for 60 s", ofFive(5, 90)(story.Intervals(4)), "met"},
		{"failed-sessions", "twice as many bouts", ofFive(10, 60)(story.Intervals(4)), "met"},
		{"failed-sessions", "bouts of 45 s for 60 s", ofFive(5, 45)(story.Intervals(4)), "unmet"},
		{"failed-sessions", "bouts of 90 s at 18", ofFive(5, 90)(story.Intervals(4).Each(story.Feeling(story.RPE20(18), ""))), "unmet"},
		{"interval-sessions", "done but too hard", story.Intervals(4).Each(story.Feeling(story.RPE20(17), "")), "unmet"},
		{"interval-sessions", "effort not asked", story.Intervals(4).Each(story.Feeling(nil, "")), "met"},
		{"interval-sessions", "without a prescription", func() *story.Story { s := story.Intervals(4); s.Plans = false; return s }(), "untold"},
		{"interval-sessions", "steady sessions only", story.Intervals(4).Each(func(_ int, d *story.Done) { d.Bouts = 0 }), "untold"},

		{"back-in-zone", "at 80 %", story.Intervals(4).Each(staying(3)), "met"},
		{"back-in-zone", "under 80 %", story.Intervals(4).Each(staying(4)), "unmet"},
		{"back-in-zone", "over 80 %", story.Intervals(4).Each(staying(2)), "met"},
		{"back-in-zone", "one session with a chest strap", story.Intervals(4).Each(func(i int, d *story.Done) {
			if i < 11 {
				d.Sensor = workout.Wrist
			}
		}), "untold"},

		{"creep", "at 8 bpm", story.Intervals(4).Each(creeping(8, 20, 8)), "met"},
		{"creep", "7.9 bpm", story.Intervals(4).Each(creeping(20, 7.9, 7.9)), "met"},
		{"creep", "8.1 bpm", story.Intervals(4).Each(creeping(8, 8.1, 20)), "unmet"},
		{"creep", "from a wrist sensor", story.Intervals(4).Each(func(_ int, d *story.Done) { d.Sensor = workout.Wrist }), "untold"},

		{"evidence", "stage 2, one clearly against", story.Intervals(4).Each(creeping(20, 20, 20)), "unmet"},
		{"evidence", "stage 2, creep in two of three is not against", story.Intervals(4).Each(creeping(2, 20, 20)), "met"},

		{"failed-sessions", "two running", story.Intervals(4).Each(story.Failing(2)), "met"},
		{"failed-sessions", "three running", story.Intervals(4).Each(story.Failing(3)), "unmet"},
		{"failed-sessions", "four running", story.Intervals(4).Each(story.Failing(4)), "unmet"},
		{"failed-sessions", "three at 18", story.Intervals(4).Each(story.Feeling(story.RPE20(18), "")), "unmet"},
		{"failed-sessions", "three at 17", story.Intervals(4).Each(story.Feeling(story.RPE20(17), "")), "met"},
		{"failed-sessions", "three at 9 on the other scale", story.Intervals(4).Each(story.Feeling(story.RPE10(9), "")), "unmet"},
		{"failed-sessions", "three creeping", story.Intervals(4).Each(creeping(9, 9, 9)), "unmet"},
		{"failed-sessions", "three that did not take place", story.Intervals(4).Each(func(i int, d *story.Done) { d.Skip = i > 7 }), "met"},
	}
}

// TestPrescriptionWithoutBouts: intervals of no bouts are nothing to hold a session against.
func TestPrescriptionWithoutBouts(t *testing.T) {
	a := assess(story.Intervals(4).Then(func(r *record.Record) {
		for i := range r.Prescriptions {
			r.Prescriptions[i].Intervals.Bouts = 0
		}
	}))
	if r, _ := story.Reason(a, policy.IntervalSessions); story.Met(r) != "untold" {
		t.Errorf("%s: %s", story.Met(r), r.Says)
	}
	if _, err := json.Marshal(a); err != nil {
		t.Error(err)
	}
}

// TestEffortDecidesWithoutAChestStrap: in stage 2 the heart rate of interval sessions counts from
// chest-strap type data only; without it the move rests on completion and effort, and is said so.
func TestEffortDecidesWithoutAChestStrap(t *testing.T) {
	a := assess(story.Intervals(4).Each(func(_ int, d *story.Done) { d.Sensor = workout.Wrist }))
	if *a.Verdict != record.Advance {
		t.Errorf("verdict %s: %s", *a.Verdict, a.Summary)
	}
	if _, ok := story.Reason(a, policy.EnoughEvidence); ok {
		t.Error("heart rate is needed without a chest strap")
	}
	if len(a.Cautions) != 1 || a.Cautions[0].Code != progression.NoStrap {
		t.Errorf("cautions %v do not say that effort decides", a.Cautions)
	}
	hard := assess(story.Intervals(4).Each(func(_ int, d *story.Done) { d.Sensor, d.Rpe = workout.Wrist, nil }))
	if *hard.Verdict != record.NotAssessable {
		t.Errorf("without effort too the verdict is %s", *hard.Verdict)
	}
}

// TestIntervalSessionsThatWerePrescribed: those that did not take place, or were recorded without bouts
// that can be seen, are missing from the ones that are judged, and the text says so.
func TestIntervalSessionsThatWerePrescribed(t *testing.T) {
	skipping := func(d *story.Done) { d.Skip = true }
	unseen := func(d *story.Done) { d.Bouts = 0 }
	first := func(n int, change func(*story.Done)) func(int, *story.Done) {
		return func(i int, d *story.Done) {
			if i < n { // two of the first three, four of the first six, are interval sessions
				change(d)
			}
		}
	}
	done := func(done, recorded, prescribed int) record.Fact {
		return record.Fact{Code: progression.IntervalsDone, Args: record.Args{"done": done, "recorded": recorded, "missing": prescribed - recorded, "prescribed": prescribed, "days": 42, "needed": 6.0, "easy": record.Facts(nil)}}
	}
	none := func(prescribed int) record.Fact {
		return record.Fact{Code: progression.NoIntervals, Args: record.Args{"prescribed": prescribed, "days": 42}}
	}
	for _, c := range []struct {
		name  string
		story *story.Story
		want  record.Fact
	}{
		{"all took place", story.Intervals(4), done(8, 8, 8)},
		{"two did not", story.Intervals(4).Each(first(3, skipping)), done(6, 6, 8)},
		{"four without bouts", story.Intervals(4).Each(first(6, unseen)), done(4, 4, 8)},
		{"none with bouts", story.Intervals(4).Each(first(12, unseen)), none(8)},
		{"none prescribed", story.Bare(story.Intervals(4)), none(0)},
		{"the week goes on", story.Intervals(4).Each(first(3, skipping)).Later(-2), done(6, 6, 8)},
		{"away in the first week", story.Intervals(4).Each(first(3, skipping)).Then(story.Paused(0, 6)), done(6, 6, 6)},
		{"prescribed anew on Wednesday", story.Intervals(4).Each(first(3, skipping)).Then(func(r *record.Record) {
			p := r.Prescriptions[1]
			p.From, p.Made = p.From+2, p.From+1
			r.Prescriptions = append(r.Prescriptions, p)
		}), done(6, 6, 8)},
	} {
		if r, _ := story.Reason(assess(c.story), policy.IntervalSessions); !r.Says.Equal(c.want) {
			t.Errorf("%s: %v, want %v", c.name, r.Says, c.want)
		}
	}
}

// easyBouts is a story of bouts of a minute with so many seconds above zone 1 in each session.
func easyBouts(above int) *story.Story {
	return story.Intervals(4).Each(func(_ int, d *story.Done) { d.Bout = 180 * min(1, d.Bouts) }).Then(func(r *record.Record) {
		for i, rec := range r.Recordings {
			if len(rec.Measured.Bouts) > 0 {
				r.Recordings[i].Measured.Zones = &physiology.ZoneTime{Zone1: 2100 - above, Zone2: above}
			}
		}
	})
}

// TestEasyBoutsAreSaid: bouts count by their length, and where the pulse was hardly above zone 1 the trainer reads it.
func TestEasyBoutsAreSaid(t *testing.T) {
	for _, x := range []struct {
		name  string
		above int
		who   func(*record.Client)
		want  record.Facts
	}{
		{"seven seconds a session", 7, func(*record.Client) {}, record.Facts{{Code: progression.EasyBouts, Args: record.Args{"bouts": 96.0, "above": 56.0 / 60}}}},
		{"half a minute a bout", 120, func(*record.Client) {}, nil},
		{"by effort", 7, func(c *record.Client) { c.Medicine = record.Slows }, nil},
	} {
		if r, _ := story.Reason(assess(easyBouts(x.above).Who(x.who)), policy.IntervalSessions); !(record.Fact{Args: record.Args{"easy": x.want}}).Equal(record.Fact{Args: record.Args{"easy": r.Says.Facts("easy")}}) {
			t.Errorf("%s: %v", x.name, r.Says)
		}
	}
	minutes := easyBouts(7).Each(func(_ int, d *story.Done) { d.Bout = 60 * min(1, d.Bouts) })
	if r, _ := story.Reason(assess(minutes), policy.IntervalSessions); len(r.Says.Facts("easy")) > 0 {
		t.Errorf("heart rate cannot follow within a minute: %v", r.Says)
	}
}
