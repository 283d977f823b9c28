package progression

import (
	"slices"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// maxNamed is the number of signs named in one sentence.
const maxNamed = 3

// sign is one symptom on the day it was noted.
type Noted struct {
	On   workout.Date
	what signs.Sign
}

// Signs lists the signs in notes and screening, oldest first.
func (v Review) Signs(tiers ...signs.Tier) []Noted {
	var out []Noted
	add := func(on workout.Date, all []signs.Sign) {
		for _, s := range all {
			if slices.Contains(tiers, s.Tier()) {
				out = append(out, Noted{on, s})
			}
		}
	}
	add(v.Record.Client.Screening.On, v.Record.Client.Screening.Signs)
	for i, n := range v.Record.Notes {
		if !v.Record.TakenBack(i) {
			add(n.Date, n.Symptoms)
		}
	}
	slices.SortStableFunc(out, func(a, b Noted) int { return int(a.On - b.On) })
	return out
}

// signGate refers while a sign of a tier is on record that is newer than the last clearance. It does
// not fade with time: only a doctor's clearance ends it.
func (v Review) signGate(id policy.ID, tier signs.Tier) finding {
	_, f := v.begin(id)
	none, said := NoDoctorSign, DoctorSigns
	if tier == signs.Emergency {
		none, said = NoEmergencySign, EmergencySigns
	}
	var open []Noted
	for _, s := range v.Record.OpenSigns() {
		if s.Sign.Tier() == tier {
			open = append(open, Noted{s.On, s.Sign})
		}
	}
	f.From = v.Record.Client.Since
	if len(open) > 0 {
		f.From = min(f.From, open[0].On)
		return f.told(float64(len(open)), false, said, record.Args{"signs": named(open), "last": string(gravest(open)), "days": int(v.On - open[len(open)-1].On)})
	}
	for _, q := range v.unanswered {
		if q.Sign.Tier() == tier {
			f.From = min(f.From, q.On)
			ask := need(NeedAskAtOnce)
			return f.open(ask, SignDoubt, record.Args{"on": q.On, "sign": string(q.Sign), "text": q.Words})
		}
	}
	return f.told(0, true, none, record.Args{"since": v.Record.Client.Clearance})
}

// gravest is the sign whose advice comes first: the most urgent, of several the latest.
func gravest(all []Noted) signs.Sign {
	most := all[len(all)-1].what
	for _, s := range all {
		if s.what.Urgency() < most.Urgency() {
			most = s.what
		}
	}
	return most
}

// signGates are the gates on emergency signs and on signs for a doctor. While the first is not met the
// second says nothing of its own: no reassuring line stands beside a grave one.
func (v Review) signGates() (emergency, doctor finding) {
	emergency, doctor = v.signGate(policy.EmergencySign, signs.Emergency), v.signGate(policy.DoctorSign, signs.Doctor)
	if !emergency.IsMet() && doctor.IsMet() {
		doctor.Observed, doctor.Enough, doctor.Met = nil, false, nil
		doctor.Says = record.Fact{Code: EmergencyFirst}
	}
	return emergency, doctor
}

// named lists signs with their last day and how often they were noted, each once, the last ones of many.
func named(all []Noted) record.Facts {
	var order []signs.Sign // by the last time, latest last
	times, last := map[signs.Sign]int{}, map[signs.Sign]workout.Date{}
	for _, s := range all {
		times[s.what]++
		last[s.what] = s.On
		order = append(slices.DeleteFunc(order, func(x signs.Sign) bool { return x == s.what }), s.what)
	}
	var out record.Facts
	for _, s := range order[max(0, len(order)-maxNamed):] {
		out = append(out, record.Fact{Code: SignOn, Args: record.Args{"sign": string(s), "times": times[s], "on": last[s]}})
	}
	return out
}

// counted lists signs each once, with how often they were noted.
func counted(all []signs.Sign) record.Facts {
	var out record.Facts
	for i, s := range all {
		if !slices.Contains(all[:i], s) {
			n := len(record.Keep(all, func(x signs.Sign) bool { return x == s }))
			out = append(out, record.Fact{Code: SignTimes, Args: record.Args{"sign": string(s), "times": n}})
		}
	}
	return out
}

// tiredSign is the rule on signs that call for an easier week.
func (v Review) tiredSign() finding {
	rule, f := v.begin(policy.TiredSign)
	f.From = v.On - workout.Date(*rule.Window) + 1
	last := record.Keep(v.Signs(signs.AskAgain), func(s Noted) bool { return s.On >= f.From })
	if n := float64(len(last)); !rule.Keeps(n) {
		return f.told(n, false, TiredSigns, record.Args{"signs": named(last)})
	}
	return f.told(float64(len(last)), true, FewTiredSigns, record.Args{"signs": len(last), "days": *rule.Window})
}

// illness is the rule on fever and chest illness.
func (v Review) illness() finding {
	rule, f := v.begin(policy.Illness)
	all := v.Signs(signs.Illness)
	f.From = v.On - workout.Date(*rule.Window)
	if len(all) == 0 {
		return f.stated(true, NoIllness, nil)
	}
	last := all[len(all)-1]
	days := float64(v.On - last.On)
	switch normal := v.normalWeeksSince(last.On + workout.Date(*rule.Threshold)); {
	case rule.Keeps(days) && normal < int(rule.More["normal_weeks"]):
		return f.told(days, true, IllnessBefore, record.Args{"days": days, "weeks": normal, "needed": rule.More["normal_weeks"]})
	case rule.Keeps(days):
		return f.told(days, true, IllnessOver, record.Args{"days": days})
	}
	return f.told(days, false, IllnessNow, record.Args{"sign": string(last.what), "on": last.On})
}

// Illness is what a fever or a chest illness says against a move up: it is too recent, or normal weeks come first; nil
// for none.
func (v Review) Illness() *record.Fact {
	if f := v.illness(); f.IsUnmet() || f.Says.Code == IllnessBefore {
		return &f.Says
	}
	return nil
}

// Ill says that a fever or a chest illness is too recent for more than an easy week, whatever the state of the client.
func (v Review) Ill() bool { return v.illness().IsUnmet() }

// normalWeeksSince counts the weeks back from the date that began after a day and had at least the sessions
// that stage 1 needs, in no week that was an easier one on purpose.
func (v Review) normalWeeksSince(day workout.Date) int {
	n := 0
	for to := v.On; to-6 > day; to -= 7 {
		done := record.Keep(v.Sessions, func(s record.Session) bool { return s.Date > to-7 && s.Date <= to })
		plan := v.Record.PlanFor(to-6, to)
		if v.Policy.Rule(policy.Sessions).Keeps(float64(len(done))) && (plan == nil || !plan.Reduced) {
			n++
		}
	}
	return n
}

// Recovering says that normal weeks after an illness come before a move.
func (v Review) Recovering() bool { return v.illness().Says.Code == IllnessBefore }
