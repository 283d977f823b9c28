package progression_test

import (
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// easyAbove is a client whose zones allow at most 142 bpm (77 % of a maximum of 185, Garber 2011) and who talks
// easily at 150.
func easyAbove(weeks int) *story.Story {
	return story.Ferry(weeks).Each(func(_ int, d *story.Done) { d.Below = 0 })
}

func tops(s *story.Story) []progression.Higher { return progression.HigherTops(s.Record(), s.Last()) }

// recordingsOf are all recordings of a record, as an answer to a suggestion names them.
func recordingsOf(r *record.Record) (out []string) {
	for _, x := range r.Recordings {
		out = append(out, x.ID)
	}
	return out
}

// Ten weeks of easy talk at 150 point to a top of 150, and neither hold the client back nor move her up; a declined
// suggestion counts again, and an accepted one stays out.
func TestEasyTalkAboveZone1IsLeftOpen(t *testing.T) {
	s := easyAbove(10)
	if got := tops(s); len(got) != 1 || got[0].Mode != workout.Run || got[0].Top != 150 || len(got[0].Sessions) != 12 {
		t.Fatalf("%+v", got)
	}
	zone, _ := story.Reason(assess(s), policy.Zone)
	if zone.Met != nil || zone.Says.Code != progression.FewWithoutSuggested || zone.Says.Args["left"] != 12 {
		t.Errorf("unanswered: %+v", zone)
	}
	answered := func(taken bool, on int) *story.Story {
		return easyAbove(10).Then(func(r *record.Record) {
			r.Answered = []record.Answered{{Entered: story.Day(on), Taken: taken, Recordings: recordingsOf(r)}}
		})
	}
	for _, c := range []struct {
		name string
		s    *story.Story
		met  any
		tops int
	}{
		{"declined", answered(false, 69), false, 0}, {"accepted", answered(true, 69), nil, 0}, {"answered tomorrow", answered(false, 70), nil, 1},
	} {
		zone, _ := story.Reason(assess(c.s), policy.Zone)
		if open := zone.Met == nil; open != (c.met == nil) || !open && *zone.Met != c.met || len(tops(c.s)) != c.tops {
			t.Errorf("%s: %+v, %d tops", c.name, zone, len(tops(c.s)))
		}
	}
	mixed := story.Ferry(4).Each(func(i int, d *story.Done) {
		if i%2 == 0 {
			d.Below = 0
		}
	})
	if zone, _ := story.Reason(assess(mixed), policy.Zone); zone.Met == nil || !*zone.Met || len(zone.Points) != 6 || zone.Says.Args["left"] != 6 {
		t.Errorf("six of twelve: %+v", zone)
	}
}

// What must be there for a higher top, and who gets none.
func TestHigherTops(t *testing.T) {
	last := func(n int, f func(*story.Done)) *story.Story { // the last n of 18 sessions
		return story.Ferry(6).Each(func(i int, d *story.Done) {
			if i >= 18-n {
				d.Below = 0
				f(d)
			}
		})
	}
	plain := func(*story.Done) {}
	who := func(f func(*record.Client)) *story.Story { return easyAbove(6).Who(f) }
	set := func(z record.ZoneSet) func(*record.Client) {
		return func(c *record.Client) { c.Zones = append(c.Zones, z) }
	}
	hardAt := func(below int, talk record.Talk, rpe *workout.RPE) *story.Story { // in the first of six weeks
		return easyAbove(6).Each(func(i int, d *story.Done) {
			if i == 0 {
				d.Below, d.Talk, d.Rpe = below, talk, rpe
			}
		})
	}
	week := story.Ferry(6).Each(func(i int, d *story.Done) { d.Below = map[bool]int{true: 0, false: 95}[i >= 20] })
	week.Days = []int{0, 1, 2, 4}
	for _, c := range []struct {
		name string
		s    *story.Story
		want float64
	}{
		{"four sessions in two weeks", last(4, plain), 150},
		{"three sessions", last(3, plain), 0},
		{"four sessions in one week", week, 0},
		{"effort 13", last(4, func(d *story.Done) { d.Rpe = story.RPE20(13) }), 150},
		{"effort 14", last(4, func(d *story.Done) { d.Rpe = story.RPE20(14) }), 0},
		{"effort 5 of 10", last(4, func(d *story.Done) { d.Rpe = story.RPE10(5) }), 0},
		{"no effort, but talk", last(4, func(d *story.Done) { d.Rpe = nil }), 150},
		{"effort, but no talk", last(4, func(d *story.Done) { d.Talk = record.NotAsked }), 0},
		{"talk hard", last(4, func(d *story.Done) { d.Talk = record.TalkHard }), 0},
		{"in the heat", last(4, func(d *story.Done) { d.Heat = story.Num(26) }), 0},
		{"at 25 °C", last(4, func(d *story.Done) { d.Heat = story.Num(25) }), 150},
		{"without a fan", last(4, func(d *story.Done) { d.NoFan = true }), 0},
		{"with bouts", last(4, func(d *story.Done) { d.Bouts, d.Bout = 4, 60 }), 0},
		{"an unusable sensor", last(4, func(d *story.Done) { d.NoHeart = true }), 0},
		{"a wrist sensor", last(4, func(d *story.Done) { d.Sensor = workout.Wrist }), 150},
		{"poor sleep last week", last(4, plain).Then(story.Note(36, signs.PoorSleep)), 0},
		{"hard once at the same beats", hardAt(0, record.TalkHard, nil), 0},
		{"an effort of 15 once at 146", hardAt(20, record.TalkComfortable, story.RPE20(15)), 0},
		{"a limit", who(set(record.ZoneSet{HRMax: map[workout.Mode]float64{"": 185}, Limit: 160})), 0},
		{"a limit from tomorrow on", who(set(record.ZoneSet{From: story.Day(42), HRMax: map[workout.Mode]float64{"": 185}, Limit: 160})), 0},
		{"a medicine that slows", who(func(c *record.Client) { c.Medicine = record.Slows }), 0},
		{"a medicine that raises", who(func(c *record.Client) { c.Medicine = record.Raises }), 0},
		{"a dose changed 41 days ago", who(func(c *record.Client) { c.DoseChange = story.Day(0) }), 0},
		{"pregnant", who(func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} }), 0},
		{"a pacemaker", who(func(c *record.Client) { c.Conditions = []record.Condition{record.Pacemaker} }), 0},
		{"an irregular rhythm", who(func(c *record.Client) { c.Conditions = []record.Condition{record.Irregular} }), 0},
		{"17 years old", who(func(c *record.Client) { c.Born = story.Day(0) - 17*365 }), 0},
		{"no age", who(func(c *record.Client) { c.Born = 0 }), 0},
		{"not screened", who(func(c *record.Client) { c.Screening = record.Screening{} }), 0},
		{"a disease that nobody cleared", who(func(c *record.Client) { c.Screening.Disease = "heart" }), 0},
		{"a sign on record", easyAbove(6).Then(story.Note(10, signs.Chest)), 0},
		{"a sign that waits for an answer", easyAbove(6).Then(wrote(24, "2026-10-01: tight across the chest on the last hill")), 0},
		{"nothing above zone 1", story.Ferry(6), 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := 0.0
			for _, h := range tops(c.s) {
				got = h.Top
			}
			if got != c.want {
				t.Errorf("%g bpm, want %g", got, c.want)
			}
		})
	}
}
