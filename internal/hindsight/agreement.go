package hindsight

import "nextrung/internal/progression"

// Agreement is how a decision stood to what the policy had recommended.
type Agreement string

// The ways in which a decision can stand to the recommendation.
const (
	AsRecommended    Agreement = "as-recommended"
	Bolder           Agreement = "bolder"       // asked more of the client than was recommended
	MoreCareful      Agreement = "more-careful" // asked less
	OwnChoice        Agreement = "own-choice"   // a pause, a return from one, or staying by choice
	NoRecommendation Agreement = "no-recommendation"
)

// asksOf ranks verdicts by how much they ask of the client. Where it cannot be told the client goes on
// as before, which is what a hold asks.
var asksOf = map[progression.Verdict]int{
	progression.Refer: 0, progression.StepBack: 1, progression.Ease: 2, progression.Hold: 3, progression.NotAssessable: 3, progression.Advance: 4,
}

// agreement compares a decision with the verdict sealed in it, and says so without blame.
func agreement(d progression.Decision) (Agreement, string) {
	switch {
	case d.Verdict == nil:
		return NoRecommendation, "no recommendation on that day"
	case d.Act == progression.DoPause || d.Act == progression.DoResume || d.Act == progression.DoMaintain:
		return OwnChoice, "the policy said " + verdictWords(*d.Verdict)
	}
	did, said := asksOf[progression.Verdict(d.Act)], asksOf[*d.Verdict]
	switch {
	case did == said && *d.Verdict == progression.NotAssessable:
		return AsRecommended, "the policy could not tell yet"
	case did == said:
		return AsRecommended, "as recommended"
	case *d.Verdict == progression.NotAssessable:
		return bolder(did > said), ActWords(d.Act) + " although the policy could not tell yet"
	}
	return bolder(did > said), ActWords(d.Act) + " although the policy said " + verdictWords(*d.Verdict)
}

func bolder(yes bool) Agreement {
	if yes {
		return Bolder
	}
	return MoreCareful
}

// ActWords says what was done, in lower case.
func ActWords(a progression.Act) string {
	switch a {
	case progression.DoAdvance:
		return "moved up"
	case progression.DoHold:
		return "held"
	case progression.DoEase:
		return "eased"
	case progression.DoStepBack:
		return "one stage down"
	case progression.DoRefer:
		return "sent to a doctor"
	case progression.DoMaintain:
		return "stays by choice"
	case progression.DoPause:
		return "paused"
	case progression.DoResume:
		return "resumed"
	}
	return string(a)
}

func verdictWords(v progression.Verdict) string {
	switch v {
	case progression.StepBack:
		return "step back"
	case progression.Refer:
		return "see a doctor first"
	case progression.NotAssessable:
		return "cannot tell yet"
	}
	return string(v)
}
