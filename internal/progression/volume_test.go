package progression_test

import (
	"testing"

	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// hasTime is a story of six weeks by somebody who has so many days and minutes, and what was done on each.
func hasTime(days, minutes int, done float64) *story.Story {
	s := story.Ferry(6).Who(func(c *record.Client) { c.Days, c.Minutes = days, minutes })
	s.Days = s.Days[:days]
	return s.Each(story.Lasting(int(done), int(2*done)-int(done)))
}

func volumeCases() []ruleCase {
	return []ruleCase{
		{"weeks", "at four", story.Ferry(4), "met"},
		{"weeks", "a day under four", story.Ferry(4).Later(-1), "unmet"},
		{"weeks", "over four", story.Ferry(5), "met"},
		{"weeks", "inactive before, five", story.Ferry(5).Who(story.Inactive), "unmet"},
		{"weeks", "inactive before, at six", story.Ferry(6).Who(story.Inactive), "met"},
		{"weeks", "a paused week does not count", story.Ferry(4).Then(story.Paused(7, 13)), "unmet"},
		{"weeks", "four besides a paused week", story.Ferry(5).Then(story.Paused(7, 13)), "met"},
		{"interval-weeks", "at four", story.Intervals(4), "met"},
		{"interval-weeks", "a day under four", story.Intervals(4).Later(-1), "unmet"},

		{"sessions", "at two a week", story.Ferry(4).Each(func(i int, d *story.Done) { d.Skip = i%3 == 1 }), "met"},
		{"sessions", "one in one of four weeks", story.Ferry(4).Each(func(i int, d *story.Done) { d.Skip = i == 4 || i == 5 }), "unmet"},
		{"sessions", "four good weeks of six", story.Ferry(6).Each(func(i int, d *story.Done) { d.Skip = i >= 3 && i < 9 && i%3 > 0 }), "met"},
		{"sessions", "three good weeks of six", story.Ferry(6).Each(func(i int, d *story.Done) { d.Skip = i < 9 && i%3 > 0 }), "unmet"},
		{"sessions", "three good weeks so far", story.Ferry(3), "untold"},
		{"sessions", "a bad week among three", story.Ferry(3).Each(func(i int, d *story.Done) { d.Skip = i < 2 }), "unmet"},
		{"sessions", "first week not over", story.Ferry(1).Later(-1), "untold"},
		{"sessions", "nothing known", story.Without(story.Ferry(4)), "untold"},

		{"sessions-total", "at twelve", story.Ferry(4), "met"},
		{"sessions-total", "eleven", story.Ferry(4).Each(func(i int, d *story.Done) { d.Skip = i == 5 }), "unmet"},
		{"sessions-total", "nothing known", story.Without(story.Ferry(4)), "untold"},

		{"minutes", "68 of 70 that the client has", hasTime(2, 35, 34), "met"},
		{"minutes", "at 90 % of the time", hasTime(2, 35, 31.5), "met"},
		{"minutes", "under 90 % of the time", hasTime(2, 35, 31), "unmet"},
		{"minutes", "much time, 74 done", hasTime(2, 60, 37), "unmet"},
		{"minutes", "just the least", hasTime(2, 25, 25), "met"},
		{"minutes", "under the least, all of it done", hasTime(2, 24, 24), "unmet"},
		{"minutes", "at 75 a week", story.Ferry(4).Each(story.Lasting(25)), "met"},
		{"minutes", "74 a week", story.Ferry(4).Each(story.Lasting(25, 25, 24)), "unmet"},
		{"minutes", "76 a week", story.Ferry(4).Each(story.Lasting(25, 25, 26)), "met"},
		// 60 and 90 min in turn are 75 on average; with 57 they are 73.5.
		{"minutes", "long weeks make up for short ones", story.Ferry(4).Each(story.Lasting(20, 20, 20, 30, 30, 30)), "met"},
		{"minutes", "long weeks do not quite make up", story.Ferry(4).Each(story.Lasting(19, 19, 19, 30, 30, 30)), "unmet"},
		{"minutes", "the best four of six", story.Ferry(6).Each(func(i int, d *story.Done) {
			if d.Minutes = 25; i < 6 {
				d.Minutes = 12
			}
		}), "met"},
		{"minutes", "long weeks with one session do not make up for short ones", story.Ferry(6).Each(func(i int, d *story.Done) {
			if d.Minutes = 24; i < 6 {
				d.Skip, d.Minutes = i%3 > 0, 90
			}
		}), "unmet"},
		{"minutes", "three good weeks so far", story.Ferry(3), "untold"},
		{"minutes", "nothing known", story.Without(story.Ferry(4)), "untold"},

		{"longest", "at 20 min", story.Ferry(4).Each(story.Lasting(20)), "met"},
		{"longest", "19 min", story.Ferry(4).Each(story.Lasting(19)), "unmet"},
		{"longest", "21 min", story.Ferry(4).Each(story.Lasting(21)), "met"},
		{"longest", "two of 10 min on a day, active before", story.Ferry(4).Each(story.Lasting(10)).Then(twice), "unmet"},
		{"longest", "two of 10 min on a day, inactive before", story.Ferry(4).Who(story.Inactive).Each(story.Lasting(10)).Then(twice), "met"},
		{"longest", "nothing known", story.Without(story.Ferry(4)), "untold"},
	}
}

// twice repeats every recording in the evening.
func twice(r *record.Record) {
	for _, x := range r.Recordings {
		x.ID += " evening"
		x.Workout.Start = x.Workout.Start.Add(10 * 60 * 60 * 1e9)
		r.Recordings = append(r.Recordings, x)
	}
}

// noFilesFrom takes away the recordings from a day on, whose answers stay.
func noFilesFrom(day int) func(*record.Record) {
	return func(r *record.Record) {
		r.Recordings = record.Keep(r.Recordings, func(x record.Recording) bool { return x.Date < story.Day(day) })
	}
}

func TestFirstDecision(t *testing.T) {
	cases := []struct {
		name  string
		story *story.Story
		first workout.Date
		week  int
		weeks int
	}{
		{"at the start", story.Ferry(1), story.Day(27), 1, 4},
		{"inactive before", story.Ferry(1).Who(story.Inactive), story.Day(41), 1, 6},
		{"past", story.Ferry(8), story.Day(55), 8, 4},
		{"a week away is no week done", story.Away(story.Ferry(3), 4, 14), story.Day(34), 2, 4},
		{"a week of which only the answers have come is one", story.Ferry(3).Then(noFilesFrom(7)), story.Day(27), 3, 4},
		{"nobody is stepped back into six weeks after seven weeks of training", story.Intervals(9).Who(story.Inactive).Then(story.Decided(record.DoStepBack, 56, 1)), story.Day(83), 1, 4},
		{"stepped back after two weeks, six weeks are still needed", story.Intervals(3).Who(story.Inactive).Then(story.Decided(record.DoStepBack, 14, 1)), story.Day(55), 1, 6},
		{"without clearance there is no date", story.Intervals(2).Who(func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} }), 0, 2, 4},
		{"training under 18 does not count", story.Ferry(5).Who(func(c *record.Client) { c.Born = workout.MustDate("2008-09-28") }), story.Day(48), 2, 4},
		{"a pause moves it", story.Ferry(3).Then(story.Paused(7, 13)), story.Day(34), 2, 4},
		{"stage 3 has none", story.New(5, 3), 0, 5, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.story)
			if a.First != c.first || a.Week != c.week || a.Weeks != c.weeks {
				t.Errorf("week %d of %d, first decision %v; want %d of %d, %v", a.Week, a.Weeks, a.First, c.week, c.weeks, c.first)
			}
		})
	}
}

func TestBuildingIsSaidInOneSentence(t *testing.T) {
	a := assess(story.Ferry(2))
	want := record.Fact{Code: progression.Building, Args: record.Args{"week": 2, "weeks": 4, "first": workout.MustDate("2026-10-04")}}
	if len(a.Summary) != 1 || !a.Summary[0].Equal(want) {
		t.Errorf("summary %v, want %v", a.Summary, want)
	}
	if a.Verdict == nil || *a.Verdict != record.Hold || a.Plan == nil || *a.Plan != record.Build {
		t.Errorf("verdict %v, plan %v", a.Verdict, a.Plan)
	}
}
