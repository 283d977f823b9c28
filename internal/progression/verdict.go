package progression

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
	met, open, against := 0, 0, 0
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
	asked := int(*rule.Threshold)
	n := float64(met)
	text := "Of %d rules about the heart rate %d are met, %d speak against and %d cannot be told; at least %d met and none against are asked for."
	switch {
	case against == 0 && met >= asked:
		return f.told(n, true, text, len(all), met, against, open, asked)
	case against == 0 && met+open >= asked:
		f.Observed = &n
		return f.untold("", text, len(all), met, against, open, asked)
	}
	return f.told(n, false, text, len(all), met, against, open, asked)
}
