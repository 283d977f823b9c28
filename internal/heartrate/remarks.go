package heartrate

import "nextrung/internal/workout"

// What is said about a heart rate. The kinds of faults are codes too, and so are the reasons against a use.
const (
	NoHeartRate  workout.Code = "no-heart-rate" // rejected: s; unfilled: samples without a value
	BeatMessages workout.Code = "beat-messages" // seconds
	Rejected     workout.Code = "rejected"      // seconds
	Leap         workout.Code = "leap"          // from, to, at; or how many more times
	Gap          workout.Code = "gap"           // where: "first", "last", "between", "more"; seconds; at or times
)

// Lengths in seconds from which something is worth a remark, and how often one kind is named one by one (common
// practice, no source; true heart rate stays the same for up to 67 s in real recordings of steady effort).
const (
	gapTold    = 30
	frozenTold = 60
	toldSingly = 5
)

// remarks says what was odd; filled is the number of seconds taken from messages that hold only heart rate.
func (s *Series) remarks(filled int, leaps []kept) []workout.Fact {
	var out []workout.Fact
	say := func(code workout.Code, args workout.Args) { out = append(out, workout.Say(code, args)) }
	if len(s.BPM) > 0 && len(recorded(s.BPM)) == 0 {
		say(NoHeartRate, workout.Args{"rejected": s.Rejected, "unfilled": 0})
		return out
	}
	if filled > 0 {
		say(BeatMessages, workout.Args{"seconds": filled})
	}
	if s.Rejected > 0 {
		say(Rejected, workout.Args{"seconds": s.Rejected})
	}
	for i, l := range leaps {
		if i == toldSingly {
			say(Leap, workout.Args{"times": len(leaps) - i})
			break
		}
		say(Leap, workout.Args{"times": 0, "from": l.from, "to": l.to, "at": l.at})
	}
	for _, f := range s.Faults {
		if f.Kind == Restless {
			out = append(out, f.Says())
		}
	}
	s.tellRuns(say)
	return append(out, faultRemarks(s.Faults)...)
}

// tellRuns remarks on long gaps and on values that do not move.
func (s *Series) tellRuns(say func(workout.Code, workout.Args)) {
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
				say(Gap, workout.Args{"where": "first", "seconds": n})
			case to == len(s.Origin):
				say(Gap, workout.Args{"where": "last", "seconds": n})
			default:
				say(Gap, workout.Args{"where": "between", "seconds": n, "at": from})
			}
			gaps++
		}
		from = max(to, from+1)
	}
	if more > 0 {
		say(Gap, workout.Args{"where": "more", "times": more, "seconds": lost})
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
		say(workout.Code(Frozen), workout.Args{"seconds": longest, "at": at})
	}
}
