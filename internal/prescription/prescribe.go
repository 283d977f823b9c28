package prescription

import (
	"math"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// course is what next week is for.
type course string

const (
	rest      course = "rest"     // no training
	moderate  course = "moderate" // comfortable sessions only, until a clearance comes
	easeWeek  course = "ease"
	backAgain course = "return"
	recovery  course = "recovery" // an easy phase of some weeks
	build     course = "build"
	repeat    course = "repeat"
)

// planner writes a week from what an assessment looked at.
type planner struct {
	progression.Review
	from workout.Date // first day of the week
}

// to is the last day of the week, first the first one that is still to come.
func (v planner) to() workout.Date    { return v.from + 6 }
func (v planner) first() workout.Date { return max(v.from, v.On+1) }

// Prescribe writes the week after an assessment, from the day after it, whatever was sent before: see
// Standing. The stage is the one that the trainer decided on: without a decision no recommended move happens. An
// easier week or a rest does. Duration grows first, then frequency, from what was really done; intensity grows by
// stages and interval steps only. Heart rates are left out for clients who train by effort.
func Prescribe(p policy.Policy, on workout.Date, r record.Record, a record.Assessment) record.Prescription {
	return planner{progression.NewReview(p, on, r), on + 1}.prescribe(a)
}

func (v planner) prescribe(a record.Assessment) record.Prescription {
	out := record.Prescription{
		Client: v.Record.Client.Name, From: v.from, To: v.to(), Made: v.On, Verdict: a.Verdict, Decisions: len(v.Record.Decisions),
		Targets: []record.Target{}, Notes: []record.PlanNote{},
	}
	c := v.course(a)
	stage, since := v.Record.StageOn(out.To)
	out.Stage = stage
	if c == rest {
		out.Notes = v.restNotes(a)
		return out
	}
	size := c
	switch { // an open question makes neither a return longer nor the week after an illness
	case c == moderate && v.Ill():
		size = easeWeek
	case c == moderate && (v.longAway() || v.returnsOn(v.On+1)):
		size = backAgain
	}
	week := v.volume(size, stage, since)
	out.Sessions, out.Minutes = week.sessions, week.minutes
	out.Reduced = size == easeWeek || size == backAgain || size == recovery
	out.Targets = v.targets()
	out.Slower, out.Beginner = v.tooHard(a), stage == 1 && v.beginner(since)
	if stage > 1 && v.Cleared() && v.AboveLimit(stage) == nil && c != easeWeek && c != moderate && !v.easyReturn(c) && !v.longAgo(stage, a) && c != recovery {
		out.Intervals = v.intervals(c, a, stage, since, out.Sessions)
	}
	out.Check = v.checkMinutes(c, out, a)
	out.Notes = v.notes(c, out, a, week)
	return out
}

// decided is what the trainer decided on the day of the assessment or for the days after it, up to the end of
// the week; "" without any.
func (v planner) decided() record.Act {
	var act record.Act
	for _, d := range v.Record.Decisions {
		if (d.Entered == v.On || d.From > v.On) && d.From <= v.to() {
			act = d.Act
		}
	}
	return act
}

// course follows the trainer's decision, and where there is none the verdict. What bars training comes first.
func (v planner) course(a record.Assessment) course {
	verdict, act := record.Hold, v.decided()
	if a.Verdict != nil {
		verdict = *a.Verdict
	}
	if c, barred := v.barred(a, verdict, act); barred {
		return c
	}
	overruled := act == record.DoAdvance || act == record.DoStepBack || act == record.DoMaintain ||
		act == record.DoHold && (verdict == record.Ease || verdict == record.StepBack)
	switch {
	case act == record.DoEase, !overruled && verdict == record.Ease, verdict == record.StepBack && act == "" && asksForEase(a):
		return easeWeek
	case v.longAway(), v.returnsOn(v.On + 1): // whatever is decided on the stage
		return backAgain
	case v.Record.StateOn(v.to()) == record.RecoveryOf:
		return recovery
	case overruled, v.Record.StateOn(v.to()) != record.Active, v.returnsOn(v.On): // the full week comes back before anything grows
	case a.Plan != nil && *a.Plan == record.Build, verdict == record.Advance && v.AllowsMore():
		return build // a move that nobody has decided on holds nothing back
	}
	return repeat
}

// barred says whether nothing, or nothing above moderate, may be done, whatever else was decided.
func (v planner) barred(a record.Assessment, verdict record.Verdict, act record.Act) (course, bool) {
	paused := func(on workout.Date) bool { return v.Record.StateOn(on) == record.PausedState }
	stage, _ := v.Record.StageOn(v.to())
	switch {
	case paused(v.first()) || paused(v.to()) || v.Record.StateOn(v.to()) == record.Finished:
		return rest, true
	case stage == 0 || !v.MayTrain() || act == record.DoRefer || v.Record.Referred():
		return rest, true
	case verdict == record.Refer:
		return moderate, true // vigorous work alone needs a newer clearance; comfortable sessions may go on (Riebe 2015)
	case len(a.Unanswered) > 0 && act != record.DoEase && verdict != record.Ease:
		return moderate, true
	case v.Ill():
		return easeWeek, true
	}
	return repeat, false
}

// stepsBack says that a step back is recommended and nobody has decided on anything.
func (v planner) stepsBack(a record.Assessment) bool {
	return a.Verdict != nil && *a.Verdict == record.StepBack && v.decided() == ""
}

// longAgo says that a break was so long that the stage is too much, as long as nobody has moved the client.
func (v planner) longAgo(stage int, a record.Assessment) bool {
	return stage == a.Stage && v.stepsBack(a) && a.Unmet(policy.LongBreak)
}

// asksForEase says that some rule calls for an easier week, whatever else does.
func asksForEase(a record.Assessment) bool {
	return slices.ContainsFunc(a.Reasons, func(x record.Reason) bool { return x.Asks == record.Ease && x.IsUnmet() })
}

// longAway says that a break is going on after which a return is due.
func (v planner) longAway() bool {
	b, ok := v.Gap()
	return ok && b.Ended == 0 && !v.Policy.Rule(policy.Break).Keeps(float64(b.Days))
}

// returnsOn says that a day belongs to the return after a break that ended.
func (v planner) returnsOn(day workout.Date) bool {
	b, ok := v.Gap()
	return ok && b.Ended != 0 && !v.Policy.Rule(policy.Break).Keeps(float64(b.Days)) && v.ReturnLasts(b, day)
}

// easyReturn says that a return is comfortable throughout: after a break long enough for stage 1 weeks,
// or after one with a fever or a chest illness.
func (v planner) easyReturn(c course) bool {
	b, ok := v.Gap()
	ill := slices.ContainsFunc(v.Signs(signs.Illness), func(s progression.Noted) bool { return s.On >= b.After })
	return c == backAgain && ok && (v.LongEnough(b) || ill)
}

// beginner says that the week is one of the first of a client who was inactive before: one of those that the rule
// on weeks needs.
func (v planner) beginner(since workout.Date) bool {
	return v.New(since) && float64(v.from-since) < 7*v.Policy.Rule(policy.Weeks).More["inactive"]
}

// body is the client's at the beginning of the week, with the zones that hold on the days to come.
func (v planner) body() physiology.Body {
	b := v.Body(v.first())
	b.Age = v.Record.Client.Born.YearsAt(v.from)
	b.Limit = v.Record.Client.LimitOver(v.first(), v.to())
	return b
}

// targets gives zone 1 for each mode of the client, in whole beats inside the zone and under a limit.
func (v planner) targets() []record.Target {
	body := v.body()
	out := []record.Target{}
	for _, m := range v.Record.Client.TrainedModes() {
		t := record.Target{Mode: m, Feel: workout.Comfortable}
		if e := body.Unlimited().Edges(m); e != nil && !(m == workout.Swim && v.UnderWater()) {
			t.Low, t.High = wording.Beats(e.BPM[0], e.BPM[1])
		}
		out = append(out, under(t, body.Ceiling()))
	}
	return out
}

// under is a target below the ceiling that a limit leaves. Where that lies in the zone it is no aim: the lower beats go.
func under(t record.Target, ceiling float64) record.Target {
	if ceiling > 0 && (t.High == 0 || t.High > ceiling) {
		t.Low, t.High = 0, math.Floor(ceiling)
	}
	return t
}

// intervals gives the interval sessions of the week: more after a week that allows it, fewer after one that was too
// hard, after an illness and after a longer break, one easier one in a return, else the same again; nil where they are
// left out: below the smallest ones, and where the client's time holds none.
func (v planner) intervals(c course, a record.Assessment, stage int, since workout.Date, sessions int) *record.Intervals {
	last, without := v.LastBouts(stage, since, v.from)
	if without >= boutsForgotten {
		last = nil
	}
	var out record.Intervals
	comesBack := without > 0 || v.planBefore().Reduced
	switch {
	case last == nil && (c == backAgain || v.stepsBack(a) || v.Recovering()): // what is new waits for the normal weeks after a break or an illness
	case last == nil:
		out = v.MoreBouts(stage, nil, sessions)
	case c == backAgain:
		one := v.SameBouts(*last, 1)
		if out = v.FewerBouts(stage, one, 1); out.Count == 0 {
			out = one
		}
	case v.stepsBack(a), v.boutsTooHard(without), without >= boutsFaded, comesBack && v.comeBackFewer(*last):
		// Below the smallest ones bouts are left out once a step back is recommended, until then they stay.
		if out = v.FewerBouts(stage, *last, sessions); out.Count == 0 && without == 0 && !v.stepsBack(a) {
			out = v.SameBouts(*last, sessions)
		}
	case comesBack: // the full week, before anything grows
		out = v.SameBouts(*last, sessions)
	case c == build:
		out = v.MoreBouts(stage, last, sessions)
	default:
		out = v.SameBouts(*last, sessions)
	}
	if out.Count == 0 {
		return nil
	}
	out.Feel = workout.Brisk
	if stage == 3 {
		out.Feel = workout.Hard
	}
	out.Lowered = v.lowered(stage, last)
	v.setBeats(&out, stage)
	return &out
}

// boutsTooHard says that the last bouts, so many weeks ago, felt too hard; after a week without any, that two interval
// sessions in a row failed as well.
func (v planner) boutsTooHard(without int) bool {
	then := v.Review
	then.On -= workout.Date(7 * without)
	_, tooHard := v.TooHard(then.ThisWeek())
	return tooHard && (without == 0 || len(v.FailedRunning()) > 1)
}

// gentleBouts are the seconds of bouts in a week that come back whole after an illness (common practice, no source).
const gentleBouts = 8 * 60

// comeBackFewer says that bouts come back fewer than they were: after an illness, unless they were few, and after a
// longer break.
func (v planner) comeBackFewer(last record.Intervals) bool {
	b, away := v.Gap()
	return v.Recovering() && last.Count*last.Bouts*last.Work > gentleBouts || away && v.LongEnough(b)
}

// boutStep is the bpm by which bouts come down after a week in which most felt too hard, and back up after one in
// which all stayed well within the limit (common practice, no source).
const boutStep = 5

// lowered is by how many bpm the bouts of stage 3 stay below what the zones give, by how the last ones felt. In stage 2
// they show whether the client is ready for those zones, so nothing is taken off.
func (v planner) lowered(stage int, last *record.Intervals) float64 {
	if stage < 3 || last == nil {
		return 0
	}
	switch hard, easy := v.BoutsFelt(v.ThisWeek()); {
	case hard:
		return last.Lowered + boutStep
	case easy:
		return max(0, last.Lowered-boutStep)
	}
	return last.Lowered
}

// setBeats gives bouts their heart rates in the zones that hold. Lowered becomes what of it there is room for.
func (v planner) setBeats(i *record.Intervals, stage int) {
	_, whole, _ := v.BoutBeats(v.body(), stage, i.Work, 0)
	i.Low, i.High, i.Lowest = v.BoutBeats(v.body(), stage, i.Work, i.Lowered)
	i.Lowered = whole - i.High
}

// After so many whole weeks without bouts they come back fewer, or start anew (common practice, no source; gains
// are lost after 2-4 weeks off, Sugawara 2001).
const (
	boutsFaded     = 3
	boutsForgotten = 4
)

// planBefore is the plan of the week before; empty without any.
func (v planner) planBefore() record.Prescription {
	var last record.Prescription
	for _, p := range v.Record.Prescriptions {
		if p.From < v.from && p.From >= last.From {
			last = p
		}
	}
	return last
}
