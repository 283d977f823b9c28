package progression

import (
	"nextrung/internal/policy"
	"nextrung/internal/record"
)

// circumstances is what the verdict depends on, once every rule has been judged.
type circumstances struct {
	stage      int
	refer      bool // a gate sends to a doctor
	doubt      bool // what may be a grave sign has not been asked about
	stepBack   bool // a step-back rule is not kept
	ease       bool // an ease rule is not kept
	unscreened bool // screening, or the age, is not known
	unanswered bool // what may be an illness, a medicine, a pregnancy or an injury has not been asked about
	returning  bool // a return after a break comes first
	recovering bool // normal weeks after an illness come first
	unmet      bool // a required rule is against
	lacking    bool // a required rule lacks data
	staying    bool // no move can come: stage 3, by choice, or a recovery phase
	stale      bool // vigorous work would need a newer clearance
}

// weighing adds what the rules about training say.
func (c circumstances) weighing(f *findings) circumstances {
	for _, x := range f.required {
		c.unmet = c.unmet || x.IsUnmet()
		c.lacking = c.lacking || x.Met == nil
	}
	for _, x := range f.others {
		c.ease = c.ease || x.Asks == record.Ease && x.IsUnmet()
		c.stepBack = c.stepBack || x.Asks == record.StepBack && x.IsUnmet()
	}
	return c
}

// conclude gives the verdict in the fixed order: refer, a possible grave sign that nobody has asked
// about, step back, ease, screening not answered, hold (first of all while something else has to be asked), not assessable, advance. There is no step back from stage 1; what asks for one there asks
// for ease.
func (c circumstances) conclude() record.Verdict {
	switch {
	case c.refer:
		return record.Refer
	case c.doubt:
		return record.NotAssessable
	case c.stepBack && c.stage > 1:
		return record.StepBack
	case c.ease || c.stepBack:
		return record.Ease
	case c.unscreened:
		return record.NotAssessable
	case c.unanswered, c.returning, c.recovering, c.unmet, c.staying:
		return record.Hold
	case c.lacking:
		return record.NotAssessable
	case c.stale:
		return record.Refer
	}
	return record.Advance
}

// evidence is the rule that needs some of the rules about heart rate: met with enough of them
// met and none against; not assessable with none against and enough of them met or open; else
// not met. A rule that is neither met nor against has not decided anything.
func (v Review) evidence(all []finding) finding {
	rule, f := v.begin(policy.EnoughEvidence)
	met, open, against := tally(all)
	n := float64(met)
	f.Observed, f.Met = &n, v.enough(all)
	f.Enough = f.Met != nil
	f.Says = record.Fact{Code: EvidenceTally, Args: record.Args{"rules": len(all), "met": met, "against": against, "open": open, "needed": *rule.Threshold}}
	return f
}

// tally counts rules about heart rate.
func tally(all []finding) (met, open, against int) {
	for _, x := range all {
		switch {
		case x.against:
			against++
		case x.IsMet():
			met++
		case x.Met == nil:
			open++
		}
	}
	return met, open, against
}

// enough says whether enough of the rules about heart rate are met; nil while data are lacking.
func (v Review) enough(all []finding) *bool {
	met, open, against := tally(all)
	asked := int(*v.Policy.Rule(policy.EnoughEvidence).Threshold)
	if v.tooShortFor(steadyMinutes) {
		// What sessions of this length cannot show is not waited for: effort, talk and minutes decide.
		shown := record.Keep(all, func(x finding) bool { return x.Met != nil || x.Rule == policy.Zone })
		asked = min(asked, len(shown))
	}
	yes := against == 0 && met >= asked
	if against == 0 && !yes && met+open >= asked {
		return nil
	}
	return &yes
}
