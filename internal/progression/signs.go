package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
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
func (v Review) signGate(id string, tier signs.Tier) finding {
	_, f := v.begin(id)
	open := record.Keep(v.Signs(tier), func(s Noted) bool { return s.On > v.Record.Client.Clearance })
	f.From = v.Record.Client.Since
	if len(open) > 0 {
		f.From = min(f.From, open[0].On)
		return f.told(float64(len(open)), false, "On record: %s. %s", named(open), open[len(open)-1].what.Advice())
	}
	for _, q := range v.unanswered {
		if q.Sign.Tier() == tier {
			f.From = min(f.From, q.On)
			return f.untold("Ask at once, and enter the answer.", "On %s the client wrote %q. Is that %s? Nobody has asked yet.", q.On.Long(), q.Words, q.Sign.Words())
		}
	}
	what := "sign that needs a doctor before training"
	if tier == signs.Emergency {
		what = "sign that needs emergency help"
	}
	return f.told(0, true, "No %s is on record%s.", what, since(v.Record.Client.Clearance))
}

// signGates are the gates on emergency signs and on signs for a doctor. While the first is not met the
// second says nothing of its own: no reassuring line stands beside a grave one.
func (v Review) signGates() (emergency, doctor finding) {
	emergency, doctor = v.signGate("emergency-sign", signs.Emergency), v.signGate("doctor-sign", signs.Doctor)
	if !emergency.isMet() && doctor.isMet() {
		doctor.Observed, doctor.Enough, doctor.Met = nil, false, nil
		doctor.Text = "The sign above comes first."
	}
	return emergency, doctor
}

func since(clearance workout.Date) string {
	if clearance == 0 {
		return ""
	}
	return " since the clearance of " + clearance.Long()
}

// named writes signs with their days, each once and the last ones of many: "slept badly (2 times,
// the last on 2 October 2026)".
func named(all []Noted) string {
	var order []signs.Sign // by the last time, latest last
	times, last := map[signs.Sign]int{}, map[signs.Sign]workout.Date{}
	for _, s := range all {
		times[s.what]++
		last[s.what] = s.On
		order = append(slices.DeleteFunc(order, func(x signs.Sign) bool { return x == s.what }), s.what)
	}
	var out []string
	for _, s := range order[max(0, len(order)-maxNamed):] {
		when := last[s].Long()
		if n := times[s]; n > 1 {
			when = wording.Several(n, "time") + ", the last on " + when
		}
		out = append(out, s.Words()+" ("+when+")")
	}
	return strings.Join(out, ", ")
}

// counted writes signs each once, with how often they were noted.
func counted(all []signs.Sign) []string {
	var out []string
	for i, s := range all {
		if slices.Contains(all[:i], s) {
			continue
		}
		n := len(record.Keep(all, func(x signs.Sign) bool { return x == s }))
		if n > 1 {
			out = append(out, fmt.Sprintf("%s (%d times)", s.Words(), n))
		} else {
			out = append(out, s.Words())
		}
	}
	return out
}

// tiredSign is the rule on signs that ask for an easier week.
func (v Review) tiredSign() finding {
	rule, f := v.begin("tired-sign")
	f.From = v.On - workout.Date(*rule.Window) + 1
	last := record.Keep(v.Signs(signs.AskAgain), func(s Noted) bool { return s.On >= f.From })
	n := float64(len(last))
	if rule.Keeps(n) {
		if n == 0 {
			return f.told(n, true, "No sign of tiredness, a cold or soreness is noted in the last %d days.", *rule.Window)
		}
		return f.told(n, true, "%s of tiredness, a cold or soreness in the last %d days.", wording.Several(len(last), "sign"), *rule.Window)
	}
	return f.told(n, false, "Noted: %s. An easier week, then ask again.", named(last))
}

// illness is the rule on fever and chest illness.
func (v Review) illness() finding {
	rule, f := v.begin("illness")
	all := v.Signs(signs.Illness)
	f.From = v.On - workout.Date(*rule.Window)
	if len(all) == 0 {
		return f.stated(true, "No fever or chest illness is noted.")
	}
	last := all[len(all)-1]
	days := float64(v.On - last.On)
	if rule.Keeps(days) {
		return f.told(days, true, "The last fever or chest illness was noted %s.", wording.Ago(int(days)))
	}
	words := last.what.Words()
	return f.told(days, false, "%s was noted on %s: nothing until 48 hours without symptoms, then an easy week.", strings.ToUpper(words[:1])+words[1:], last.On.Long())
}
