package progression_test

import (
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

func inactive(c *progression.Client) { c.Screening.Active = false }

// without drops every session of a story.
func without(s *story) *story { return s.each(func(_ int, d *done) { d.skip = true }) }

// lasting sets the length of every session in minutes.
func lasting(minutes ...int) func(int, *done) {
	return func(i int, d *done) { d.minutes = minutes[i%len(minutes)] }
}

func volumeCases() []ruleCase {
	return []ruleCase{
		{"weeks", "at four", ferry(4), "met"},
		{"weeks", "a day under four", ferry(4).later(-1), "unmet"},
		{"weeks", "over four", ferry(5), "met"},
		{"weeks", "inactive before, five", ferry(5).who(inactive), "unmet"},
		{"weeks", "inactive before, at six", ferry(6).who(inactive), "met"},
		{"weeks", "a paused week does not count", ferry(4).then(paused(7, 13)), "unmet"},
		{"weeks", "four besides a paused week", ferry(5).then(paused(7, 13)), "met"},
		{"interval-weeks", "at four", intervals(4), "met"},
		{"interval-weeks", "a day under four", intervals(4).later(-1), "unmet"},

		{"sessions", "at two a week", ferry(4).each(func(i int, d *done) { d.skip = i%3 == 1 }), "met"},
		{"sessions", "one in one of four weeks", ferry(4).each(func(i int, d *done) { d.skip = i == 4 || i == 5 }), "unmet"},
		{"sessions", "four good weeks of six", ferry(6).each(func(i int, d *done) { d.skip = i >= 3 && i < 9 && i%3 > 0 }), "met"},
		{"sessions", "three good weeks of six", ferry(6).each(func(i int, d *done) { d.skip = i < 9 && i%3 > 0 }), "unmet"},
		{"sessions", "three good weeks so far", ferry(3), "untold"},
		{"sessions", "a bad week among three", ferry(3).each(func(i int, d *done) { d.skip = i < 2 }), "unmet"},
		{"sessions", "first week not over", ferry(1).later(-1), "untold"},
		{"sessions", "nothing known", without(ferry(4)), "untold"},

		{"sessions-total", "at twelve", ferry(4), "met"},
		{"sessions-total", "eleven", ferry(4).each(func(i int, d *done) { d.skip = i == 5 }), "unmet"},
		{"sessions-total", "nothing known", without(ferry(4)), "untold"},

		{"minutes", "at 75 a week", ferry(4).each(lasting(25)), "met"},
		{"minutes", "74 a week", ferry(4).each(lasting(25, 25, 24)), "unmet"},
		{"minutes", "76 a week", ferry(4).each(lasting(25, 25, 26)), "met"},
		// 60 and 90 min in turn are 75 on average; with 57 they are 73.5.
		{"minutes", "long weeks make up for short ones", ferry(4).each(lasting(20, 20, 20, 30, 30, 30)), "met"},
		{"minutes", "long weeks do not quite make up", ferry(4).each(lasting(19, 19, 19, 30, 30, 30)), "unmet"},
		{"minutes", "the best four of six", ferry(6).each(func(i int, d *done) {
			if d.minutes = 25; i < 6 {
				d.minutes = 12
			}
		}), "met"},
		{"minutes", "long weeks with one session do not make up for short ones", ferry(6).each(func(i int, d *done) {
			if d.minutes = 24; i < 6 {
				d.skip, d.minutes = i%3 > 0, 90
			}
		}), "unmet"},
		{"minutes", "three good weeks so far", ferry(3), "untold"},
		{"minutes", "nothing known", without(ferry(4)), "untold"},

		{"longest", "at 20 min", ferry(4).each(lasting(20)), "met"},
		{"longest", "19 min", ferry(4).each(lasting(19)), "unmet"},
		{"longest", "21 min", ferry(4).each(lasting(21)), "met"},
		{"longest", "two of 10 min on a day, active before", ferry(4).each(lasting(10)).then(twice), "unmet"},
		{"longest", "two of 10 min on a day, inactive before", ferry(4).who(inactive).each(lasting(10)).then(twice), "met"},
		{"longest", "nothing known", without(ferry(4)), "untold"},
	}
}

// twice repeats every recording in the evening.
func twice(r *progression.Record) {
	for _, x := range r.Recordings {
		x.ID += " evening"
		x.Workout.Start = x.Workout.Start.Add(10 * 60 * 60 * 1e9)
		r.Recordings = append(r.Recordings, x)
	}
}

func TestFirstDecision(t *testing.T) {
	cases := []struct {
		name  string
		story *story
		first workout.Date
		week  int
		weeks int
	}{
		{"at the start", ferry(1), day(27), 1, 4},
		{"inactive before", ferry(1).who(inactive), day(41), 1, 6},
		{"past", ferry(8), day(27), 8, 4},
		{"a pause moves it", ferry(3).then(paused(7, 13)), day(34), 2, 4},
		{"stage 3 has none", newStory(5, 3), 0, 5, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a := c.story.assess()
			if a.First != c.first || a.Week != c.week || a.Weeks != c.weeks {
				t.Errorf("week %d of %d, first decision %v; want %d of %d, %v", a.Week, a.Weeks, a.First, c.week, c.weeks, c.first)
			}
		})
	}
}

func TestBuildingIsSaidInOneSentence(t *testing.T) {
	a := ferry(2).assess()
	if want := "Building, week 2 of 4, first decision on 4 October 2026."; a.Summary != want {
		t.Errorf("summary %q, want %q", a.Summary, want)
	}
	if a.Verdict == nil || *a.Verdict != progression.Hold || a.Plan == nil || *a.Plan != progression.Build {
		t.Errorf("verdict %v, plan %v", a.Verdict, a.Plan)
	}
}
