package prescription

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Standing is the plan for the days after an assessment: the one that was sent, as it was sent, unless
// something has happened that it has to answer to; then a new version of it, whose first notes say why and what to
// delete. isNew says that the plan has not been kept yet. Until the last day but one of a week its plan
// stands; after that the next week is planned.
func Standing(p policy.Policy, on workout.Date, r record.Record, a record.Assessment) (plan record.Prescription, isNew bool) {
	v := planner{Review: progression.NewReview(p, on, r)}
	sent := v.Record.Sent(on)
	if sent == nil {
		v.from = on + 1
		if last := v.Record.PlanFor(on+1, on+1); last != nil {
			v.from = last.To + 1
		}
		return v.prescribe(a), true
	}
	v.from = sent.From
	fresh := v.prescribe(a)
	switch now, was := careOf(fresh), careOf(*sent); {
	case len(v.Record.Decisions) > sent.Decisions && (now != was || fresh.Stage != sent.Stage || v.pausedAnew(*sent)):
		return replacing(*sent, fresh, record.ByDecision), true
	case now < was && now < eased, now <= was && v.stopsAnew(fresh, *sent):
		return replacing(*sent, fresh, record.ForHealth), true
	case now < was:
		return replacing(*sent, fresh, record.ForEase), true
	case was < eased && now > was:
		return replacing(*sent, fresh, record.AfterAnswer), true
	case was == none:
		return *sent, false
	}
	changed := v.changed(*sent)
	switch room := v.named(amount{sessions: sent.Sessions, minutes: sent.Minutes}); {
	case room.sessions < sent.Sessions || room.minutes < sent.Minutes:
		changed.Sessions, changed.Minutes = room.sessions, room.minutes
		return replacing(*sent, changed, record.ForTime), true
	case !slices.Equal(changed.Targets, sent.Targets) || changed.Intervals != nil && *changed.Intervals != *sent.Intervals:
		return replacing(*sent, changed, record.ForZones), true
	}
	return *sent, false
}

// stopsAnew says that a new plan stops the client for something that the one that was sent does not know.
func (v planner) stopsAnew(fresh, sent record.Prescription) bool {
	for _, c := range []record.PlanCode{record.CallHelp, record.CallIfStill, record.SeeToday, record.DoctorFirst, record.AgreeFirst, record.AskedFirst, record.RestFirst} {
		if fresh.Says(c) && !sent.Says(c) {
			return true
		}
	}
	return fresh.Says(record.RestFirst) && lastIllness(v.Record) > lastIllness(v.Record.Until(sent.Made))
}

// pausedAnew says that a decision that the plan that was sent does not know pauses the client on some of its days.
func (v planner) pausedAnew(sent record.Prescription) bool {
	then := v.Record
	then.Decisions = then.Decisions[:sent.Decisions]
	for d := v.first(); d <= sent.To; d++ {
		if v.Record.Paused(d) && !then.Paused(d) {
			return true
		}
	}
	return false
}

// Anew is the plan for the days after an assessment written afresh because the trainer wants it, whatever was
// sent.
func Anew(p policy.Policy, on workout.Date, r record.Record, a record.Assessment) (plan record.Prescription, isNew bool) {
	sent := r.Until(on).Sent(on)
	if sent == nil {
		return Standing(p, on, r, a)
	}
	v := planner{progression.NewReview(p, on, r), sent.From}
	return replacing(*sent, v.prescribe(a), record.ByDecision), true
}

// care is how much a plan demands, the least first.
type care int

const (
	none care = iota
	comfortableOnly
	eased
	whole
)

func careOf(p record.Prescription) care {
	switch {
	case p.Sessions == 0:
		return none
	case p.Says(record.AnswerFirst) || p.Says(record.ClearanceFirst) || p.Says(record.NoRoom):
		return comfortableOnly
	case p.Reduced:
		return eased
	}
	return whole
}

// changed is a plan that was sent with the heart rates that hold now.
func (v planner) changed(sent record.Prescription) record.Prescription {
	out := sent
	out.Made, out.Decisions = v.On, len(v.Record.Decisions)
	out.Targets = v.targets()
	if sent.Intervals != nil {
		i := *sent.Intervals
		v.setBeats(&i, sent.Stage)
		out.Intervals = &i
	}
	return out
}

// replacing is a plan with the note that it replaces one that was sent; only what stops the client at once comes
// before it.
func replacing(sent, plan record.Prescription, why record.Change) record.Prescription {
	note := record.PlanNote{Code: record.Replaces, Day: sent.Made, Why: why}
	notes := slices.DeleteFunc(slices.Clone(plan.Notes), func(n record.PlanNote) bool { return n.Code == record.Replaces })
	at := 0
	for at < len(notes) && plan.Sessions == 0 {
		at++
	}
	plan.Notes = slices.Insert(notes, at, note)
	return plan
}
