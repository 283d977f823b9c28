package reports

import (
	"strings"

	"nextrung/internal/progression"
)

// shortName is a rule's name in one line: its id in plain words.
func shortName(rule string) string { return strings.ReplaceAll(rule, "-", " ") }

// verdictWord is a verdict in words for the trainer.
func verdictWord(a progression.Assessment) string {
	if a.Verdict == nil {
		switch a.State {
		case progression.PausedState:
			return "paused"
		case progression.Finished:
			return "finished"
		case progression.Maintaining:
			return "maintaining"
		case progression.RecoveryOf:
			return "recovery phase"
		}
		return "no verdict"
	}
	switch *a.Verdict {
	case progression.StepBack:
		return "step back"
	case progression.NotAssessable:
		return notAssessable
	}
	return string(*a.Verdict)
}

func is(a progression.Assessment, v progression.Verdict) bool {
	return a.Verdict != nil && *a.Verdict == v
}

// decided is the trainer's decision on an assessment: the last one entered on its day or later.
func decided(r progression.Record, a progression.Assessment) *progression.Decision {
	for i := len(r.Decisions) - 1; i >= 0; i-- {
		if d := &r.Decisions[i]; d.Entered >= a.AsOf {
			return d
		}
	}
	return nil
}

func actWord(a progression.Act) string {
	if a == progression.DoStepBack {
		return "step back"
	}
	return string(a)
}
