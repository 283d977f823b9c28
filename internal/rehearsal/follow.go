package rehearsal

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Way is one way of deciding that is tried on the clients.
type Way string

// The ways: the whole policy; the same without the rules about heart rate (evidence), so that weeks,
// sessions, minutes, effort and talk decide and the rules for an easier week and a step back stay;
// perfect knowledge, which moves those up who have trained as the policy needs and can do the next stage's session as
// they do their sessions; and the calendar alone, which moves everybody up when the minimum weeks of the stage are over.
const (
	Whole    Way = "the policy"
	NoHeart  Way = "weeks, sessions, effort and talk"
	Knowing  Way = "the same training and perfect knowledge"
	Calendar Way = "calendar only"
)

// Ways lists them in the order of the table.
func Ways() []Way { return []Way{Whole, NoHeart, Knowing, Calendar} }

// concludes is the verdict of a way, read off the assessment by the whole policy. able says that the client could do
// the next stage's session as they do their sessions.
func (w Way) concludes(a record.Assessment, able bool) record.Assessment {
	if w == Whole || a.Verdict == nil {
		return a
	}
	verdict := *a.Verdict
	switch {
	case (w == NoHeart || w == Knowing) && slices.Contains([]record.Verdict{record.Hold, record.NotAssessable, record.Advance}, verdict):
		if verdict = w.byRules(a); verdict == record.Advance && w == Knowing && !able {
			verdict = record.Hold
		}
	case w == Calendar && a.Weeks > 0 && a.Week >= a.Weeks:
		verdict = record.Advance
	case w == Calendar:
		verdict = record.Hold
	}
	if verdict == *a.Verdict {
		return a
	}
	a.Verdict, a.To = &verdict, nil
	switch verdict {
	case record.Advance:
		a.Plan, a.To = nil, new(a.Stage+1)
	case record.Hold:
		a.Plan = new(record.Build)
	}
	return a
}

// heeds says whether a way uses a rule of the whole policy.
func (w Way) heeds(rule policy.ID) bool {
	switch w {
	case NoHeart:
		return rule != policy.EnoughEvidence
	case Knowing:
		return !slices.Contains([]policy.ID{policy.EnoughEvidence, policy.Effort, policy.BoutEffort, policy.UsualEffort, policy.Forecast}, rule)
	case Calendar:
		return rule == policy.Weeks || rule == policy.IntervalWeeks
	}
	return true
}

// byRules is the verdict of the gates and required rules that the way heeds.
func (w Way) byRules(a record.Assessment) record.Verdict {
	verdict := record.Advance
	if a.Stage > 2 {
		return record.Hold
	}
	for _, x := range a.Reasons {
		counts := (x.Kind == policy.Gate || x.Kind == policy.Required) && w.heeds(x.Rule)
		switch {
		case counts && x.IsUnmet():
			return record.Hold
		case counts && x.Met == nil:
			verdict = record.NotAssessable
		}
	}
	return verdict
}

// open lists the rules of the whole policy that are against a move or leave it open: gates and
// required rules that are not met or lack data, and rules that lead to an easier week or a step
// back.
func open(a record.Assessment) []policy.ID {
	var out []policy.ID
	for _, x := range a.Reasons {
		lacking := x.Met == nil && x.Kind != policy.StepBackRule
		counts := x.Kind == policy.Gate || x.Kind == policy.Required || x.Kind == policy.StepBackRule
		if counts && (x.IsUnmet() || lacking) {
			out = append(out, x.Rule)
		}
	}
	return out
}

func heartTold(a record.Assessment) bool {
	return slices.ContainsFunc(a.Reasons, func(x record.Reason) bool { return x.Rule == policy.EnoughEvidence && x.Met != nil })
}

// Week is the end of one week of one client under one way.
type Week struct {
	Stage   int
	Due     bool // the minimum weeks of the stage are over
	Verdict record.Verdict
	Truth   Readiness // for the next stage; means nothing in stage 3
	Done    Readiness // the same, as the client does the session
	// Intervals are the interval sessions of the week, Hard those of them that were too hard in truth.
	Intervals, Hard int
	// HeartTold says that there was enough data for the rule that counts the heart-rate evidence.
	HeartTold bool
	// Open are the ids of the rules that stood between a client and the move.
	Open []policy.ID
}

// Journey is one client under one way, from the first week on.
type Journey struct {
	Sensor   workout.Sensor
	MaxError float64 // bpm by which the age formula is above the true maximum
	Days     int     // sessions a week that the client has time for
	Weeks    []Week
}

// branch is a history that several ways share until they decide differently.
type branch struct {
	ways   []Way
	record record.Record
	laid   prescription.Week // the week that comes
	gap    float64
	weeks  []Week

	// trials are the sessions that decide on being ready for a stage, in the zones as they stand.
	trials map[int]workout.Plan
	// answers are the suggestions for zones that the trainer accepted.
	answers   []proposal.Answer
	keepZones bool
}

// begin is the history of a client before the first week.
func begin(o Options, p person, ways []Way) branch {
	b := branch{ways: ways, record: record.Record{Client: p.facts}, gap: p.gap, keepZones: o.KeepZones}
	b.trials = map[int]workout.Plan{2: trial(o.Policy, p.facts, 2), 3: trial(o.Policy, p.facts, 3)}
	b.prescribe(o.Policy, start-1, progression.Assess(o.Policy, start-1, b.record))
	return b
}

// live takes one client through the weeks under each of the ways. The same weeks bring the same luck.
func live(o Options, p person, ways []Way) map[Way]Journey {
	policy := o.Policy
	branches := []branch{begin(o, p, ways)}
	for w := range o.Weeks {
		var next []branch
		for _, b := range branches {
			did := p.train(&b.record, b.laid, w, b.gap)
			b.gap = p.after(b.gap, did.sessions)
			a := progression.Assess(policy, ends(w), b.record)
			seen := Week{Stage: a.Stage, Due: a.Weeks > 0 && a.Week >= a.Weeks, HeartTold: heartTold(a), Open: open(a), Intervals: did.intervals, Hard: did.hard}
			if a.Stage < 3 {
				seen.Truth, seen.Done = p.ready(b.trials[a.Stage+1], w+1, b.gap, a.Stage+1)
			}
			next = append(next, b.decide(policy, ends(w), a, seen)...)
		}
		branches = next
	}
	out := map[Way]Journey{}
	for _, b := range branches {
		for _, way := range b.ways {
			j := Journey{Sensor: p.facts.Sensor, MaxError: p.maxError, Days: p.facts.Days, Weeks: slices.Clone(b.weeks)}
			for i, w := range j.Weeks {
				j.Weeks[i].Open = record.Keep(w.Open, way.heeds)
			}
			out[way] = j
		}
	}
	return out
}

// decide lets each way conclude, the trainer follow, and the next week be prescribed. Ways that
// conclude the same go on together.
func (b branch) decide(policy policy.Policy, on workout.Date, a record.Assessment, seen Week) []branch {
	var out []branch
	for _, way := range b.ways {
		said := way.concludes(a, seen.Done.Ready())
		if i := slices.IndexFunc(out, func(o branch) bool { return o.weeks[len(o.weeks)-1].Verdict == *said.Verdict }); i >= 0 {
			out[i].ways = append(out[i].ways, way)
			continue
		}
		part := b
		part.ways = []Way{way}
		part.record.Recordings, part.record.Notes = slices.Clone(b.record.Recordings), slices.Clone(b.record.Notes)
		part.record.Decisions, part.record.Prescriptions = slices.Clone(b.record.Decisions), slices.Clone(b.record.Prescriptions)
		seen.Verdict = *said.Verdict
		part.weeks = append(slices.Clone(b.weeks), seen)
		part.answers, part.record.Answered = slices.Clone(b.answers), slices.Clone(b.record.Answered)
		part.follow(on, said)
		part.rezone(policy, on)
		part.prescribe(policy, on, said)
		out = append(out, part)
	}
	return out
}

// follow enters the trainer's decision where the verdict moves the client.
func (b *branch) follow(on workout.Date, a record.Assessment) {
	act := map[record.Verdict]record.Act{record.Advance: record.DoAdvance, record.StepBack: record.DoStepBack}[*a.Verdict]
	if act == "" {
		return
	}
	b.record.Decisions = append(b.record.Decisions, record.Decision{
		Client: a.Client, Entered: on, Act: act, From: on + 1, Stage: *a.To, Because: reasons.Paragraph(a.Summary), By: "rehearsal", Verdict: a.Verdict, Policy: a.Policy,
	})
}

// rezone accepts every suggestion to lower the top of zone 1, from the next day on: talk and effort
// overrule percentages. It declines the higher ones, and other suggestions are left to a real trainer.
func (b *branch) rezone(policy policy.Policy, on workout.Date) {
	if b.keepZones {
		return
	}
	for _, p := range proposal.Find(b.record, on, b.answers).Open {
		if p.Kind != proposal.TopOfZone1 {
			continue
		}
		if p.Raises() {
			b.answer(proposal.Answer{Entered: on, By: "rehearsal", Proposal: p})
			continue
		}
		changed, err := p.Take(b.record.Client, on+1)
		if err != nil {
			continue // zones that cannot be
		}
		b.record.Client = changed
		b.answer(proposal.Answer{Entered: on, Taken: true, From: on + 1, By: "rehearsal", Proposal: p})
		b.trials = map[int]workout.Plan{2: trial(policy, changed, 2), 3: trial(policy, changed, 3)}
	}
}

// answer enters what the trainer did with a suggestion.
func (b *branch) answer(a proposal.Answer) {
	b.answers = append(b.answers, a)
	b.record.Answered = append(b.record.Answered, a.Zones())
}

func (b *branch) prescribe(policy policy.Policy, on workout.Date, a record.Assessment) {
	next := prescription.Prescribe(policy, on, b.record, a)
	b.laid = prescription.Lay(next, b.record, a)
	b.record.Prescriptions = append(b.record.Prescriptions, next)
}
