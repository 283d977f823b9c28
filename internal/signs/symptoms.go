// Package signs owns the signs and symptoms that clients report: their names, how urgent each is, how
// people write them, and the cautions and stop signs made from them.
package signs

import "strings"

// Symptom is a reported sign in the words that commands take.
type Sign string

// The signs that commands take. The lists are from memory after the published ones (Riebe 2015) and
// are to be checked by licensed practice. Other words are kept as a remark and shown.
const (
	Chest            Sign = "chest" // pain or pressure in chest, neck, jaw or arm
	Faint            Sign = "faint"
	BreathlessAtRest Sign = "breathless-at-rest"
	Confusion        Sign = "confusion"
	BreathlessMild   Sign = "breathless-at-mild-effort"
	BreathlessLying  Sign = "breathless-lying"
	Dizzy            Sign = "dizzy"
	Palpitations     Sign = "palpitations"
	SwollenAnkles    Sign = "swollen-ankles"
	CalfPain         Sign = "calf-pain-walking"
	UnusuallyTired   Sign = "unusually-tired"
	PoorSleep        Sign = "poor-sleep"
	Cold             Sign = "cold"
	Sore             Sign = "sore"
	Nausea           Sign = "nausea" // at a session; a sign to stop it
	Fever            Sign = "fever"
	ChestIllness     Sign = "chest-illness" // bronchitis and the like
)

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
func (s Sign) Tier() Tier {
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
func All() []Sign {
	return []Sign{
		Chest, Faint, BreathlessAtRest, Confusion,
		BreathlessMild, BreathlessLying, Dizzy, Palpitations, SwollenAnkles, CalfPain,
		UnusuallyTired, PoorSleep, Cold, Sore, Nausea, Fever, ChestIllness,
	}
}

// Words says a sign in plain words, in lower case.
func (s Sign) Words() string {
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
