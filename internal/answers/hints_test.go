package answers

import (
	"slices"
	"testing"

	"nextrung/internal/progression"
)

// Signs in other words than those on the list are asked about and never entered.
func TestHints(t *testing.T) {
	for text, want := range map[string]progression.Symptom{
		"my chest felt tight on the hill":       progression.Chest,
		"some pressure across my chest":         progression.Chest,
		"pain in my left arm on Tue":            progression.Chest,
		"jaw was aching":                        progression.Chest,
		"thought I would faint":                 progression.Faint,
		"it went black before my eyes":          progression.Faint,
		"could not get my breath while at rest": progression.BreathlessAtRest,
		"gasping on the sofa":                   progression.BreathlessAtRest,
		"could not breathe lying in bed":        progression.BreathlessLying,
		"no breath left on the stairs":          progression.BreathlessMild,
		"felt a bit disoriented":                progression.Confusion,
		"woozy after Mon":                       progression.Dizzy,
		"the room was spinning":                 progression.Dizzy,
		"heart pounding at night":               progression.Palpitations,
		"my heart skipped a beat":               progression.Palpitations,
		"ankles look puffy":                     progression.SwollenAnkles,
		"cramp in my calf":                      progression.CalfPain,
		"bad night on Tue":                      progression.PoorSleep,
		"couldn't sleep":                        progression.PoorSleep,
		"temp 38.2 on Tue":                      progression.Fever,
		"chset pain":                            progression.Chest,
		"diziness":                              progression.Dizzy,
		"faitned":                               progression.Faint,
	} {
		r := Parse(text, week)
		for _, n := range r.Notes {
			if len(n.Symptoms) > 0 {
				t.Errorf("%q enters %v", text, n.Symptoms)
			}
		}
		asked := slices.ContainsFunc(r.Pieces, func(x Piece) bool { return x.Kind == Question && slices.Contains(x.Signs, want) })
		if !asked {
			t.Errorf("%q does not ask about %s: %s", text, want, written(r))
		}
	}
	for _, text := range []string{"windy on the quay", "the arm of the crane", "heart of the matter", "light rain", "paint on my feet", "head wind", "blackberries", "no tightness in my chest this time"} {
		for _, x := range Parse(text, week).Pieces {
			if len(x.Signs) > 0 {
				t.Errorf("%q is taken to speak of %v", text, x.Signs)
			}
		}
	}
}
