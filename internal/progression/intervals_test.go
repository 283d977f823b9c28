package progression_test

import (
	"encoding/json"
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// ofFive makes the prescribed sets five bouts of 60 s and the done ones what a test says.
func ofFive(done1 int, length int) func(*story) *story {
	return func(s *story) *story {
		return s.each(func(_ int, d *done) {
			if d.bouts > 0 {
				d.bouts, d.bout = done1, length
			}
		}).then(func(r *progression.Record) {
			for i := range r.Prescriptions {
				r.Prescriptions[i].Intervals.Bouts, r.Prescriptions[i].Intervals.Work = 5, 60
			}
		})
	}
}

// creeping sets the rise over the bouts of the last three interval sessions.
func creeping(last ...float64) func(int, *done) {
	return func(i int, d *done) {
		if at := map[int]int{8: 0, 9: 1, 11: 2}; d.bouts > 0 && i >= 8 {
			d.creep = last[at[i]]
		}
	}
}

// staying lets the heart rate stay up after some bouts in the last five interval sessions, 15
// recoveries; the sessions before tell nothing.
func staying(bouts int) func(int, *done) {
	return func(i int, d *done) {
		if d.bouts == 0 {
			return
		}
		if i < 5 {
			d.sensor = workout.Wrist
			return
		}
		d.stays = min(3, bouts)
		bouts -= d.stays
	}
}

// failing lets the last n interval sessions be broken off after two bouts.
func failing(n int) func(int, *done) {
	last := map[int]int{11: 1, 9: 2, 8: 3, 6: 4}
	return func(i int, d *done) {
		if at, ok := last[i]; ok && at <= n {
			d.bouts = 2
		}
	}
}

func intervalCases() []ruleCase {
	return []ruleCase{
		// Bouts of 2 min stand in the last two weeks, sessions 6, 8, 9 and 11.
		{"longer-bouts", "two of 2 min", intervals(4).each(func(i int, d *done) { d.skip = i == 6 || i == 9 }), "met"},
		{"longer-bouts", "one of 2 min", intervals(4).each(func(i int, d *done) { d.skip = i >= 6 && i < 11 }), "unmet"},
		{"longer-bouts", "two of 2 min, one of them broken off", intervals(4).each(func(i int, d *done) {
			if d.skip = i == 6 || i == 9; i == 11 {
				d.bouts = 2
			}
		}), "unmet"},
		{"longer-bouts", "of a minute only", intervals(4).each(func(i int, d *done) { d.skip = i >= 6 }), "unmet"},
		{"longer-bouts", "steady sessions only", intervals(4).each(func(_ int, d *done) { d.bouts = 0 }), "untold"},

		{"interval-sessions", "at six", intervals(3), "met"},
		{"interval-sessions", "five", intervals(3).each(func(i int, d *done) { d.skip = i == 0 }), "unmet"},
		{"interval-sessions", "seven", intervals(4).each(func(i int, d *done) { d.skip = i == 0 }), "met"},
		{"interval-sessions", "four of five bouts", ofFive(4, 60)(intervals(4)), "met"},
		{"interval-sessions", "three of five bouts", ofFive(3, 60)(intervals(4)), "unmet"},
		{"interval-sessions", "bouts a fifth too short", ofFive(5, 48)(intervals(4)), "met"},
		{"interval-sessions", "bouts more than a fifth too short", ofFive(5, 47)(intervals(4)), "unmet"},
		{"interval-sessions", "bouts a fifth too long", ofFive(5, 72)(intervals(4)), "met"},
		{"interval-sessions", "bouts more than a fifth too long", ofFive(5, 73)(intervals(4)), "unmet"},
		{"interval-sessions", "done but too hard", intervals(4).each(feeling(rpe20(17), "")), "unmet"},
		{"interval-sessions", "effort not asked", intervals(4).each(feeling(nil, "")), "met"},
		{"interval-sessions", "without a prescription", func() *story { s := intervals(4); s.plans = false; return s }(), "untold"},
		{"interval-sessions", "steady sessions only", intervals(4).each(func(_ int, d *done) { d.bouts = 0 }), "untold"},

		{"back-in-zone", "at 80 %", intervals(4).each(staying(3)), "met"},
		{"back-in-zone", "under 80 %", intervals(4).each(staying(4)), "unmet"},
		{"back-in-zone", "over 80 %", intervals(4).each(staying(2)), "met"},
		{"back-in-zone", "one session with a chest strap", intervals(4).each(func(i int, d *done) {
			if i < 11 {
				d.sensor = workout.Wrist
			}
		}), "untold"},

		{"creep", "at 8 bpm", intervals(4).each(creeping(8, 20, 8)), "met"},
		{"creep", "7.9 bpm", intervals(4).each(creeping(20, 7.9, 7.9)), "met"},
		{"creep", "8.1 bpm", intervals(4).each(creeping(8, 8.1, 20)), "unmet"},
		{"creep", "from a wrist sensor", intervals(4).each(func(_ int, d *done) { d.sensor = workout.Wrist }), "untold"},

		{"evidence", "stage 2, one clearly against", intervals(4).each(creeping(20, 20, 20)), "unmet"},
		{"evidence", "stage 2, creep in two of three is not against", intervals(4).each(creeping(2, 20, 20)), "met"},

		{"failed-sessions", "two running", intervals(4).each(failing(2)), "met"},
		{"failed-sessions", "three running", intervals(4).each(failing(3)), "unmet"},
		{"failed-sessions", "four running", intervals(4).each(failing(4)), "unmet"},
		{"failed-sessions", "three at 18", intervals(4).each(feeling(rpe20(18), "")), "unmet"},
		{"failed-sessions", "three at 17", intervals(4).each(feeling(rpe20(17), "")), "met"},
		{"failed-sessions", "three at 9 on the other scale", intervals(4).each(feeling(rpe10(9), "")), "unmet"},
		{"failed-sessions", "three creeping", intervals(4).each(creeping(9, 9, 9)), "unmet"},
		{"failed-sessions", "three that did not take place", intervals(4).each(func(i int, d *done) { d.skip = i > 7 }), "met"},
	}
}

// TestPrescriptionWithoutBouts: intervals of no bouts are nothing to hold a session against.
func TestPrescriptionWithoutBouts(t *testing.T) {
	a := intervals(4).then(func(r *progression.Record) {
		for i := range r.Prescriptions {
			r.Prescriptions[i].Intervals.Bouts = 0
		}
	}).assess()
	if r, _ := reason(a, "interval-sessions"); met(r) != "untold" {
		t.Errorf("%s: %s", met(r), r.Text)
	}
	if _, err := json.Marshal(a); err != nil {
		t.Error(err)
	}
}

// TestEffortDecidesWithoutAChestStrap: in stage 2 the heart rate of interval sessions counts from
// chest-strap type data only; without it the move rests on completion and effort, and is said so.
func TestEffortDecidesWithoutAChestStrap(t *testing.T) {
	a := intervals(4).each(func(_ int, d *done) { d.sensor = workout.Wrist }).assess()
	if *a.Verdict != progression.Advance {
		t.Errorf("verdict %s: %s", *a.Verdict, a.Summary)
	}
	if _, ok := reason(a, "evidence"); ok {
		t.Error("heart rate is asked for without a chest strap")
	}
	if len(a.Cautions) != 1 {
		t.Errorf("cautions %q do not say that effort decides", a.Cautions)
	}
	hard := intervals(4).each(func(_ int, d *done) { d.sensor, d.rpe = workout.Wrist, nil }).assess()
	if *hard.Verdict != progression.NotAssessable {
		t.Errorf("without effort too the verdict is %s", *hard.Verdict)
	}
}

// TestIntervalSessionsThatWerePrescribed: those that did not take place, or were recorded without bouts
// that can be told, are missing from the ones that are judged, and the text says so.
func TestIntervalSessionsThatWerePrescribed(t *testing.T) {
	skipping := func(d *done) { d.skip = true }
	unseen := func(d *done) { d.bouts = 0 }
	first := func(n int, change func(*done)) func(int, *done) {
		return func(i int, d *done) {
			if i < n { // two of the first three, four of the first six, are interval sessions
				change(d)
			}
		}
	}
	for _, c := range []struct {
		name  string
		story *story
		want  string
	}{
		{"all took place", intervals(4), "8 of 8 interval sessions within 6 weeks were done as prescribed; at least 6 are asked for."},
		{"two did not", intervals(4).each(first(3, skipping)), "6 of 6 recorded interval sessions within 6 weeks were done as prescribed; 8 were prescribed; at least 6 are asked for."},
		{"four without bouts", intervals(4).each(first(6, unseen)), "4 of 4 recorded interval sessions within 6 weeks were done as prescribed; 8 were prescribed; at least 6 are asked for."},
		{"none with bouts", intervals(4).each(first(12, unseen)), "No recorded interval session can be held against a prescription; 8 were prescribed within 6 weeks."},
		{"none prescribed", bare(intervals(4)), "No recorded interval session can be held against a prescription."},
		{"the week goes on", intervals(4).each(first(3, skipping)).later(-2), "6 of 6 recorded interval sessions within 6 weeks were done as prescribed; 8 were prescribed; at least 6 are asked for."},
		{"away in the first week", intervals(4).each(first(3, skipping)).then(paused(0, 6)), "6 of 6 interval sessions within 6 weeks were done as prescribed; at least 6 are asked for."},
		{"prescribed anew on Wednesday", intervals(4).each(first(3, skipping)).then(func(r *progression.Record) {
			p := r.Prescriptions[1]
			p.From, p.Made = p.From+2, p.From+1
			r.Prescriptions = append(r.Prescriptions, p)
		}), "6 of 6 recorded interval sessions within 6 weeks were done as prescribed; 8 were prescribed; at least 6 are asked for."},
	} {
		if r, _ := reason(c.story.assess(), "interval-sessions"); r.Text != c.want {
			t.Errorf("%s: %q, want %q", c.name, r.Text, c.want)
		}
	}
}
