package answers

import (
	"nextrung/internal/signs"
	"slices"
	"testing"
)

// Signs in other words than those on the list are asked about and never entered.
func TestHints(t *testing.T) {
	for text, want := range map[string]signs.Sign{
		"my chest felt tight on the hill":       signs.Chest,
		"some pressure across my chest":         signs.Chest,
		"pain in my left arm on Tue":            signs.Chest,
		"jaw was aching":                        signs.Chest,
		"thought I would faint":                 signs.Faint,
		"it went black before my eyes":          signs.Faint,
		"could not get my breath while at rest": signs.BreathlessAtRest,
		"gasping on the sofa":                   signs.BreathlessAtRest,
		"could not breathe lying in bed":        signs.BreathlessLying,
		"no breath left on the stairs":          signs.BreathlessMild,
		"felt a bit disoriented":                signs.Confusion,
		"woozy after Mon":                       signs.Dizzy,
		"the room was spinning":                 signs.Dizzy,
		"heart pounding at night":               signs.Palpitations,
		"my heart skipped a beat":               signs.Palpitations,
		"ankles look puffy":                     signs.SwollenAnkles,
		"cramp in my calf":                      signs.CalfPain,
		"bad night on Tue":                      signs.PoorSleep,
		"couldn't sleep":                        signs.PoorSleep,
		"temp 38.2 on Tue":                      signs.Fever,
		"chset pain":                            signs.Chest,
		"diziness":                              signs.Dizzy,
		"faitned":                               signs.Faint,
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
