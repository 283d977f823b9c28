package answers

import (
	"slices"
	"strings"

	"nextrung/internal/progression"
)

// hint is a pair of words that together may speak of a sign. It is a reason to ask, never a finding.
type hint struct {
	sign progression.Symptom
	a, b []string // beginnings of words; without b one of a is enough
}

// hints are further ways in which people speak of signs that must not be passed over, and of bad
// sleep and fever (common practice, no source; to be checked by licensed practice).
var hints = []hint{
	{progression.Chest, []string{"chest", "breastbone", "arm", "jaw", "neck", "shoulder"}, []string{"pain", "ache", "aching", "hurt", "tight", "pressure", "squeez", "heavy", "burn", "discomfort", "numb"}},
	{progression.Faint, []string{"faint", "collaps", "unconscious", "keeled"}, nil},
	{progression.Faint, []string{"black"}, []string{"eyes", "out", "vision"}},
	{progression.BreathlessAtRest, []string{"breath", "wheez", "gasp"}, []string{"rest", "sitting", "sofa", "chair", "nothing"}},
	{progression.BreathlessLying, []string{"breath", "wheez", "gasp"}, []string{"lying", "lie", "bed", "night"}},
	{progression.BreathlessMild, []string{"breath", "wheez", "gasp"}, []string{"stairs", "slow", "walking", "mild", "flat"}},
	{progression.Confusion, []string{"confus", "disorient"}, nil},
	{progression.Dizzy, []string{"dizz", "woozy", "vertigo", "lighthead", "giddy"}, nil},
	{progression.Dizzy, []string{"light"}, []string{"head"}},
	{progression.Dizzy, []string{"head", "room", "everything"}, []string{"spin", "swim", "turn"}},
	{progression.Palpitations, []string{"heart"}, []string{"rac", "pound", "flutter", "stumbl", "skip", "irregular", "jump", "thump", "beating"}},
	{progression.Palpitations, []string{"palpit"}, nil},
	{progression.SwollenAnkles, []string{"ankle", "feet", "foot"}, []string{"swoll", "swell", "puffy", "thick"}},
	{progression.CalfPain, []string{"calf", "calves"}, []string{"pain", "ache", "aching", "hurt", "cramp", "tight"}},
	{progression.PoorSleep, []string{"sleep", "slept", "night"}, []string{"bad", "poor", "hardly", "barely", "couldn", "terribl", "awful", "little"}},
	{progression.Fever, []string{"fever", "temp"}, nil},
}

// mentioned lists the signs that a stretch seems to speak of, typing errors of grave ones included.
func (p *parser) mentioned(from, to int) []progression.Symptom {
	text := strings.ToLower(p.text[from:to])
	out := progression.SymptomsMentioned(text)
	words := strings.FieldsFunc(text, func(r rune) bool { return !('a' <= r && r <= 'z') })
	begins := func(with []string) bool {
		return slices.ContainsFunc(words, func(w string) bool {
			return slices.ContainsFunc(with, func(b string) bool { return strings.HasPrefix(w, b) })
		})
	}
	for _, h := range hints {
		if begins(h.a) && (h.b == nil || begins(h.b)) {
			out = append(out, h.sign)
		}
	}
	for _, w := range words {
		if s, ok := misspelt(w); ok {
			out = append(out, s)
		}
	}
	return unique(out)
}
