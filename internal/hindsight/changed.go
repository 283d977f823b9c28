package hindsight

import (
	"encoding/json"
	"fmt"
	"strings"

	"nextrung/internal/reasons"
	"nextrung/internal/workout"
)

// mostTold is the number of changes that the sentence names; all of them are in the list.
const mostTold = 3

// MarshalJSON adds the sentences to the facts.
func (c Changed) MarshalJSON() ([]byte, error) {
	type facts Changed
	return json.Marshal(struct {
		facts
		Text string `json:"text"`
	}{facts(c), c.Text()})
}

// Text is all of it in plain sentences for the trainer.
func (c Changed) Text() string {
	var out []string
	if n := len(c.Changes); n > 0 {
		var named []string
		for _, x := range c.Changes[:min(n, mostTold)] {
			named = append(named, x.words(c.On))
		}
		if n > mostTold {
			named = append(named, fmt.Sprintf("and %d more", n-mostTold))
		}
		out = append(out, "Changed afterwards: "+strings.Join(named, "; ")+".")
	}
	with := "With everything known now"
	if c.Policy {
		with += " and today's policy"
	}
	then, now, again := verdictOf(c.Then), verdictOf(c.Now), verdictOf(c.Again)
	switch {
	case len(c.Changes) > 0 && same(c.Then, c.Now):
		out = append(out, fmt.Sprintf("%s, the recommendation is the same (%s).", with, now), c.rules())
	case len(c.Changes) > 0:
		out = append(out, fmt.Sprintf("%s, the recommendation for %s is %s; that day it was %s.", with, c.On.Long(), now, then), c.rules())
	case c.Policy:
		out = append(out, fmt.Sprintf("The policy has changed since (then %s): under today's, the recommendation is %s; that day it was %s.", ShortPolicy(c.ThenPolicy), again, then))
	default:
		out = append(out, fmt.Sprintf("Worked out again from what the book holds for that day, the recommendation is %s; that day it was %s. Either something was entered for that day afterwards, or workouts are measured differently now.", again, then))
	}
	return strings.TrimSpace(strings.Join(out, " "))
}

// rules names the rules with a different result.
func (c Changed) rules() string {
	if len(c.Differ) == 0 {
		return ""
	}
	var out []string
	for _, d := range c.Differ {
		out = append(out, fmt.Sprintf("%s (%s, now %s)", d.Rule, metWords(d.Then), metWords(d.Now)))
	}
	return "Rules that differ: " + strings.Join(out, ", ") + "."
}

func metWords(met *bool) string {
	switch {
	case met == nil:
		return "not enough data"
	case *met:
		return "met"
	}
	return "not met"
}

// words is a clause about a change, as seen from the day of a decision.
func (x Change) words(on workout.Date) string {
	what := map[Thing]string{Recording: "the recording of ", Note: "the note about ", Report: "the session reported for "}[x.Thing] + between(x.Of, on)
	switch x.Kind {
	case CameLater:
		if x.Thing == Recording {
			return what + " came in on " + between(x.Came, on)
		}
		if len(x.Signs) > 0 { // they weigh more than anything else in a note
			var all []string
			for _, s := range x.Signs {
				all = append(all, s.Words())
			}
			what += " (" + strings.Join(all, ", ") + ")"
		}
		return what + " was entered on " + between(x.Came, on)
	case EnteredSince:
		return what + " was entered or counted again after the decision"
	case CountsNoMore:
		return what + " no longer counts (" + reasons.Text(x.Aside) + ")"
	case OutOfTheBook:
		return "file " + x.ID + ", which counted then, was removed or moved to another client"
	case TakenBack:
		return what + " was undone"
	case ZonesChanged:
		return "the zones for earlier days were changed"
	case FactsChanged:
		return "facts were entered or changed: " + strings.Join(x.Facts, ", ")
	}
	return "the choice between training by heart rate and by effort was changed later, and the book does not show from which day"
}

// MarshalJSON puts the words beside why a recording no longer counts.
func (x Change) MarshalJSON() ([]byte, error) {
	type plain Change
	return json.Marshal(struct {
		plain
		Aside string `json:"aside,omitempty"`
	}{plain(x), reasons.Text(x.Aside)})
}

// ShortPolicy shortens a policy's digest for people: "75837e9a" of "sha256:75837e9a…".
func ShortPolicy(digest string) string {
	s := strings.TrimPrefix(digest, "sha256:")
	return s[:min(8, len(s))]
}
