package reasons_test

import (
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// defaults is the default policy, which every story is assessed by.
var defaults = policy.Default()

// assess runs the default policy at the end of the story.
func assess(s *story.Story) record.Assessment {
	return progression.Assess(defaults, s.Last(), s.Record())
}

func sport(x workout.Sport) func(int, *story.Done) { return func(_ int, d *story.Done) { d.Sport = x } }

// TestWalksThatDoNotCount are named, with the command that lets them count.
func TestWalksThatDoNotCount(t *testing.T) {
	const run = "since walking is not among Ines's modes. To count them, set the modes to walk,run."
	for _, c := range []struct {
		name  string
		story *story.Story
		want  string // in the rule on sessions; "" for nothing
		lacks bool
	}{
		{"a runner who walks", story.Ferry(4).Who(story.Modes(workout.Run)).Each(sport(workout.Walking)), "12 walks do not count, " + run, true},
		{"nothing but walks and no modes", story.Ferry(4).Who(story.Modes()).Each(sport(workout.Walking)),
			"12 walks do not count, since walking is not among Ines's modes. To count them, set the modes to walk.", true},
		{"no modes, a run and walks", story.Ferry(4).Who(story.Modes()).Each(func(i int, d *story.Done) {
			if i > 0 {
				d.Sport = workout.Walking
			}
		}), "11 walks do not count, " + run, true},
		{"one walk among too few runs", story.Ferry(4).Who(story.Modes(workout.Run)).Each(func(i int, d *story.Done) {
			if d.Skip = i%3 > 0; i == 1 {
				d.Skip, d.Sport = false, workout.Walking
			}
		}), "1 walk does not count, " + run, true},
		{"enough runs and a walk", story.Ferry(5).Who(story.Modes(workout.Run)).Each(func(i int, d *story.Done) {
			if i == 1 {
				d.Sport = workout.Walking
			}
		}), "", false},
		{"a walker", story.Ferry(4).Each(sport(workout.Walking)), "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			r, _ := story.Reason(a, policy.Sessions)
			if c.want == "" && strings.Contains(reasons.Text(r.Says), "count,") || !strings.Contains(reasons.Text(r.Says), c.want) {
				t.Errorf("%q, want %q", reasons.Text(r.Says), c.want)
			}
			lacks := 0
			for _, l := range a.Lacking {
				if l.Needed.Code == progression.NeedWalks {
					lacks++
				}
			}
			if lacks != map[bool]int{true: 1}[c.lacks] {
				t.Errorf("lacking %+v", a.Lacking)
			}
		})
	}
	if a := assess(story.Ferry(2).Who(story.Modes()).Each(sport(workout.Walking))); reasons.Paragraph(a.Summary) != "Building, week 1 of 4, first decision on 18 October 2026. 6 walks do not count, since walking is not among Ines's modes. To count them, set the modes to walk." {
		t.Errorf("a hold on walks alone: %q", reasons.Paragraph(a.Summary))
	}
}

// TestStrengthIsCountedAndNamed: circuit-style strength counts as cardio time (common practice, no
// source), and the reason says so.
func TestStrengthIsCountedAndNamed(t *testing.T) {
	a := assess(story.Ferry(4).Each(func(i int, d *story.Done) {
		if i == 10 {
			d.Sport = workout.Strength
		}
	}))
	for rule, want := range map[policy.ID]string{
		"sessions":       "Sessions a week, oldest first: 3, 3, 3, 3, including 1 strength session.",
		"minutes":        "Minutes a week, oldest first: 105, 105, 105, 105, including 1 strength session.",
		"sessions-total": "12 sessions, including 1 strength session, since the stage began",
	} {
		if r, _ := story.Reason(a, rule); !strings.HasPrefix(reasons.Text(r.Says), want) {
			t.Errorf("%s: %q, want %q", rule, reasons.Text(r.Says), want)
		}
	}
}

// TestBeforeTheStageBegins: an assessment of an earlier day says when the stage begins and counts
// from there, and screening that came later is no missing answer.
func TestBeforeTheStageBegins(t *testing.T) {
	s := story.Ferry(4)
	r := s.Record()
	a := progression.Assess(defaults, story.Began-30, r)
	const begins = "Ines's stage 1 begins on 7 September 2026."
	if !strings.HasPrefix(reasons.Paragraph(a.Summary), begins) || a.First != story.Day(41) || a.Week != 0 {
		t.Errorf("%q, first decision on %s", reasons.Paragraph(a.Summary), a.First)
	}
	if weeks, _ := story.Reason(a, policy.Weeks); reasons.Text(weeks.Says) != begins+" At least 6 weeks are needed, since it is not known whether the client was active before." {
		t.Errorf("weeks: %q", reasons.Text(weeks.Says))
	}
	if x, _ := story.Reason(a, policy.Disease); reasons.Text(x.Says) != "Nobody had asked about known disease by 8 August 2026." {
		t.Errorf("disease: %q", reasons.Text(x.Says))
	}
	if a := progression.Assess(defaults, story.Began-1, r); reasons.Paragraph(a.Summary) != begins || a.First != story.Day(27) || story.Verdict(a) != record.Hold {
		t.Errorf("on its eve %s: %q", story.Verdict(a), reasons.Paragraph(a.Summary))
	}
	if p := prescription.Prescribe(defaults, story.Began-1, r, progression.Assess(defaults, story.Began-1, r)); p.Sessions != 3 {
		t.Errorf("on its eve the first week has %d sessions", p.Sessions)
	}
}

// TestNothingRecordedIsNoBreak: between an old file and the first session of the stage nothing is
// known, which is no break.
func TestNothingRecordedIsNoBreak(t *testing.T) {
	old := func(days int) func(*record.Record) {
		return func(r *record.Record) {
			x := story.Ferry(1).Record().Recordings[0]
			x.ID, x.Date, x.Received = "old", story.Began-workout.Date(days), story.Began-workout.Date(days)
			r.Recordings = append(r.Recordings, x)
		}
	}
	first := func() *story.Story {
		return story.Ferry(12).Each(func(_ int, d *story.Done) { d.Skip = d.Day < story.Day(77) })
	}
	for _, c := range []struct {
		name  string
		story *story.Story
		want  string
		met   string
	}{
		{"an old file, 77 days of nothing, three sessions", first().Then(old(90)), "The last session was 2 days ago.", "met"},
		{"an old file, nothing since", story.Without(story.Ferry(4)).Then(old(90)), "No session of this stage is on record yet, so there is no break.", "met"},
		{"trained until the stage began, then nothing", story.Without(story.Ferry(4)).Then(old(2)), "No session for 28 days: an easy return comes first.", "unmet"},
		{"three sessions alone", first(), "The last session was 2 days ago.", "met"},
		{"on the day of one", story.Ferry(2).Later(-2), "The last session was today.", "met"},
		{"on the day after", story.Ferry(2).Later(-1), "The last session was yesterday.", "met"},
	} {
		if r, _ := story.Reason(assess(c.story), policy.Break); reasons.Text(r.Says) != c.want || story.Met(r) != c.met {
			t.Errorf("%s: %s: %q, want %q", c.name, story.Met(r), reasons.Text(r.Says), c.want)
		}
	}
}

// TestWhatCounts: the sentences explain the observed value where it is not the last one.
func TestWhatCounts(t *testing.T) {
	lengths := []int{20, 22, 26, 30, 34, 38}
	a := assess(story.Ferry(6).Who(story.Inactive).Each(func(i int, d *story.Done) { d.Minutes = lengths[i/3] }))
	r, _ := story.Reason(a, policy.Minutes)
	if want := "Minutes a week, oldest first: 60, 66, 78, 90, 102, 114. The best 3 weeks had 102 min on average (needed: at least 60; the goal is 150)."; reasons.Text(r.Says) != want || *r.Observed != 102 {
		t.Errorf("%q, want %q", reasons.Text(r.Says), want)
	}
	if w, _ := story.Reason(a, policy.Weeks); reasons.Text(w.Says) != "In stage 1 for 6 weeks (needed: at least 6, since the client was inactive before)." {
		t.Errorf("%q", reasons.Text(w.Says))
	}
	if w, _ := story.Reason(assess(story.Intervals(4)), "interval-weeks"); strings.Contains(reasons.Text(w.Says), "since") {
		t.Errorf("stage 2: %q", reasons.Text(w.Says))
	}
}
