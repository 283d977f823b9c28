package reasons

import "nextrung/internal/record"

// Written is an assessment for JSON: the facts with their codes, and beside each the sentence.
type Written struct {
	record.Assessment
	Reasons      []writtenReason    `json:"reasons"`
	Lacking      []writtenLack      `json:"lacking"`
	Against      []writtenLack      `json:"against,omitempty"`
	Cautions     []string           `json:"cautions"`
	CautionFacts record.Facts       `json:"caution_facts"`
	Summary      string             `json:"summary"`
	SummaryFacts record.Facts       `json:"summary_facts"`
	Robustness   *writtenRobustness `json:"robustness"`
}

type writtenReason struct {
	record.Reason
	Text string      `json:"text"`
	Fact record.Fact `json:"fact"`
}

type writtenLack struct {
	record.Lack
	Text       string      `json:"text"`
	Needed     string      `json:"needed"`
	Fact       record.Fact `json:"fact"`
	NeededFact record.Fact `json:"needed_fact"`
}

type writtenRobustness struct {
	record.Robustness
	HangsOn   string      `json:"hangs_on"`
	DependsOn record.Code `json:"depends_on"`
}

// Write puts the sentences beside the facts of an assessment.
func Write(a record.Assessment) Written {
	w := Written{Assessment: a, Reasons: []writtenReason{}, Lacking: lacks(a.Lacking), Against: lacks(a.Against), Cautions: Texts(a.Cautions), CautionFacts: a.Cautions,
		Summary: Paragraph(a.Summary), SummaryFacts: a.Summary}
	for _, r := range a.Reasons {
		w.Reasons = append(w.Reasons, writtenReason{r, Text(r.Says), r.Says})
	}
	if r := a.Robustness; r != nil {
		w.Robustness = &writtenRobustness{*r, Text(record.Fact{Code: r.DependsOn}), r.DependsOn}
	}
	return w
}

func lacks(all []record.Lack) []writtenLack {
	out := []writtenLack{}
	for _, l := range all {
		out = append(out, writtenLack{l, Text(l.Says), Text(l.Needed), l.Says, l.Needed})
	}
	return out
}
