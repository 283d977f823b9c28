package reports_test

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"nextrung/internal/hindsight"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/reports"
)

// textOf is a page without its markup.
func textOf(page []byte) string {
	text := regexp.MustCompile(`(?s)<(style|script).*?</(style|script)>|<[^>]*>`).ReplaceAllString(string(page), " ")
	return regexp.MustCompile(`\s+`).ReplaceAllString(text, " ")
}

// early is moved up in the fourth week although the base is not there.
func early(edit func(*member)) reports.Client {
	m := &member{record: record.Record{Client: facts("Jaskel", "1984-01-30", 6)}}
	m.record.Decisions = []record.Decision{{Client: "Jaskel", Entered: asOf - 14, Act: record.DoAdvance, From: asOf - 13, Stage: 2,
		Because: "asks for intervals every week", By: "Corvane", Verdict: ptr(record.Hold)}}
	m.base(6, false)
	if edit != nil {
		edit(m)
	}
	return m.page(6)
}

func TestEarlierDecisions(t *testing.T) {
	c := early(nil)
	page, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	text, last := textOf(page), c.Past.Decisions[0].Decision
	for _, want := range []string{
		"Moved up to stage 2 Although the policy said hold.", "Asks for intervals every week. By Corvane, sealed " + last.Digest.Short() + ". Known that day: ",
		"In the two weeks since: 6 ", "Assessed as of 4 October 2026 by policy " + c.Assessment.Policy,
		"The last decision (moved up, 20 September 2026) is sealed " + last.Digest.String(),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("%q does not stand on the page: %s", want, text[strings.Index(text, "Earlier decisions"):])
		}
	}
	if strings.Contains(text, "hanged") {
		t.Error("something is said to have changed")
	}
}

// What changed afterwards stands with the decision, and one line at the top points there; an assessment
// of an earlier day says so itself.
func TestChangedAfterwardsStandsOnThePage(t *testing.T) {
	c := early(nil)
	k := hindsight.Known{On: asOf, Now: c.Record}
	k.Now.Recordings[0].Aside = record.SetAside(record.Excluded, "her brother's strap")
	c.Past = hindsight.Back(k, policy.Default())
	page, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"The data behind the last decision have changed since. See the earlier decisions below.", "no longer counts (excluded: her brother"} {
		if !strings.Contains(textOf(page), want) {
			t.Errorf("%q does not stand on the page", want)
		}
	}
	c.Changed = &hindsight.Changed{On: asOf, Changes: []hindsight.Change{{Kind: hindsight.CameLater, Thing: hindsight.Recording, Of: asOf - 2, Came: asOf + 5}}}
	if page, err = reports.DecisionSample(c); err != nil || !strings.Contains(textOf(page), c.Changed.Text()) {
		t.Errorf("the assessment does not say that it changed: %v", err)
	}
}

// Of many decisions the last ones stand on the page, newest first, and it says how many are left out.
func TestOldDecisionsAreLeftOut(t *testing.T) {
	c := early(func(m *member) {
		m.record.Decisions = nil
		for i := range 9 {
			m.record.Decisions = append(m.record.Decisions, record.Decision{Client: "Jaskel", Entered: asOf - 29, Act: record.DoHold,
				From: asOf - 28, Stage: 1, Because: fmt.Sprintf("reason %d", i), By: "Corvane", Verdict: ptr(record.Hold)})
		}
	})
	page, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	text := textOf(page)
	if strings.Contains(text, "Reason 2.") || !strings.Contains(text, "3 older decisions are not shown here.") ||
		strings.Index(text, "Reason 8.") > strings.Index(text, "Reason 3.") {
		t.Error(text[strings.Index(text, "Earlier decisions"):])
	}
}

func TestNoDecisionYet(t *testing.T) {
	page, err := reports.DecisionSample(torrec())
	if err != nil || !strings.Contains(textOf(page), "No decision yet.") || strings.Contains(textOf(page), "Earlier decisions") {
		t.Errorf("without a decision: %v", err)
	}
}

// The seal of the book stands on the trainer's page and on the client's; a decision that was entered later says so.
func TestTheSealAndTheDayOfEntryStandOnThePages(t *testing.T) {
	c := early(nil)
	c.Sealed = "412-0a1b2c3d4e5f6071"
	c.Past.Decisions[0].Decision.Typed = asOf - 2
	page, err := reports.DecisionSample(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Seal of the book: 412-0a1b2c3d4e5f6071;", "20 September 2026 (entered on 2 October 2026) Moved up"} {
		if !strings.Contains(textOf(page), want) {
			t.Errorf("%q is not on the decision page", want)
		}
	}
	page, err = reports.Progress(c)
	if err != nil {
		t.Fatal(err)
	}
	if want := "For your trainer’s records: 412-0a1b2c3d4e5f6071"; !strings.Contains(textOf(page), want) {
		t.Errorf("%q is not on the progress page", want)
	}
}
