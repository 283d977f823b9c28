package progression_test

import (
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

func ill(active bool, clearance workout.Date) func(*progression.Client) {
	return func(c *progression.Client) {
		c.Screening.Active, c.Screening.Disease, c.Clearance = active, "heart", clearance
	}
}

func slowed(clearance workout.Date) func(*progression.Client) {
	return func(c *progression.Client) { c.Medicine, c.Clearance = progression.Slows, clearance }
}

func gateCases() []ruleCase {
	unscreened := func(c *progression.Client) { c.Screening = progression.Screening{} }
	return []ruleCase{
		{"adult", "18 today", ferry(4).who(func(c *progression.Client) { c.Born = workout.MustDate("2008-10-04") }), "met"},
		{"adult", "18 tomorrow", ferry(4).who(func(c *progression.Client) { c.Born = workout.MustDate("2008-10-05") }), "unmet"},
		{"adult", "18 since yesterday", ferry(4).who(func(c *progression.Client) { c.Born = workout.MustDate("2008-10-03") }), "met"},
		{"adult", "not known", ferry(4).who(func(c *progression.Client) { c.Born = 0 }), "untold"},

		{"emergency-sign", "none", ferry(4), "met"},
		{"emergency-sign", "chest", ferry(4).then(note(3, progression.Chest)), "unmet"},
		{"emergency-sign", "chest long ago", ferry(30).then(note(3, progression.Chest)), "unmet"},
		{"emergency-sign", "chest, then cleared", ferry(4).then(note(3, progression.Chest)).who(func(c *progression.Client) { c.Clearance = day(10) }), "met"},
		{"emergency-sign", "cleared, then chest", ferry(4).then(note(11, progression.Chest)).who(func(c *progression.Client) { c.Clearance = day(10) }), "unmet"},
		{"emergency-sign", "in the screening", ferry(4).who(func(c *progression.Client) { c.Screening.Signs = []progression.Symptom{progression.Faint} }), "unmet"},
		{"doctor-sign", "none", ferry(4).then(note(3, progression.Chest)), "met"},
		{"doctor-sign", "dizzy", ferry(4).then(note(3, progression.Dizzy)), "unmet"},
		{"doctor-sign", "dizzy, then cleared", ferry(4).then(note(3, progression.Dizzy)).who(func(c *progression.Client) { c.Clearance = day(3) }), "met"},

		{"disease", "none", ferry(4), "met"},
		{"disease", "inactive, never cleared", ferry(1).who(ill(false, 0)), "unmet"},
		{"disease", "inactive, cleared", ferry(1).who(ill(false, began-10)), "met"},
		{"disease", "active, not cleared, stage 1 goes on", ferry(2).who(ill(true, 0)), "met"},
		{"disease", "active, not cleared, vigorous work next", ferry(4).who(ill(true, 0)), "unmet"},
		{"disease", "stage 2, cleared 12 months ago", intervals(4).who(ill(true, day(27)-365)), "met"},
		{"disease", "stage 2, cleared a day earlier", intervals(4).who(ill(true, day(27)-366)), "unmet"},
		{"disease", "stage 2, cleared a day later", intervals(4).who(ill(true, day(27)-364)), "met"},
		{"disease", "not asked", ferry(4).who(unscreened), "untold"},

		{"screening", "answered", ferry(4), "met"},
		{"screening", "not answered", ferry(4).who(unscreened), "untold"},
		{"screening", "answered later than the day asked about", ferry(4).who(func(c *progression.Client) { c.Screening.On = day(28) }), "untold"},
		{"screening", "on the day of the last session before a long break", away(ferry(16), 25, never).who(func(c *progression.Client) { c.Screening.On = day(25) }), "untold"},
		{"screening", "before a break of 84 days", away(ferry(16), 25, never).later(-2), "met"},
		{"screening", "before a break of 85 days", away(ferry(16), 25, never).later(-1), "untold"},

		{"clearance", "12 months", ferry(4).who(slowed(day(27) - 365)), "met"},
		{"clearance", "over 12 months", ferry(4).who(slowed(day(27) - 366)), "unmet"},
		{"clearance", "under 12 months", ferry(4).who(slowed(day(27) - 364)), "met"},
		{"clearance", "none", ferry(4).who(slowed(0)), "untold"},
	}
}

// TestScreeningTable is the published table of pre-participation screening (Riebe 2015).
func TestScreeningTable(t *testing.T) {
	for _, c := range []struct {
		name           string
		active, ill, s bool
		want           progression.Clear
	}{
		{"inactive, healthy, no signs", false, false, false, progression.NotNecessary},
		{"inactive, disease, no signs", false, true, false, progression.BeforeAny},
		{"inactive, healthy, signs", false, false, true, progression.BeforeAny},
		{"inactive, disease, signs", false, true, true, progression.BeforeAny},
		{"active, healthy, no signs", true, false, false, progression.NotNecessary},
		{"active, disease, no signs", true, true, false, progression.BeforeVigorous},
		{"active, healthy, signs", true, false, true, progression.StopFirst},
		{"active, disease, signs", true, true, true, progression.StopFirst},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := progression.Screening{On: began, Active: c.active, Disease: "none"}
			if c.ill {
				s.Disease = "metabolic"
			}
			if c.s {
				s.Signs = []progression.Symptom{progression.SwollenAnkles}
			}
			if got := s.Clearance(); got != c.want {
				t.Errorf("clearance %q, want %q", got, c.want)
			}
		})
	}
	if got := (progression.Screening{Active: true, Signs: []progression.Symptom{progression.Sore}}).Clearance(); got != progression.NotNecessary {
		t.Errorf("soreness asks for clearance %q", got)
	}
}

// TestScreeningVerdicts follows the same table into verdicts.
func TestScreeningVerdicts(t *testing.T) {
	for _, c := range []struct {
		name  string
		story *story
		want  progression.Verdict
	}{
		{"active with disease goes on in stage 1", ferry(2).who(ill(true, 0)), progression.Hold},
		{"and needs clearance before stage 2", ferry(4).who(ill(true, 0)), progression.Refer},
		{"and moves with a fresh one", ferry(4).who(ill(true, day(20))), progression.Advance},
		{"but not with an old one", ferry(4).who(ill(true, began-400)), progression.Refer},
		{"inactive with disease", ferry(1).who(ill(false, 0)), progression.Refer},
		{"inactive with disease and clearance", ferry(1).who(ill(false, began-5)), progression.Hold},
		{"signs", ferry(1).then(note(2, progression.Palpitations)), progression.Refer},
		{"stage 2 with an old one", intervals(4).who(ill(true, began-400)), progression.Refer},
		{"the same in a recovery phase of zone 1", intervals(4).who(ill(true, began-400)).who(func(c *progression.Client) { c.State = progression.RecoveryOf }), progression.Hold},
		{"third tier", ferry(1).then(note(2, progression.Cold)), progression.Ease},
		{"not answered", ferry(4).who(func(c *progression.Client) { c.Screening = progression.Screening{} }), progression.NotAssessable},
		{"not answered but ill", ferry(4).who(func(c *progression.Client) { c.Screening = progression.Screening{} }).then(note(26, progression.Fever)), progression.Ease},
		{"under 18", ferry(4).who(func(c *progression.Client) { c.Born = workout.MustDate("2010-01-01") }), progression.NotAssessable},
		{"under 18 with a sign", ferry(4).who(func(c *progression.Client) { c.Born = workout.MustDate("2010-01-01") }).then(note(2, progression.Faint)), progression.Refer},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.story.assess()
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Errorf("verdict %v, want %s: %s", *a.Verdict, c.want, a.Summary)
			}
		})
	}
}

// TestUnansweredScreeningIsAskedForOnce: the other gates that rest on it do not repeat it.
func TestUnansweredScreeningIsAskedForOnce(t *testing.T) {
	a := ferry(4).who(func(c *progression.Client) { c.Screening = progression.Screening{} }).assess()
	n := 0
	for _, l := range a.Lacking {
		if l.Needed == "Answer the screening questions." {
			n++
			if l.Rule != "screening" {
				t.Errorf("asked for by %s", l.Rule)
			}
		}
	}
	if n != 1 {
		t.Errorf("asked for %d times: %v", n, a.Lacking)
	}
}

// TestMedicineThatSlows: no rule about heart rate decides; clearance, sessions, minutes, effort and
// talk do.
func TestMedicineThatSlows(t *testing.T) {
	heart := []string{"zone", "steady", "check-session", "fall", "same-effort", "evidence", "resting"}
	for _, c := range []struct {
		name string
		who  func(*progression.Client)
		want progression.Verdict
	}{
		{"cleared", slowed(day(20)), progression.Advance},
		{"not cleared", slowed(0), progression.NotAssessable},
		{"pacemaker", func(c *progression.Client) {
			c.Conditions, c.Clearance = []progression.Condition{progression.Pacemaker}, day(20)
		}, progression.Advance},
		{"pregnant, not cleared", func(c *progression.Client) { c.Conditions = []progression.Condition{progression.Pregnant} }, progression.NotAssessable},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := ferry(4).who(c.who).each(drifts(9, 9, 9)) // would speak against
			a := s.assess()
			if *a.Verdict != c.want {
				t.Errorf("verdict %s, want %s: %s", *a.Verdict, c.want, a.Summary)
			}
			for _, rule := range heart {
				if _, ok := reason(a, rule); ok {
					t.Errorf("rule %s about heart rate is applied", rule)
				}
			}
			if len(a.Cautions) == 0 {
				t.Error("no caution says why")
			}
			p := policy.Prescribe(s.last(), s.record(), a)
			for _, target := range p.Targets {
				if target.Low != 0 || target.High != 0 || target.Feel != workout.Comfortable {
					t.Errorf("target %+v gives beats", target)
				}
			}
		})
	}
}
