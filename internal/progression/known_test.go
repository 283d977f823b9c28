package progression_test

import (
	"strings"
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

func sport(x workout.Sport) func(int, *done) { return func(_ int, d *done) { d.sport = x } }

func modes(all ...workout.Mode) func(*progression.Client) {
	return func(c *progression.Client) { c.Modes = all }
}

// TestWalksThatDoNotCount are told of, with the command that lets them count.
func TestWalksThatDoNotCount(t *testing.T) {
	const run = "since walking is not among Ines's modes: `nextrung client set Ines --modes walk,run`."
	for _, c := range []struct {
		name  string
		story *story
		want  string // in the rule on sessions; "" for nothing
		lacks bool
	}{
		{"a runner who walks", ferry(4).who(modes(workout.Run)).each(sport(workout.Walking)), "12 walks do not count, " + run, true},
		{"nothing but walks and no modes", ferry(4).who(modes()).each(sport(workout.Walking)),
			"12 walks do not count, since walking is not among Ines's modes: `nextrung client set Ines --modes walk`.", true},
		{"no modes, a run and walks", ferry(4).who(modes()).each(func(i int, d *done) {
			if i > 0 {
				d.sport = workout.Walking
			}
		}), "11 walks do not count, " + run, true},
		{"one walk among too few runs", ferry(4).who(modes(workout.Run)).each(func(i int, d *done) {
			if d.skip = i%3 > 0; i == 1 {
				d.skip, d.sport = false, workout.Walking
			}
		}), "1 walk does not count, " + run, true},
		{"enough runs and a walk", ferry(5).who(modes(workout.Run)).each(func(i int, d *done) {
			if i == 1 {
				d.sport = workout.Walking
			}
		}), "", false},
		{"a walker", ferry(4).each(sport(workout.Walking)), "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := c.story.assess()
			r, _ := reason(a, "sessions")
			if c.want == "" && strings.Contains(r.Text, "count,") || !strings.Contains(r.Text, c.want) {
				t.Errorf("%q, want %q", r.Text, c.want)
			}
			lacks := 0
			for _, l := range a.Lacking {
				if strings.HasPrefix(l.Needed, "Let walks count") {
					lacks++
				}
			}
			if lacks != map[bool]int{true: 1}[c.lacks] {
				t.Errorf("lacking %+v", a.Lacking)
			}
		})
	}
	if a := ferry(2).who(modes()).each(sport(workout.Walking)).assess(); a.Summary != "Building, week 2 of 4, first decision on 4 October 2026. 6 walks do not count, since walking is not among Ines's modes: `nextrung client set Ines --modes walk`." {
		t.Errorf("a hold on walks alone: %q", a.Summary)
	}
	spaced := ferry(4).who(modes(workout.Run)).who(func(c *progression.Client) { c.Name = "Ines II" }).each(sport(workout.Walking)).assess()
	if r, _ := reason(spaced, "sessions"); !strings.Contains(r.Text, `client set "Ines II" --modes`) {
		t.Errorf("a name of two words: %q", r.Text)
	}
}

// TestStrengthIsCountedAndNamed: circuit-style strength counts as cardio time (common practice, no
// source), and the reason says so.
func TestStrengthIsCountedAndNamed(t *testing.T) {
	a := ferry(4).each(func(i int, d *done) {
		if i == 10 {
			d.sport = workout.Strength
		}
	}).assess()
	for rule, want := range map[string]string{
		"sessions":       "Sessions a week, oldest first: 3, 3, 3, 3, of them 1 strength session.",
		"minutes":        "Minutes a week, oldest first: 105, 105, 105, 105, of them 1 strength session.",
		"sessions-total": "12 sessions, of them 1 strength session since the stage began",
	} {
		if r, _ := reason(a, rule); !strings.HasPrefix(r.Text, want) {
			t.Errorf("%s: %q, want %q", rule, r.Text, want)
		}
	}
}

// TestBeforeTheStageBegins: what is asked for an earlier day says when the stage begins and counts
// from there, and screening that came later is no missing answer.
func TestBeforeTheStageBegins(t *testing.T) {
	s := ferry(4)
	r := s.record()
	a := policy.Assess(began-30, r)
	const begins = "Ines's stage 1 begins on 7 September 2026."
	if !strings.HasPrefix(a.Summary, begins) || a.First != day(41) || a.Week != 0 {
		t.Errorf("%q, first decision on %s", a.Summary, a.First)
	}
	if weeks, _ := reason(a, "weeks"); weeks.Text != begins+" At least 6 weeks are asked for, because no screening says active before." {
		t.Errorf("weeks: %q", weeks.Text)
	}
	if x, _ := reason(a, "disease"); x.Text != "Whether there is a known disease was not asked by 8 August 2026." {
		t.Errorf("disease: %q", x.Text)
	}
	if a := policy.Assess(began-1, r); a.Summary != begins || a.First != day(27) || verdict(a) != progression.Hold {
		t.Errorf("on its eve %s: %q", verdict(a), a.Summary)
	}
	if p := policy.Prescribe(began-1, r, policy.Assess(began-1, r)); p.Sessions != 3 {
		t.Errorf("on its eve the first week has %d sessions", p.Sessions)
	}
}

// TestNothingRecordedIsNoBreak: between an old file and the first session of the stage nothing is
// known, which is no break.
func TestNothingRecordedIsNoBreak(t *testing.T) {
	old := func(days int) func(*progression.Record) {
		return func(r *progression.Record) {
			x := ferry(1).record().Recordings[0]
			x.ID, x.Date, x.Received = "old", began-workout.Date(days), began-workout.Date(days)
			r.Recordings = append(r.Recordings, x)
		}
	}
	first := func() *story { return ferry(12).each(func(_ int, d *done) { d.skip = d.day < day(77) }) }
	for _, c := range []struct {
		name  string
		story *story
		want  string
		met   string
	}{
		{"an old file, 77 days of nothing, three sessions", first().then(old(90)), "The last session was 2 days ago.", "met"},
		{"an old file, nothing since", without(ferry(4)).then(old(90)), "No session of this stage is known yet, so there is no break.", "met"},
		{"trained until the stage began, then nothing", without(ferry(4)).then(old(2)), "There was no session for 28 days: a return comes first.", "unmet"},
		{"three sessions alone", first(), "The last session was 2 days ago.", "met"},
		{"on the day of one", ferry(2).later(-2), "The last session was today.", "met"},
		{"on the day after", ferry(2).later(-1), "The last session was yesterday.", "met"},
	} {
		if r, _ := reason(c.story.assess(), "break"); r.Text != c.want || met(r) != c.met {
			t.Errorf("%s: %s: %q, want %q", c.name, met(r), r.Text, c.want)
		}
	}
}

// TestWhatCounts: the sentences explain the observed value where it is not the last one.
func TestWhatCounts(t *testing.T) {
	lengths := []int{20, 22, 26, 30, 34, 38}
	a := ferry(6).who(inactive).each(func(i int, d *done) { d.minutes = lengths[i/3] }).assess()
	r, _ := reason(a, "minutes")
	if want := "Minutes a week, oldest first: 60, 66, 78, 90, 102, 114. The best 4 weeks had 96 min on average; at least 75 are asked for, 150 is the goal."; r.Text != want || *r.Observed != 96 {
		t.Errorf("%q, want %q", r.Text, want)
	}
	if w, _ := reason(a, "weeks"); w.Text != "6 weeks of stage 1 done; at least 6 are asked for, because the screening says inactive before." {
		t.Errorf("%q", w.Text)
	}
	if w, _ := reason(intervals(4).assess(), "interval-weeks"); strings.Contains(w.Text, "because") {
		t.Errorf("stage 2: %q", w.Text)
	}
}
