package coach_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// longerSessions is the default policy with another least length of the longest session.
func longerSessions(t *testing.T, minutes string) policy.Policy {
	t.Helper()
	before, after, ok := strings.Cut(string(policy.DefaultText()), "id = \"longest\"")
	if !ok {
		t.Fatal("the policy has no rule longest")
	}
	p, err := policy.Parse([]byte(before + "id = \"longest\"" + strings.Replace(after, "threshold = 20\n", "threshold = "+minutes+"\n", 1)))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Trying a policy says who would get another verdict and by which rule, at the threshold and just above
// it, and leaves no trace in the book.
func TestTryPolicy(t *testing.T) {
	c := open(t)
	ctx := t.Context()
	for _, on := range []string{"2026-08-03", "2026-08-05", "2026-08-10", "2026-08-12", "2026-08-17", "2026-08-19", "2026-08-24", "2026-08-26"} {
		r := record.Report{Date: day(on), Entered: day(on), Minutes: 45, Sport: workout.Walking, RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: record.TalkComfortable}
		if err := c.AddReport(ctx, "Runa", r, false); err != nil {
			t.Fatal(err)
		}
	}
	files := func() (names []string) {
		for _, pattern := range []string{"*.toml", "pages/*", "pages/*/*"} {
			found, _ := filepath.Glob(filepath.Join(c.Dir, pattern))
			names = append(names, found...)
		}
		return names
	}
	on, before, text := day("2026-08-30"), files(), c.Policy.Text()
	for minutes, met := range map[string]bool{"45": true, "46": false} {
		trials, err := c.TryPolicy(ctx, longerSessions(t, minutes), on)
		if err != nil || len(trials) != 2 {
			t.Fatalf("%v, %v", trials, err)
		}
		runa := trials[1]
		if runa.Client != "Runa" || runa.Stage != 1 || *runa.Now.Verdict != *runa.Would.Verdict && met {
			t.Fatalf("%+v", runa)
		}
		if met && len(runa.By) != 0 || !met && (len(runa.By) != 1 || runa.By[0].Rule != policy.Longest || !*runa.By[0].Now || *runa.By[0].Would || !strings.Contains(runa.By[0].Text, "45 min")) {
			t.Errorf("%s min: by %+v", minutes, runa.By)
		}
	}
	same, err := c.TryPolicy(ctx, c.Policy, on)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range same {
		if x.Changed || len(x.By) > 0 || !reflect.DeepEqual(x.Now, x.Would) {
			t.Errorf("the book's own policy changes %+v", x)
		}
	}
	if r := recordOf(t, c, "Runa", "2026-08-30", false); len(r.Prescriptions)+len(r.Decisions) != 0 {
		t.Errorf("something was stored: %+v", r.Prescriptions)
	}
	if after := files(); !reflect.DeepEqual(before, after) {
		t.Errorf("files %q, were %q", after, before)
	}
	if now, err := os.ReadFile(filepath.Join(c.Dir, "policy.toml")); err != nil || string(now) != text {
		t.Errorf("the book's policy was touched (%v)", err)
	}
	if early, err := c.TryPolicy(ctx, c.Policy, day("2026-07-01")); err != nil || len(early) != 0 {
		t.Errorf("before anybody began: %v, %v", early, err)
	}
}
