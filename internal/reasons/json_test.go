package reasons_test

import (
	"encoding/json"
	"slices"
	"testing"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/story"
)

// TestOldAssessmentsOpen: an assessment that was kept as sentences still says them.
func TestOldAssessmentsOpen(t *testing.T) {
	const old = `{"client":"Runa","as_of":"2026-10-04","stage":1,"verdict":"hold","plan":"build","to":null,"policy":"sha256:00","summary":"Not yet. Too few weeks.",
		"reasons":[{"rule":"zone","kind":"evidence","text":"95 % lay below the top of zone 1.","observed":95,"is":"at least","threshold":80,"met":true,"workouts":[]}],
		"lacking":[{"rule":"steady","text":"Not enough data yet.","needed":"Record a longer session."}],"against":[{"rule":"minutes","text":"Only 60 min.","needed":""}],
		"cautions":["With asthma, keep the reliever at hand."],"robustness":{"same_verdict":0.94,"draws":400,"hangs_on":"the maximal heart rate"}}`
	var a record.Assessment
	if err := json.Unmarshal([]byte(old), &a); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ got, want string }{
		{reasons.Paragraph(a.Summary), "Not yet. Too few weeks."}, {reasons.Text(a.Reason(policy.Zone).Says), "95 % lay below the top of zone 1."},
		{reasons.Text(a.Lacking[0].Needed), "Record a longer session."}, {reasons.Text(a.Against[0].Needed), ""},
		{reasons.Text(a.Cautions[0]), "With asthma, keep the reliever at hand."},
		{reasons.Robustness(a.Robustness), "Same verdict in 376 of 400 repeats; it depends most on the maximal heart rate."},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

// TestWrite: the JSON has the sentences under the keys that they always had, and the facts beside them.
func TestWrite(t *testing.T) {
	s := story.Ferry(6).Each(func(i int, d *story.Done) { d.Below, d.Drift, d.Rpe = 39, nil, nil })
	a := progression.AssessOften(defaults, s.Last(), s.Record())
	text, err := json.Marshal(reasons.Write(a))
	if err != nil {
		t.Fatal(err)
	}
	var out struct {
		Summary  string       `json:"summary"`
		Facts    record.Facts `json:"summary_facts"`
		Cautions []string     `json:"cautions"`
		Reasons  []struct {
			Rule policy.ID   `json:"rule"`
			Text string      `json:"text"`
			Fact record.Fact `json:"fact"`
			Met  *bool       `json:"met"`
		} `json:"reasons"`
		Lacking []struct {
			Text   string      `json:"text"`
			Needed string      `json:"needed"`
			Fact   record.Fact `json:"needed_fact"`
		} `json:"lacking"`
		Robustness struct {
			Same    float64     `json:"same_verdict"`
			HangsOn string      `json:"hangs_on"`
			On      record.Code `json:"depends_on"`
		} `json:"robustness"`
	}
	if err := json.Unmarshal(text, &out); err != nil {
		t.Fatal(err)
	}
	if out.Summary == "" || out.Summary != reasons.Paragraph(out.Facts) || out.Cautions == nil || len(out.Reasons) != len(a.Reasons) || len(out.Lacking) == 0 {
		t.Errorf("%s", text)
	}
	for i, r := range out.Reasons {
		if r.Rule != a.Reasons[i].Rule || r.Text == "" || r.Text != reasons.Text(r.Fact) {
			t.Errorf("%s says %q, its fact %v", r.Rule, r.Text, r.Fact)
		}
	}
	for _, l := range out.Lacking {
		if l.Text == "" || l.Needed != reasons.Text(l.Fact) {
			t.Errorf("%+v", l)
		}
	}
	if r := out.Robustness; r.HangsOn == "" || r.HangsOn != reasons.Text(record.Fact{Code: r.On}) {
		t.Errorf("%+v", r)
	}
}

// TestTheBookKeepsFacts: what the book holds reads the same after it was written and opened again.
func TestTheBookKeepsFacts(t *testing.T) {
	for name, s := range map[string]*story.Story{"stage 1": story.Ferry(4).Each(story.Drifts(9, 9, 9)), "stage 2": story.Intervals(4).Each(story.Failing(2)), "walks": story.Ferry(4).Who(story.Modes())} {
		a := assess(s)
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var back record.Assessment
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		if got, want := reasons.Write(back), reasons.Write(a); got.Summary != want.Summary || !slices.Equal(got.Cautions, want.Cautions) {
			t.Errorf("%s: %q, want %q", name, got.Summary, want.Summary)
		}
		for i, r := range back.Reasons {
			if got, want := reasons.Text(r.Says), reasons.Text(a.Reasons[i].Says); got != want {
				t.Errorf("%s: %s reads %q, want %q", name, r.Rule, got, want)
			}
		}
	}
}
