package progression

import (
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// The signs that commands take. The lists are from memory after the published ones (Riebe 2015) and
// are to be checked by licensed practice. Other words are kept as a remark and shown.
const (
	Chest            Symptom = "chest" // pain or pressure in chest, neck, jaw or arm
	Faint            Symptom = "faint"
	BreathlessAtRest Symptom = "breathless-at-rest"
	Confusion        Symptom = "confusion"
	BreathlessMild   Symptom = "breathless-at-mild-effort"
	BreathlessLying  Symptom = "breathless-lying"
	Dizzy            Symptom = "dizzy"
	Palpitations     Symptom = "palpitations"
	SwollenAnkles    Symptom = "swollen-ankles"
	CalfPain         Symptom = "calf-pain-walking"
	UnusuallyTired   Symptom = "unusually-tired"
	PoorSleep        Symptom = "poor-sleep"
	Cold             Symptom = "cold"
	Sore             Symptom = "sore"
	Nausea           Symptom = "nausea" // at a session; a sign to stop it
	Fever            Symptom = "fever"
	ChestIllness     Symptom = "chest-illness" // bronchitis and the like
)

// maxNamed is the number of signs named in one sentence.
const maxNamed = 3

// Tier tells what a sign asks for.
type Tier int

// The tiers. OtherSign is a word that the program does not know.
const (
	OtherSign Tier = iota
	Emergency      // stop and call emergency help
	Doctor         // no training until a doctor says so
	AskAgain       // ease and ask again
	Illness        // the rule on fever and chest illness
)

// Tier of a sign.
func (s Symptom) Tier() Tier {
	switch s {
	case Chest, Faint, BreathlessAtRest, Confusion:
		return Emergency
	case BreathlessMild, BreathlessLying, Dizzy, Palpitations, SwollenAnkles, CalfPain, Nausea:
		return Doctor
	case UnusuallyTired, PoorSleep, Cold, Sore:
		return AskAgain
	case Fever, ChestIllness:
		return Illness
	}
	return OtherSign
}

// Symptoms lists the signs that commands take.
func Symptoms() []Symptom {
	return []Symptom{
		Chest, Faint, BreathlessAtRest, Confusion,
		BreathlessMild, BreathlessLying, Dizzy, Palpitations, SwollenAnkles, CalfPain,
		UnusuallyTired, PoorSleep, Cold, Sore, Nausea, Fever, ChestIllness,
	}
}

// sign is one symptom on the day it was noted.
type sign struct {
	on   workout.Date
	what Symptom
}

// signs lists what notes and screening tell, oldest first.
func (v review) signs(tiers ...Tier) []sign {
	var out []sign
	add := func(on workout.Date, all []Symptom) {
		for _, s := range all {
			if slices.Contains(tiers, s.Tier()) {
				out = append(out, sign{on, s})
			}
		}
	}
	add(v.r.Client.Screening.On, v.r.Client.Screening.Signs)
	for _, n := range v.r.Notes {
		add(n.Date, n.Symptoms)
	}
	slices.SortStableFunc(out, func(a, b sign) int { return int(a.on - b.on) })
	return out
}

// signGate refers while a sign of a tier is on record that is newer than the last clearance. It
// does not fade with time: only a doctor's clearance ends it.
func (v review) signGate(id string, tier Tier, act string) finding {
	_, f := v.begin(id)
	open := keep(v.signs(tier), func(s sign) bool { return s.on > v.r.Client.Clearance })
	f.From = v.r.Client.Since
	if d, ok := v.doubt(tier); ok && len(open) == 0 {
		f.From = min(f.From, d.on)
		say := fmt.Sprintf("nextrung note --client %s --date %s --symptoms", quoted(v.r.Client.Name), d.on)
		return f.untold(fmt.Sprintf("Ask at once. If it was so: `%s %s`; if it was nothing of the kind: `%s none`.", say, d.what, say),
			"A note of %s may tell of %s, and nobody has asked yet: %q.", d.on.Long(), d.what.Words(), d.text)
	}
	if len(open) == 0 {
		what := "sign that needs a doctor before training"
		if tier == Emergency {
			what = "sign that needs emergency help"
		}
		return f.told(0, true, "No %s is on record%s.", what, since(v.r.Client.Clearance))
	}
	f.From = min(f.From, open[0].on)
	return f.told(float64(len(open)), false, "On record: %s. %s", named(open), act)
}

// doubt is what somebody wrote that may be a grave sign.
type doubt struct {
	sign
	text string
}

// doubt gives the latest note whose text seems to speak of a sign of a tier that nobody has asked about:
// it is neither entered as a sign nor denied by a later answer, and no doctor has cleared the client since.
func (v review) doubt(tier Tier) (doubt, bool) {
	var last doubt
	found := false
	for i, n := range v.r.Notes {
		if n.Date <= v.r.Client.Clearance || v.denied(n, v.r.Notes[i+1:]) {
			continue
		}
		for _, s := range SymptomsMentioned(n.Text) {
			if s.Tier() == tier && (!found || n.Date >= last.on) {
				last, found = doubt{sign{n.Date, s}, n.Text}, true
			}
		}
	}
	return last, found
}

// denied says that the client was asked about a note: in itself or in one entered later for its day
// or a later one.
func (v review) denied(n Note, later []Note) bool {
	return n.NoSign || slices.ContainsFunc(later, func(x Note) bool { return x.NoSign && x.Date >= n.Date && x.Entered >= n.Entered })
}

func since(clearance workout.Date) string {
	if clearance == 0 {
		return ""
	}
	return " since the clearance of " + clearance.Long()
}

// named writes signs with their days, each once and the last ones of many: "slept badly (2 times,
// the last on 2 October 2026)".
func named(signs []sign) string {
	var order []Symptom // by the last time, latest last
	times, last := map[Symptom]int{}, map[Symptom]workout.Date{}
	for _, s := range signs {
		times[s.what]++
		last[s.what] = s.on
		order = append(slices.DeleteFunc(order, func(x Symptom) bool { return x == s.what }), s.what)
	}
	var out []string
	for _, s := range order[max(0, len(order)-maxNamed):] {
		when := last[s].Long()
		if n := times[s]; n > 1 {
			when = several(n, "time") + ", the last on " + when
		}
		out = append(out, s.Words()+" ("+when+")")
	}
	return strings.Join(out, ", ")
}

// counted writes signs each once, with how often they were noted.
func counted(signs []Symptom) []string {
	var out []string
	for i, s := range signs {
		if slices.Contains(signs[:i], s) {
			continue
		}
		n := len(keep(signs, func(x Symptom) bool { return x == s }))
		if n > 1 {
			out = append(out, fmt.Sprintf("%s (%d times)", s.Words(), n))
		} else {
			out = append(out, s.Words())
		}
	}
	return out
}

// Words says a sign in plain words, in lower case.
func (s Symptom) Words() string {
	switch s {
	case Chest:
		return "pain or pressure in the chest, neck, jaw or arm"
	case Faint:
		return "fainted or nearly fainted"
	case BreathlessMild:
		return "breathless at mild effort"
	case BreathlessLying:
		return "breathless when lying"
	case CalfPain:
		return "calf pain when walking"
	case PoorSleep:
		return "slept badly"
	case Cold:
		return "a cold"
	case Fever:
		return "a fever"
	case ChestIllness:
		return "a chest illness"
	}
	return strings.ReplaceAll(string(s), "-", " ")
}

// tiredSign is the rule on signs that ask for an easier week.
func (v review) tiredSign() finding {
	rule, f := v.begin("tired-sign")
	f.From = v.on - workout.Date(*rule.Window) + 1
	last := keep(v.signs(AskAgain), func(s sign) bool { return s.on >= f.From })
	n := float64(len(last))
	if rule.keeps(n) {
		if n == 0 {
			return f.told(n, true, "No sign of tiredness, a cold or soreness is noted in the last %d days.", *rule.Window)
		}
		return f.told(n, true, "%s of tiredness, a cold or soreness in the last %d days.", several(len(last), "sign"), *rule.Window)
	}
	return f.told(n, false, "Noted: %s. An easier week, then ask again.", named(last))
}

// illness is the rule on fever and chest illness.
func (v review) illness() finding {
	rule, f := v.begin("illness")
	all := v.signs(Illness)
	f.From = v.on - workout.Date(*rule.Window)
	if len(all) == 0 {
		return f.stated(true, "No fever or chest illness is noted.")
	}
	last := all[len(all)-1]
	days := float64(v.on - last.on)
	if rule.keeps(days) {
		return f.told(days, true, "The last fever or chest illness was noted %s.", ago(int(days)))
	}
	words := last.what.Words()
	return f.told(days, false, "%s was noted on %s: nothing until 48 hours without symptoms, then an easy week.", strings.ToUpper(words[:1])+words[1:], last.on.Long())
}
