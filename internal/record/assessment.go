package record

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/workout"
)

// Verdict is the recommendation of one assessment.
type Verdict string

// The verdicts.
const (
	Advance       Verdict = "advance"
	Hold          Verdict = "hold"
	Ease          Verdict = "ease"
	StepBack      Verdict = "step-back"
	Refer         Verdict = "refer"
	NotAssessable Verdict = "not-assessable"
)

// HoldPlan says what a hold is for.
type HoldPlan string

// The plans of a hold.
const (
	Build  HoldPlan = "build"
	Repeat HoldPlan = "repeat"
	Return HoldPlan = "return"
)

// Assessment is one run of the policy for one client on one date.
type Assessment struct {
	Client string       `json:"client"`
	AsOf   workout.Date `json:"as_of"`
	State  State        `json:"state"`
	Stage  int          `json:"stage"`
	// Verdict is nil for a paused or finished client.
	Verdict *Verdict `json:"verdict"`
	// Plan says what a hold is for; nil otherwise.
	Plan *HoldPlan `json:"plan"`
	// To is the stage that the verdict leads to; nil when the stage stays.
	To         *int        `json:"to"`
	Policy     string      `json:"policy"` // "sha256:..." of the policy's text
	Reasons    []Reason    `json:"reasons"`
	Lacking    []Lack      `json:"lacking"`
	Against    []Lack      `json:"against,omitempty"` // of a hold: what speaks most against moving up, in short
	Cautions   Facts       `json:"cautions"`          // that belong to this client
	Robustness *Robustness `json:"robustness"`
	// Unanswered is what somebody has to be asked about, the gravest first. While there is anything
	// nothing harder than easy is prescribed; while it may be a grave sign, nothing at all.
	Unanswered []Question `json:"unanswered,omitempty"`

	// Week and Weeks count the weeks of the stage that are done and needed, and Running is the week that goes on or ends on
	// the day, 0 before the stage begins; pauses are left out. First is the day from
	// which a move can be decided on if every week until then is done as the plan has it.
	Week    int          `json:"week"`
	Running int          `json:"running_week,omitempty"`
	Weeks   int          `json:"weeks"`
	First   workout.Date `json:"first_decision,omitzero"`
	// Summary is the verdict in short for the trainer: what it is, then why.
	Summary Facts `json:"summary"`
}

// Reason is one rule applied: what was observed, against which threshold, over which days.
//
// Low and High are the 90 % interval of a value that has an error: zone share, drift, check session,
// drop in 60 s, heart rate at the same effort, heart rate between bouts, resting heart rate; for
// creep they are the range of the sessions that decide. What is counted, dated or answered (sessions,
// weeks, minutes, bouts done, effort, signs) is taken as it stands and has none.
type Reason struct {
	Rule      policy.ID    `json:"rule"`
	Kind      policy.Kind  `json:"kind"`
	Says      Fact         `json:"text"`
	Observed  *float64     `json:"observed"`
	Low       *float64     `json:"low"`
	High      *float64     `json:"high"`
	Is        policy.Bound `json:"is"`
	Threshold *float64     `json:"threshold"`
	Unit      policy.Unit  `json:"unit"`
	From      workout.Date `json:"from"`
	To        workout.Date `json:"to"`
	Enough    bool         `json:"enough"`
	Met       *bool        `json:"met"` // nil: not assessable
	Workouts  []string     `json:"workouts"`
	Points    []Point      `json:"points,omitempty"` // the values behind it, for charts
	Source    string       `json:"source"`
	// FromMemory is the part of the rule that was written down from memory of its source; "" for none.
	FromMemory string `json:"from_memory,omitempty"`
	// Asks is what a rule of kind step-back calls for when it is not met: Ease or StepBack.
	Asks Verdict `json:"asks,omitempty"`
}

// Point is one value behind a reason.
type Point struct {
	Date  workout.Date `json:"date"`
	Value float64      `json:"value"`
}

// IsMet says that the rule is met, IsUnmet that it is not; without data it is neither.
func (r Reason) IsMet() bool { return r.Met != nil && *r.Met }

// IsUnmet says that the rule is not met.
func (r Reason) IsUnmet() bool { return r.Met != nil && !*r.Met }

// Lack is what would have to be recorded to judge a rule, or have to change for it to be met.
type Lack struct {
	Rule   policy.ID `json:"rule"`
	Says   Fact      `json:"text"`
	Needed Fact      `json:"needed"`
}

// Robustness says how often the verdict stays when its inputs are drawn within their errors: see
// progression.AssessOften.
type Robustness struct {
	SameVerdict float64 `json:"same_verdict"` // share of the draws, 0-1
	Draws       int     `json:"draws"`
	// Verdict is the one that was repeated, Other the one that came out most often beside it, in the share OtherShare of
	// the draws; none where there was no other.
	Verdict    Verdict `json:"verdict,omitempty"`
	Other      Verdict `json:"other_verdict,omitempty"`
	OtherShare float64 `json:"other_share,omitempty"`
	// DependsOn is the input that alone changes the verdict most often.
	DependsOn Code `json:"hangs_on"`
	// ByEffort says that only sessions and answers were drawn, since heart rate does not lead.
	ByEffort bool `json:"by_effort,omitempty"`
}

// closeCall is the share of the draws below which a verdict is called close (common practice, no source).
const closeCall = 0.60

// Close says that the verdict holds in so few of the draws that it could as well be the other one.
func (r Robustness) Close() bool { return r.SameVerdict < closeCall && r.Other != "" }

// Reason finds what was said of a rule; nil where it was not applied.
func (a Assessment) Reason(rule policy.ID) *Reason {
	for i := range a.Reasons {
		if a.Reasons[i].Rule == rule {
			return &a.Reasons[i]
		}
	}
	return nil
}

// Unmet says that one of some rules was applied and is not met.
func (a Assessment) Unmet(rules ...policy.ID) bool {
	return slices.ContainsFunc(a.Reasons, func(r Reason) bool { return r.IsUnmet() && slices.Contains(rules, r.Rule) })
}

// Lacks says that data are lacking for one of some rules.
func (a Assessment) Lacks(rules ...policy.ID) bool {
	return slices.ContainsFunc(a.Lacking, func(l Lack) bool { return slices.Contains(rules, l.Rule) })
}

// Doubt is the first question about a grave sign that has to be answered before anybody trains on; nil
// for none.
func (a Assessment) Doubt() *Question {
	if len(a.Unanswered) > 0 && a.Unanswered[0].Grave() {
		return &a.Unanswered[0]
	}
	return nil
}

// GraveSign is the gate on the sign on record that a doctor has to look at first; nil for none.
func (a Assessment) GraveSign() *Reason {
	for _, rule := range []policy.ID{policy.EmergencySign, policy.DoctorSign} {
		if r := a.Reason(rule); r != nil && r.IsUnmet() {
			return r
		}
	}
	return nil
}

// Urgency orders verdicts by how soon somebody must act, the most urgent first: 0 to 5.
func (v Verdict) Urgency() int {
	return slices.Index([]Verdict{Refer, StepBack, Ease, Advance, NotAssessable, Hold}, v)
}
