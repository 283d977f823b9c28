package progression_test

import (
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

func gateCases() []ruleCase {
	unscreened := func(c *record.Client) { c.Screening = record.Screening{} }
	return []ruleCase{
		{"adult", "18 today", story.Ferry(4).Who(func(c *record.Client) { c.Born = workout.MustDate("2008-10-04") }), "met"},
		{"adult", "18 tomorrow", story.Ferry(4).Who(func(c *record.Client) { c.Born = workout.MustDate("2008-10-05") }), "unmet"},
		{"adult", "18 since yesterday", story.Ferry(4).Who(func(c *record.Client) { c.Born = workout.MustDate("2008-10-03") }), "met"},
		{"adult", "not known", story.Ferry(4).Who(func(c *record.Client) { c.Born = 0 }), "untold"},

		{"emergency-sign", "none", story.Ferry(4), "met"},
		{"emergency-sign", "chest", story.Ferry(4).Then(story.Note(3, signs.Chest)), "unmet"},
		{"emergency-sign", "chest long ago", story.Ferry(30).Then(story.Note(3, signs.Chest)), "unmet"},
		{"emergency-sign", "chest, then cleared", story.Ferry(4).Then(story.Note(3, signs.Chest)).Who(func(c *record.Client) { c.Clearance = story.Day(10) }), "met"},
		{"emergency-sign", "cleared, then chest", story.Ferry(4).Then(story.Note(11, signs.Chest)).Who(func(c *record.Client) { c.Clearance = story.Day(10) }), "unmet"},
		{"emergency-sign", "in the screening", story.Ferry(4).Who(func(c *record.Client) { c.Screening.Signs = []signs.Sign{signs.Faint} }), "unmet"},
		{"doctor-sign", "none", story.Ferry(4), "met"},
		{"doctor-sign", "says nothing beside an emergency", story.Ferry(4).Then(story.Note(3, signs.Chest)), "untold"},
		{"doctor-sign", "dizzy", story.Ferry(4).Then(story.Note(3, signs.Dizzy)), "unmet"},
		{"doctor-sign", "dizzy, then cleared", story.Ferry(4).Then(story.Note(3, signs.Dizzy)).Who(func(c *record.Client) { c.Clearance = story.Day(3) }), "met"},

		{"disease", "none", story.Ferry(4), "met"},
		{"disease", "inactive, never cleared", story.Ferry(1).Who(story.Ill(false, 0)), "unmet"},
		{"disease", "inactive, cleared", story.Ferry(1).Who(story.Ill(false, story.Began-10)), "met"},
		{"disease", "inactive, cleared 12 months before the screening", story.Ferry(1).Who(story.Ill(false, 1)).Who(clearedBefore(365)), "met"},
		{"disease", "inactive, cleared a day earlier", story.Ferry(1).Who(story.Ill(false, 1)).Who(clearedBefore(366)), "unmet"},
		{"disease", "inactive at the start, cleared 12 months before it, and trained since", story.Ferry(3).Who(story.Ill(false, 1)).Who(clearedBefore(360)), "met"},
		{"disease", "active, not cleared, stage 1 goes on", story.Ferry(2).Who(story.Ill(true, 0)), "met"},
		{"disease", "active, not cleared, vigorous work next", story.Ferry(4).Who(story.Ill(true, 0)), "unmet"},
		{"disease", "stage 2, cleared 12 months ago", story.Intervals(4).Who(story.Ill(true, story.Day(27)-365)), "met"},
		{"disease", "stage 2, cleared a day earlier", story.Intervals(4).Who(story.Ill(true, story.Day(27)-366)), "unmet"},
		{"disease", "stage 2, cleared a day later", story.Intervals(4).Who(story.Ill(true, story.Day(27)-364)), "met"},
		{"disease", "not asked", story.Ferry(4).Who(unscreened), "untold"},

		{"screening", "answered", story.Ferry(4), "met"},
		{"screening", "not answered", story.Ferry(4).Who(unscreened), "untold"},
		{"screening", "answered later than the day asked about", story.Ferry(4).Who(func(c *record.Client) { c.Screening.On = story.Day(28) }), "untold"},
		{"screening", "on the day of the last session before a long break", story.Away(story.Ferry(16), 25, story.Never).Who(func(c *record.Client) { c.Screening.On = story.Day(25) }), "untold"},
		{"screening", "before a break of 84 days", story.Away(story.Ferry(16), 25, story.Never).Later(-2), "met"},
		{"screening", "before a break of 85 days", story.Away(story.Ferry(16), 25, story.Never).Later(-1), "untold"},

		{"clearance", "12 months", story.Ferry(4).Who(story.Slowed(story.Day(27) - 365)), "met"},
		{"clearance", "over 12 months", story.Ferry(4).Who(story.Slowed(story.Day(27) - 366)), "unmet"},
		{"clearance", "under 12 months", story.Ferry(4).Who(story.Slowed(story.Day(27) - 364)), "met"},
		{"clearance", "none", story.Ferry(4).Who(story.Slowed(0)), "untold"},
		{"clearance", "on the day from which the medicine is known", story.Ferry(4).Who(story.Slowed(story.Day(10))).Who(knownFrom("medicine", story.Day(10))), "met"},
		{"clearance", "from before the medicine", story.Ferry(4).Who(story.Slowed(story.Day(10))).Who(knownFrom("medicine", story.Day(11))), "untold"},
		{"clearance", "from before asthma, which needs none", story.Ferry(4).Who(story.Slowed(story.Day(10))).Who(func(c *record.Client) {
			c.Conditions = []record.Condition{record.Asthma}
		}).Who(knownFrom("conditions", story.Day(11))), "met"},
		{"disease", "cleared before it was known", story.Ferry(4).Who(story.Ill(true, story.Day(10))).Who(knownFrom("disease", story.Day(11))), "unmet"},
		{"disease", "inactive, cleared before it was known", story.Ferry(1).Who(story.Ill(false, story.Began-10)).Who(knownFrom("disease", story.Began-9)), "unmet"},
	}
}

// clearedBefore clears a client so many days before the screening.
func clearedBefore(days workout.Date) func(*record.Client) {
	return func(c *record.Client) { c.Clearance = c.Screening.On - days }
}

// knownFrom dates a fact of a client.
func knownFrom(fact string, from workout.Date) func(*record.Client) {
	return func(c *record.Client) {
		if c.Dated == nil {
			c.Dated = map[string]record.Dated{}
		}
		c.Dated[fact] = record.Dated{From: from, Entered: from}
	}
}

// TestScreeningTable is the published table of pre-participation screening (Riebe 2015).
func TestScreeningTable(t *testing.T) {
	for _, c := range []struct {
		name           string
		active, ill, s bool
		want           record.Clear
	}{
		{"inactive, healthy, no signs", false, false, false, record.NotNecessary},
		{"inactive, disease, no signs", false, true, false, record.BeforeAny},
		{"inactive, healthy, signs", false, false, true, record.BeforeAny},
		{"inactive, disease, signs", false, true, true, record.BeforeAny},
		{"active, healthy, no signs", true, false, false, record.NotNecessary},
		{"active, disease, no signs", true, true, false, record.BeforeVigorous},
		{"active, healthy, signs", true, false, true, record.StopFirst},
		{"active, disease, signs", true, true, true, record.StopFirst},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := record.Screening{On: story.Began, Active: c.active, Disease: "none"}
			if c.ill {
				s.Disease = "metabolic"
			}
			if c.s {
				s.Signs = []signs.Sign{signs.SwollenAnkles}
			}
			if got := s.Clearance(); got != c.want {
				t.Errorf("clearance %q, want %q", got, c.want)
			}
		})
	}
	if got := (record.Screening{Active: true, Signs: []signs.Sign{signs.Sore}}).Clearance(); got != record.NotNecessary {
		t.Errorf("soreness calls for clearance %q", got)
	}
}

// TestScreeningVerdicts follows the same table into verdicts.
func TestScreeningVerdicts(t *testing.T) {
	for _, c := range []struct {
		name  string
		story *story.Story
		want  record.Verdict
	}{
		{"active with disease goes on in stage 1", story.Ferry(2).Who(story.Ill(true, 0)), record.Hold},
		{"and needs clearance before stage 2", story.Ferry(4).Who(story.Ill(true, 0)), record.Refer},
		{"and moves with a fresh one", story.Ferry(4).Who(story.Ill(true, story.Day(20))), record.Advance},
		{"but not with an old one", story.Ferry(4).Who(story.Ill(true, story.Began-400)), record.Refer},
		{"inactive with disease", story.Ferry(1).Who(story.Ill(false, 0)), record.Refer},
		{"inactive with disease and clearance", story.Ferry(1).Who(story.Ill(false, story.Began-5)), record.Hold},
		{"signs", story.Ferry(1).Then(story.Note(2, signs.Palpitations)), record.Refer},
		{"stage 2 with an old one", story.Intervals(4).Who(story.Ill(true, story.Began-400)), record.Refer},
		{"the same in a recovery phase of zone 1", story.Intervals(4).Who(story.Ill(true, story.Began-400)).Who(func(c *record.Client) { c.State = record.RecoveryOf }), record.Hold},
		{"third tier", story.Ferry(1).Then(story.Note(2, signs.Cold)), record.Ease},
		{"not answered", story.Ferry(4).Who(func(c *record.Client) { c.Screening = record.Screening{} }), record.NotAssessable},
		{"not answered but ill", story.Ferry(4).Who(func(c *record.Client) { c.Screening = record.Screening{} }).Then(story.Note(26, signs.Fever)), record.Ease},
		{"under 18", story.Ferry(4).Who(func(c *record.Client) { c.Born = workout.MustDate("2010-01-01") }), record.NotAssessable},
		{"under 18 with a sign", story.Ferry(4).Who(func(c *record.Client) { c.Born = workout.MustDate("2010-01-01") }).Then(story.Note(2, signs.Faint)), record.Refer},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Errorf("verdict %v, want %s: %s", *a.Verdict, c.want, a.Summary)
			}
		})
	}
}

// TestUnansweredScreeningIsRaisedOnce: the other gates that rest on it do not repeat it.
func TestUnansweredScreeningIsRaisedOnce(t *testing.T) {
	a := assess(story.Ferry(4).Who(func(c *record.Client) { c.Screening = record.Screening{} }))
	n := 0
	for _, l := range a.Lacking {
		if l.Needed.Code == progression.NeedScreening {
			n++
			if l.Rule != policy.Screening {
				t.Errorf("needed by %s", l.Rule)
			}
		}
	}
	if n != 1 {
		t.Errorf("needed %d times: %v", n, a.Lacking)
	}
}

// TestMedicineThatSlows: no rule about heart rate decides; clearance, sessions, minutes, effort and
// talk do.
func TestMedicineThatSlows(t *testing.T) {
	heart := []policy.ID{"zone", "steady", "check-session", "fall", "same-effort", "evidence", "resting"}
	for _, c := range []struct {
		name string
		who  func(*record.Client)
		want record.Verdict
	}{
		{"cleared", story.Slowed(story.Day(20)), record.Advance},
		{"not cleared", story.Slowed(0), record.Hold}, // asked first what it is for
		{"not cleared, for no disease", func(c *record.Client) {
			story.Slowed(0)(c)
			c.Confirmed = []record.Checked{record.CheckedDisease}
		}, record.NotAssessable},
		{"pacemaker", func(c *record.Client) {
			c.Conditions, c.Clearance = []record.Condition{record.Pacemaker}, story.Day(20)
		}, record.Advance},
		{"pregnant, not cleared", func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} }, record.NotAssessable},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := story.Ferry(4).Who(c.who).Each(story.Drifts(9, 9, 9)) // would be against
			a := assess(s)
			if *a.Verdict != c.want {
				t.Errorf("verdict %s, want %s: %s", *a.Verdict, c.want, a.Summary)
			}
			for _, rule := range heart {
				if _, ok := story.Reason(a, rule); ok {
					t.Errorf("rule %s about heart rate is applied", rule)
				}
			}
			if len(a.Cautions) == 0 {
				t.Error("no caution says why")
			}
			p := prescription.Prescribe(defaults, s.Last(), s.Record(), a)
			for _, target := range p.Targets {
				if target.Low != 0 || target.High != 0 || target.Feel != workout.Comfortable {
					t.Errorf("target %+v gives beats", target)
				}
			}
		})
	}
}
