package reports

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"slices"
	"strings"
)

// inShort is the answer before the long table: what speaks against a move and what cannot be told
// come first, since they are what a trainer has to look at.
type inShort struct {
	Against, Untold, Watch []remark
	For                    string
}

// remark is one rule in a line, with what has to be recorded where that would tell it.
type remark struct{ Name, Text, Needed string }

// inShortOf sorts the rules; nil when none was applied.
func inShortOf(a record.Assessment) *inShort {
	if len(a.Reasons) == 0 && len(a.Lacking) == 0 {
		return nil
	}
	var s inShort
	var pro []string
	unmet := func(r record.Reason) bool { return r.Met != nil && !*r.Met }
	heart := slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.Kind == policy.Evidence && unmet(r) })
	for _, kind := range []policy.Kind{policy.Gate, policy.StepBackRule, policy.Evidence, policy.Required, policy.Informative} {
		for _, r := range a.Reasons {
			switch {
			case r.Kind != kind:
			case kind == policy.Informative:
				if unmet(r) {
					s.Watch = append(s.Watch, remark{Name: sentenceCase(opposite(r.Rule)), Text: sentence(r.Text)})
				}
			case r.Met == nil:
				if !slices.ContainsFunc(a.Lacking, func(l record.Lack) bool { return l.Rule == r.Rule }) {
					s.Untold = append(s.Untold, remark{Name: sentenceCase(shortName(r.Rule)), Text: sentence(r.Text)})
				}
			case !*r.Met:
				if r.Rule != "evidence" || !heart { // else the rules themselves stand here
					x := remark{Name: sentenceCase(opposite(r.Rule)), Text: sentence(r.Text)}
					for _, l := range a.Against {
						if l.Rule == r.Rule {
							x.Needed = sentence(l.Needed)
						}
					}
					s.Against = append(s.Against, x)
				}
			case r.Rule != "evidence" && (kind == policy.Evidence || kind == policy.Required):
				pro = append(pro, shortName(r.Rule))
			}
		}
	}
	for i, l := range a.Lacking {
		s.Untold = slices.Insert(s.Untold, i, remark{sentenceCase(shortName(l.Rule)), sentence(l.Text), sentence(l.Needed)})
	}
	if len(pro) > 0 {
		s.For = sentence(sentenceCase(list(pro)))
	}
	return &s
}

// summary is the sentence beside the verdict, without what the page says next to it anyway.
func summary(c Client) string {
	a := c.Assessment
	s := a.Summary
	if building(c) { // its first sentence stands beside the word
		_, s, _ = strings.Cut(s, ". ")
	}
	for _, again := range []string{"See a doctor first. ", "Not assessable: ", "Cannot tell yet: ", "Not yet. "} {
		s = strings.TrimPrefix(s, again)
	}
	switch {
	case is(a, record.NotAssessable) && len(a.Lacking) > 0:
		return ""
	case is(a, record.Hold) && slices.ContainsFunc(a.Reasons, func(r record.Reason) bool { return r.Text == s }):
		return ""
	}
	return sentence(s)
}
