package heartrate

import (
	"math"

	"nextrung/internal/workout"
)

// A strap that is put on dry reads nonsense until sweat makes contact. Common practice, no source: chosen on a
// month of one runner's recordings and held by TestAlarmsInRealRecordings and TestPlantedFaultsAreFound.
const (
	restlessStep = 5    // s between the three values whose second difference is taken
	restlessBPM  = 5.0  // mean second difference of a restless minute
	startMin     = 10   // minutes that count as the start, and that must follow
	restlessMin  = 3    // restless minutes in the start
	restlessHigh = 10.0 // bpm by which a restless start must lie above what follows to be nonsense

	dryWindow = 10 // readings due in one window
	dryBad    = 2  // of them lost or spikes
	dryLeast  = 30 // s
	dryApart  = 60 // s without a spike after which what is lost is no dry strap's: some devices leave seconds out all the time;
	// two windows where they are longer, so that one calm window may lie between
	drySpikes = 3 // runs of spikes, for losses alone are a sensor that is searched for
)

// markDryStart marks all readings of a dry start: from the first second on, in every window of ten due
// readings (one calm window may lie between) at least two are lost or spikes, up to the one after the
// last with a spike. It gives the end, 0 when there is none.
func (r *source) markDryStart(paused func(k int) bool) (end int) {
	if r.step == 0 || len(r.at) == 0 {
		return 0
	}
	long := dryWindow * r.step
	i, spikes, calm, spiked := 0, 0, 0, -1
	last := good
	for m := 0; calm < 2 && m*long <= end+max(dryApart, 2*long) && (m+1)*long <= min(startMin*60, len(r.bpm)); m++ {
		w := r.dueIn(m*long, (m+1)*long, i, last, paused)
		i, last, spikes = w.next, w.last, spikes+w.spikes
		bad := w.wild
		if r.step == 1 {
			bad = w.due - w.sound
		}
		switch {
		case bad < dryBad:
			calm++
		case w.wild > 0:
			calm, end, spiked = 0, w.worst+1, m
		default:
			if calm = 0; m == spiked+1 {
				end = w.worst + 1
			}
		}
	}
	if end < dryLeast || spikes < drySpikes {
		return 0
	}
	for _, k := range r.at {
		if k >= end {
			break
		}
		r.marks[k] = isDry
	}
	return end
}

// dueWindow counts what one window holds: readings due, sound and wild, the last second with a wild or a lost one,
// and runs of wild ones that begin in it; next is the first reading after it and last the mark of its last second.
type dueWindow struct {
	due, sound, wild, worst, spikes, next int
	last                                  mark
}

// dueIn counts the seconds [from, to); i is the first reading from there on and last the mark before it.
func (r *source) dueIn(from, to, i int, last mark, paused func(k int) bool) dueWindow {
	w := dueWindow{worst: -1, next: i, last: last}
	for k := from; k < to; k++ {
		reading := w.next < len(r.at) && r.at[w.next] == k
		if reading {
			w.next++
		}
		if paused(k) {
			continue
		}
		w.due++
		switch {
		case reading && r.marks[k] == good:
			w.sound++
			w.last = good
		case reading:
			w.wild++
			w.worst = k
			if w.last == good {
				w.spikes++
			}
			w.last = r.marks[k]
		case r.step == 1:
			w.worst = k
			w.last = good
		}
	}
	return w
}

// restlessStart finds a restless start. When heart rate there is also more than 10 bpm above that of
// the ten minutes after it, it is nonsense at the expense of the higher zones: a dry start, whose
// readings are removed.
func (s *Series) restlessStart(r source) []Fault {
	minutes, ok := s.restlessMinutes()
	if !ok {
		return nil
	}
	end := s.calmFrom(minutes)
	start, _ := s.MeanIn(60, end)
	after, ok := s.MeanIn(end, end+startMin*60)
	if !ok || start-after <= restlessHigh {
		return []Fault{{Kind: Restless, Span: workout.Span{To: end}, Args: workout.Args{"minutes": minutes}}}
	}
	for _, k := range r.at {
		if k >= end {
			break
		}
		if r.marks[k] == good {
			s.Rejected++
		}
		r.marks[k] = isDry
	}
	for k := 0; k < end || k < len(s.Origin) && s.Origin[k] == Bridged; k++ {
		s.BPM[k] = math.NaN()
		if s.Origin[k] != Paused {
			s.Origin[k] = Missing
		}
	}
	return nil
}

// restlessMinutes gives the number of minutes after which heart rate calms down, if it is restless in
// the first ten minutes and in no later one: in at least three of them the mean of
// |HR(t+10) - 2 HR(t+5) + HR(t)| exceeds 5 bpm. Steady rises and falls do not show in that measure,
// and work bouts go on after the start.
func (s *Series) restlessMinutes() (minutes int, ok bool) {
	if len(s.BPM) < 2*startMin*60 {
		return 0, false
	}
	found := 0
	for m := 0; (m+1)*60 <= len(s.BPM); m++ {
		if s.restless(m) <= restlessBPM {
			continue
		}
		if m >= startMin {
			return 0, false
		}
		found, minutes = found+1, m+1
	}
	return minutes, found >= restlessMin
}

// calmFrom is the second after the last second difference of 5 bpm within the restless minutes.
func (s *Series) calmFrom(minutes int) int {
	for k := minutes*60 - 1; k > 60; k-- {
		if k-2*restlessStep >= 0 && math.Abs(s.BPM[k]-2*s.BPM[k-restlessStep]+s.BPM[k-2*restlessStep]) > restlessBPM {
			return k + 1
		}
	}
	return minutes * 60
}

// restless is the mean second difference of minute m, 0 when less than half of it is known.
func (s *Series) restless(m int) float64 {
	sum, n := 0.0, 0
	bpm, origin := s.BPM, s.Origin
	for k := m * 60; k < min(m*60+60, len(bpm)-2*restlessStep); k++ {
		d := math.Abs(bpm[k+2*restlessStep] - 2*bpm[k+restlessStep] + bpm[k])
		if d >= 0 && origin[k] != Paused && origin[k+restlessStep] != Paused && origin[k+2*restlessStep] != Paused {
			sum += d
			n++
		}
	}
	if n < 30 {
		return 0
	}
	return sum / float64(n)
}
