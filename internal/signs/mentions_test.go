package signs_test

import (
	"nextrung/internal/signs"
	"slices"
	"strings"
	"testing"
)

// The phrases are such as people use (common practice, no source; to be checked by licensed practice).
func TestMentionedInOtherWords(t *testing.T) {
	for want, texts := range map[signs.Sign][]string{
		signs.Chest: {
			"sharp pain under my ribs", "like a band round me", "felt like a tight band round my chest", "tight across my chest", "pressure on my breastbone",
			"jaw was achy", "pain in my left arm", "left arm went numb on the hill", "my chest felt funny", "heavy feeling behind the breastbone", "chest",
			"chset pain", "the strap slipped. Chest pain later", "My chest was fine until the hill", "chest not fine", "chest was ok at first", "squeezing in my throat",
			"Not a good day, chest hurt", "no problem, my chest hurt a bit though", "no fever but chest pain", "wasn't tired, chest was tight", "heartburn on the climb",
			"no chest pain until the last hill", "not without chest pain", "can't say I had no chest pain", "chest infection and chest pain", "pain, left arm",
			"like a strap round my chest, tight", "jaw ached", "pins and needles in my arm", "no longer free of chest pain", "Chest pain? Yes",
		},
		signs.Faint:            {"nearly passed out", "saw stars", "everything went black", "thought I would faint", "my vision went dark", "nearly blacked out", "broke out in a cold sweat", "faitned"},
		signs.BreathlessAtRest: {"couldn't get my breath back", "could not catch my breath", "took ages to get my breath back", "couldn’t breathe", "gasping on the sofa", "could hardly breathe"},
		signs.BreathlessMild:   {"no breath left on the stairs", "out of breath on the stairs"},
		signs.Confusion:        {"felt disoriented"},
		signs.Dizzy:            {"woozy", "felt woosy", "the room was spinning", "diziness", "no pain and dizzy", "not only dizzy", "haven't been dizzy since Monday"},
		signs.Palpitations:     {"heart pounding at night", "heart was going like mad", "my heart skipped a beat"},
		signs.SwollenAnkles:    {"ankles look puffy", "swollen feet", "fell asleep with swollen feet"},
		signs.CalfPain:         {"cramp in my calf"},
		signs.Nausea:           {"felt sick", "nauseous", "threw up after the hill", "vomited", "was sick at the end"},
	} {
		for _, text := range texts {
			if got := signs.Mentioned(text); !slices.Contains(got, want) {
				t.Errorf("%q speaks of %v, want %s", text, got, want)
			}
		}
	}
}

func TestNothingMentioned(t *testing.T) {
	for _, text := range []string{
		"My chest was fine", "chest felt ok", "No chest pain like last time", "chest strap slipped", "chest strap was tight", "strap on my chest was tight",
		"armband was tight", "my heart rate was fine", "heart rate was 140", "back pain", "paint on my arm", "chest infection since Tuesday", "chest cold",
		"took my blood pressure on the left arm", "got my breath back quickly", "breathing was easy on the stairs", "light rain, head wind", "blackberries on the quay",
		"sick of the rain", "chesty cough", "not out of breath on the stairs", "arms tired from rowing", "sore arms", "no tightness in my chest this time", "Fell over on thursday, ankle swollen", "twisted my ankle, it is swollen",
		"no chest pain", "no dizziness or chest pain", "no cold, cough or chest pain", "No dizziness, no chest pain, no fever", "no pain and no dizziness",
		"didn't feel dizzy", "never felt any pressure on my chest", "without chest pain", "Chest pain? No. Dizzy? No.", "chest pain: no", "chest pain - none",
		"neither dizzy nor faint", "not at all dizzy", "nothing wrong with my chest", "no pain in my chest", "not nauseous", "Dizzy? no; Chest pain? no", "",
	} {
		if got := signs.Mentioned(text); got != nil {
			t.Errorf("%q is taken to speak of %v", text, got)
		}
	}
}

// Each grave sign in each word that commands take, in whatever company, is heard, and not heard when
// it is plainly denied.
func TestEverySignIsHeard(t *testing.T) {
	for _, s := range signs.All() {
		if tier := s.Tier(); tier != signs.Emergency && tier != signs.Doctor && s != signs.Nausea {
			continue
		}
		for _, word := range []string{strings.ReplaceAll(string(s), "-", " "), s.Words()} {
			for _, say := range []string{"%", "had %", "% on the hill", "some % I think", "windy, %", "no fever. %", "no cold but %", "%?", "felt % and tired", "was fine, then %"} {
				text := strings.ReplaceAll(say, "%", word)
				if !slices.Contains(signs.Mentioned(text), s) {
					t.Errorf("%q: %s is passed over", text, s)
				}
			}
			for _, say := range []string{"no %", "No % at all", "never felt %", "% - no", "%? No", "no fever, no %", "no pain or %"} {
				text := strings.ReplaceAll(say, "%", strings.ReplaceAll(string(s), "-", " "))
				if got := signs.Mentioned(text); slices.Contains(got, s) {
					t.Errorf("%q is taken to speak of %v", text, got)
				}
			}
		}
	}
}

func TestInjuryMentioned(t *testing.T) {
	for text, want := range map[string]bool{
		"Fell over on thursday": true, "twisted my ankle": true, "sprained it": true, "had a fall": true,
		"fell asleep early": false, "fallen asleep on the ferry": false, "ankles swollen": false,
	} {
		if got := signs.InjuryMentioned(text); got != want {
			t.Errorf("%q: injury %v, want %v", text, got, want)
		}
	}
}
