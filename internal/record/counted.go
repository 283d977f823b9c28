package record

import (
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/workout"
)

// Uncounted says why something that was done does not count as a session; "" for what counts.
type Uncounted string

// The reasons. A session counts for the weeks, the minutes and the longest session only if none applies.
const (
	TooShort       Uncounted = "too-short"
	WalkNotTrained Uncounted = "walk-not-trained" // walking is not one of the client's modes
	LongRests      Uncounted = "long-rests"       // weights: the heart rate was mostly under zone 1
	EffortNeeded   Uncounted = "effort-needed"    // weights without heart rate, and nobody said how hard they were
	TooLight       Uncounted = "too-light"        // a walk under zone 1 that took no effort
)

const (
	// circuit is the share of the recorded time in zone 1 or above from which weights are a circuit and
	// not sets with long rests (common practice, no source).
	circuit = 0.5
	// stroll is the share of the recorded time under zone 1 from which a whole walk counts as under it.
	stroll = 0.8
)

// effortless is the effort below which a walk is no training: under "very light" of the 6-20 scale (9)
// and under 1 of the 0-10 scale (Borg 1982; ACSM has 9 as the lower end of light).
var effortless = map[int]float64{20: 9, 10: 1}

// judge decides whether a session counts, once its answers are known. Of a circuit the minutes in
// zone 1 and above count; without a heart rate all of them, if somebody said how hard it was. The zones
// of a walker may rest on an age formula: then the effort, where it was given, decides about a walk
// under zone 1, and the heart rate does not.
func (c Client) judge(s *Session) {
	zones, estimated := s.zones()
	recorded := float64(zones.Sum() - zones.NotRecorded - zones.Paused)
	switch {
	case s.Sport == workout.Strength && recorded > 0:
		worked := recorded - float64(zones.Under)
		s.Minutes = min(s.Minutes, worked/60)
		if worked < circuit*recorded {
			s.Uncounted = LongRests
		}
	case s.Sport == workout.Strength && s.RPE == nil:
		s.Uncounted = EffortNeeded
	case s.Mode == workout.Walk && !c.trains(workout.Walk):
		s.Uncounted = WalkNotTrained
	case s.Mode == workout.Walk && estimated && recorded > 0 && float64(zones.Under) >= stroll*recorded && s.RPE != nil && s.RPE.Value < effortless[s.RPE.Scale]:
		s.Uncounted = TooLight
	}
	if s.Minutes < policy.Shortest && s.Uncounted == "" {
		s.Uncounted = TooShort
	}
}

// zones adds up the time in zones of a session's recordings, and says whether any of it rests on an
// estimated maximum.
func (s Session) zones() (sum physiology.ZoneTime, estimated bool) {
	for _, x := range s.Recordings {
		if m := x.Measured; m.Zones != nil {
			sum = sum.Plus(*m.Zones)
			estimated = estimated || m.Edges != nil && m.Edges.Estimated
		}
	}
	return sum, estimated
}
