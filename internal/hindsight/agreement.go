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

// asksOf ranks verdicts by how much they ask of the client. Without enough data the client goes on
// as before, which is what a hold asks.
var asksOf = map[record.Verdict]int{
	record.Refer: 0, record.StepBack: 1, record.Ease: 2, record.Hold: 3, record.NotAssessable: 3, record.Advance: 4,
}

// agreement compares a decision with the verdict sealed in it.
func agreement(d record.Decision) Agreement {
	switch {
	case d.Verdict == nil:
		return NoRecommendation
	case d.Act == record.DoPause || d.Act == record.DoResume || d.Act == record.DoMaintain:
		return OwnChoice
	}
	did, said := asksOf[record.Verdict(d.Act)], asksOf[*d.Verdict]
	switch {
	case did == said:
		return AsRecommended
	case did > said:
		return Bolder
	}
	return MoreCareful
}
