package progression_test

import (
	"nextrung/internal/record"
	"nextrung/internal/story"
	"testing"
)

// TestVerdictByState: a paused or finished client has none, and one who stays by choice never moves.
func TestVerdictByState(t *testing.T) {
	recovery := func(c *record.Client) { c.State, c.StateEnds = record.RecoveryOf, story.Day(60) }
	for _, c := range []struct {
		name string
		s    *story.Story
		want record.Verdict
	}{
		{"paused", story.Ferry(4).Then(story.Paused(27, 40)), ""},
		{"finished", story.Ferry(4).Who(func(c *record.Client) { c.State = record.Finished }), ""},
		{"by choice", story.Ferry(4).Then(story.Decided(record.DoMaintain, 20, 1)), record.Hold},
		{"recovery phase", story.Ferry(4).Who(recovery), record.Hold},
		{"stage 3", story.New(8, 3), record.Hold},
		{"no stage", story.New(4, 0), record.NotAssessable},
	} {
		t.Run(c.name, func(t *testing.T) {
			a := assess(c.s)
			if c.want == "" {
				if a.Verdict != nil || a.Plan != nil || a.To != nil || len(a.Reasons) != 0 {
					t.Errorf("%+v", a)
				}
				return
			}
			if a.Verdict == nil || *a.Verdict != c.want {
				t.Errorf("verdict %v, want %s", a.Verdict, c.want)
			}
			if a.To != nil {
				t.Errorf("leads to stage %d", *a.To)
			}
		})
	}
}
