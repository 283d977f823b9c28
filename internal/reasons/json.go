package reasons

import (
	"slices"
	"strings"

	"nextrung/internal/fieldtest"
	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
)

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

// WrittenRecording is a recording for JSON.
type WrittenRecording struct {
	record.Recording
	Aside string `json:"aside,omitempty"`
}

// WriteRecording puts the sentences beside the facts of a recording.
func WriteRecording(r record.Recording) WrittenRecording {
	r.Workout.Remarks, r.Measured = WriteFacts(r.Workout.Remarks), WriteMeasurements(r.Measured)
	return WrittenRecording{r, Text(r.Aside)}
}

// WriteFacts puts its sentence into every fact.
func WriteFacts(all []record.Fact) []record.Fact {
	all = slices.Clone(all)
	for i, f := range all {
		all[i].Text = Text(f)
	}
	return all
}

// WriteMeasurements puts the sentences beside the facts of measurements.
func WriteMeasurements(m physiology.Measurements) physiology.Measurements {
	m.Remarks, m.Recoveries = WriteFacts(m.Remarks), slices.Clone(m.Recoveries)
	all := []*physiology.Basis{&m.Drift.Basis}
	for i := range m.Recoveries {
		all = append(all, &m.Recoveries[i].Basis)
	}
	if m.Check != nil {
		m.Check = new(*m.Check)
		all = append(all, &m.Check.Basis)
	}
	if m.SameEffort != nil {
		m.SameEffort = new(*m.SameEffort)
		all = append(all, &m.SameEffort.Basis)
	}
	if m.Held != nil {
		m.Held = new(*m.Held)
		all = append(all, &m.Held.Basis)
	}
	for _, b := range all {
		b.Clause = Why(b.Why, b.Clause)
	}
	return m
}

// WriteFaults puts its clause into every fault of a sensor.
func WriteFaults(all []heartrate.Fault) []heartrate.Fault {
	all = append([]heartrate.Fault{}, all...)
	for i, f := range all {
		all[i].Text = Text(f.Says())
	}
	return all
}

// WriteGrade puts its clause into every reason of a grade.
func WriteGrade(all []heartrate.Reason) []heartrate.Reason {
	all = append([]heartrate.Reason{}, all...)
	for i, r := range all {
		all[i].Text = Text(r.Says())
	}
	return all
}

// WriteTest puts the sentences beside the facts of a field test.
func WriteTest(t fieldtest.Result) fieldtest.Result {
	t.Remarks, t.Clause, t.Norms, t.Cautions = WriteFacts(t.Remarks), Why(t.Why, ""), Text(record.Fact{Code: t.Classed}), testCautions[t.Protocol]
	t.Rating = strings.Join(record.Map(t.Classes, func(c fieldtest.Class) string { return string(c) }), " to ")
	t.Figures = slices.Clone(t.Figures)
	for i, f := range t.Figures {
		t.Figures[i].Name = Text(record.Fact{Code: f.Code})
		if _, ok := Sentence(f.Code + margin); ok {
			t.Figures[i].Error = Text(record.Fact{Code: f.Code + margin, Args: record.Args{"by": f.By}})
		}
	}
	return t
}
