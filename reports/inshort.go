package reports

import (
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"slices"
)

// inShort is the answer before the long table: what is against a move and what has too little data
// come first, since they are what a trainer has to look at.
type inShort struct {
	Against, Open, Watch []remark
	For                  string
}

// says tells whether a rule that is not met stands among what is against a move.
func (s *inShort) says(id policy.ID) bool {
	return s != nil && slices.ContainsFunc(s.Against, func(r remark) bool { return r.Rule == id })
}

// remark is one rule in a line, with what has to be recorded to show it.
type remark struct {
	Rule               policy.ID
	Name, Text, Needed string
}

// against is a rule that is not met, with what would have to change.
func against(a record.Assessment, r record.Reason) remark {
	x := remark{Rule: r.Rule, Name: wording.Capital(reasons.Against(r.Rule)), Text: reasons.Text(r.Says)}
	for _, l := range a.Against {
		if l.Rule == r.Rule {
			x.Needed = reasons.Text(l.Needed)
		}
	}
	return x
}

// inShortOf sorts the rules; nil when none was applied.
func inShortOf(a record.Assessment) *inShort {
	if len(a.Reasons) == 0 && len(a.Lacking) == 0 {
		return nil
	}
	var s inShort
	var pro []string
	heart := slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.Kind == policy.Evidence && r.IsUnmet() })
	for _, kind := range []policy.Kind{policy.Gate, policy.StepBackRule, policy.Evidence, policy.Required, policy.Informative} {
		for _, r := range a.Reasons {
			switch {
			case r.Kind != kind:
			case kind == policy.Informative:
				if r.IsUnmet() {
					s.Watch = append(s.Watch, remark{Rule: r.Rule, Name: wording.Capital(reasons.Against(r.Rule)), Text: reasons.Text(r.Says)})
				}
			case r.Met == nil:
				if !a.Lacks(r.Rule) {
					s.Open = append(s.Open, remark{Rule: r.Rule, Name: wording.Capital(reasons.Rule(r.Rule)), Text: reasons.Text(r.Says)})
				}
			case !*r.Met:
				if r.Rule != policy.EnoughEvidence || !heart { // else the rules themselves stand here
					s.Against = append(s.Against, against(a, r))
				}
			case r.Rule != policy.EnoughEvidence && (kind == policy.Evidence || kind == policy.Required):
				pro = append(pro, reasons.Rule(r.Rule))
			}
		}
	}
	for i, l := range a.Lacking {
		s.Open = slices.Insert(s.Open, i, remark{l.Rule, wording.Capital(reasons.Rule(l.Rule)), reasons.Text(l.Says), reasons.Text(l.Needed)})
	}
	if len(pro) > 0 {
		s.For = wording.Capital(wording.List(pro)) + "."
	}
	return &s
}

// summary is what the assessment says in short, without what the page says beside it anyway: the verdict
// itself, what is lacking, and what one of the rules says.
func summary(c Client) string {
	a := c.Assessment
	said := a.Summary
	if len(said) > 0 && (building(c) || slices.Contains([]record.Code{progression.DoctorFirst, progression.NotYet}, said[0].Code)) {
		said = said[1:]
	}
	switch {
	case is(a, record.NotAssessable) && len(a.Lacking) > 0:
		return ""
	case is(a, record.Hold): // what fails is said below
		said = slices.DeleteFunc(slices.Clone(said), func(f record.Fact) bool {
			return slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.Says.Equal(f) })
		})
	}
	return reasons.Paragraph(said)
}
