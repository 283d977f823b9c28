package prescription_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// planned sets the size of every stored week.
func planned(sessions, minutes int) func(*record.Record) {
	return func(r *record.Record) {
		for i := range r.Prescriptions {
			r.Prescriptions[i].Sessions, r.Prescriptions[i].Minutes = sessions, minutes
		}
	}
}

func has(notes []record.PlanNote, part string) bool {
	return slices.ContainsFunc(notes, func(n record.PlanNote) bool { return strings.Contains(prescription.Say(n), part) })
}

// TestWeeksGrowInSmallSteps: at most 20 % or a quarter of an hour above what was done (common
// practice, no source), by spreading where a session is added.
func TestWeeksGrowInSmallSteps(t *testing.T) {
	time := func(days, minutes int) func(*record.Client) {
		return func(c *record.Client) { c.Days, c.Minutes = days, minutes }
	}
	two := func(s *story.Story) *story.Story { s.Days = []int{0, 3}; return s }
	for _, c := range []struct {
		name              string
		story             *story.Story
		sessions, minutes int
		note              string
	}{
		{"a third session of 40 min is spread", two(story.Ferry(3)).Each(story.Lasting(40)).Then(planned(2, 40)).Who(time(3, 40)), 3, 30, ""},
		{"24 min done of 40 planned", story.Ferry(3).Each(story.Lasting(24)).Then(planned(3, 40)), 3, 29, "from what you did lately"},
		{"two minutes short is as good as all", story.Ferry(3).Each(story.Lasting(34)), 3, 40, ""},
		{"stopped before the cool-down grows", story.Ferry(3).Each(story.Lasting(30)).Then(planned(3, 36)), 3, 40, ""},
		{"what was prescribed before stays, odd or not", story.Ferry(3).Each(story.Lasting(37)).Then(planned(3, 37)).Each(story.Feeling(story.RPE20(14), record.TalkComfortable)), 3, 37, ""},
		{"what the client named stays, odd or not", story.Ferry(3).Each(story.Lasting(33)).Then(planned(3, 33)).Who(time(3, 38)), 3, 38, ""},
		{"what is left to grow by is more than half", story.Ferry(3).Each(story.Lasting(32)).Then(planned(3, 32)), 3, 35, ""},
		{"an hour and more stays exact", story.Ferry(3).Each(story.Lasting(57)).Then(planned(3, 57)).Who(time(3, 90)), 3, 62, ""},
		{"nine minutes short does not grow, and 30 min would take more than half of the step", story.Ferry(3).Each(story.Lasting(28)).Then(planned(3, 37)), 3, 33, "from what you did lately"},
		{"one of three missed, the others in full", story.Ferry(3).Each(func(i int, d *story.Done) { d.Skip = i%3 == 1 }), 3, 35, ""},
		{"one of three missed, of long weeks", story.Ferry(3).Each(story.Lasting(55)).Each(func(i int, d *story.Done) { d.Skip = i%3 == 1 }).Then(planned(3, 55)).Who(time(4, 60)), 3, 44, "from what you did lately"},
		{"one session of three", story.Ferry(3).Each(func(i int, d *story.Done) { d.Skip = i%3 > 0 }), 2, 25, "from what you did lately"},
		{"one missed week of four", story.Ferry(4).Each(func(i int, d *story.Done) { d.Skip = i > 9 }), 3, 35, "One more would help most"},
		{"twice as much in comfort is kept", story.Ferry(4).Each(story.Lasting(80)), 3, 80, ""},
		{"five sessions of 50 min in comfort", five(story.Ferry(4)).Each(story.Lasting(50)).Then(planned(3, 45)), 5, 50, ""},
		{"twice as much, but not the time for it", story.Ferry(4).Each(story.Lasting(80)).Who(time(3, 45)), 3, 45, "the time you said you have"},
		{"twice as much, but too hard", story.Ferry(4).Each(story.Lasting(80)).Each(story.Feeling(story.RPE20(15), record.TalkHard)), 3, 30, "less than you did lately, because some of that was too hard"},
		{"twice as much, but above zone 1", story.Ferry(4).Each(story.Lasting(80)).Each(func(_ int, d *story.Done) { d.Below, d.Talk = 30, record.NotAsked }), 3, 35, "less than you did lately, because some of that was too hard"},
		{"twice as much above zone 1, with easy talk", story.Ferry(4).Each(story.Lasting(80)).Each(func(_ int, d *story.Done) { d.Below = 30 }), 3, 80, ""},
		{"an eased week is eased from what was done", story.Ferry(3).Each(story.Lasting(24)).Then(planned(3, 40)).Then(story.Note(20, signs.Cold)), 2, 22, "easier week"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := next(c.story)
			if p.Sessions != c.sessions || p.Minutes != c.minutes {
				t.Errorf("%d x %d min, want %d x %d (%s)", p.Sessions, p.Minutes, c.sessions, c.minutes, reasons.Paragraph(a.Summary))
			}
			if c.note != "" && !has(p.Notes, c.note) {
				t.Errorf("notes %v, want %q", p.Notes, c.note)
			}
			if c.note == "" && has(p.Notes, "lately") {
				t.Errorf("notes %v", p.Notes)
			}
		})
	}
}

// five sessions a week.
func five(s *story.Story) *story.Story { s.Days = []int{0, 1, 2, 4, 5}; return s }

// TestNoWeekJumps: whatever was planned and done, next week has at most 20 % or 15 min more than the
// best seven days of the last four weeks, or what was prescribed before: up to 150 min, with half of it
// done.
func TestNoWeekJumps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lengths := rapid.SliceOfN(rapid.IntRange(0, 90), 12, 12).Draw(t, "minutes")
		sessions, minutes := rapid.IntRange(1, 5).Draw(t, "sessions"), rapid.IntRange(15, 60).Draw(t, "planned")
		s := story.Ferry(4).Each(func(i int, d *story.Done) { d.Minutes, d.Skip = max(lengths[i], 10), lengths[i] < 10 }).Then(planned(sessions, minutes))
		p, _ := next(s)
		best := 0
		for from := range 28 {
			sum := 0
			for i, m := range lengths {
				if on := 7*(i/3) + 2*(i%3); m >= 10 && on >= from && on < from+7 {
					sum += m
				}
			}
			if sum < sessions*minutes && 100*sum >= 80*sessions*minutes {
				sum = sessions * minutes
			}
			best = max(best, sum)
		}
		most := max(1.2*float64(best), float64(best+15))
		if total := sessions * minutes; total <= 150 && 2*best >= total {
			most = max(most, float64(total))
		}
		if got := p.Sessions * p.Minutes; best > 0 && float64(got) > most+1e-6 {
			t.Fatalf("%d x %d min after at most %d min a week", p.Sessions, p.Minutes, best)
		}
	})
}

// TestAHoldNamesWhatSpeaksAgainst, in the summary and for the client, and does not build on it.
func TestAHoldNamesWhatSpeaksAgainst(t *testing.T) {
	hard := func(percent int) func(int, *story.Done) { return func(_ int, d *story.Done) { d.Below = percent } }
	for _, c := range []struct {
		name    string
		story   *story.Story
		summary string
		plan    record.HoldPlan
		against []policy.ID
		note    string
	}{
		{"nothing", story.Ferry(3), "Building, week 3 of 4, first decision on 4 October 2026.", record.Build, nil, ""},
		{"above zone 1", story.Ferry(3).Each(hard(39)),
			"Building, week 3 of 4, first decision on 4 October 2026. Only 39 % of the main part was below the top of zone 1 (needed: at least 80 %).", record.Repeat, []policy.ID{"zone"},
			"Much of the last few weeks was harder than planned"},
		{"above zone 1, but not in the last week", story.Ferry(3).Each(hard(39)).Each(func(i int, d *story.Done) {
			if i > 5 {
				d.Below = 95
			}
		}), "Building, week 3 of 4, first decision on 4 October 2026. Only 57.7 % of the main part was below the top of zone 1 (needed: at least 80 %).", record.Build, []policy.ID{"zone"}, ""},
		{"above zone 1 and too hard", story.Ferry(3).Each(hard(39)).Each(story.Feeling(story.RPE20(15), record.TalkHard)),
			"Building, week 3 of 4, first decision on 4 October 2026. The highest effort was 15 on the 6-20 scale; most should be at or below 13, and none may be above 14 (9 answers). Only 39 % of the main part was below the top of zone 1 (needed: at least 80 %).",
			record.Repeat, []policy.ID{"effort", "zone"}, "felt harder than it should have"},
		{"one session a week", story.Ferry(3).Each(func(i int, d *story.Done) { d.Skip = i%3 > 0 }),
			"Building, week 3 of 4, first decision on 18 October 2026. None of the 3 weeks had at least 2 sessions.", record.Repeat, []policy.ID{"sessions"}, "You did 1 of 3 sessions"},
		{"the weeks are done", story.Ferry(6).Each(hard(39)).Each(func(i int, d *story.Done) { d.Skip = i%3 > 0 }),
			"Not yet. Only 39 % of the main part was below the top of zone 1 (needed: at least 80 %). None of the 6 weeks had at least 2 sessions.", record.Repeat, []policy.ID{"zone", "sessions", "minutes", "sessions-total"}, ""},
		{"the heart rate climbs", story.Ferry(3).Each(story.Drifts(9, 9, 9, 9, 9, 9, 9, 9, 9)),
			"Building, week 3 of 4, first decision on 4 October 2026. Drift stayed within 3 bpm per 10 min in none of the last 3 sessions that show it (needed: 2; the 2nd-lowest is 9).",
			record.Repeat, []policy.ID{"steady"}, "Your pulse still climbs"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, a := next(c.story)
			if reasons.Paragraph(a.Summary) != c.summary || a.Plan == nil || *a.Plan != c.plan {
				t.Errorf("%s: %q", fmt.Sprint(*a.Plan), reasons.Paragraph(a.Summary))
			}
			var against []policy.ID
			for _, l := range a.Against {
				against = append(against, l.Rule)
				if !strings.HasSuffix(reasons.Text(l.Says), ".") {
					t.Errorf("against: %+v", l)
				}
			}
			if !slices.Equal(against, c.against) {
				t.Errorf("against %v, want %v", against, c.against)
			}
			if !has(p.Notes, c.note) {
				t.Errorf("notes %v, want %q", p.Notes, c.note)
			}
		})
	}
	if p, _ := next(story.Ferry(3).Each(hard(39)).Who(story.Modes(workout.Run))); !has(p.Notes, "stays below 142.") {
		t.Errorf("with one mode the heart rates are named: %v", p.Notes)
	}
	const doubt = "If talking was easy all the same, tell your trainer"
	if p, _ := next(story.Ferry(3).Each(hard(39))); !has(p.Notes, doubt) {
		t.Errorf("talking was easy: %v", p.Notes)
	}
	if p, _ := next(story.Ferry(3).Each(hard(39)).Each(story.Feeling(story.RPE20(15), record.TalkHard))); has(p.Notes, doubt) {
		t.Errorf("talking was hard: %v", p.Notes)
	}
	if p, _ := next(story.Bare(story.Ferry(3).Each(hard(39)))); has(p.Notes, "harder than planned") || !has(p.Notes, "above your comfortable range") {
		t.Errorf("nothing was planned: %v", p.Notes)
	}
}

// TestHardWithinZone1DoubtsTheZone: two hard sessions within zone 1 say that its top is too high.
func TestHardWithinZone1DoubtsTheZone(t *testing.T) {
	hard := func(from, to, below int) *story.Story {
		return story.Ferry(3).Each(func(i int, d *story.Done) {
			if i >= from && i < to {
				d.Rpe, d.Talk, d.Below = story.RPE20(15), record.TalkHard, below
			}
		})
	}
	for _, c := range []struct {
		name  string
		story *story.Story
		want  bool
	}{
		{"two", hard(7, 9, 90), true},
		{"at the share needed", hard(7, 9, 80), true},
		{"one", hard(8, 9, 90), false},
		{"above zone 1", hard(7, 9, 70), false},
		{"before the zones were set anew", hard(1, 3, 90).Who(func(c *record.Client) {
			c.Zones = append(c.Zones, record.ZoneSet{From: story.Day(7), HRRest: 60, T1: 120})
		}), false},
	} {
		got := false
		_, assessed := next(c.story)
		for _, l := range assessed.Against {
			got = got || l.Rule == policy.Effort && strings.Contains(reasons.Text(l.Needed), "talk and effort overrule the zones")
		}
		if got != c.want {
			t.Errorf("%s: the zone is doubted: %v", c.name, got)
		}
	}
}

// TestIntervalNotes say what is new and how it should feel; where the bouts stand is in the plans.
func TestIntervalNotes(t *testing.T) {
	first, _ := next(onLast(story.Ferry(4), record.DoAdvance, 2))
	for _, want := range []string{
		"New this week: one session has short brisk parts. The others stay comfortable.",
		"Brisk means that your sentences get short.",
		"Go by how it feels: the alarm is only an upper limit, and your pulse doesn't have to reach it.",
	} {
		if !has(first.Notes, want) {
			t.Errorf("first week: no %q in %v", want, first.Notes)
		}
	}
	if steps := first.Plans()[0].Steps; steps[1].Kind != workout.Steady || steps[1].Seconds != 9*60 || steps[2].Kind != workout.Work {
		t.Errorf("the plan is %+v", steps)
	}
	later, _ := next(story.Intervals(2))
	if has(later.Notes, "New this week") {
		t.Errorf("later: %v", later.Notes)
	}
	// Bouts of 3 min have a lower beat, so the alarm is more than an upper limit.
	long, _ := next(story.Intervals(2).Each(func(_ int, d *story.Done) {
		if d.Bouts > 0 {
			d.Bouts, d.Bout = 5, 180
		}
	}).Then(func(r *record.Record) {
		for i := range r.Prescriptions {
			*r.Prescriptions[i].Intervals = record.Intervals{Count: 2, Bouts: 5, Work: 180, Rest: 180}
		}
	}))
	if has(long.Notes, "upper limit") || long.Intervals.Low == 0 {
		t.Errorf("long bouts: %v", long.Notes)
	}
	third, _ := next(onLast(story.Intervals(4), record.DoAdvance, 3))
	if !has(third.Notes, "one session has short hard parts") || !has(third.Notes, "single words") {
		t.Errorf("stage 3: %v", third.Notes)
	}
	effort, _ := next(onLast(story.Ferry(4).Who(story.Slowed(story.Day(1))), record.DoAdvance, 2))
	if has(effort.Notes, "upper limit") {
		t.Errorf("without beats there is no alarm: %v", effort.Notes)
	}
}

func TestAfterEffortByMode(t *testing.T) {
	for want, all := range map[string][]workout.Mode{
		"keep walking easily":    {workout.Run, workout.Walk},
		"keep pedalling lightly": {workout.Bike},
		"keep rowing lightly":    {workout.Row},
		"keep swimming easily":   {workout.Swim},
		"keep moving easily":     {workout.Bike, workout.Row},
	} {
		if got := prescription.AfterEffort(all); got != "Keep recording and "+want+" for 3 minutes after your last effort." {
			t.Errorf("%v: %q", all, got)
		}
	}
	for _, all := range [][]workout.Mode{nil, {workout.OtherMode}, {workout.Walk, workout.Bike}} {
		if got := prescription.AfterEffort(all); !strings.Contains(got, "keep moving easily") {
			t.Errorf("%v: %q", all, got)
		}
	}
}

// TestACheckSessionFits into the week: 25 min at one load and warm-up and cool-down besides, where
// nothing else can show whether the heart rate stays level.
func TestACheckSessionFits(t *testing.T) {
	flat := func(minutes int) *story.Story {
		return story.Ferry(4).Each(func(_ int, d *story.Done) { d.Drift, d.Fall, d.Effort, d.Minutes = nil, nil, nil, minutes }).Then(planned(3, minutes))
	}
	for _, c := range []struct {
		name string
		s    *story.Story
		want int
	}{
		{"long enough", flat(40), 40},
		{"shorter than long ones", flat(60), 45},
		{"one may be longer", flat(25), 35},
		{"no time for it", flat(25).Who(func(c *record.Client) { c.Minutes = 30 }), 0},
		{"too short to get there", flat(15), 0},
		{"not after a week that was too hard", flat(25).Each(story.Feeling(story.RPE20(15), record.TalkHard)), 0},
		{"not in an easier week", flat(40).Then(story.Note(26, signs.Cold)), 0},
		{"not in a recovery phase", flat(40).Who(func(c *record.Client) { c.State = record.RecoveryOf }), 0},
		{"not where the heart rate must not lead", flat(40).Who(story.Slowed(story.Day(1))), 0},
		{"not where it can be told", story.Ferry(4), 0},
		{"not while away", flat(40).Then(story.Paused(27, 40)), 0},
		{"not in the first week of a return after a long break", story.Away(story.Ferry(6), 20, 40), 0},
		{"in its second week", story.Away(story.Ferry(7), 20, 40), 35},
	} {
		p, a := next(c.s)
		if p.Check != c.want {
			t.Errorf("%s: a check session of %d min in sessions of %d, want %d (%s)", c.name, p.Check, p.Minutes, c.want, reasons.Paragraph(a.Summary))
		}
	}
}

// TestSignsInWords: noted often, named once.
func TestSignsInWords(t *testing.T) {
	a := assess(story.Ferry(3).Then(story.Note(16, signs.PoorSleep)).Then(story.Note(17, signs.Cold)).Then(story.Note(19, signs.PoorSleep)))
	r, _ := story.Reason(a, policy.TiredSign)
	if want := "Noted: a cold (24 September 2026) and slept badly (twice, most recently on 26 September 2026). Plan an easier week, then ask again."; reasons.Text(r.Says) != want {
		t.Errorf("%q, want %q", reasons.Text(r.Says), want)
	}
	if r, _ := story.Reason(a, policy.Tiredness); reasons.Text(r.Says) != "Reported: slept badly (twice) and a cold. The heart rate does not confirm it." {
		t.Errorf("%q", reasons.Text(r.Says))
	}
	for _, s := range signs.All() {
		if w := s.Words(); w == "" || strings.Contains(w, "-") {
			t.Errorf("%s: %q", s, w)
		}
	}
}

// TestChangesHaveADirection: shorter and less are said as such.
func TestChangesHaveADirection(t *testing.T) {
	lengths := func(last int) func(int, *story.Done) {
		return func(i int, d *story.Done) {
			if d.Minutes = 60; i > 8 {
				d.Minutes = last
			}
		}
	}
	for last, want := range map[int]string{
		48: "The longest run lasted 48 min, 20 % shorter than the longest of the 30 days before (60 min).",
		69: "The longest run lasted 69 min, 15 % longer than the longest of the 30 days before (60 min).",
		60: "The longest run lasted 60 min, no longer than the longest of the 30 days before (60 min).",
	} {
		if r, _ := story.Reason(assess(story.Ferry(4).Each(lengths(last))), "longest-run"); reasons.Text(r.Says) != want {
			t.Errorf("%q, want %q", reasons.Text(r.Says), want)
		}
	}
	if r, _ := story.Reason(assess(story.Ferry(4).Each(lengths(54))), "weekly-rise"); reasons.Text(r.Says) != "The week had 162 min, 10 % less than the weeks before it (180 min on average)." {
		t.Errorf("%q", reasons.Text(r.Says))
	}
}

// TestEveryModeHasItsWayToKeepMoving: "moving easily" is for clients with several modes and for other training.
func TestEveryModeHasItsWayToKeepMoving(t *testing.T) {
	for _, m := range workout.Modes() {
		if got := prescription.KeepMoving([]workout.Mode{m}); m != workout.OtherMode && strings.Contains(got, "moving easily") {
			t.Errorf("%s: %q", m, got)
		}
	}
}
