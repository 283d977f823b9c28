package progression_test

import (
	"math"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/internal/workout"
)

// daily makes the last week one session a day with the given loads of session-RPE times minutes,
// written as 10 times a tenth of the load; 0 is a day of rest.
func daily(loads ...int) *story.Story {
	return story.Intervals(4).Then(func(r *record.Record) {
		r.Recordings = r.Recordings[:9]
		r.Notes = r.Notes[:9]
		for i, load := range loads {
			if load > 0 {
				r.Reports = append(r.Reports, record.Report{
					Date: story.Day(21 + i), Entered: story.Day(21 + i), Minutes: float64(load) / 5, Sport: workout.Running, RPE: story.RPE10(5),
				})
			}
		}
	})
}

// lastWeek sets the lengths of the sessions of the last of four weeks, and of those before.
func lastWeek(now, before []int) func(int, *story.Done) {
	return func(i int, d *story.Done) {
		d.Minutes = before[i%3]
		if i >= 9 {
			d.Minutes = now[i%3]
		}
	}
}

func loadCases() []ruleCase {
	of := func(m ...int) []int { return m }
	return []ruleCase{
		{"as-prescribed", "at 80 % of the minutes", story.Ferry(4).Each(story.Lasting(28)), "met"},
		{"as-prescribed", "under 80 % of the minutes", story.Ferry(4).Each(story.Lasting(28, 28, 27)), "unmet"},
		{"as-prescribed", "two of three sessions", story.Ferry(4).Each(func(i int, d *story.Done) {
			d.Minutes = 60
			d.Skip = i == 10
		}), "unmet"},
		{"as-prescribed", "a session seven days ago is of the week before", story.Ferry(4).Later(1), "unmet"},
		{"as-prescribed", "more than prescribed", story.Ferry(4).Each(story.Lasting(60)), "met"},
		{"as-prescribed", "one of two interval sessions", story.Intervals(4).Each(story.Failing(1)), "unmet"},
		{"as-prescribed", "nothing prescribed", func() *story.Story { s := story.Ferry(4); s.Plans = false; return s }(), "untold"},

		{"monotony", "published definition, 1.05", daily(180, 0, 200, 0, 180, 240, 0), "met"},
		{"monotony", "published definition, 2.22", daily(210, 230, 200, 240, 220, 0, 190), "unmet"},
		{"monotony", "seven equal days", daily(200, 200, 200, 200, 200, 200, 200), "untold"},
		{"monotony", "effort on the other scale", story.Intervals(4), "untold"},

		{"weekly-rise", "at 20 %", story.Ferry(4).Each(lastWeek(of(60, 60, 60), of(50, 50, 50))), "met"},
		{"weekly-rise", "over 20 %", story.Ferry(4).Each(lastWeek(of(60, 60, 61), of(50, 50, 50))), "unmet"},
		{"weekly-rise", "a large rise below 150 min", story.Ferry(4).Each(lastWeek(of(49, 50, 50), of(20, 20, 20))), "met"},
		{"weekly-rise", "the same rise at 150 min", story.Ferry(4).Each(lastWeek(of(50, 50, 50), of(20, 20, 20))), "unmet"},
		{"weekly-rise", "three weeks", story.Ferry(3), "untold"},

		{"longest-run", "at 10 %", story.Ferry(4).Each(lastWeek(of(66, 40, 40), of(60, 40, 40))), "met"},
		{"longest-run", "over 10 %", story.Ferry(4).Each(lastWeek(of(67, 40, 40), of(60, 40, 40))), "unmet"},
		{"longest-run", "5 min are allowed", story.Ferry(4).Each(lastWeek(of(35, 20, 20), of(30, 20, 20))), "met"},
		{"longest-run", "6 min are over both", story.Ferry(4).Each(lastWeek(of(36, 20, 20), of(30, 20, 20))), "unmet"},
		{"longest-run", "no runs", story.Ferry(4).Each(func(_ int, d *story.Done) { d.Sport = workout.Cycling }), "untold"},
	}
}

// TestFosterMonotony holds the value against the definition (Foster 1998, sample SD): loads of 180,
// 0, 200, 0, 180, 240, 0 have a mean of 114.29 and an SD of 108.76, so 1.051.
func TestFosterMonotony(t *testing.T) {
	for _, c := range []struct {
		loads []int
		want  float64
	}{
		{[]int{180, 0, 200, 0, 180, 240, 0}, 1.051},
		{[]int{300, 200, 0, 350, 150, 400, 0}, 1.244},
		{[]int{210, 230, 200, 240, 220, 0, 190}, 2.219},
	} {
		r, _ := story.Reason(assess(daily(c.loads...)), "monotony")
		if r.Observed == nil || math.Abs(*r.Observed-c.want) > 0.0006 {
			t.Errorf("%v: monotony %v, want %v", c.loads, value(r.Observed), c.want)
		}
	}
}
