package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// Assess applies the policy to one client as of one day. It uses only what was known by then.
// Every rule of the stage gives a reason; what cannot be told for lack of data is listed with what
// would have to be recorded. A required rule without data never counts as met.
//
// Robustness stays nil: AssessOften fills it in.
func (p Policy) Assess(on workout.Date, r Record) Assessment {
	a, _ := p.review(on, r).assessment()
	return a
}

// assessment gives the findings with the assessment; nil without a verdict that rests on rules.
func (v review) assessment() (Assessment, *findings) {
	a := Assessment{
		Client: v.r.Client.Name, AsOf: v.on, State: v.state, Stage: v.stage, Policy: v.p.Digest(),
		Reasons: []Reason{}, Lacking: []Lack{}, Cautions: v.particular(),
		Week: v.days.weeks(), Weeks: v.weeksAsked(), First: v.firstDecision(),
	}
	switch v.state {
	case PausedState:
		a.Summary = "Paused: no assessment."
		return a, nil
	case Finished:
		a.Summary = "Finished: no assessment."
		return a, nil
	}
	return a, v.assess(&a)
}

// findings are the told rules by the part that they play.
type findings struct {
	gates, required, evidence, others []finding
	returning                         bool
	// facts are the circumstances that no rule about training changes.
	facts circumstances
}

func (v review) assess(a *Assessment) *findings {
	emergency := v.signGate("emergency-sign", Emergency, "Stop training; if it happens again, call emergency help. No training until a doctor says so.")
	doctor := v.signGate("doctor-sign", Doctor, "No training until a doctor says so.")
	adult := v.adult()
	if adult.isUnmet() || v.stage == 0 {
		verdict := NotAssessable
		a.Summary = "Cannot tell yet: no stage has been set."
		if adult.isUnmet() {
			a.Summary = "Cannot tell yet: " + adult.Text
		}
		if emergency.isUnmet() || doctor.isUnmet() {
			verdict, a.Summary = Refer, "See a doctor first. "+firstUnmet(emergency, doctor)
		}
		a.Verdict = &verdict
		a.list(adult, emergency, doctor)
		return nil
	}
	screening := v.screening()
	// Vigorous work comes next in the upper stages, and in stage 1 when all else says advance.
	disease, vigorous := v.disease(v.stage > 1 && v.state != RecoveryOf), v.disease(true)
	f := findings{gates: []finding{adult, emergency, doctor, disease, screening}}
	v.require(&f)
	v.inform(&f)
	f.facts = circumstances{
		stage:      v.stage,
		refer:      emergency.isUnmet() || doctor.isUnmet() || disease.isUnmet(),
		unscreened: !screening.isMet() || adult.Met == nil || emergency.Met == nil || doctor.Met == nil,
		returning:  f.returning,
		staying:    v.stage == 3 || v.state == Maintaining || v.state == RecoveryOf,
		stale:      vigorous.isUnmet(),
	}
	c := f.facts.weighing(&f)
	verdict := c.conclude()
	a.Verdict = &verdict
	if verdict == Advance || verdict == Refer && !c.refer {
		f.gates[3] = vigorous
	}
	a.list(f.gates...)
	a.list(f.required...)
	a.list(f.evidence...)
	a.list(f.others...)
	v.conclude(a, f, c)
	return &f
}

// require tells the rules that a move depends on.
func (v review) require(f *findings) {
	byEffort := v.r.Client.ByEffort()
	switch v.stage {
	case 1:
		f.required = append(f.required, v.weeks("weeks"))
	case 2:
		f.required = append(f.required, v.weeks("interval-weeks"))
	}
	if byEffort && v.stage < 3 {
		f.required = append(f.required, v.clearance())
	}
	back := v.returning()
	f.returning = back.isUnmet()
	f.required = append(f.required, back)
	switch v.stage {
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
	if v.stage == 1 {
		f.evidence = append(f.evidence, v.zone())
	}
	f.evidence = append(f.evidence, v.steady(), v.sameEffort())
	if v.stage > 1 {
		f.evidence = append(f.evidence, v.backInZone(), v.creep())
	}
	// From stage 2 on chest-strap type data is asked for; without it effort decides.
	if v.stage == 1 || v.stage == 2 && !v.intervalsWithoutStrap() {
		f.required = append(f.required, v.evidence(f.evidence))
	}
}

// inform tells the rules that are shown, and those that ask for ease or a step back.
func (v review) inform(f *findings) {
	f.others = append(f.others, v.weekDone())
	if !v.r.Client.ByEffort() {
		f.others = append(f.others, v.fall(), v.resting())
	}
	if v.stage > 1 {
		f.others = append(f.others, v.monotony())
	}
	f.others = append(f.others, v.weeklyRise(), v.longestRun(), v.enjoyment(), v.tiredSign(), v.illness(), v.tiredness())
	if v.stage > 1 {
		f.others = append(f.others, v.tirednessAgain(), v.failed(), v.longBreak())
	}
}

// list enters findings as reasons, and what is lacking of those that count.
func (a *Assessment) list(all ...finding) {
	for _, x := range all {
		a.Reasons = append(a.Reasons, x.Reason)
		counts := x.Kind == Gate || x.Kind == Required || x.Kind == Evidence
		if counts && x.Met == nil && x.needed != "" {
			a.lack(x.Rule, x.Text, x.needed)
		}
	}
}

// lack adds what is lacking, the same once.
func (a *Assessment) lack(rule, text, needed string) {
	if !slices.ContainsFunc(a.Lacking, func(l Lack) bool { return l.Text == text && l.Needed == needed }) {
		a.Lacking = append(a.Lacking, Lack{rule, text, needed})
	}
}

// conclude adds where the verdict leads, what a hold is for, and the verdict in one sentence.
func (v review) conclude(a *Assessment, f findings, c circumstances) {
	to := v.stage
	plan := func(p HoldPlan) { a.Plan = &p }
	switch *a.Verdict {
	case Advance:
		to++
		a.Summary = fmt.Sprintf("Ready for stage %d: every required rule is met.", to)
	case StepBack:
		to--
		a.Summary = fmt.Sprintf("One stage down, to stage %d. %s", to, firstUnmet(asking(f.others, StepBack)...))
	case Ease:
		a.Summary = "An easier week in the same stage. " + firstUnmet(append(asking(f.others, Ease), asking(f.others, StepBack)...)...)
	case Refer:
		a.Summary = "See a doctor first. " + firstUnmet(f.gates...)
	case NotAssessable:
		a.Summary = "Cannot tell yet: " + untold(append(f.gates, f.required...))
		if v.before() {
			a.Summary = v.begins() + " " + untold(f.gates)
		}
	case Hold:
		switch {
		case c.returning:
			plan(Return)
			a.Summary = "A return after a break. " + v.returning().Text
		default:
			plan(v.holdPlan(f))
			a.Summary = v.holding(f)
			for _, o := range v.objections(f) {
				if !v.before() {
					a.Against = append(a.Against, Lack{o.rule, o.text, o.needed})
				}
			}
		}
	}
	if to != v.stage {
		a.To = &to
	}
	for _, x := range f.required {
		if hint := v.walksHint(); x.isUnmet() && x.Rule != "break" && hint != "" && strings.Contains(x.Text, hint) {
			a.lack("sessions", hint, v.letWalksCount())
		}
	}
}

// holdPlan is to build on a week that was done as prescribed within the effort limit while the heart
// rate does not speak against it, else to repeat it. Without a prescription the sessions that the
// policy asks for stand for it.
func (v review) holdPlan(f findings) HoldPlan {
	for _, x := range f.evidence {
		if x.Rule != "zone" && x.against || v.harderThanPlanned(x.Reason) {
			return Repeat
		}
	}
	week := v.thisWeek()
	done := v.weekDone()
	asPlanned := done.isMet()
	if done.Met == nil {
		asPlanned = v.p.Rule("sessions").keeps(float64(len(week)))
	}
	// What grows in the upper stages are the bouts: a missed easy session does not hold them back.
	if plan := v.r.PlanFor(v.on-6, v.on); v.stage > 1 && plan != nil && plan.Intervals != nil && plan.Intervals.Count > 0 {
		asPlanned = asPlanned || v.intervalsOf(week) >= plan.Intervals.Count
	}
	if asPlanned && v.withinEffort(week) {
		return Build
	}
	return Repeat
}

// holding says what a hold waits for, and the one or two things that speak most against moving up.
func (v review) holding(f findings) string {
	out := v.waiting()
	if hint := v.walksHint(); hint != "" && len(v.stageIn) == 0 {
		out += " " + hint
	}
	objections := v.objections(f)
	for _, o := range objections[:min(len(objections), mostNamed)] {
		if v.state != Maintaining && v.state != RecoveryOf && !v.before() {
			out += " " + o.text
		}
	}
	return out
}

func (v review) waiting() string {
	switch {
	case v.before():
		return v.begins()
	case v.state == Maintaining:
		return fmt.Sprintf("Stays in stage %d by choice.", v.stage)
	case v.state == RecoveryOf:
		return "In a recovery phase: zone 1 only."
	case v.stage == 3:
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

func asking(all []finding, what Verdict) []finding {
	return keep(all, func(f finding) bool { return f.Asks == what })
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
