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
	for _, n := range v.Record.Notes {
		add(n.Date, n.Symptoms)
	}
	slices.SortStableFunc(out, func(a, b Noted) int { return int(a.On - b.On) })
	return out
}

// signGate refers while a sign of a tier is on record that is newer than the last clearance. It
// does not fade with time: only a doctor's clearance ends it.
func (v Review) signGate(id string, tier signs.Tier, act string) finding {
	_, f := v.begin(id)
	open := record.Keep(v.Signs(tier), func(s Noted) bool { return s.On > v.Record.Client.Clearance })
	f.From = v.Record.Client.Since
	if d, ok := v.doubt(tier); ok && len(open) == 0 {
		f.From = min(f.From, d.On)
		say := fmt.Sprintf("nextrung note --client %s --date %s --symptoms", wording.Quoted(v.Record.Client.Name), d.On)
		return f.untold(fmt.Sprintf("Ask at once. If it was so: `%s %s`; if it was nothing of the kind: `%s none`.", say, d.what, say),
			"A note of %s may tell of %s, and nobody has asked yet: %q.", d.On.Long(), d.what.Words(), d.text)
	}
	if len(open) == 0 {
		what := "sign that needs a doctor before training"
		if tier == signs.Emergency {
			what = "sign that needs emergency help"
		}
		return f.told(0, true, "No %s is on record%s.", what, since(v.Record.Client.Clearance))
	}
	f.From = min(f.From, open[0].On)
	return f.told(float64(len(open)), false, "On record: %s. %s", named(open), act)
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
