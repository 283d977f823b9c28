package coach

import (
	"slices"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// sameWord lists words that mean the same wherever one of them is allowed.
var sameWord = [][]string{
	{"run", "running", "jog", "jogging"}, {"walk", "walking"}, {"bike", "cycling", "cycle", "ride", "riding"}, {"row", "rowing"},
	{"swim", "swimming"}, {"ski", "skiing"}, {"strength", "weights"},
	{"female", "f", "woman"}, {"male", "m", "man"}, {"yes", "y"}, {"no", "n"},
	{"comfortable", "easy", "easily", "fine"},
	{"strap", "chest"}, {"wrist", "watch"},
	{"mon", "monday"}, {"tue", "tues", "tuesday"}, {"wed", "wednesday"}, {"thu", "thur", "thurs", "thursday"},
	{"fri", "friday"}, {"sat", "saturday"}, {"sun", "sunday"},
	{"maintaining", "maintain"}, {"active", "training"},
}

// Word finds which of the allowed words somebody means, in upper or lower case and in another of its
// forms; "" passes.
func Word[W ~string](f fault.Field, typed string, allowed ...W) (W, error) {
	word := strings.ToLower(strings.TrimSpace(typed))
	if word == "" {
		return "", nil
	}
	means := func(w W) bool { return string(w) == word }
	if i := slices.IndexFunc(allowed, means); i >= 0 {
		return allowed[i], nil
	}
	for _, group := range sameWord {
		if slices.Contains(group, word) {
			if i := slices.IndexFunc(allowed, func(w W) bool { return slices.Contains(group, string(w)) }); i >= 0 {
				return allowed[i], nil
			}
		}
	}
	return W(typed), notOneOf(f, typed, asText(allowed)...)
}

// talks are the answers to the talk test.
var talks = []record.Talk{record.TalkComfortable, record.TalkHard, record.TalkNo}

// sports are those of a session that is entered without a recording.
var sports = []workout.Sport{workout.Running, workout.Walking, workout.Cycling, workout.Rowing, workout.Swimming, workout.Skiing, workout.Strength, workout.Other}
