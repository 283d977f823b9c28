package heartrate

import (
	"fmt"

	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Lengths in seconds from which something is worth a remark, and how often one kind is named one by one (common
// practice, no source; true heart rate stays the same for up to 67 s in real recordings of steady effort).
const (
	gapTold    = 30
	frozenTold = 60
	toldSingly = 5
)

// remarks says what was odd; filled is the number of seconds taken from messages that hold only heart rate.
func (s *Series) remarks(filled int, leaps []kept) []workout.Remark {
	var out []workout.Remark
	say := func(code, format string, args ...any) {
		out = append(out, workout.Remark{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	if len(s.BPM) > 0 && len(recorded(s.BPM)) == 0 {
		if s.Rejected > 0 {
			say("no-heart-rate", "no heart rate: none of the %d s with a reading is plausible", s.Rejected)
		} else {
			say("no-heart-rate", "no heart rate was recorded")
		}
		return out
	}
	if filled > 0 {
		say("beat-messages", "heart rate of %d s comes from the strap's own messages", filled)
	}
	if s.Rejected > 0 {
		say("rejected", "%d s of implausible heart rate were removed", s.Rejected)
	}
	for i, l := range leaps {
		if i == toldSingly {
			say("leap", "heart rate leaps %d more times", len(leaps)-i)
			break
		}
		say("leap", "heart rate leaps from %.0f to %.0f bpm at %s; check the sensor", l.from, l.to, wording.Clock(l.at))
	}
	for _, f := range s.Faults {
		if f.Kind == Restless {
			say("restless", "%s", f.Text)
		}
	}
	s.tellRuns(say)
	return append(out, faultRemarks(s.Faults)...)
}

// tellRuns remarks on long gaps and on values that do not move.
func (s *Series) tellRuns(say func(code, format string, args ...any)) {
	gaps, more, lost := 0, 0, 0
	for from := 0; from < len(s.Origin); {
		to := from
		for to < len(s.Origin) && s.Origin[to] == Missing {
			to++
		}
		if n := to - from; n > gapTold {
			switch {
			case gaps >= toldSingly:
				more++
				lost += n
			case from == 0:
				say("gap", "no heart rate in the first %d s", n)
			case to == len(s.Origin):
				say("gap", "no heart rate in the last %d s", n)
			default:
				say("gap", "heart rate lost for %d s at %s", n, wording.Clock(from))
			}
			gaps++
		}
		from = max(to, from+1)
	}
	if more > 0 {
		say("gap", "heart rate lost %d more times, %d s in all", more, lost)
	}
	frozen, longest, at := 0, 0, 0
	run := 0
	for k := 1; k <= len(s.BPM); k++ {
		if k < len(s.BPM) && s.BPM[k] == s.BPM[k-1] && s.Origin[k] != Paused {
			continue
		}
		if n := k - run; n > frozenTold && s.Origin[run] != Missing {
			frozen++
			if n > longest {
				longest, at = n, run
			}
		}
		run = k
	}
	if frozen > 0 {
		say("frozen", "heart rate does not move for %d s at %s; check the sensor", longest, wording.Clock(at))
	}
}
