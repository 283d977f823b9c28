package proposal

import (
	"math"
	"slices"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	// mornings are the fewest whose mean is a resting heart rate, restDays the days they come from
	// (common practice, no source).
	mornings, restDays = 3, 14
	// restChange is from how many bpm another resting heart rate is proposed: two weeks' noise is 5.3 bpm
	// (arithmetic from the typical error of 10 % in Buchheit 2014), as in the policy's rule on it.
	restChange = 5
	// lowestRest and highestRest are what can be entered as a resting heart rate.
	lowestRest, highestRest = 30, 110
)

// resting proposes the mean of the mornings of the last two weeks: as the first resting heart rate,
// with which the zones go over to the scale of the reserve, or in place of one that is at least 5 bpm
// away. Mornings within a week after a noted sign of tiredness or illness do not count, since a tired heart
// would raise the zones; of two values of one day the later entry does, and mornings before the present
// value began are in it already.
func (s *search) resting() {
	byDay := map[workout.Date]record.Note{}
	since := s.restSince()
	for _, n := range s.record.Notes {
		if n.HRRest <= 0 || n.Date <= s.on-restDays || n.Date < since || s.record.Unwell(n.Date) || s.used(Resting, n.ID) {
			continue
		}
		if was, ok := byDay[n.Date]; !ok || n.Entered >= was.Entered {
			byDay[n.Date] = n
		}
	}
	var evidence []Evidence
	sum := 0.0
	for _, n := range byDay {
		sum += n.HRRest
		evidence = append(evidence, Evidence{Date: n.Date, Note: n.ID, BPM: n.HRRest})
	}
	slices.SortFunc(evidence, func(a, b Evidence) int { return int(a.Date - b.Date) })
	n := len(evidence)
	if n < mornings {
		if n > 0 && s.set.HRRest == 0 {
			s.near(Near{Code: FewMornings, N: n})
		}
		return
	}
	mean := sum / float64(n)
	value := math.Round(mean)
	if value < lowestRest || value > highestRest {
		s.near(Near{Code: StrangeRest, N: n, BPM: mean})
		return
	}
	p := Proposal{Kind: Resting, Value: value, Was: new(s.set.HRRest), Evidence: evidence, Zones: s.set}
	p.Zones.HRRest = value
	caution := FallenRest
	switch was := s.set.HRRest; {
	case was == 0:
		p.Was, caution = nil, AnotherScale
	case math.Abs(mean-was) < restChange-1e-9:
		return
	case value > was:
		caution = RisenRest
	}
	p.Cautions = []Caution{{Code: caution}}
	s.propose(p)
}

// restSince is the day from which the present resting heart rate holds; 0 without one.
func (s *search) restSince() workout.Date {
	sets := s.record.Client.Zones
	i := len(sets) - 1
	if i < 0 || sets[i].HRRest == 0 {
		return 0
	}
	for i > 0 && sets[i-1].HRRest == sets[i].HRRest {
		i--
	}
	return sets[i].From
}
