package policy_test

import (
	"fmt"
	"nextrung/internal/policy"
	"slices"
	"strings"
	"testing"
)

// edited is the default policy with some lines of some rules changed: rule, old and new, and so on.
func edited(t *testing.T, edits ...string) policy.Policy {
	t.Helper()
	text := defaultText()
	for i := 0; i+2 < len(edits); i += 3 {
		at := strings.Index(text, fmt.Sprintf("id = %q\n", edits[i]))
		end := len(text)
		if next := strings.Index(text[at:], "[[rule]]"); next > 0 {
			end = at + next
		}
		was := text[at:end]
		is := strings.Replace(was, edits[i+1], edits[i+2], 1)
		if was == is {
			t.Fatalf("%s has no %q", edits[i], edits[i+1])
		}
		text = text[:at] + is + text[end:]
	}
	p, err := policy.Parse([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestDoubts: every doubt at the number where it begins and just before, with its place in the file.
func TestDoubts(t *testing.T) {
	if d := policy.Default().Doubts(); len(d) != 0 {
		t.Errorf("the policy of a new book is doubted: %+v", d)
	}
	for _, c := range []struct {
		name  string
		edits []string
		want  string // rule and key; "" for none
		says  string
	}{
		{"effort on unlike scales", []string{"effort", "threshold_10 = 4", "threshold_10 = 3"}, "effort threshold_10", "corresponds to 4"},
		{"effort on like scales", []string{"effort", "threshold = 13", "threshold = 12", "effort", "threshold_10 = 4", "threshold_10 = 3", "check-session", "effort = 13, effort_10 = 4", "effort = 12, effort_10 = 3"}, "", ""},
		{"vigorous effort in zone 1", []string{"effort", "threshold = 13", "threshold = 14", "effort", "threshold_10 = 4", "threshold_10 = 5"}, "effort threshold", "vigorous"},
		{"the hardest answer on unlike scales", []string{"effort", "hardest = 14", "hardest = 15"}, "effort more.hardest_10", "corresponds to 6"},
		{"a check session harder than zone 1", []string{"check-session", "effort = 13, effort_10 = 4", "effort = 14, effort_10 = 5"}, "check-session more.effort", "harder"},
		{"a session that keeps and fails", []string{"failed-sessions", "effort = 18, effort_10 = 9", "effort = 16, effort_10 = 7"}, "failed-sessions more.effort", "counts as failed"},
		{"one that does not", []string{"failed-sessions", "effort = 18, effort_10 = 9", "effort = 17, effort_10 = 8"}, "", ""},
		{"fewer weeks for the inactive", []string{"weeks", "inactive = 6", "inactive = 3"}, "weeks more.inactive", "fewer weeks"},
		{"as many weeks", []string{"weeks", "inactive = 6", "inactive = 4"}, "", ""},
		{"two sessions a day", []string{"sessions", "threshold = 2", "threshold = 8"}, "sessions threshold", "more than one a day"},
		{"a total that never decides", []string{"sessions-total", "threshold = 10", "threshold = 6"}, "sessions-total threshold", "never decides"},
		{"a total that does", []string{"sessions-total", "threshold = 10", "threshold = 7"}, "", ""},
		{"a goal below what is needed", []string{"minutes", "goal = 150", "goal = 59"}, "minutes more.goal", "below"},
		{"a session longer than the week", []string{"longest", "threshold = 20", "threshold = 76", "longest", "goal = 30", "goal = 90"}, "longest threshold", "whole week"},
		{"minutes that never decide", []string{"minutes", "threshold = 60", "threshold = 20"}, "minutes threshold", "never decides"},
		{"answers that cannot come together", []string{"effort", "answers = 3", "answers = 7"}, "effort more.answers", "has only 6 sessions"},
		{"answers that can", []string{"effort", "answers = 3", "answers = 6"}, "", ""},
		{"interval sessions that cannot", []string{"interval-sessions", "threshold = 4", "threshold = 13"}, "interval-sessions threshold", "never be met"},
		{"interval sessions that can", []string{"interval-sessions", "threshold = 4", "threshold = 12"}, "", ""},
		{"more evidence than there is", []string{"evidence", "threshold = 0", "threshold = 4"}, "evidence threshold", "nobody can leave stage 1: it has only 3 heart-rate rules"},
		{"all the evidence of stage 1", []string{"evidence", "threshold = 0", "threshold = 3"}, "", ""},
		{"a return before there is a break", []string{"break", "threshold = 7", "threshold = 14", "break", "stage_1_from_days = 15", "stage_1_from_days = 14"}, "break more.stage_1_from_days", "needs no return"},
		{"a step down before a return", []string{"long-break", "threshold = 28", "threshold = 15", "break", "stage_1_from_days = 15", "stage_1_from_days = 16"}, "long-break threshold", "before the weeks of stage 1"},
		{"screening after each week", []string{"screening", "again_after_break_days = 84", "again_after_break_days = 7"}, "screening more.again_after_break_days", "asked again"},
		{"an own error that is never used", []string{"fall", "stable = 5", "stable = 6"}, "fall more.stable", "never used"},
		{"a drift that lets all pass", []string{"steady", "threshold = 3", "threshold = 30"}, "steady threshold", "lets nearly everything pass"},
		{"enjoyment that always met", []string{"enjoyment", "threshold = 1", "threshold = 3"}, "enjoyment threshold", "always met"},
		{"enjoyment that always is low", []string{"enjoyment", "low = 2", "low = 5"}, "enjoyment more.low", "every answer"},
		{"mornings that no week has", []string{"resting", "mornings = 3", "mornings = 8"}, "resting more.mornings", "do not fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := edited(t, c.edits...)
			doubts := p.Doubts()
			if c.want == "" {
				if len(doubts) != 0 {
					t.Errorf("doubted: %+v", doubts)
				}
				return
			}
			i := slices.IndexFunc(doubts, func(d policy.Doubt) bool { return string(d.Rule)+" "+d.Key == c.want })
			if i < 0 {
				t.Fatalf("%+v does not name %s", doubts, c.want)
			}
			d := doubts[i]
			if !strings.Contains(d.Text, c.says) {
				t.Errorf("%q does not say %q", d.Text, c.says)
			}
			key := strings.TrimPrefix(d.Key, "more.")
			if line := strings.Split(p.Text(), "\n")[d.Line-1]; !strings.HasPrefix(line[d.Column-1:], key) {
				t.Errorf("line %d, column %d is %q, want %s", d.Line, d.Column, line[d.Column-1:], key)
			}
		})
	}
}

// TestExplain: every rule, number and place is put into words, and a changed policy says its own.
func TestExplain(t *testing.T) {
	all := policy.Default().Explain()
	if len(all) != len(policy.RuleIDs()) {
		t.Fatalf("%d rules explained", len(all))
	}
	lines := strings.Split(policy.Default().Text(), "\n")
	for _, e := range all {
		if e.Sentence == "" || e.Asks == "" || e.LooksAt == "" || e.Does == "" || e.Source == "" || len(e.Stages) == 0 {
			t.Errorf("%+v", e)
		}
		if !strings.HasPrefix(lines[e.Line-1], "[[rule]]") || lines[e.Line] != fmt.Sprintf("id = %q", e.Rule) {
			t.Errorf("%s is not at line %d", e.Rule, e.Line)
		}
		for _, n := range e.Further {
			if n.Means == "" || strings.Contains(n.Means, "%!") {
				t.Errorf("%s.%s means %q", e.Rule, n.Key, n.Means)
			}
		}
	}
	says := func(p policy.Policy, id policy.ID) string {
		for _, e := range p.Explain() {
			if e.Rule == id {
				return fmt.Sprint(e)
			}
		}
		return ""
	}
	for id, want := range map[policy.ID]string{
		"minutes": "at least 60 min a week", "steady": "at most 3 bpm/10 min", "effort": "RPE of at most 13 on the 6-20 scale, at most 4 on the 0-10 scale",
		"sessions": "the last 42 days", "weeks": "6 weeks for a client who was inactive before", "tired-sign": "an easier week", "emergency-sign": "no signs", "screening": "at least 1 screening ", "long-break": "leads one stage down", "adult": "comes before everything else",
	} {
		if !strings.Contains(says(policy.Default(), id), want) {
			t.Errorf("%s: %s does not say %q", id, says(policy.Default(), id), want)
		}
	}
	if got := says(edited(t, "minutes", "threshold = 60", "threshold = 90"), "minutes"); !strings.Contains(got, "at least 90 min a week") {
		t.Errorf("a changed rule says %s", got)
	}
}

// TestChanges: what differs, and whether it needs more.
func TestChanges(t *testing.T) {
	if c := policy.Default().Changes(policy.Default()); len(c) != 0 || c == nil {
		t.Errorf("a policy differs from itself: %+v", c)
	}
	p := edited(t, "minutes", "threshold = 60", "threshold = 90", "effort", "threshold = 13", "threshold = 14", "effort", "threshold_10 = 4", "threshold_10 = 5", "bout-effort", "hardest = 16", "hardest = 17",
		"weeks", "threshold = 4", "threshold = 3", "steady", "threshold = 3", "threshold = 2", "zone", "window_days = 28", "window_days = 21", "resting", "threshold = 5", "threshold = 6",
		"screening", "again_after_break_days = 84", "again_after_break_days = 60", "creep", `source = "common`, `source = "our own, common`)
	var got []string
	for _, c := range policy.Default().Changes(p) {
		got = append(got, fmt.Sprintf("%s %s %s %s %s", c.Rule, c.Key, c.Was, c.Is, c.Way))
	}
	want := []string{
		"screening more.again_after_break_days 84 60 ", "weeks threshold 4 3 looser", "minutes threshold 60 90 stricter", "effort threshold 13 14 looser", "effort threshold_10 4 5 looser",
		"bout-effort more.hardest 16 17 looser", "zone window_days 28 21 ", "steady threshold 3 2 stricter", "creep source common practice, no source our own, common practice, no source ", "resting threshold 5 6 ",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}
