package progression_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// anyStory draws a client of four to eight weeks, half of them with sessions that are all good so
// that many are ready to move, the others with sessions of every quality.
func anyStory(t *rapid.T) *story.Story {
	stage := rapid.IntRange(1, 3).Draw(t, "stage")
	s := story.New(rapid.IntRange(4, 8).Draw(t, "weeks"), stage)
	if rapid.Bool().Draw(t, "inactive before") {
		s.Who(story.Inactive)
	}
	if rapid.Bool().Draw(t, "all good") {
		return s.Each(func(i int, d *story.Done) {
			if stage > 1 && i%3 != 1 {
				d.Bouts, d.Bout, d.Rpe = 4, 60, story.RPE20(15)
			}
			d.Drift, d.Fall = draw(t, "drift", -1, 3), draw(t, "fall", 29, 32)
		})
	}
	return s.Each(func(i int, d *story.Done) {
		if stage > 1 && i%3 != 1 {
			d.Bouts, d.Bout, d.Rpe = rapid.IntRange(0, 5).Draw(t, "bouts"), rapid.SampledFrom([]int{40, 60, 80}).Draw(t, "bout"), story.RPE20(15)
			d.Creep = rapid.Float64Range(-5, 15).Draw(t, "creep")
		}
		d.Skip = rapid.IntRange(0, 9).Draw(t, "skip") == 0
		d.Minutes = rapid.IntRange(15, 60).Draw(t, "minutes")
		d.Below = rapid.IntRange(60, 100).Draw(t, "below")
		d.Drift, d.Fall, d.Effort = draw(t, "drift", -1, 6), draw(t, "fall", 20, 40), draw(t, "effort", 110, 150)
		d.Sensor = rapid.SampledFrom([]workout.Sensor{workout.Strap, workout.Strap, workout.Wrist, workout.UnknownSensor}).Draw(t, "sensor")
		switch rapid.IntRange(0, 5).Draw(t, "answer") {
		case 0:
			d.Rpe, d.Talk = nil, record.NotAsked
		case 1:
			d.Rpe = story.RPE20(float64(rapid.IntRange(8, 19).Draw(t, "rpe")))
		case 2:
			d.Rpe = story.RPE10(float64(rapid.IntRange(1, 9).Draw(t, "rpe")))
		}
	})
}

// draw gives a value or, in one of four cases, none.
func draw(t *rapid.T, name string, low, high float64) *float64 {
	if rapid.IntRange(0, 3).Draw(t, name+" lacks") == 0 {
		return nil
	}
	return story.Num(rapid.Float64Range(low, high).Draw(t, name))
}

// TestMissingNeverAdvances takes one kind of input away that a move rests on.
func TestMissingNeverAdvances(t *testing.T) {
	take := map[string]func(*story.Story){
		"effort and talk": func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Rpe, d.Talk = nil, record.NotAsked }) },
		"heart rate": func(s *story.Story) {
			s.Who(func(c *record.Client) { c.Stage = 1 }).Each(func(_ int, d *story.Done) { d.NoHeart = true })
		},
		"sessions":      func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Skip = true }) },
		"screening":     func(s *story.Story) { s.Who(func(c *record.Client) { c.Screening = record.Screening{} }) },
		"date of birth": func(s *story.Story) { s.Who(func(c *record.Client) { c.Born = 0 }) },
		"clearance, with a slow heart": func(s *story.Story) {
			s.Who(story.Slowed(0))
		},
	}
	for name, without := range take {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			s := anyStory(t)
			without(s)
			if a := assess(s); story.Verdict(a) == record.Advance {
				t.Fatalf("advances without %s: %s", name, a.Summary)
			}
		}))
	}
}

// TestMissingIsNeverMet takes one kind of input away: no rule that rests on it is met.
func TestMissingIsNeverMet(t *testing.T) {
	for name, c := range map[string]struct {
		without func(*story.Story)
		rules   []policy.ID
	}{
		"effort and talk":              {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Rpe, d.Talk = nil, record.NotAsked }) }, []policy.ID{"effort", "bout-effort", "check-session"}},
		"heart rate":                   {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.NoHeart = true }) }, []policy.ID{"zone", "steady", "check-session", "same-effort", "fall", "back-in-zone", "creep"}},
		"sessions":                     {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Skip = true }) }, []policy.ID{"sessions", "sessions-total", "minutes", "longest", "interval-sessions", "effort", "bout-effort", "evidence"}},
		"bouts":                        {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Bouts = 0 }) }, []policy.ID{"interval-sessions", "bout-effort", "back-in-zone", "creep"}},
		"screening":                    {func(s *story.Story) { s.Who(func(c *record.Client) { c.Screening = record.Screening{} }) }, []policy.ID{"screening", "disease"}},
		"date of birth":                {func(s *story.Story) { s.Who(func(c *record.Client) { c.Born = 0 }) }, []policy.ID{"adult"}},
		"clearance, with a slow heart": {func(s *story.Story) { s.Who(story.Slowed(0)) }, []policy.ID{"clearance"}},
		"mornings":                     {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Resting = 0 }) }, []policy.ID{"resting"}},
		"enjoyment":                    {func(s *story.Story) { s.Each(func(_ int, d *story.Done) { d.Enjoyment = 0 }) }, []policy.ID{"enjoyment"}},
		"prescriptions":                {func(s *story.Story) { story.Bare(s) }, []policy.ID{"as-prescribed", "interval-sessions"}},
	} {
		t.Run(name, rapid.MakeCheck(func(t *rapid.T) {
			s := anyStory(t)
			c.without(s)
			for _, r := range assess(s).Reasons {
				if slices.Contains(c.rules, r.Rule) && story.Met(r) == "met" {
					t.Fatalf("without %s the rule %s is met: %s", name, r.Rule, r.Says)
				}
			}
		}))
	}
}

// TestAdvanceMeansEveryRequiredRuleIsMet, and no gate, easing or step-back rule is against.
func TestAdvanceMeansEveryRequiredRuleIsMet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := assess(anyStory(t))
		for _, r := range a.Reasons {
			deciding := r.Kind != policy.Evidence && r.Kind != policy.Informative
			if story.Verdict(a) == record.Advance && deciding && story.Met(r) != "met" {
				t.Fatalf("advances although %s is %s", r.Rule, story.Met(r))
			}
		}
		if (story.Verdict(a) == record.Advance || story.Verdict(a) == record.StepBack) != (a.To != nil) {
			t.Fatalf("verdict %s leads to %v", story.Verdict(a), a.To)
		}
		if (story.Verdict(a) == record.Hold) != (a.Plan != nil) {
			t.Fatalf("verdict %s has plan %v", story.Verdict(a), a.Plan)
		}
	})
}

// TestFitterNeverReadsAsTired: a heart rate that only gets better is no sign of tiredness.
func TestFitterNeverReadsAsTired(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		better := rapid.Float64Range(0, 3).Draw(t, "bpm a session")
		s := story.Ferry(rapid.IntRange(4, 8).Draw(t, "weeks")).Each(func(i int, d *story.Done) {
			d.Effort, d.Fall = story.Num(150-better*float64(i)), story.Num(20+better*float64(i))
			d.Resting = 75 - better/2*float64(i)
		})
		a := assess(s)
		if r, _ := story.Reason(a, policy.Tiredness); story.Met(r) != "met" {
			t.Fatalf("tiredness is %s: %s", story.Met(r), r.Says)
		}
		if v := story.Verdict(a); v == record.Ease || v == record.StepBack {
			t.Fatalf("verdict %s: %s", v, a.Summary)
		}
		for _, rule := range []policy.ID{"fall", "same-effort", "resting"} {
			if r, _ := story.Reason(a, rule); story.Met(r) == "unmet" {
				t.Fatalf("%s is unmet: %s", rule, r.Says)
			}
		}
	})
}

// TestPausedWeeksCountNeitherForNorAgainst moves the later weeks behind a pause: what is required
// and what is evidence stays as it was, but for the rule on breaks.
func TestPausedWeeksCountNeitherForNorAgainst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r, on := s.Record(), s.Last()
		from := 7 * rapid.IntRange(1, s.Weeks-1).Draw(t, "pause after week")
		long := 7 * rapid.IntRange(1, 8).Draw(t, "weeks of pause")
		before := progression.Assess(defaults, on, r)
		after := progression.Assess(defaults, on+workout.Date(long), behindPause(r, from, long))
		for _, x := range before.Reasons {
			if x.Kind != policy.Required && x.Kind != policy.Evidence || x.Rule == policy.Break {
				continue
			}
			y, ok := story.Reason(after, x.Rule)
			if !ok || story.Met(x) != story.Met(y) || !cmp.Equal(x.Observed, y.Observed) {
				t.Fatalf("%s is %s (%v) without and %s (%v) with the pause", x.Rule, story.Met(x), value(x.Observed), story.Met(y), value(y.Observed))
			}
		}
		if before.Week != after.Week {
			t.Fatalf("week %d without and %d with the pause", before.Week, after.Week)
		}
	})
}

// behindPause shifts everything from a day on by the length of a pause that is put there.
func behindPause(r record.Record, from, long int) record.Record {
	shift := func(d workout.Date) workout.Date {
		if d >= story.Day(from) {
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
	story.Paused(from, from+long-1)(&r)
	return r
}

// TestMoreDataNeverHidesARequiredRule: one more session or note can turn a met rule against, but
// never into one without enough data. What the evidence rule counts may open again by its own
// definition and is left out. The session is shorter than the others, since the notes of a day
// belong to its longest one.
func TestMoreDataNeverHidesARequiredRule(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r := s.Record()
		before := progression.Assess(defaults, s.Last(), r)
		x := story.Done{
			Day: story.Day(rapid.IntRange(0, 7*s.Weeks-1).Draw(t, "day")), Hour: 18, Minutes: 12, Sport: workout.Running, Place: workout.Outdoor,
			Sensor: workout.Strap, Below: 95, Drift: draw(t, "drift", -1, 9), Fall: draw(t, "fall", 10, 50), End: 125,
			Effort: draw(t, "effort", 100, 160), Load: 2.4, Bouts: rapid.IntRange(0, 4).Draw(t, "bouts"), Bout: 60,
		}
		if rapid.Bool().Draw(t, "answered") {
			x.Rpe = story.RPE20(float64(rapid.IntRange(6, 20).Draw(t, "rpe")))
		}
		x.Enter(&r)
		after := progression.Assess(defaults, s.Last(), r)
		for _, old := range before.Reasons {
			if old.Kind != policy.Required || story.Met(old) != "met" || old.Rule == policy.EnoughEvidence {
				continue
			}
			if now, ok := story.Reason(after, old.Rule); ok && story.Met(now) == "untold" {
				t.Fatalf("%s was met and lacks data now: %s", old.Rule, now.Says)
			}
		}
	})
}

// TestLaterKnowledgeDoesNotCount: an assessment as of a day is the same whatever came in after it.
func TestLaterKnowledgeDoesNotCount(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := anyStory(t)
		r := s.Record()
		on := story.Day(rapid.IntRange(0, 7*s.Weeks-1).Draw(t, "as of"))
		if diff := cmp.Diff(progression.Assess(defaults, on, r.Until(on)), progression.Assess(defaults, on, r)); diff != "" {
			t.Fatal(diff)
		}
	})
}
