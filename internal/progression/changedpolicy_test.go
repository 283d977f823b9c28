package progression_test

import (
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/story"
)

// rewritten is the default policy with one text of a rule's block replaced.
func rewritten(t *testing.T, text, rule, before, after string) string {
	t.Helper()
	head, rest, ok := strings.Cut(text, "id = \""+rule+"\"\n")
	if !ok || !strings.Contains(rest, before) {
		t.Fatalf("no %q in rule %s", before, rule)
	}
	return head + "id = \"" + rule + "\"\n" + strings.Replace(rest, before, after, 1)
}

// TestTrainerMayChange: sentence, numbers, window and source are the trainer's, and the assessment
// follows them.
func TestTrainerMayChange(t *testing.T) {
	text := rewritten(t, string(policy.DefaultText()), "weeks", "threshold = 4", "threshold = 5")
	text = rewritten(t, text, "steady", "source = \"", "source = \"our own, ")
	p, err := policy.Parse([]byte(text))
	if err != nil {
		t.Fatal(err)
	}
	s := story.Ferry(4)
	a := progression.Assess(p, s.Last(), s.Record())
	if r, _ := story.Reason(a, policy.Weeks); story.Met(r) != "unmet" || *r.Threshold != 5 {
		t.Errorf("the longer base is not needed: %s", r.Says)
	}
	if r, _ := story.Reason(a, policy.Steady); !strings.HasPrefix(r.Source, "our own, ") {
		t.Errorf("source %q", r.Source)
	}
	if a.Policy != p.Digest() || a.Policy == defaults.Digest() {
		t.Errorf("policy %s", a.Policy)
	}
}
