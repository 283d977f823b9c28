// Package progression applies the policy to one client on one date: it reviews the record, finds what
// every rule says, and concludes a verdict with its reasons, what is missing and how robust it is.
// Everything here is pure; the date is always an argument. Next week's sessions belong to package
// prescription.
package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Assess applies the policy to one client as of one day. It uses only what was known by then.
// Every rule of the stage gives a reason; what lacks data is listed with what
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
		Reasons: []record.Reason{}, Lacking: []record.Lack{}, Cautions: v.particular(), Summary: record.Facts{},
		Week: v.weeksDone(), Running: v.running(), Weeks: v.weeksAsked(), First: v.firstDecision(), Unanswered: v.unanswered,
	}
	if v.state != record.PausedState && v.state != record.Finished {
		return a, v.assess(&a)
	}
	// A grave sign stands above a pause and above the end of the programme.
	if emergency, doctor := v.signGates(); !emergency.IsMet() || !doctor.IsMet() {
		stopped(&a, emergency, doctor)
		return a, nil
	}
	a.Summary = record.Facts{{Code: Paused}}
	if v.state == record.Finished {
		a.Summary = record.Facts{{Code: Finished}}
	}
	return a, nil
}

// findings are the rules applied, by the part that they play.
type findings struct {
	gates, required, evidence, others []finding
	returning                         bool
	// facts are the circumstances that no rule about training changes.
	facts circumstances
}

func (v Review) assess(a *record.Assessment) *findings {
	emergency, doctor := v.signGates()
	adult := v.adult()
	if adult.IsUnmet() || v.Stage == 0 {
		a.Summary = record.Facts{{Code: NotEnough}, {Code: NoStage}}
		if adult.IsUnmet() {
			a.Summary[1] = adult.Says
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
		refer:      emergency.IsUnmet() || doctor.IsUnmet() || disease.IsUnmet(),
		doubt:      a.Doubt() != nil,
		unscreened: !screening.IsMet() || adult.Met == nil,
		unanswered: len(v.unanswered) > 0,
		returning:  f.returning,
		recovering: v.Recovering(),
		staying:    v.Stage == 3 || v.limited() != nil || v.state == record.Maintaining || v.state == record.RecoveryOf,
		stale:      vigorous.IsUnmet(),
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
		verdict, a.Summary = record.Refer, record.Facts{{Code: DoctorFirst}, a.GraveSign().Says}
	case a.Doubt() != nil:
		a.Summary = append(record.Facts{{Code: AskFirst}}, lacking(gates)...)
	}
	a.Verdict = &verdict
}

// require applies the rules that a move depends on.
func (v Review) require(f *findings) {
	byEffort := v.Record.Client.ByEffort()
	switch v.Stage {
	case 1:
		f.required = append(f.required, v.weeks(policy.Weeks))
	case 2:
		f.required = append(f.required, v.weeks(policy.IntervalWeeks))
	}
	if byEffort && v.Stage < 3 {
		f.required = append(f.required, v.clearance())
	}
	back := v.returning()
	f.returning = back.IsUnmet()
	f.required = append(f.required, back)
	decide, shown := v.asFelt()
	switch v.Stage {
	case 1:
		f.required = append(f.required, v.sessionsAWeek(), v.sessionsTotal(), v.minutesAWeek(), v.longest())
		f.required = append(f.required, decide...)
	case 2:
		done := []finding{v.intervalsDone()}
		if v.Policy.On(policy.LongerBouts) {
			done = append(done, v.longerBouts())
		}
		f.required = append(f.required, v.ifPrescribed(append(done, decide...)...)...)
	case 3:
		f.required = append(f.required, v.ifPrescribed(decide...)...)
	}
	f.others = append(f.others, shown...)
	if !v.heartLeads() {
		return
	}
	if v.Stage == 1 {
		f.evidence = append(f.evidence, v.Zone())
	}
	f.evidence = append(f.evidence, v.steady(), v.sameEffort())
	if v.Stage > 1 {
		f.evidence = append(f.evidence, v.ifPrescribed(v.backInZone(), v.creep())...)
	}
	// From stage 2 on chest-strap type data is needed; without it effort decides.
	if v.Stage == 1 || v.Stage == 2 && !v.intervalsWithoutStrap() {
		f.required = append(f.required, v.evidence(f.evidence))
	}
}

// ifPrescribed leaves rules about bouts without a request while a clearance that is missing, or a doctor's limit, keeps
// bouts out of the plan: nobody can record what is not prescribed.
func (v Review) ifPrescribed(all ...finding) []finding {
	code := NoBoutsUncleared
	switch {
	case v.AboveLimit(v.Stage) != nil:
		code = NoBoutsLimited
	case v.Cleared():
		return all
	}
	for i, f := range all {
		if !f.IsMet() {
			f.Observed, f.Enough, f.Met = nil, false, nil
			all[i] = f.open(record.Fact{}, code, nil)
		}
	}
	return all
}

// inform applies the rules that are shown, and those that call for an easier week or a step back.
func (v Review) inform(f *findings) {
	f.others = append(f.others, v.weekDone())
	if v.heartLeads() {
		f.others = append(f.others, v.fall(), v.resting())
	}
	if v.Stage > 1 {
		f.others = append(f.others, v.monotony())
	}
	f.others = append(f.others, v.weeklyRise())
	runs := func(s record.Session) bool { return s.Mode == workout.Run }
	if slices.Contains(v.Record.Client.TrainedModes(), workout.Run) || slices.ContainsFunc(v.Sessions, runs) {
		f.others = append(f.others, v.longestRun())
	}
	f.others = append(f.others, v.enjoyment(), v.tiredSign(), v.illness(), v.tiredness())
	if v.Stage > 1 {
		f.others = append(f.others, v.tirednessAgain(), v.failed(), v.longBreak())
	}
}

// list enters findings as reasons, and what is lacking of those that count.
func list(a *record.Assessment, all ...finding) {
	for _, x := range all {
		a.Reasons = append(a.Reasons, x.Reason)
		counts := x.Kind == policy.Gate || x.Kind == policy.Required || x.Kind == policy.Evidence
		if counts && x.Met == nil && x.needed.Code != "" {
			lack(a, record.Lack{Rule: x.Rule, Says: x.Says, Needed: x.needed})
		}
	}
}

// lack adds what is lacking, the same once.
func lack(a *record.Assessment, add record.Lack) {
	if !slices.ContainsFunc(a.Lacking, func(l record.Lack) bool { return l.Says.Equal(add.Says) && l.Needed.Equal(add.Needed) }) {
		a.Lacking = append(a.Lacking, add)
	}
}

// conclude adds where the verdict leads, what a hold is for, and the verdict in short.
func (v Review) conclude(a *record.Assessment, f findings, c circumstances) {
	to := v.Stage
	say := func(code record.Code, args record.Args, because record.Facts) {
		a.Summary = append(record.Facts{{Code: code, Args: args}}, because...)
	}
	plan := func(p record.HoldPlan) { a.Plan = &p }
	switch *a.Verdict {
	case record.Advance:
		to++
		hear := record.Fact{Code: HearSentences}
		if to == 3 {
			hear.Code = HearShort
		}
		say(Ready, record.Args{"stage": to}, record.Facts{hear})
	case record.StepBack:
		to--
		say(OneStageDown, record.Args{"stage": to}, append(firstUnmet(asking(f.others, record.StepBack)...), lacking(f.gates)...))
	case record.Ease:
		say(EasierWeek, nil, append(firstUnmet(append(asking(f.others, record.Ease), asking(f.others, record.StepBack)...)...), lacking(f.gates)...))
	case record.Refer:
		say(DoctorFirst, nil, firstUnmet(f.gates...))
	case record.NotAssessable:
		say(NotEnough, nil, lacking(append(f.gates, f.required...)))
		if c.doubt {
			say(AskFirst, nil, lacking(f.gates[1:3]))
			break
		}
		if v.before() {
			a.Summary = append(record.Facts{v.begins()}, lacking(f.gates)...)
		}
	case record.Hold:
		switch {
		case c.unanswered:
			plan(record.Repeat)
			if c.returning {
				plan(record.Return)
			}
			q := v.unanswered[0]
			asks := q.Clash
			if asks.Code == "" {
				asks = record.Fact{Code: ClientWrote, Args: record.Args{"on": q.On, "text": q.Words}}
			}
			say(AskFirst, nil, record.Facts{asks})
		case c.returning:
			plan(record.Return)
			say(AfterBreak, nil, record.Facts{v.returning().Says})
		default:
			plan(v.holdPlan(f))
			a.Summary = v.holding(f)
			if !v.before() {
				a.Against = v.objections(f)
			}
		}
	}
	if to != v.Stage {
		a.To = &to
	}
	v.doubtSensor(a)
	for _, x := range f.required {
		if walks := x.Says.Facts("walks"); x.Rule != policy.Break && x.IsUnmet() && len(walks) > 0 {
			lack(a, record.Lack{Rule: policy.Sessions, Says: walks[0], Needed: v.letWalksCount()})
		}
	}
}

// holdPlan is to build on a week that allows it while the heart rate is not against it, else to
// repeat it.
func (v Review) holdPlan(f findings) record.HoldPlan {
	if v.state != record.Active {
		return record.Repeat // a recovery phase, or staying by choice
	}
	for _, x := range f.evidence {
		if x.Rule != policy.Zone && x.against || v.HarderThanPlanned(x.Reason) {
			return record.Repeat
		}
	}
	if v.AllowsMore() {
		return record.Build
	}
	return record.Repeat
}

// AllowsMore says that the past week was done as prescribed and within the effort limit. Without a
// prescription the sessions that the policy needs stand for it.
func (v Review) AllowsMore() bool {
	week := v.ThisWeek()
	done := v.weekDone()
	asPlanned := done.IsMet()
	if done.Says.Code == NothingPrescribed {
		asPlanned = v.Policy.Rule(policy.Sessions).Keeps(float64(len(week)))
	}
	plan := v.Record.PlanFor(v.On-6, v.On)
	// Files that are still to come hold nothing back where every session has its answer.
	asPlanned = asPlanned || plan != nil && len(week) > len(v.lastSeven(v.Sessions)) && len(week) >= plan.Sessions
	// What grows in the upper stages are the bouts: a missed easy session does not hold them back.
	if v.Stage > 1 && plan != nil && plan.Intervals != nil && plan.Intervals.Count > 0 {
		asPlanned = asPlanned || v.intervalsOf(week) >= plan.Intervals.Count
	}
	return asPlanned && v.WithinEffort(week)
}

// holding says what a hold waits for, and the one or two things that weigh most against moving up.
func (v Review) holding(f findings) record.Facts {
	objections := v.objections(f)
	out := append(record.Facts{v.waiting(len(objections))}, v.walksIf(len(v.attended()) == 0)...)
	if v.state == record.Maintaining || v.state == record.RecoveryOf || v.before() || v.limited() != nil {
		return out
	}
	for _, o := range objections[:min(len(objections), mostNamed)] {
		out = append(out, o.Says)
	}
	for _, x := range f.required {
		if x.Rule == policy.Clearance && x.Met == nil {
			out = append(out, x.Says) // no week of training brings it
		}
	}
	if v.Recovering() {
		out = append(out, record.Fact{Code: AfterIllness})
	}
	if first := v.firstDecision(); !v.building() && first > v.On && v.holdPlan(f) == record.Build {
		out = append(out, record.Fact{Code: ByThePlan, Args: record.Args{"first": first}})
	}
	return out
}

func (v Review) waiting(objections int) record.Fact {
	switch {
	case v.before():
		return v.begins()
	case v.state == record.Maintaining:
		return record.Fact{Code: StaysByChoice, Args: record.Args{"stage": v.Stage}}
	case v.state == record.RecoveryOf:
		return record.Fact{Code: RecoveryPhase}
	case v.limited() != nil:
		return *v.limited()
	case v.Stage == 3 && !v.Cleared():
		return record.Fact{Code: Uncleared}
	case v.Stage == 3:
		return record.Fact{Code: LastStage, Args: record.Args{"objections": objections}}
	case v.building():
		return record.Fact{Code: Building, Args: record.Args{"week": v.running(), "weeks": v.weeksAsked(), "first": v.firstDecision()}}
	}
	return record.Fact{Code: NotYet}
}

// running is the week of the stage that goes on, or that ends today: one more than the weeks that are done while one
// goes on; 0 before the first.
func (v Review) running() int {
	n := v.weeksDone()
	if len(v.days)%7 != 0 {
		n++
	}
	return max(n, min(1, len(v.days)))
}

func asking(all []finding, what record.Verdict) []finding {
	return record.Keep(all, func(f finding) bool { return f.Asks == what })
}

// firstUnmet is what the first rule says that is not met; nil where all are.
func firstUnmet(all ...finding) record.Facts {
	for _, f := range all {
		if f.IsUnmet() {
			return record.Facts{f.Says}
		}
	}
	return nil
}

// lacking lists what the rules say that lack data, the same once.
func lacking(all []finding) record.Facts {
	var out record.Facts
	for _, f := range all {
		if f.Met == nil && !slices.ContainsFunc(out, f.Says.Equal) {
			out = append(out, f.Says)
		}
	}
	return out
}
