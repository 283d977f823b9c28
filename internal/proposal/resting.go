package proposal

import (
	"fmt"
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
		if n.HRRest <= 0 || n.Date <= s.on-restDays || n.Date < since || s.unwell(n.Date) || s.used(Resting, n.ID) {
			continue
		}
		if was, ok := byDay[n.Date]; !ok || n.Entered >= was.Entered {
			byDay[n.Date] = n
		}
	}
	var evidence []Evidence
	sum, low, high := 0.0, math.Inf(1), 0.0
	for _, n := range byDay {
		sum, low, high = sum+n.HRRest, min(low, n.HRRest), max(high, n.HRRest)
		evidence = append(evidence, Evidence{Date: n.Date, Note: n.ID, BPM: n.HRRest, Text: fmt.Sprintf("%s: %g bpm, told by the client", n.Date.Long(), n.HRRest)})
	}
	slices.SortFunc(evidence, func(a, b Evidence) int { return int(a.Date - b.Date) })
	n := len(evidence)
	if n < mornings {
		if n > 0 && s.set.HRRest == 0 {
			s.untold("Resting heart rate was told for %d of the last %d days; the mean of at least %d mornings is needed.", n, restDays, mornings)
		}
		return
	}
	mean := sum / float64(n)
	value := math.Round(mean)
	if value < lowestRest || value > highestRest {
		s.untold("The mean of %d mornings is %.0f bpm, which is outside %d to %d: ask how it was taken.", n, mean, lowestRest, highestRest)
		return
	}
	p := Proposal{Kind: Resting, Value: value, Evidence: evidence, Zones: s.set}
	p.Zones.HRRest = value
	measured := fmt.Sprintf("The resting heart rate of %d mornings is %.0f bpm on average (%g to %g).", n, mean, low, high)
	if s.set.HRRest == 0 {
		p.Text = measured + " None was entered, so the zones rest on the maximum alone. Proposed: zones from the heart-rate reserve, with " + fmt.Sprintf("%.0f bpm at rest.", value)
		p.Cautions = []string{"This changes the scale. Shares of the maximum and of the reserve do not name the same effort in one person, so that zones can move by several beats: go by talk and effort in the first weeks."}
		s.propose(p)
		return
	}
	was := s.set.HRRest
	p.Was = &was
	if math.Abs(mean-was) < restChange-1e-9 {
		return
	}
	p.Text = fmt.Sprintf("%s Entered are %g bpm. Proposed: %.0f bpm at rest.", measured, was, value)
	if value > was {
		p.Cautions = []string{"A resting heart rate that has risen is often tiredness, illness, heat, poor sleep or another medicine, and no reason for other zones: ask first. It would raise the lower edges of the zones."}
	} else {
		p.Cautions = []string{"A lower resting heart rate lowers the zones a little. It falls by about 3 bpm in 20 weeks of training (Wilmore 1996); a large step can also be another way of taking it: ask."}
	}
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
