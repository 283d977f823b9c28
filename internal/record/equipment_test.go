package record_test

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// TestWhatAClientHas holds how people write what they have to train on, and how they say that they
// have not. The wordings are ours; there is no source for them.
func TestWhatAClientHas(t *testing.T) {
	for words, want := range map[string]string{
		"treadmill":                              "treadmill",
		"A Treadmill in the cellar":              "treadmill",
		"exercise bike":                          "exercise-bike",
		"an old exercise-bike":                   "exercise-bike",
		"turbo trainer":                          "exercise-bike",
		"a bike":                                 "bicycle",
		"bicycle and a rowing machine":           "bicycle rowing-machine",
		"rower":                                  "rowing-machine",
		"the pilot gig":                          "boat",
		"cross-trainer / stepper":                "cross-trainer stepper",
		"elliptical":                             "cross-trainer",
		"stairs":                                 "stairs",
		"the swimming pool":                      "pool",
		"the sea":                                "open-water",
		"gym":                                    "gym",
		"the gym in the harbour":                 "gym",
		"leisure centre with a pool":             "gym pool",
		"running shoes":                          "shoes",
		"treadmill without incline":              "treadmill",
		"treadmill with no incline":              "treadmill",
		"treadmill, no gym":                      "treadmill",
		"treadmill (no gym)":                     "treadmill",
		"gym no pool":                            "gym",
		"no gym and a rowing machine":            "rowing-machine",
		"nothing but a bicycle":                  "bicycle",
		"I don't have a gym but there is a pool": "pool",
		"only a step":                            "stairs",
		"no gym near me":                         "",
		"there is no gym on the island":          "",
		"I don’t have a treadmill":               "",
		"haven't got a bike":                     "",
		"no gym or pool":                         "",
		"neither a gym nor a pool":               "",
		"gym: no":                                "",
		"the gym is closed":                      "",
		"gym (too far)":                          "",
		"the pool is shut until spring":          "",
		"broken treadmill":                       "",
		"sold my exercise bike":                  "",
		"used to have a treadmill":               "",
		"wants a rowing machine":                 "",
		"the treadmill does not work":            "",
		"gym membership expired":                 "",
		"without a bike":                         "",
		"a gym ball and bands":                   "",
		"dumb-bells":                             "",
		"a garden":                               "",
		"step counter":                           "",
		"":                                       "",
	} {
		var got []string
		s := record.Understood(words)
		for _, e := range s.Equipment {
			got = append(got, string(e))
		}
		if strings.Join(got, " ") != want || s.Words != words {
			t.Errorf("%q: %q, want %q; shown as %q", words, got, want, s.Words)
		}
	}
}

func TestWhatAClientEnjoys(t *testing.T) {
	for words, want := range map[string]string{
		"walking to the radio":           "[walk]",
		"Rides":                          "[bike]",
		"riding to the lighthouse":       "[bike]",
		"hiking and swimming":            "[walk swim]",
		"the rowing machine":             "[row]",
		"hates running":                  "[]",
		"anything but running":           "[]",
		"walking rather than running":    "[walk]",
		"running is boring":              "[]",
		"doesn't like the pool":          "[]",
		"not running but cycling":        "[bike]",
		"brown trout":                    "[]",
		"arrows":                         "[]",
		"horse riding":                   "[]",
		"the dog":                        "[]",
		"company, and walks in the dark": "[walk]",
	} {
		if got := fmt.Sprint(record.Understood(words).Modes); got != want {
			t.Errorf("%q: %s, want %s", words, got, want)
		}
	}
}

// TestOldWordsAreReadOnce: a book of an earlier version holds bare words; they are read when it is
// opened, and from then on what was understood is kept beside them.
func TestOldWordsAreReadOnce(t *testing.T) {
	var c record.Client
	if err := json.Unmarshal([]byte(`{"name":"Orsa","equipment":["treadmill","no gym near me"],"enjoys":["walking to the radio","the dog"]}`), &c); err != nil {
		t.Fatal(err)
	}
	if !c.HasToTrainOn(record.Treadmill) || c.HasToTrainOn(record.Gym) || !c.Likes(workout.Walk) || c.Likes(workout.Run) {
		t.Errorf("has %+v, enjoys %+v", c.Equipment, c.Enjoys)
	}
	b, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	var again record.Client
	if err := json.Unmarshal(b, &again); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(c, again); diff != "" {
		t.Error(diff)
	}
	if c.Enjoys[1].Words != "the dog" {
		t.Errorf("the client's words are now %+v", c.Enjoys[1])
	}
}

// TestEveryModeHasItsPhrases: what a client enjoys is read for every mode that has a name.
func TestEveryModeHasItsPhrases(t *testing.T) {
	for _, m := range workout.Modes() {
		if said := record.Understood(m.Doing()); m != workout.OtherMode && !slices.Contains(said.Modes, m) {
			t.Errorf("%q is not understood as %s; add it to the phrases", m.Doing(), m)
		}
	}
}
