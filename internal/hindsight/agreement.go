package hindsight

import "nextrung/internal/record"

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
var asksOf = map[record.Verdict]int{
	record.Refer: 0, record.StepBack: 1, record.Ease: 2, record.Hold: 3, record.NotAssessable: 3, record.Advance: 4,
}

// agreement compares a decision with the verdict sealed in it, and says so without blame.
func agreement(d record.Decision) (Agreement, string) {
	switch {
	case d.Verdict == nil:
		return NoRecommendation, "no recommendation on that day"
	case d.Act == record.DoPause || d.Act == record.DoResume || d.Act == record.DoMaintain:
		return OwnChoice, "the policy said " + verdictWords(*d.Verdict)
	}
	did, said := asksOf[record.Verdict(d.Act)], asksOf[*d.Verdict]
	switch {
	case did == said && *d.Verdict == record.NotAssessable:
		return AsRecommended, "the policy could not tell yet"
	case did == said:
		return AsRecommended, "as recommended"
	case *d.Verdict == record.NotAssessable:
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
func ActWords(a record.Act) string {
	switch a {
	case record.DoAdvance:
		return "moved up"
	case record.DoHold:
		return "held"
	case record.DoEase:
		return "eased"
	case record.DoStepBack:
		return "one stage down"
	case record.DoRefer:
		return "sent to a doctor"
	case record.DoMaintain:
		return "stays by choice"
	case record.DoPause:
		return "paused"
	case record.DoResume:
		return "resumed"
	}
	return string(a)
}

func verdictWords(v record.Verdict) string {
	switch v {
	case record.StepBack:
		return "step back"
	case record.Refer:
		return "see a doctor first"
	case record.NotAssessable:
		return "cannot tell yet"
	}
	return string(v)
}
