package record

import (
	"encoding/json"
	"slices"
	"strings"

	"nextrung/internal/workout"
)

// Equipment is something to train on or in.
type Equipment string

// The equipment that decides something about a week.
const (
	Treadmill     Equipment = "treadmill"
	ExerciseBike  Equipment = "exercise-bike"
	RowingMachine Equipment = "rowing-machine"
	CrossTrainer  Equipment = "cross-trainer"
	Stepper       Equipment = "stepper"
	Stairs        Equipment = "stairs"
	Bicycle       Equipment = "bicycle"
	Boat          Equipment = "boat"
	Pool          Equipment = "pool"
	OpenWater     Equipment = "open-water"
	Shoes         Equipment = "shoes"
	Gym           Equipment = "gym" // with every machine, but no water
)

// Said is something that a client has to train with or enjoys: the client's own words, which people
// are shown, and what was understood of them when they were entered, which alone decides anything.
type Said struct {
	Words     string         `json:"words"`
	Equipment []Equipment    `json:"equipment,omitempty"`
	Modes     []workout.Mode `json:"modes,omitempty"`
}

// UnmarshalJSON also takes the bare words, which is how books of an earlier version hold them.
func (s *Said) UnmarshalJSON(b []byte) error {
	type plain Said
	var words string
	if json.Unmarshal(b, &words) == nil {
		*s = Understood(words)
		return nil
	}
	return json.Unmarshal(b, (*plain)(s))
}

// AllUnderstood reads several.
func AllUnderstood(all ...string) []Said {
	var out []Said
	for _, words := range all {
		out = append(out, Understood(words))
	}
	return out
}

// meaning is what a phrase stands for: equipment, a mode of training, or both; neither for a phrase
// that only looks like one.
type meaning struct {
	equipment Equipment
	mode      workout.Mode
}

// phrases are how people write what decides something, in lower case, without hyphens. The longest
// phrase wins.
var phrases = phraseBook()

func phraseBook() map[string]meaning {
	out := map[string]meaning{}
	for m, all := range map[meaning]string{
		{Treadmill, ""}:              "treadmill, treadmills, tread mill, running machine, walking machine, walking pad, running belt",
		{ExerciseBike, workout.Bike}: "exercise bike, exercise bicycle, indoor bike, indoor cycle, stationary bike, spin bike, spinning, spinning bike, fitness bike, home trainer, bike trainer, turbo trainer, cycle trainer, ergometer, bike ergometer, bicycle ergometer",
		{RowingMachine, workout.Row}: "rowing machine, rowing ergometer, rowing erg, indoor rower, rower, erg",
		{CrossTrainer, ""}:           "cross trainer, crosstrainer, elliptical, elliptical trainer",
		{Stepper, ""}:                "stepper, stair climber, stairclimber, step machine, stair machine",
		{Stairs, ""}:                 "step, stair, stairs, staircase, aerobic step, step bench",
		{Bicycle, workout.Bike}:      "bike, bikes, bicycle, push bike, road bike, mountain bike, e bike, ebike",
		{Boat, workout.Row}:          "boat, rowing boat, gig, pilot gig, skiff",
		{Pool, workout.Swim}:         "pool, swimming pool, lido",
		{OpenWater, workout.Swim}:    "sea, lake, open water, sea swimming",
		{Shoes, ""}:                  "shoes, running shoes, walking shoes, walking boots",
		{Gym, ""}:                    "gym, gyms, fitness studio, fitness club, fitness centre, fitness center, leisure centre, sports centre, health club",
		{"", workout.Walk}:           "walk, walks, walking, hike, hikes, hiking, stroll, strolling, strolls, rambling",
		{"", workout.Run}:            "run, runs, running, jog, jogs, jogging",
		{"", workout.Bike}:           "ride, rides, riding, cycle, cycles, cycling, biking",
		{"", workout.Row}:            "row, rows, rowing",
		{"", workout.Swim}:           "swim, swims, swimming",
		{"", ""}:                     "gym ball, gym mat, gym bag, gym shoes, gym towel, pool table, boat shoes, horse riding, motor bike, row of, bike shed, step counter, next step, step by step",
	} {
		for phrase := range strings.SplitSeq(all, ", ") {
			out[phrase] = m
		}
	}
	return out
}

const longestPhrase = 3 // words

// denials are words that deny what follows in a clause or, where nothing does, what came before.
var denials = strings.Fields("no not none nothing never neither nor without cannot cant dont doesnt didnt isnt arent wasnt havent hasnt wont wouldnt" +
	" hate hates hated dislike dislikes loathe loathes avoid avoids boring bored afraid scared rather anything" +
	" closed shut broken broke sold gone stolen far expensive ended expired lapsed cancelled lost had used formerly" +
	" want wants wish wishes need needs buy buying saving soon maybe perhaps")

// breaks are the words between two clauses.
var breaks = []string{",", "but", "though", "although", "however", "only", "except", "besides"}

// Understood reads what a client has or enjoys. What is denied ("no gym near me", "the pool is shut",
// "hates running") is not there; so is what is merely wished for. A word too many that is read as a
// denial costs a wish; one too few would send somebody to a machine that is not there.
func Understood(words string) Said {
	s := Said{Words: words}
	tokens := strings.Fields(strings.Map(func(r rune) rune {
		switch {
		case r == '\'' || r == '’':
			return -1
		case strings.ContainsRune("-/()?:\"“”", r):
			return ' '
		}
		return r
	}, strings.NewReplacer(",", " , ", ";", " , ", ".", " , ", "!", " , ", "\n", " , ", "anything but", "anything").Replace(strings.ToLower(words))))
	var found []meaning
	denied, spent := false, false
	end := func() {
		if !denied || spent {
			s.add(found)
		}
		found, denied, spent = nil, false, false
	}
	for i := 0; i < len(tokens); i++ {
		switch next := append(tokens[i+1:len(tokens):len(tokens)], ""); {
		case slices.Contains(breaks, tokens[i]), tokens[i] == "and" && slices.Contains([]string{"a", "an", "my", "our", "the", "i", "there"}, next[0]):
			end()
			continue
		case slices.Contains(denials, tokens[i]):
			// "A treadmill without incline" denies nothing that came before.
			spent = spent || tokens[i] == "without" || i > 0 && tokens[i-1] == "with"
			denied = true
			continue
		}
		for n := min(longestPhrase, len(tokens)-i); n > 0; n-- {
			if m, ok := phrases[strings.Join(tokens[i:i+n], " ")]; ok {
				if denied {
					spent = true
				} else {
					found = append(found, m)
				}
				i += n - 1
				break
			}
		}
	}
	end()
	return s
}

// add enters what was understood, each once.
func (s *Said) add(found []meaning) {
	for _, m := range found {
		if m.equipment != "" && !slices.Contains(s.Equipment, m.equipment) {
			s.Equipment = append(s.Equipment, m.equipment)
		}
		if m.mode != "" && !slices.Contains(s.Modes, m.mode) {
			s.Modes = append(s.Modes, m.mode)
		}
	}
}

// HasToTrainOn says that the client has one of these to train on.
func (c Client) HasToTrainOn(any ...Equipment) bool {
	return slices.ContainsFunc(c.Equipment, func(s Said) bool {
		return slices.ContainsFunc(any, func(e Equipment) bool { return slices.Contains(s.Equipment, e) })
	})
}

// Likes says that the client enjoys a mode.
func (c Client) Likes(m workout.Mode) bool {
	return slices.ContainsFunc(c.Enjoys, func(s Said) bool { return slices.Contains(s.Modes, m) })
}
