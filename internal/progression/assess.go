// Package progression applies the policy to one client on one date: it reviews the record, finds what
// every rule says, and concludes a verdict with its reasons, what is missing and how robust it is.
// Everything here is pure; the date is always an argument. Next week's sessions belong to package
// prescription.
package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Assess applies the policy to one client as of one day. It uses only what was known by then.
// Every rule of the stage gives a reason; what cannot be told for lack of data is listed with what
// would have to be recorded. A required rule without data never counts as met.
//
// Robustness stays nil: AssessOften fills it in.
func Assess(p policy.Policy, on workout.Date, r record.Record) record.Assessment {
	a, _ := NewReview(p, on, r).assessment()
	return a
}

// assessment gives the findings with the assessment; nil without a verdict that rests on rules.
func (v Review) assessment() (record.Assessment, *findings) {
	a := record.Assessment{
		Client: v.Record.Client.Name, AsOf: v.On, State: v.state, Stage: v.Stage, Policy: v.Policy.Digest(),
		Reasons: []record.Reason{}, Lacking: []record.Lack{}, Cautions: v.particular(),
		Week: v.days.weeks(), Weeks: v.weeksAsked(), First: v.firstDecision(), Unanswered: v.unanswered,
	}
	if v.state != record.PausedState && v.state != record.Finished {
		return a, v.assess(&a)
	}
	// A grave sign stands above a pause and above the end of the programme.
	if emergency, doctor := v.signGates(); !emergency.isMet() || !doctor.isMet() {
		stopped(&a, emergency, doctor)
		return a, nil
	}
	a.Summary = "Paused: no assessment."
	if v.state == record.Finished {
		a.Summary = "Finished: no assessment."
	}
	return a, nil
}

// findings are the told rules by the part that they play.
type findings struct {
	gates, required, evidence, others []finding
	returning                         bool
	// facts are the circumstances that no rule about training changes.
	facts circumstances
}

func (v Review) assess(a *record.Assessment) *findings {
	emergency, doctor := v.signGates()
	adult := v.adult()
	if adult.isUnmet() || v.Stage == 0 {
		a.Summary = "Cannot tell yet: no stage has been set."
		if adult.isUnmet() {
			a.Summary = "Cannot tell yet: " + adult.Text
		}
		stopped(a, adult, emergency, doctor)
		return nil
	}
	screening := v.screening()
	// Vigorous work comes next in the upper stages, and in stage 1 when all else says advance.
	disease, vigorous := v.disease(v.Stage > 1 && v.state != record.RecoveryOf), v.disease(true)
	f := findings{gates: []finding{adult, emergency, doctor, disease, screening}}
	v.require(&f)
	v.inform(&f)
	f.facts = circumstances{
		stage:      v.Stage,
		refer:      emergency.isUnmet() || doctor.isUnmet() || disease.isUnmet(),
		doubt:      a.Doubt() != nil,
		unscreened: !screening.isMet() || adult.Met == nil,
		unanswered: len(v.unanswered) > 0,
		returning:  f.returning,
		staying:    v.Stage == 3 || v.state == record.Maintaining || v.state == record.RecoveryOf,
		stale:      vigorous.isUnmet(),
	}
	c := f.facts.weighing(&f)
	verdict := c.conclude()
	a.Verdict = &verdict
	if verdict == record.Advance || verdict == record.Refer && !c.refer {
		f.gates[3] = vigorous
	}
	list(a, f.gates...)
	list(a, f.required...)
	list(a, f.evidence...)
	list(a, f.others...)
	v.conclude(a, f, c)
	return &f
}

// stopped concludes where gates decide alone: a doctor first for a grave sign on record, else nothing
// before the question about one is answered.
func stopped(a *record.Assessment, gates ...finding) {
	verdict := record.NotAssessable
	list(a, gates...)
	switch {
	case a.GraveSign() != nil:
		verdict, a.Summary = record.Refer, "See a doctor first. "+a.GraveSign().Text
	case a.Doubt() != nil:
		a.Summary = "Ask first. " + untold(gates)
	}
	a.Verdict = &verdict
}

// require tells the rules that a move depends on.
func (v Review) require(f *findings) {
	byEffort := v.Record.Client.ByEffort()
	switch v.Stage {
	case 1:
		f.required = append(f.required, v.weeks("weeks"))
	case 2:
		f.required = append(f.required, v.weeks("interval-weeks"))
	}
	if byEffort && v.Stage < 3 {
		f.required = append(f.required, v.clearance())
	}
	back := v.returning()
	f.returning = back.isUnmet()
	f.required = append(f.required, back)
	switch v.Stage {
	case 1:
		f.required = append(f.required, v.sessionsAWeek(), v.sessionsTotal(), v.minutesAWeek(), v.longest(), v.plainEffort())
	case 2:
		f.required = append(f.required, v.intervalsDone(), v.longerBouts(), v.boutEffort())
	case 3:
		f.required = append(f.required, v.boutEffort())
	}
	if byEffort {
		return
	}
	if v.Stage == 1 {
		f.evidence = append(f.evidence, v.Zone())
	}
	f.evidence = append(f.evidence, v.steady(), v.sameEffort())
	if v.Stage > 1 {
		f.evidence = append(f.evidence, v.backInZone(), v.creep())
	}
	// From stage 2 on chest-strap type data is asked for; without it effort decides.
	if v.Stage == 1 || v.Stage == 2 && !v.intervalsWithoutStrap() {
		f.required = append(f.required, v.evidence(f.evidence))
	}
}

// inform tells the rules that are shown, and those that ask for ease or a step back.
func (v Review) inform(f *findings) {
	f.others = append(f.others, v.weekDone())
	if !v.Record.Client.ByEffort() {
		f.others = append(f.others, v.fall(), v.resting())
	}
	if v.Stage > 1 {
		f.others = append(f.others, v.monotony())
	}
	f.others = append(f.others, v.weeklyRise(), v.longestRun(), v.enjoyment(), v.tiredSign(), v.illness(), v.tiredness())
	if v.Stage > 1 {
		f.others = append(f.others, v.tirednessAgain(), v.failed(), v.longBreak())
	}
}

// list enters findings as reasons, and what is lacking of those that count.
func list(a *record.Assessment, all ...finding) {
	for _, x := range all {
		a.Reasons = append(a.Reasons, x.Reason)
		counts := x.Kind == policy.Gate || x.Kind == policy.Required || x.Kind == policy.Evidence
		if counts && x.Met == nil && x.needed != "" {
			lack(a, x.Rule, x.Text, x.needed)
		}
	}
}

// lack adds what is lacking, the same once.
func lack(a *record.Assessment, rule, text, needed string) {
	if !slices.ContainsFunc(a.Lacking, func(l record.Lack) bool { return l.Text == text && l.Needed == needed }) {
		a.Lacking = append(a.Lacking, record.Lack{Rule: rule, Text: text, Needed: needed})
	}
}

// conclude adds where the verdict leads, what a hold is for, and the verdict in one sentence.
func (v Review) conclude(a *record.Assessment, f findings, c circumstances) {
	to := v.Stage
	plan := func(p record.HoldPlan) { a.Plan = &p }
	switch *a.Verdict {
	case record.Advance:
		to++
		a.Summary = fmt.Sprintf("Ready for stage %d: every required rule is met.", to)
	case record.StepBack:
		to--
		a.Summary = fmt.Sprintf("One stage down, to stage %d. %s", to, firstUnmet(asking(f.others, record.StepBack)...))
	case record.Ease:
		a.Summary = "An easier week in the same stage. " + firstUnmet(append(asking(f.others, record.Ease), asking(f.others, record.StepBack)...)...)
	case record.Refer:
		a.Summary = "See a doctor first. " + firstUnmet(f.gates...)
	case record.NotAssessable:
		a.Summary = "Cannot tell yet: " + untold(append(f.gates, f.required...))
		if c.doubt {
			a.Summary = "Ask first. " + untold(f.gates[1:3])
			break
		}
		if v.before() {
			a.Summary = v.begins() + " " + untold(f.gates)
		}
	case record.Hold:
		switch {
		case c.unanswered:
			plan(record.Repeat)
			q := v.unanswered[0]
			a.Summary = fmt.Sprintf("Ask first. On %s the client wrote %q. Until that is answered, nothing harder than easy.", q.On.Long(), q.Words)
		case c.returning:
			plan(record.Return)
			a.Summary = "A return after a break. " + v.returning().Text
		default:
			plan(v.holdPlan(f))
			a.Summary = v.holding(f)
			for _, o := range v.objections(f) {
				if !v.before() {
					a.Against = append(a.Against, record.Lack{Rule: o.rule, Text: o.text, Needed: o.needed})
				}
			}
		}
	}
	if to != v.Stage {
		a.To = &to
	}
	for _, x := range f.required {
		if hint := v.walksHint(); x.isUnmet() && x.Rule != "break" && hint != "" && strings.Contains(x.Text, hint) {
			lack(a, "sessions", hint, v.letWalksCount())
		}
	}
}

// holdPlan is to build on a week that was done as prescribed within the effort limit while the heart
// rate does not speak against it, else to repeat it. Without a prescription the sessions that the
// policy asks for stand for it.
func (v Review) holdPlan(f findings) record.HoldPlan {
	for _, x := range f.evidence {
		if x.Rule != "zone" && x.against || v.HarderThanPlanned(x.Reason) {
			return record.Repeat
		}
	}
	week := v.ThisWeek()
	done := v.weekDone()
	asPlanned := done.isMet()
	if done.Met == nil {
		asPlanned = v.Policy.Rule("sessions").Keeps(float64(len(week)))
	}
	// What grows in the upper stages are the bouts: a missed easy session does not hold them back.
	if plan := v.Record.PlanFor(v.On-6, v.On); v.Stage > 1 && plan != nil && plan.Intervals != nil && plan.Intervals.Count > 0 {
		asPlanned = asPlanned || v.intervalsOf(week) >= plan.Intervals.Count
	}
	if asPlanned && v.WithinEffort(week) {
		return record.Build
	}
	return record.Repeat
}

// holding says what a hold waits for, and the one or two things that speak most against moving up.
func (v Review) holding(f findings) string {
	out := v.waiting()
	if hint := v.walksHint(); hint != "" && len(v.stageIn) == 0 {
		out += " " + hint
	}
	objections := v.objections(f)
	for _, o := range objections[:min(len(objections), mostNamed)] {
		if v.state != record.Maintaining && v.state != record.RecoveryOf && !v.before() {
			out += " " + o.text
		}
	}
	return out
}

func (v Review) waiting() string {
	switch {
	case v.before():
		return v.begins()
	case v.state == record.Maintaining:
		return fmt.Sprintf("Stays in stage %d by choice.", v.Stage)
	case v.state == record.RecoveryOf:
		return "In a recovery phase: zone 1 only."
	case v.Stage == 3:
		return "Stage 3 is the last one: keep it up."
	case v.days.weeks() < v.weeksAsked():
		s := fmt.Sprintf("Building, week %d of %d", min((len(v.days)+6)/7, v.weeksAsked()), v.weeksAsked())
		if d := v.firstDecision(); d != 0 {
			s += ", first decision on " + d.Long()
		}
		return s + "."
	}
	return "Not yet."
}

func asking(all []finding, what record.Verdict) []finding {
	return record.Keep(all, func(f finding) bool { return f.Asks == what })
}

// firstUnmet is the text of the first rule that is not met.
func firstUnmet(all ...finding) string {
	for _, f := range all {
		if f.isUnmet() {
			return f.Text
		}
	}
	return ""
}

// untold joins the texts of rules that lack data.
func untold(all []finding) string {
	var out []string
	for _, f := range all {
		if f.Met == nil && !slices.Contains(out, f.Text) {
			out = append(out, f.Text)
		}
	}
	return strings.Join(out, " ")
}
