package reasons

import (
	"fmt"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Note is a note in one line: what was said, and what somebody asked about it.
func Note(n record.Note, takenBack bool) string {
	var out []string
	add := func(given bool, form string, args ...any) {
		if given {
			out = append(out, fmt.Sprintf(form, args...))
		}
	}
	add(len(n.Symptoms) > 0 && !takenBack, "%s", strings.Join(record.Map(n.Symptoms, signs.Sign.Words), ", "))
	add(len(n.Symptoms) > 0 && takenBack, "%s (taken back)", strings.Join(record.Map(n.Symptoms, signs.Sign.Words), ", "))
	add(n.HRRest > 0, "resting %g bpm", n.HRRest)
	add(n.Enjoyment > 0, "enjoyment %d of 5", n.Enjoyment)
	add(n.NoFan, "no fan")
	if n.HeatC != nil {
		add(true, "%g °C", *n.HeatC)
	}
	add(n.Text != "", "%s", n.Text)
	add(Answer(n) != "", "%s", Answer(n))
	if rated := ratings(n.RPE, n.Talk); len(rated) > 0 && len(out) > 0 {
		out[len(out)-1] += ", " + strings.Join(rated, ", ")
	} else {
		out = append(out, rated...)
	}
	return strings.Join(out, "; ")
}

func ratings(r *workout.RPE, talk record.Talk) (out []string) {
	if r != nil {
		out = append(out, fmt.Sprintf("effort %g on the %s scale", r.Value, map[int]string{20: "6-20", 10: "0-10"}[r.Scale]))
	}
	switch talk {
	case record.NotAsked:
	case record.TalkNo:
		out = append(out, "talking not possible")
	default:
		out = append(out, "talking "+string(talk))
	}
	return out
}

// Report is a session without a recording in one line.
func Report(x record.Report) string {
	return strings.Join(append([]string{fmt.Sprintf("%g min of %s", x.Minutes, x.Sport)}, ratings(x.RPE, x.Talk)...), ", ")
}
