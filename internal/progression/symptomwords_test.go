package progression_test

import (
	"slices"
	"testing"

	"nextrung/internal/progression"
)

func TestSymptomNamed(t *testing.T) {
	for text, want := range map[string]progression.Symptom{
		"chest": progression.Chest, "Chest": progression.Chest, "chest pain": progression.Chest, "CHEST-PAIN!": progression.Chest,
		"fainted": progression.Faint, "dizzyness": progression.Dizzy, "Light headed": progression.Dizzy,
		"calf_pain_walking": progression.CalfPain, "slept badly": progression.PoorSleep, "flu": progression.Fever,
		"breathless": progression.BreathlessAtRest, // the graver meaning
		"none":       "", "": "",
	} {
		if got, ok := progression.SymptomNamed(text); !ok || got != want {
			t.Errorf("%q is %q (%v), want %q", text, got, ok, want)
		}
	}
	for _, text := range []string{"grumpy", "chestnut", "windy"} {
		if got, ok := progression.SymptomNamed(text); ok {
			t.Errorf("%q is taken for %q", text, got)
		}
	}
	for _, s := range progression.Symptoms() {
		if got, ok := progression.SymptomNamed(string(s)); !ok || got != s {
			t.Errorf("%q names %q", s, got)
		}
	}
}

func TestSymptomsMentioned(t *testing.T) {
	for text, want := range map[string][]progression.Symptom{
		"had some chest pain on the hill": {progression.Chest},
		"Felt dizzy, nearly fainted":      {progression.Faint, progression.Dizzy},
		"ate chestnuts on the quay":       nil,
		"slept badly":                     nil, // not grave: no alarm
	} {
		if got := progression.SymptomsMentioned(text); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
