package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
	"nextrung/reports"
)

// TestShareOfRepeats: each place that says how often a verdict came out says the same whole number of repeats, and
// only all of them are called all. "100 of 100" for 399 of 400 was a fault.
func TestShareOfRepeats(t *testing.T) {
	if _, _, err := reports.Runtime(); err != nil && os.Getenv("CI") != "true" {
		t.Skip(err)
	}
	s := story.Ferry(12)
	r := s.Record()
	a := progression.AssessOften(policy.Default(), s.Last(), r)
	if a.Robustness == nil || a.Robustness.Draws != 400 {
		t.Fatalf("robustness %+v", a.Robustness)
	}
	said := regexp.MustCompile(`in (\d+ of \d+) repeats(?:, [a-z ]+ in \d+)?; (no single input decides it)?`)
	for _, n := range []int{1, 199, 240, 377, 399, 400} {
		a.Robustness = &record.Robustness{SameVerdict: float64(n) / 400, Draws: 400, DependsOn: progression.OnSeveral}
		if n == 400 {
			a.Robustness.DependsOn = progression.OnNothing
		}
		if n < 240 { // a close call
			a.Robustness.Verdict, a.Robustness.Other, a.Robustness.OtherShare = *a.Verdict, record.Ease, float64(400-n)/400
		}
		var terminal bytes.Buffer
		printAssessment(&surroundings{out: &terminal}, a, nil, true)
		page, err := reports.Decision(reports.Client{Record: r, Assessment: a, Weeks: r.Weeks(s.Last(), 12)})
		if err != nil {
			t.Fatal(err)
		}
		for where, text := range map[string]string{"terminal": words(terminal.String()), "page": words(string(page)), "sentence": reasons.Robustness(a.Robustness)} {
			m := said.FindAllStringSubmatch(text, -1)
			if len(m) != 1 || m[0][1] != fmt.Sprintf("%d of 400", n) || (m[0][2] != "") != (n == 400) || strings.Contains(text, "of 100") {
				t.Errorf("%d of 400, %s: %q", n, where, m)
			}
			if close := fmt.Sprintf("A close call: %s in %d of 400 repeats, ease in %d; ", reasons.Verdict(*a.Verdict), n, 400-n); strings.Contains(text, close) != (n < 240) {
				t.Errorf("%d of 400, %s: is not %q", n, where, close)
			}
		}
		b, err := json.Marshal(reasons.Write(a))
		if want := fmt.Sprintf(`"same_verdict":%v,"draws":400`, float64(n)/400); err != nil || !strings.Contains(string(b), want) {
			t.Errorf("%d of 400: the JSON lacks %s (%v)", n, want, err)
		}
	}
}
