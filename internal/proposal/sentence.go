package proposal

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"

	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Change names what is suggested in a few words: "top of zone 1 for running: 150 bpm instead of 139".
func (p Proposal) Change() string {
	what := map[Kind]string{Maximum: "maximal heart rate", Resting: "resting heart rate", TopOfZone1: "top of zone 1"}[p.Kind]
	if p.Mode != "" {
		what += " for " + p.Mode.Doing()
	}
	what += fmt.Sprintf(": %.0f bpm", p.Value)
	switch {
	case p.Was == nil:
		return what
	case p.Kind == TopOfZone1:
		return what + fmt.Sprintf(" instead of %.0f", whole(*p.Was))
	}
	return what + fmt.Sprintf(" instead of %.0f", *p.Was)
}

// Text says to the trainer what is suggested and why.
func (p Proposal) Text() string {
	switch p.Kind {
	case Maximum:
		rests := fmt.Sprintf("%.0f bpm, which was entered", *p.Was)
		if p.SEE > 0 {
			rests = fmt.Sprintf("%.0f bpm, an estimate from age that is more than %.0f bpm off for one person in three", *p.Was, p.SEE)
		}
		return fmt.Sprintf("In %s, a chest strap showed %.0f bpm for 15 s, with an effort to match. The zones rest on a maximal heart rate of %s. Suggested maximum for %s: %.0f bpm.",
			p.Mode.Doing(), p.Value, rests, p.Mode.Doing(), p.Value)
	case Resting:
		return p.resting()
	}
	says, direction := felt(p.Mode, len(p.Evidence), *p.Was)+". ", "down"
	switch {
	case p.Raises():
		says, direction = fmt.Sprintf("In %s, talking was comfortable in %d sessions above zone 1 (top %.0f bpm), and no effort was too hard for zone 1. ",
			p.Mode.Doing(), len(p.Evidence), whole(*p.Was)), "up"
	case len(p.Beside) > 0:
		says += fmt.Sprintf("The last comfortable heart rate is %.0f bpm. ", p.Value)
	default:
		says += fmt.Sprintf("No lower heart rate is known to be comfortable, and %.0f bpm is just below the lowest that was hard. ", p.Value)
	}
	text := says + fmt.Sprintf("Suggested top of zone 1: %.0f bpm. The zones are wrong, not the client.", p.Value)
	if u := p.Upper; u != nil {
		text += fmt.Sprintf(" The top of zone 2, which nobody measured, goes %s with it from %.0f to %.0f bpm.", direction, whole(u.From), u.To)
	}
	return text
}

// Text says to the trainer what a peak means for the zones.
func (p Peak) Text() string {
	return fmt.Sprintf("In %s, %.0f bpm was held for 15 s, above the %s of %.0f bpm that the zones rest on: they may be too low. Check the recording and the effort before you change them.",
		p.Mode.Doing(), p.BPM, p.maximum(), p.Was)
}

// Short says a peak in a few words: "held 190 bpm, above the estimated maximum of 181".
func (p Peak) Short() string {
	return fmt.Sprintf("held %.0f bpm, above the %s of %.0f", p.BPM, p.maximum(), p.Was)
}

func (p Peak) maximum() string {
	if p.Estimated {
		return "estimated maximum"
	}
	return "maximum"
}

func (p Proposal) resting() string {
	sum, low, high := 0.0, math.Inf(1), 0.0
	for _, e := range p.Evidence {
		sum, low, high = sum+e.BPM, min(low, e.BPM), max(high, e.BPM)
	}
	n := len(p.Evidence)
	text := fmt.Sprintf("The resting heart rate over %d mornings is %.0f bpm on average (%g to %g). ", n, sum/float64(n), low, high)
	if p.Was == nil {
		return text + fmt.Sprintf("None was entered, so the zones rest on the maximum alone. Suggested: zones from the heart-rate reserve, with %.0f bpm at rest.", p.Value)
	}
	return text + fmt.Sprintf("%g bpm was entered. Suggested: %.0f bpm at rest.", *p.Was, p.Value)
}

// Shows is a clause about one piece of a proposal's evidence, without a full stop.
func (p Proposal) Shows(e Evidence) string {
	switch p.Kind {
	case Maximum:
		return fmt.Sprintf("%s: %.0f bpm held for 15 s from a chest strap; %s", e.Date.Long(), whole(e.BPM), answered(e.RPE, e.Talk))
	case Resting:
		return fmt.Sprintf("%s: %g bpm, reported by the client", e.Date.Long(), e.BPM)
	}
	return fmt.Sprintf("%s: main part at %.0f bpm (sensor: %s); %s", e.Date.Long(), whole(e.BPM), e.Sensor, answered(e.RPE, e.Talk))
}

var cautions = map[CautionCode]string{
	HigherIsHarder:  "A higher maximum raises the zones. For a beginner that is a trap: if zone 1 feels hard or talking is not comfortable now, decline, or lower zone 1 first. Talk and effort overrule percentages.",
	AtMostMaximum:   "The true maximum may be higher than what was seen, never lower. Don't push anybody to their limit to find it.",
	AnotherScale:    "This changes the scale. The same percentage of the maximum and of the reserve is not the same effort, so zones can move by several beats: go by talk and effort in the first weeks.",
	RisenRest:       "A higher resting heart rate often comes from tiredness, illness, heat, poor sleep or a change of medicine. None of them is a reason to change zones: ask first. Accepting would raise the lower edges of the zones.",
	FallenRest:      "A lower resting heart rate lowers the zones a little. It drops by about 3 bpm in 20 weeks of training (Wilmore 1996); a large change can also mean that it was measured differently: ask.",
	NotAllFromStrap: "Not every heart rate behind this comes from a chest strap. A wrist sensor can be several beats off.",
	BecomesHarder:   "A higher top makes sessions harder from that day on. For a beginner that is a trap: ask how the talking went, walk or run one session beside the client, and decline if you have any doubt. Talk and effort overrule the new top, too.",
	CheckWithStrap:  "A wrist sensor can also count steps instead of heartbeats and read too high. Check one session with a chest strap before you accept.",
	BecomesEasier:   "Sessions become easier from that day on, which errs on the safe side. From then on, time in zones is counted with the new top.",
}

// Words says a caution to the trainer.
func (c Caution) Words() string {
	switch c.Code {
	case EdgesStay:
		return "The zones for " + c.Mode.Doing() + " were entered directly and stay as they are."
	case HigherWasEasy:
		return wording.Count(c.N, "session") + " at the same or a higher heart rate " + wording.Verb(c.N, "was", "were") + " comfortable: ask what was different."
	}
	return cmp.Or(cautions[c.Code], c.Text)
}

// Words says to the trainer what was seen and what is missing.
func (n Near) Words() string {
	peak := fmt.Sprintf("In %s, %.0f bpm was held for 15 s on %s (%s), above the maximum of %.0f, but ", n.Mode.Doing(), n.BPM, n.Date.Long(), n.Recording, n.Was)
	switch n.Code {
	case MeasuredBefore:
		return fmt.Sprintf("%s of %s %s measured by an earlier version of the program, which did not look for a heart rate held for 15 s. Entering any fact about the client measures them all again.",
			wording.Count(n.N, "recording"), n.Mode.Doing(), wording.Verb(n.N, "was", "were"))
	case PeakInDoubt:
		return peak + reasons.Why(n.Why, n.Clause) + "."
	case PeakNotAsked:
		return peak + "nobody knows how hard the session was. Ask, and enter the effort."
	case PeakTooEasy:
		return peak + "the answer does not fit a maximum (" + answered(n.RPE, n.Talk) + "). Look at the recording: a strap can misread."
	case FewMornings:
		return fmt.Sprintf("Resting heart rate is known for only %d of the last %d days; at least %d mornings are needed for a mean.", n.N, restDays, mornings)
	case StrangeRest:
		return fmt.Sprintf("The mean of %d mornings is %.0f bpm, which is outside %d to %d: ask how it was measured.", n.N, n.BPM, lowestRest, highestRest)
	case HardDays:
		return fmt.Sprintf("In %s, %d sessions in zone 1 felt hard, but they were in the heat or on days of tiredness or illness. That says something about those days, not about the zones.", n.Mode.Doing(), n.N)
	}
	return felt(n.Mode, n.N, n.Was) + ", but no lower heart rate is known to be comfortable. Do a talk test and enter the thresholds, or plan easier sessions and ask again."
}

// MarshalJSON puts the words beside why it is not a peak.
func (n Near) MarshalJSON() ([]byte, error) {
	type plain Near
	n.Clause = reasons.Why(n.Why, n.Clause)
	return json.Marshal(plain(n))
}

func felt(m workout.Mode, n int, top float64) string {
	return fmt.Sprintf("In %s, %d sessions in zone 1 (top %.0f bpm) were hard, or talking was not comfortable", m.Doing(), n, whole(top))
}

// answered writes effort and talk as they were answered: "effort 19 on the 6-20 scale, talking not possible".
func answered(rpe *workout.RPE, talk record.Talk) string {
	says := map[record.Talk]string{
		record.TalkComfortable: "talking comfortable", record.TalkHard: "talking hard", record.TalkNo: "talking not possible",
	}[talk]
	if rpe == nil {
		return says
	}
	effort := fmt.Sprintf("effort %g on the %s scale", rpe.Value, map[int]string{20: "6-20", 10: "0-10"}[rpe.Scale])
	if says == "" {
		return effort
	}
	return effort + ", " + says
}
