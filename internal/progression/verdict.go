package progression

import (
	"fmt"
	"slices"
)

// circumstances is what the verdict depends on, once every rule has been told.
type circumstances struct {
	stage      int
	refer      bool // a gate sends to a doctor
	stepBack   bool // a step-back rule is not kept
	ease       bool // an ease rule is not kept
	unscreened bool // screening, or the age, is not known
	returning  bool // a return after a break comes first
	unmet      bool // a required rule speaks against
	untold     bool // a required rule lacks data
	staying    bool // no move can come: stage 3, by choice, or a recovery phase
	stale      bool // vigorous work would need a newer clearance
}

// weighing adds what the rules about training say.
func (c circumstances) weighing(f *findings) circumstances {
	for _, x := range f.required {
		c.unmet = c.unmet || x.isUnmet()
		c.untold = c.untold || x.Met == nil
	}
	for _, x := range f.others {
		c.ease = c.ease || x.Asks == Ease && x.isUnmet()
		c.stepBack = c.stepBack || x.Asks == StepBack && x.isUnmet()
	}
	return c
}

// conclude gives the verdict in the fixed order: refer, step back, ease, screening not answered,
// hold, not assessable, advance. There is no step back from stage 1; what asks for one there asks
// for ease.
func (c circumstances) conclude() Verdict {
	switch {
	case c.refer:
		return Refer
	case c.stepBack && c.stage > 1:
		return StepBack
	case c.ease || c.stepBack:
		return Ease
	case c.unscreened:
		return NotAssessable
	case c.returning, c.unmet, c.staying:
		return Hold
	case c.untold:
		return NotAssessable
	case c.stale:
		return Refer
	}
	return Advance
}

// evidence is the rule that asks for some of the rules about heart rate: met with enough of them
// met and none against; not assessable with none against and enough of them met or untold; else
// not met. A rule that is neither met nor against has not decided anything.
func (v review) evidence(all []finding) finding {
	rule, f := v.begin("evidence")
	met, open, against := tally(all)
	n := float64(met)
	f.Observed, f.Met = &n, v.enough(all)
	f.Enough = f.Met != nil
	f.Text = fmt.Sprintf("Of %d rules about the heart rate %s met, %s against and %d cannot be told; at least %g met and none against are asked for.",
		len(all), plural(met, "is", "are"), plural(against, "speaks", "speak"), open, *rule.Threshold)
	return f
}

// plural writes a count with the verb that belongs to it.
func plural(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

// tally counts rules about heart rate.
func tally(all []finding) (met, open, against int) {
	for _, x := range all {
		switch {
		case x.against:
			against++
		case x.isMet():
			met++
		case x.Met == nil:
			open++
		}
	}
	return met, open, against
}

// enough says whether enough of the rules about heart rate are met; nil when that cannot be told.
func (v review) enough(all []finding) *bool {
	met, open, against := tally(all)
	asked := int(*v.p.Rule("evidence").Threshold)
	yes := against == 0 && met >= asked
	if against == 0 && !yes && met+open >= asked {
		return nil
	}
	return &yes
}

// Urgency orders verdicts by how soon somebody must act, the most urgent first: 0 to 5.
func (v Verdict) Urgency() int {
	return slices.Index([]Verdict{Refer, StepBack, Ease, Advance, NotAssessable, Hold}, v)
}
