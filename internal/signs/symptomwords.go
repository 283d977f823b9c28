package signs

import (
	"slices"
	"strings"
)

// otherWords are further words for signs, as people type them (common practice, no source). A word
// that could mean signs of two tiers stands for the graver one.
var otherWords = map[Sign][]string{
	Chest: {"chest-pain", "chest-pains", "chest-pressure", "chest-tightness", "tight-chest", "tightness-in-the-chest", "pain-in-the-chest",
		"pressure-in-the-chest", "angina", "jaw-pain", "arm-pain", "neck-pain", "chest-hurts"},
	Faint:            {"fainted", "fainting", "passed-out", "blackout", "blacked-out", "collapsed", "unconscious"},
	BreathlessAtRest: {"breathless", "breathlessness", "short-of-breath", "shortness-of-breath", "cannot-breathe"},
	Confusion:        {"confused"},
	BreathlessMild:   {"breathless-on-mild-effort", "breathless-on-stairs"},
	Dizzy:            {"dizziness", "dizzyness", "light-headed", "lightheaded", "vertigo"},
	Palpitations:     {"palpitation", "heart-flutter", "heart-flutters", "fluttering-heart", "heart-races", "racing-heart", "heart-stumbles", "irregular-heartbeat"},
	SwollenAnkles:    {"swollen-ankle", "ankle-swelling", "swollen-feet"},
	CalfPain:         {"calf-pain", "calf-cramp"},
	UnusuallyTired:   {"tired", "very-tired", "exhausted", "fatigue", "fatigued", "knackered", "shattered", "wiped-out"},
	Nausea:           {"nauseous", "nauseated", "queasy", "threw-up", "vomited", "vomiting"},
	PoorSleep:        {"bad-sleep", "slept-badly", "sleepless", "insomnia"},
	Cold:             {"a-cold", "cough", "runny-nose", "sore-throat"},
	Sore:             {"soreness", "sore-muscles", "sore-legs"},
	Fever:            {"temperature", "flu", "influenza"},
	ChestIllness:     {"bronchitis", "pneumonia", "chest-infection"},
}

// SymptomNamed finds the sign that a word or a few words mean, whatever the letter case. "none"
// means no sign: "" and true. A word that is not known is false.
func Named(text string) (Sign, bool) {
	word := strings.Join(strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return r == ' ' || r == '-' || r == '_' || r == '.' || r == '!'
	}), "-")
	if word == "none" || word == "" || word == "no" {
		return "", true
	}
	for _, s := range All() {
		if word == string(s) || slices.Contains(otherWords[s], word) {
			return s, true
		}
	}
	return "", false
}
