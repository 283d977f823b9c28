package progression_test

import (
	"slices"
	"testing"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// clashes are pairs of facts of which one must be wrong, with a pair like it that is none, and what answers it.
func clashes() []clash {
	min := func(bpm float64) func(*record.Record) {
		return func(r *record.Record) {
			for i := range r.Recordings {
				r.Recordings[i].Measured.HeartRate.Min = &bpm
			}
		}
	}
	rest := func(bpm float64) func(*record.Record) {
		return func(r *record.Record) { r.Client.Zones[0].HRRest = bpm }
	}
	mornings := func(all ...float64) func(*record.Record) {
		return func(r *record.Record) {
			for i, bpm := range all {
				on := story.Day(7*8 - 10 + i)
				r.Notes = append(r.Notes, record.Note{Date: on, Entered: on, HRRest: bpm})
			}
		}
	}
	client := func(f func(*record.Client)) func(*record.Record) {
		return func(r *record.Record) { f(&r.Client) }
	}
	has := func(x record.Condition) func(*record.Record) {
		return client(func(c *record.Client) { c.Conditions = []record.Condition{x} })
	}
	cleared := client(func(c *record.Client) { c.Clearance = story.Began })
	before := func(sessions int) func(*record.Record) { // over the 12 weeks before the screening
		return func(r *record.Record) {
			for i := range sessions {
				story.Done{Day: story.Began - 3 - workout.Date(84-i*80/max(1, sessions-1)), Hour: 7, Minutes: 30, Sport: workout.Running, NoHeart: true}.Enter(r)
			}
		}
	}
	peak := func(bpm float64) func(*record.Record) {
		return func(r *record.Record) {
			r.Recordings[0].Measured.Held = &physiology.Held{Basis: physiology.Basis{Enough: true}, BPM: bpm}
		}
	}
	inactiveBefore := func(days workout.Date, sessions int) func(*record.Record) { // the start in stage 2
		return func(r *record.Record) {
			c := &r.Client
			c.Stage, c.Screening.Active, c.Screening.On = 2, false, c.Since-days
			for i := range sessions {
				story.Done{Day: c.Since - 1 - workout.Date(i), Hour: 7, Minutes: 30, Sport: workout.Running, NoHeart: true}.Enter(r)
			}
		}
	}
	both := func(all ...func(*record.Record)) func(*record.Record) {
		return func(r *record.Record) {
			for _, f := range all {
				f(r)
			}
		}
	}
	return []clash{
		{"a resting rate above what was recorded", progression.RestAboveRecorded, both(rest(85), min(70)), both(rest(72), min(70)), "hr-rest", rest(65)},
		{"a resting rate above the mornings in notes", progression.RestAboveMornings, both(rest(72), mornings(58, 60, 62)), both(rest(64), mornings(58, 60, 62)), "hr-rest", rest(60)},
		{"a resting rate above two mornings", progression.RestAboveMornings, both(rest(72), mornings(58, 60, 62)), both(rest(72), mornings(58, 60)), "hr-rest", rest(60)},
		{"a resting rate of 100", progression.RestHigh, rest(100), rest(99), "hr-rest", rest(65)},
		{"a maximum too high for the age", progression.MaximumUnlikely, client(func(c *record.Client) { c.Born = story.Began - 76*365; c.Zones[0].HRMax[""] = 205 }),
			client(func(c *record.Client) { c.Born = story.Began - 76*365; c.Zones[0].HRMax[""] = 180 }), "hr-max", client(func(c *record.Client) { c.Born = story.Began - 26*365 })},
		{"a maximum 31 bpm above the estimate", progression.MaximumUnlikely, client(func(c *record.Client) { c.Zones[0].HRMax[""] = 217 }),
			client(func(c *record.Client) { c.Zones[0].HRMax[""] = 213 }), "hr-max", peak(213)},
		{"a maximum 31 bpm above the estimate, and a peak well below it", progression.MaximumUnlikely, both(peak(205), client(func(c *record.Client) { c.Zones[0].HRMax[""] = 217 })),
			both(peak(213), client(func(c *record.Client) { c.Zones[0].HRMax[""] = 217 })), "hr-max", client(func(c *record.Client) { c.Zones[0].HRMax[""] = 190 })},
		{"a maximum of one mode", progression.MaximumUnlikely, client(func(c *record.Client) { c.Zones[0].HRMax[workout.Run] = 217 }),
			client(func(c *record.Client) { c.Zones[0].HRMax[workout.Run] = 200 }), "hr-max", client(func(c *record.Client) { c.Zones[0].HRMax = nil })},
		{"a maximum too low for the age", progression.MaximumUnlikely, client(func(c *record.Client) { c.Zones[0].HRMax[""] = 150 }),
			client(func(c *record.Client) { c.Zones[0].HRMax[""] = 165 }), "hr-max", client(func(c *record.Client) { c.Zones[0].HRMax[""] = 186 })},
		{"a threshold too high for the age", progression.ComfortUnlikely, client(func(c *record.Client) { c.Zones[0].HRMax, c.Zones[0].T1, c.Zones[0].T2 = nil, 185, 200 }),
			client(func(c *record.Client) { c.Zones[0].HRMax, c.Zones[0].T1, c.Zones[0].T2 = nil, 165, 180 }), "hr-max", client(func(c *record.Client) { c.Zones[0].T1, c.Zones[0].T2 = 140, 160 })},
		{"an edge too high for the maximum", progression.ComfortUnlikely, client(func(c *record.Client) {
			c.Zones[0].HRMax, c.Zones[0].Edges = map[workout.Mode]float64{"": 186}, map[workout.Mode][4]float64{workout.Run: {150, 170, 178, 185}}
		}), client(func(c *record.Client) {
			c.Zones[0].HRMax, c.Zones[0].Edges = map[workout.Mode]float64{"": 190}, map[workout.Mode][4]float64{workout.Run: {150, 170, 178, 185}}
		}), "hr-max", client(func(c *record.Client) { c.Zones[0].Edges = nil })},
		{"inactive, and hard from the first week", progression.StageBut, client(func(c *record.Client) { c.Stage, c.Screening.Active = 3, false }), client(func(c *record.Client) { c.Stage, c.Screening.Active = 1, false }), "active",
			client(func(c *record.Client) { c.Screening.Active = true })},
		{"82 years old, active, and above stage 1 from the first week", progression.AgeBut, client(func(c *record.Client) { c.Stage, c.Born, c.Zones = 3, c.Since-82*366, nil }),
			client(func(c *record.Client) { c.Stage, c.Born, c.Zones = 1, c.Since-82*366, nil }), "active", client(func(c *record.Client) { c.Stage = 1 })},
		{"76 years old and in stage 2 from the first week", progression.AgeBut, client(func(c *record.Client) { c.Stage, c.Born, c.Zones = 2, c.Since-76*366, nil }),
			client(func(c *record.Client) { c.Stage, c.Born, c.Zones = 2, c.Since-75*366, nil }), "active", client(func(c *record.Client) { c.Stage = 1 })},
		{"inactive less than six weeks before a start in stage 2", progression.StageBut, inactiveBefore(41, 12), inactiveBefore(42, 12), "active",
			client(func(c *record.Client) { c.Stage = 1 })},
		{"inactive months before a start in stage 2, and hardly a session since", progression.StageBut, inactiveBefore(120, 11), inactiveBefore(120, 12), "active", client(func(c *record.Client) { c.Stage = 1 })},
		{"a peak too high for the age", progression.PeakUnlikely, both(client(func(c *record.Client) { c.Born = story.Began - 76*365; c.Zones = nil }), peak(204)),
			both(client(func(c *record.Client) { c.Born = story.Began - 76*365; c.Zones = nil }), peak(180)), "born", peak(160)},
		{"insulin without a disease", progression.NoDiseaseBut, has(record.Insulin), both(has(record.Insulin), cleared), "disease", cleared},
		{"a pacemaker without a disease", progression.NoDiseaseBut, has(record.Pacemaker), both(has(record.Pacemaker), cleared), "disease", cleared},
		{"an irregular rhythm without a disease", progression.NoDiseaseBut, has(record.Irregular), has(record.Asthma), "disease",
			client(func(c *record.Client) { c.Screening.Disease = "heart" })},
		{"a medicine that slows without a disease", progression.NoDiseaseBut, client(func(c *record.Client) { c.Medicine = record.Slows }),
			client(func(c *record.Client) { c.Medicine = record.Raises }), "disease", cleared},
		{"a limit without a disease", progression.NoDiseaseBut, client(func(c *record.Client) { c.Zones[0].Limit = 150 }), both(client(func(c *record.Client) { c.Zones[0].Limit = 150 }), cleared), "disease", cleared},
		{"pregnant and male", progression.PregnantBut, both(has(record.Pregnant), cleared, client(func(c *record.Client) { c.Sex = physiology.Male })), both(has(record.Pregnant), cleared), "pregnant",
			client(func(c *record.Client) { c.Sex = physiology.Female })},
		{"pregnant at 61", progression.PregnantBut, both(has(record.Pregnant), cleared, client(func(c *record.Client) { c.Born = story.Began - 61*366 })), both(has(record.Pregnant), cleared), "pregnant",
			client(func(c *record.Client) { c.Conditions = nil })},
		{"active, but the files show little", progression.ActiveBut, before(9), before(30), "active", client(func(c *record.Client) { c.Screening.Active = false })},
	}
}

type clash struct {
	name        string
	code        record.Code
	made, close func(*record.Record) // the pair, and one near it that is none
	confirm     record.Checked
	answer      func(*record.Record) // corrects one of the two
}

func clashCodes(a record.Assessment) (out []record.Code) {
	for _, q := range a.Unanswered {
		out = append(out, q.Clash.Code)
	}
	return out
}

// TestFactsThatContradictAsk: two facts that cannot both be right ask, with both of them in the question, and hold a move up
// until one is corrected or the odd one is confirmed. In every stage.
func TestFactsThatContradictAsk(t *testing.T) {
	for _, x := range clashes() {
		for stage := 1; stage <= 3; stage++ {
			of := func(f ...func(*record.Record)) record.Assessment {
				s := story.Ferry(8)
				if stage > 1 {
					s = story.Intervals(8)
				}
				s.Client.Stage = stage
				r := s.Record()
				for _, change := range f {
					change(&r)
				}
				return progression.Assess(defaults, s.Last(), r)
			}
			a := of(x.made)
			if !slices.Contains(clashCodes(a), x.code) || story.Verdict(a) == record.Advance {
				t.Errorf("%s, stage %d: %s, asks %v", x.name, stage, story.Verdict(a), clashCodes(a))
				continue
			}
			i := slices.Index(clashCodes(a), x.code)
			if text := reasons.Text(a.Unanswered[i].Clash); len(text) < 40 || a.Unanswered[i].Confirm != x.confirm {
				t.Errorf("%s: %q, confirmed by %q", x.name, text, a.Unanswered[i].Confirm)
			}
			for what, a := range map[string]record.Assessment{
				"a near pair": of(x.close), "corrected": of(x.made, x.answer),
				"confirmed": of(x.made, func(r *record.Record) { r.Client.Confirmed = []record.Checked{x.confirm} }),
			} {
				if slices.Contains(clashCodes(a), x.code) {
					t.Errorf("%s, stage %d, %s: still asks: %s", x.name, stage, what, reasons.Text(a.Unanswered[0].Clash))
				}
			}
		}
	}
	if a := progression.Assess(defaults, story.Ferry(8).Last(), story.Ferry(8).Record()); len(a.Unanswered) > 0 || story.Verdict(a) != record.Advance {
		t.Errorf("without a contradiction: %s, asks %v", story.Verdict(a), clashCodes(a))
	}
}

// TestInactiveWithAHeartConditionWaits: a pacemaker or an irregular rhythm is a known heart disease, insulin a metabolic one,
// whatever the screening says (the handbook's questionnaire before participation, from memory; Riebe 2015).
func TestInactiveWithAHeartConditionWaits(t *testing.T) {
	for _, x := range []record.Condition{record.Pacemaker, record.Irregular, record.Insulin} {
		for _, active := range []bool{true, false} {
			s := story.Ferry(2).Who(func(c *record.Client) { c.Conditions, c.Screening.Active = []record.Condition{x}, active })
			a := progression.Assess(defaults, s.Last(), s.Record())
			if got := story.Verdict(a) == record.Refer; got == active {
				t.Errorf("%s, active %v: %s", x, active, story.Verdict(a))
			}
			for _, u := range reasons.First(a) {
				if weaker := len(u.Lines) > 1; weaker != active {
					t.Errorf("%s, active %v: beside %s it says %q", x, active, story.Verdict(a), u.Lines)
				}
			}
			want := record.BeforeVigorous
			if !active {
				want = record.BeforeAny
			}
			if got := s.Client.ClearanceNeeded(); got != want {
				t.Errorf("%s, active %v: clearance %s", x, active, got)
			}
		}
	}
}

// The careful resting heart rate leads until somebody has asked: the lowest of what contradicts the one on record.
func TestTheLowerRestingRateLeadsMeanwhile(t *testing.T) {
	s := story.Ferry(8)
	r := s.Record()
	r.Client.Zones[0].HRRest = 80
	for i, bpm := range []float64{58, 60, 62} {
		r.Notes = append(r.Notes, record.Note{Date: s.Last() - workout.Date(i), Entered: s.Last(), HRRest: bpm})
	}
	if got := progression.NewReview(defaults, s.Last(), r).Body(s.Last()).HRRest; got != 60 {
		t.Errorf("%g bpm leads, want the mean of the mornings, 60", got)
	}
	r.Client.Confirmed = []record.Checked{record.CheckedRest}
	if got := progression.NewReview(defaults, s.Last(), r).Body(s.Last()).HRRest; got != 80 {
		t.Errorf("%g bpm leads, want the 80 that were confirmed", got)
	}
}

// TestNothingIsNeededThatIsNotPrescribed: while a missing clearance or a limit keeps bouts out of the plan, no rule asks to
// record them.
func TestNothingIsNeededThatIsNotPrescribed(t *testing.T) {
	bouts := []policy.ID{policy.IntervalSessions, policy.LongerBouts, policy.BoutEffort}
	for name, f := range map[string]func(*record.Client){
		"pregnant": func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} },
		"slowed":   func(c *record.Client) { c.Medicine = record.Slows },
		"limited": func(c *record.Client) {
			c.Zones[0].Limit, c.Confirmed = 110, []record.Checked{record.CheckedDisease}
		},
		"nothing": func(*record.Client) {},
	} {
		for stage := 2; stage <= 3; stage++ {
			for _, weeks := range []int{1, 4, 8} {
				s := story.Ferry(weeks).Who(f)
				s.Client.Stage = stage
				a := progression.Assess(defaults, s.Last(), s.Record())
				asked := slices.ContainsFunc(a.Lacking, func(l record.Lack) bool { return slices.Contains(bouts, l.Rule) })
				if asked && name != "nothing" {
					t.Errorf("%s, stage %d, week %d: lacking %+v", name, stage, weeks, a.Lacking)
				}
				for _, r := range a.Reasons {
					if slices.Contains(bouts, r.Rule) && name != "nothing" && r.IsUnmet() {
						t.Errorf("%s, stage %d, week %d: %s", name, stage, weeks, reasons.Text(r.Says))
					}
				}
			}
		}
	}
}
