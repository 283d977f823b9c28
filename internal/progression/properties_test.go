package progression_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// anyStory draws a client of four to eight weeks, half of them with sessions that are all good so
// that many are ready to move, the others with sessions of every quality.
func anyStory(t *rapid.T) *story {
	stage := rapid.IntRange(1, 3).Draw(t, "stage")
	s := newStory(rapid.IntRange(4, 8).Draw(t, "weeks"), stage)
	if rapid.Bool().Draw(t, "inactive before") {
		s.who(inactive)
	}
	if rapid.Bool().Draw(t, "all good") {
		return s.each(func(i int, d *done) {
			if stage > 1 && i%3 != 1 {
				d.bouts, d.bout, d.rpe = 4, 60, rpe20(15)
			}
			d.drift, d.fall = draw(t, "drift", -1, 3), draw(t, "fall", 29, 32)
		})
	}
	return s.each(func(i int, d *done) {
		if stage > 1 && i%3 != 1 {
			d.bouts, d.bout, d.rpe = rapid.IntRange(0, 5).Draw(t, "bouts"), rapid.SampledFrom([]int{40, 60, 80}).Draw(t, "bout"), rpe20(15)
			d.creep = rapid.Float64Range(-5, 15).Draw(t, "creep")
		}
		d.skip = rapid.IntRange(0, 9).Draw(t, "skip") == 0
		d.minutes = rapid.IntRange(15, 60).Draw(t, "minutes")
		d.below = rapid.IntRange(60, 100).Draw(t, "below")
		d.drift, d.fall, d.effort = draw(t, "drift", -1, 6), draw(t, "fall", 20, 40), draw(t, "effort", 110, 150)
		d.sensor = rapid.SampledFrom([]workout.Sensor{workout.Strap, workout.Strap, workout.Wrist, workout.UnknownSensor}).Draw(t, "sensor")
		switch rapid.IntRange(0, 5).Draw(t, "answer") {
		case 0:
			d.rpe, d.talk = nil, progression.NotAsked
		case 1:
			d.rpe = rpe20(float64(rapid.IntRange(8, 19).Draw(t, "rpe")))
		case 2:
			d.rpe = rpe10(float64(rapid.IntRange(1, 9).Draw(t, "rpe")))
		}
	})
}

// draw gives a value or, in one of four cases, none.
func draw(t *rapid.T, name string, low, high float64) *float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" lacks") == 0 {
		return nil
	}
	return num(rapid.Float64Range(low, high).Draw(t, name))
}

func verdict(a progression.Assessment) progression.Verdict {
	if a.Verdict == nil {
		return ""
	}
	return *a.Verdict
}

// TestMissingNeverAdvances takes one kind of input away that a move rests on.
func TestMissingNeverAdvances(t *testing.T) {
	take := map[string]func(*story){
		"effort and talk": func(s *story) { s.each(func(_ int, d *done) { d.rpe, d.talk = nil, progression.NotAsked }) },
		"heart rate": func(s *story) {
			s.who(func(c *progression.Client) { c.Stage = 1 }).each(func(_ int, d *done) { d.noHeart = true })
		},
		"sessions":      func(s *story) { s.each(func(_ int, d *done) { d.skip = true }) },
		"screening":     func(s *story) { s.who(func(c *progression.Client) { c.Screening = progression.Screening{} }) },
		"date of birth": func(s *story) { s.who(func(c *progression.Client) { c.Born = 0 }) },
		"clearance, with a slow heart": func(s *story) {
			s.who(slowed(0))
		},
	}
	for name, without := range take {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			s := anyStory(t)
			without(s)
			if a := s.assess(); verdict(a) == progression.Advance {
				t.Fatalf("advances without %s: %s", name, a.Summary)
			}
		}))
	}
}

// TestMissingIsNeverMet takes one kind of input away: no rule that rests on it is met.
func TestMissingIsNeverMet(t *testing.T) {
	for name, c := range map[string]struct {
		without func(*story)
		rules   []string
	}{
		"effort and talk":              {func(s *story) { s.each(func(_ int, d *done) { d.rpe, d.talk = nil, progression.NotAsked }) }, []string{"effort", "bout-effort", "check-session"}},
		"heart rate":                   {func(s *story) { s.each(func(_ int, d *done) { d.noHeart = true }) }, []string{"zone", "steady", "check-session", "same-effort", "fall", "back-in-zone", "creep"}},
		"sessions":                     {func(s *story) { s.each(func(_ int, d *done) { d.skip = true }) }, []string{"sessions", "sessions-total", "minutes", "longest", "interval-sessions", "effort", "bout-effort", "evidence"}},
		"bouts":                        {func(s *story) { s.each(func(_ int, d *done) { d.bouts = 0 }) }, []string{"interval-sessions", "bout-effort", "back-in-zone", "creep"}},
		"screening":                    {func(s *story) { s.who(func(c *progression.Client) { c.Screening = progression.Screening{} }) }, []string{"screening", "disease"}},
		"date of birth":                {func(s *story) { s.who(func(c *progression.Client) { c.Born = 0 }) }, []string{"adult"}},
		"clearance, with a slow heart": {func(s *story) { s.who(slowed(0)) }, []string{"clearance"}},
		"mornings":                     {func(s *story) { s.each(func(_ int, d *done) { d.resting = 0 }) }, []string{"resting"}},
		"enjoyment":                    {func(s *story) { s.each(func(_ int, d *done) { d.enjoyment = 0 }) }, []string{"enjoyment"}},
		"prescriptions":                {func(s *story) { bare(s) }, []string{"as-prescribed", "interval-sessions"}},
	} {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			s := anyStory(t)
			c.without(s)
			for _, r := range s.assess().Reasons {
				if slices.Contains(c.rules, r.Rule) && met(r) == "met" {
					t.Fatalf("without %s the rule %s is met: %s", name, r.Rule, r.Text)
				}
			}
		}))
	}
}

// TestAdvanceMeansEveryRequiredRuleIsMet, and no gate, easing or step-back rule is against.
func TestAdvanceMeansEveryRequiredRuleIsMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := anyStory(t).assess()
		for _, r := range a.Reasons {
			deciding := r.Kind != progression.Evidence && r.Kind != progression.Informative
			if verdict(a) == progression.Advance && deciding && met(r) != "met" {
				t.Fatalf("advances although %s is %s", r.Rule, met(r))
			}
		}
		if (verdict(a) == progression.Advance || verdict(a) == progression.StepBack) != (a.To != nil) {
			t.Fatalf("verdict %s leads to %v", verdict(a), a.To)
		}
		if (verdict(a) == progression.Hold) != (a.Plan != nil) {
			t.Fatalf("verdict %s has plan %v", verdict(a), a.Plan)
		}
	})
}

// TestFitterNeverReadsAsTired: a heart rate that only gets better is no sign of tiredness.
func TestFitterNeverReadsAsTired(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		better := rapid.Float64Range(0, 3).Draw(t, "bpm a session")
		s := ferry(rapid.IntRange(4, 8).Draw(t, "weeks")).each(func(i int, d *done) {
			d.effort, d.fall = num(150-better*float64(i)), num(20+better*float64(i))
			d.resting = 75 - better/2*float64(i)
		})
		a := s.assess()
		if r, _ := reason(a, "tiredness"); met(r) != "met" {
			t.Fatalf("tiredness is %s: %s", met(r), r.Text)
		}
		if v := verdict(a); v == progression.Ease || v == progression.StepBack {
			t.Fatalf("verdict %s: %s", v, a.Summary)
		}
		for _, rule := range []string{"fall", "same-effort", "resting"} {
			if r, _ := reason(a, rule); met(r) == "unmet" {
				t.Fatalf("%s is unmet: %s", rule, r.Text)
			}
		}
	})
}

// TestPausedWeeksCountNeitherForNorAgainst moves the later weeks behind a pause: what is required
// and what is evidence stays as it was, but for the rule on breaks.
func TestPausedWeeksCountNeitherForNorAgainst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r, on := s.record(), s.last()
		from := 7 * rapid.IntRange(1, s.weeks-1).Draw(t, "pause after week")
		long := 7 * rapid.IntRange(1, 8).Draw(t, "weeks of pause")
		before := policy.Assess(on, r)
		after := policy.Assess(on+workout.Date(long), behindPause(r, from, long))
		for _, x := range before.Reasons {
			if x.Kind != progression.Required && x.Kind != progression.Evidence || x.Rule == "break" {
				continue
			}
			y, ok := reason(after, x.Rule)
			if !ok || met(x) != met(y) || !cmp.Equal(x.Observed, y.Observed) {
				t.Fatalf("%s is %s (%v) without and %s (%v) with the pause", x.Rule, met(x), value(x.Observed), met(y), value(y.Observed))
			}
		}
		if before.Week != after.Week {
			t.Fatalf("week %d without and %d with the pause", before.Week, after.Week)
		}
	})
}

// behindPause shifts everything from a day on by the length of a pause that is put there.
func behindPause(r progression.Record, from, long int) progression.Record {
	shift := func(d workout.Date) workout.Date {
		if d >= day(from) {
			return d + workout.Date(long)
		}
		return d
	}
	for i := range r.Recordings {
		r.Recordings[i].Date, r.Recordings[i].Received = shift(r.Recordings[i].Date), shift(r.Recordings[i].Received)
	}
	for i := range r.Notes {
		r.Notes[i].Date, r.Notes[i].Entered = shift(r.Notes[i].Date), shift(r.Notes[i].Entered)
	}
	for i := range r.Prescriptions {
		p := &r.Prescriptions[i]
		p.From, p.To = shift(p.From), shift(p.To)
	}
	paused(from, from+long-1)(&r)
	return r
}

// TestMoreDataNeverHidesARequiredRule: one more session or note can turn a met rule against, but
// never into one that cannot be told. What the evidence rule counts may open again by its own
// definition and is left out. The session is shorter than the others, since the notes of a day
// belong to its longest one.
func TestMoreDataNeverHidesARequiredRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r := s.record()
		before := policy.Assess(s.last(), r)
		x := done{
			day: day(rapid.IntRange(0, 7*s.weeks-1).Draw(t, "day")), hour: 18, minutes: 12, sport: workout.Running, place: workout.Outdoor,
			sensor: workout.Strap, below: 95, drift: draw(t, "drift", -1, 9), fall: draw(t, "fall", 10, 50), end: 125,
			effort: draw(t, "effort", 100, 160), load: 2.4, bouts: rapid.IntRange(0, 4).Draw(t, "bouts"), bout: 60,
		}
		if rapid.Bool().Draw(t, "answered") {
			x.rpe = rpe20(float64(rapid.IntRange(6, 20).Draw(t, "rpe")))
		}
		x.enter(&r)
		after := policy.Assess(s.last(), r)
		for _, old := range before.Reasons {
			if old.Kind != progression.Required || met(old) != "met" || old.Rule == "evidence" {
				continue
			}
			if now, ok := reason(after, old.Rule); ok && met(now) == "untold" {
				t.Fatalf("%s was met and cannot be told any more: %s", old.Rule, now.Text)
			}
		}
	})
}

// TestLaterKnowledgeDoesNotCount: an assessment as of a day is the same whatever came in after it.
func TestLaterKnowledgeDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r := s.record()
		on := day(rapid.IntRange(0, 7*s.weeks-1).Draw(t, "as of"))
		if diff := cmp.Diff(policy.Assess(on, r.Until(on)), policy.Assess(on, r)); diff != "" {
			t.Fatal(diff)
		}
	})
}
