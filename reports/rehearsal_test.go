package reports_test

import (
	"html"
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/rehearsal"
	"nextrung/reports"
)

// rehearsed is a made-up rehearsal with round counts: 200 clients of whom the policy moves up 120, 6 of
// them too early.
func rehearsed() (rehearsal.Result, []rehearsal.Curve) {
	wait := 2
	counts := func(moved, unready, inTime int) rehearsal.Counts {
		return rehearsal.Counts{
			Clients: 200, Stays: 300, Advanced: moved, AdvancedUnready: unready, AdvancedUnable: unready / 2, Followed: 50, HardAfter: 5, Ready: 160, ReadyInTime: inTime, Trained: 80, TrainedInTime: 60,
			MedianWait: &wait, Weeks: 3200, Ease: 128, AtSix: 200, NotAssessableSix: 10, DueUnready: 50, ForEffort: 40, ForTalk: 25,
			Kept: 400, By: map[policy.ID]int{"minutes": 300, "effort": 200}, ByOnly: map[policy.ID]int{"minutes": 100},
		}
	}
	tried := func(way rehearsal.Way, c rehearsal.Counts) rehearsal.Tried {
		never := c
		never.MedianWait, never.Advanced, never.AdvancedUnready = nil, 0, 0
		return rehearsal.Tried{Way: way, Groups: []rehearsal.Group{{Name: "everybody", Counts: c}, {Name: "chest strap", Counts: never}}}
	}
	five, no, yes := 5.0, false, true
	r := rehearsal.Result{
		Clients: 200, Weeks: 16, Seed: 1, Policy: "sha256:" + strings.Repeat("0a", 32), Definition: rehearsal.Definition,
		Ways:     []rehearsal.Tried{tried(rehearsal.Whole, counts(120, 6, 64)), tried(rehearsal.NoHeart, counts(130, 13, 72)), tried(rehearsal.Calendar, counts(200, 80, 160))},
		Aims:     []rehearsal.Aim{{Text: "at most 5 % of those moved up were not ready", Value: &five, Low: 2, High: 9, Met: &yes}, {Text: "at least 70 % of the ready", Value: &five, Low: 2, High: 9, Met: &no}, {Text: "no case at all"}},
		Compared: []string{"The rules about heart rate <add> nothing."}, Assumed: rehearsal.Assumed(rehearsal.Options{}),
	}
	return r, []rehearsal.Curve{
		{Rule: "minutes", Stage: 1, Is: "at least", Unit: "min a week", Now: 75, Points: []rehearsal.Point{{Threshold: 60, Moved: 110, Unready: 11, Ready: 100, InTime: 50}, {Threshold: 75, Moved: 80, Unready: 4, Ready: 100, InTime: 40}}},
		{Rule: "creep", Stage: 2, Is: "at most", Unit: "bpm", Now: 8, Points: []rehearsal.Point{{Threshold: 4, Moved: 0, Ready: 0}, {Threshold: 8, Moved: 0, Ready: 0}}},
	}
}

// TestRehearsalPage: the shares are those of the counts, what has no case says so, and the page says
// first that its clients are invented.
func TestRehearsalPage(t *testing.T) {
	b, err := reports.RehearsalSample(rehearsed())
	if err != nil {
		t.Fatal(err)
	}
	page := html.UnescapeString(string(b))
	for _, want := range []string{
		"The clients on this page are invented.", "does not prove that they are safe", "Licensed practice and local rules come first",
		"By the policy 5.0 % of those moved up were not ready, by the calendar alone 40.0 %.",
		"<td>120</td><td>5.0 %</td><td>2.5 %</td><td>10.0 %</td><td>40.0 %</td><td>75.0 %</td><td>2 weeks</td><td>4.0 %</td>", // 6/120, 64/160, 60/80, 128/3200
		"<td>0</td><td>no cases</td>", "not moved up",
		"in 80.0 % because of effort, in 50.0 % because of talk, in 0.0 % because of the heart rate between bouts", // of 50
		"Minutes a week</th><td>75.0 %</td><td>25.0 %</td>",
		"reached, 5.0 % (95 % interval 2.0 to 9.0).", "not reached, 5.0 % (95 % interval 2.0 to 9.0).", "not enough data, as there were no cases.",
		"From 60 to 75, the share of ready clients moved up in time goes from 50.0 % to 40.0 %, and the share moved up too early from 10.0 % to 5.0 %.",
		"Between 4 and 8, the threshold makes no difference here: other rules decide.",
		"One invented number",
	} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(string(b), "<add>") {
		t.Error("a text of the result is not escaped")
	}
}
