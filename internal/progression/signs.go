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

// Signs lists what notes and screening tell, oldest first.
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
	for _, n := range v.Record.Notes {
		add(n.Date, n.Symptoms)
	}
	slices.SortStableFunc(out, func(a, b Noted) int { return int(a.On - b.On) })
	return out
}

// signGate refers while a sign of a tier is on record that is newer than the last clearance. It
// does not fade with time: only a doctor's clearance ends it.
func (v Review) signGate(id policy.ID, tier signs.Tier) finding {
	_, f := v.begin(id)
	none, said := NoDoctorSign, DoctorSigns
	if tier == signs.Emergency {
		none, said = NoEmergencySign, EmergencySigns
	}
	open := record.Keep(v.Signs(tier), func(s Noted) bool { return s.On > v.Record.Client.Clearance })
	f.From = v.Record.Client.Since
	if d, ok := v.doubt(tier); ok && len(open) == 0 {
		f.From = min(f.From, d.On)
		ask := record.Fact{Code: NeedAskAtOnce, Args: record.Args{"client": v.Record.Client.Name, "date": d.On, "sign": string(d.what)}}
		return f.open(ask, SignDoubt, record.Args{"on": d.On, "sign": string(d.what), "text": d.text})
	}
	if len(open) == 0 {
		return f.told(0, true, none, record.Args{"since": v.Record.Client.Clearance})
	}
	f.From = min(f.From, open[0].On)
	return f.told(float64(len(open)), false, said, record.Args{"signs": named(open)})
}

// doubt is what somebody wrote that may be a grave sign.
type doubt struct {
	Noted
	text string
}

// doubt gives the latest note whose text seems to speak of a sign of a tier that nobody has asked about:
// it is neither entered as a sign nor denied by a later answer, and no doctor has cleared the client since.
func (v Review) doubt(tier signs.Tier) (doubt, bool) {
	var last doubt
	found := false
	for i, n := range v.Record.Notes {
		if n.Date <= v.Record.Client.Clearance || v.denied(n, v.Record.Notes[i+1:]) {
			continue
		}
		for _, s := range signs.Mentioned(n.Text) {
			if s.Tier() == tier && (!found || n.Date >= last.On) {
				last, found = doubt{Noted{n.Date, s}, n.Text}, true
			}
		}
	}
	return last, found
}

// denied says that the client was asked about a note: in itself or in one entered later for its day
// or a later one.
func (v Review) denied(n record.Note, later []record.Note) bool {
	return n.NoSign || slices.ContainsFunc(later, func(x record.Note) bool { return x.NoSign && x.Date >= n.Date && x.Entered >= n.Entered })
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

// tiredSign is the rule on signs that ask for an easier week.
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
	if rule.Keeps(days) {
		return f.told(days, true, IllnessOver, record.Args{"days": days})
	}
	return f.told(days, false, IllnessNow, record.Args{"sign": string(last.what), "on": last.On})
}
