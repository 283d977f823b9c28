package signs_test

import (
	"nextrung/internal/signs"
	"slices"
	"testing"
)

func TestSymptomNamed(t *testing.T) {
	for text, want := range map[string]signs.Sign{
		"chest": signs.Chest, "Chest": signs.Chest, "chest pain": signs.Chest, "CHEST-PAIN!": signs.Chest,
		"fainted": signs.Faint, "dizzyness": signs.Dizzy, "Light headed": signs.Dizzy,
		"calf_pain_walking": signs.CalfPain, "slept badly": signs.PoorSleep, "flu": signs.Fever,
		"breathless": signs.BreathlessAtRest, // the graver meaning
		"none":       "", "": "",
	} {
		if got, ok := signs.Named(text); !ok || got != want {
			t.Errorf("%q is %q (%v), want %q", text, got, ok, want)
		}
	}
	for _, text := range []string{"grumpy", "chestnut", "windy"} {
		if got, ok := signs.Named(text); ok {
			t.Errorf("%q is taken for %q", text, got)
		}
	}
	for _, s := range signs.All() {
		if got, ok := signs.Named(string(s)); !ok || got != s {
			t.Errorf("%q names %q", s, got)
		}
	}
}

func TestSymptomsMentioned(t *testing.T) {
	for text, want := range map[string][]signs.Sign{
		"had some chest pain on the hill": {signs.Chest},
		"Felt dizzy, nearly fainted":      {signs.Faint, signs.Dizzy},
		"ate chestnuts on the quay":       nil,
		"slept badly":                     nil, // not grave: no alarm
	} {
		if got := signs.Mentioned(text); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
	}
}
