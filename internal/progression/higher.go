package progression

import (
	"math"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Higher is a top of zone 1 for one mode that talk and effort put above the present one.
type Higher struct {
	Mode     workout.Mode
	Top      float64       // bpm, whole beats
	Sessions []record.Felt // comfortable above the present top, oldest first
	Beside   []record.Felt // comfortable above it, too, but no evidence for how high the top is
}

const (
	// easyTimes sessions must have been comfortable above zone 1 within easyDays, the first and the last of
	// them at least easySpan days apart so that they come from two weeks (common practice, no source).
	easyTimes, easyDays, easySpan = 4, 28, 7
	// hardDays is how far back a hard session still bounds a higher top (common practice, no source).
	hardDays = 84
	// doseDays is how long a change of medicine may still shift the heart rate, as in the caution about it.
	doseDays = 42
)

// HigherTops finds the modes in which talk was comfortable above zone 1, with an effort that belongs in it where one was
// given: talk and effort overrule percentages. The new top is the heart rate that easyTimes of the sessions
// reached, stays below the lowest one at which any session was hard, and below the present top of zone 2: one
// zone at a time. Sessions with bouts or a doubtful sensor, in the heat, or close to a noted sign say nothing here, nor do those
// behind an answered suggestion.
//
// Nothing is found where a higher zone is not the trainer's to give: see mayRise.
func HigherTops(r record.Record, on workout.Date) []Higher {
	r = r.Until(on)
	if !mayRise(r, on) {
		return nil
	}
	newest := r.Client
	newest.Zones = newest.Zones[max(0, len(newest.Zones)-1):]
	body := newest.Body(on)
	var out []Higher
	for _, m := range workout.Modes() {
		if edges := body.Edges(m); edges != nil && !edges.Limited {
			if h := higher(r, on, m, edges); h != nil {
				out = append(out, *h)
			}
		}
	}
	return out
}

// mayRise says that nothing about the client forbids a higher top of zone 1: grown up, screened and cleared, no medicine
// that changes the heart rate or change of one, no limit, no sign on record or waiting for an answer.
func mayRise(r record.Record, on workout.Date) bool {
	c := r.Client
	v := Review{Record: r, On: on}
	limited := slices.ContainsFunc(c.Zones, func(z record.ZoneSet) bool { return z.Limit > 0 && z.From >= c.ZonesOn(on).From })
	return c.Born != 0 && c.Born.YearsAt(on) >= physiology.Adult && !c.ByEffort() && c.Medicine == record.NoMedicine &&
		(c.DoseChange == 0 || on-c.DoseChange >= doseDays) && c.Screening.On != 0 && (c.Disease() == "" || c.Covered()) &&
		!limited && len(r.OpenSigns()) == 0 && len(r.Unanswered()) == 0 && len(v.clashes()) == 0
}

func higher(r record.Record, on workout.Date, m workout.Mode, edges *physiology.Edges) *Higher {
	felt := r.Felt(m, on-hardDays+1)
	ceiling := edges.BPM[2]
	for _, x := range felt {
		if x.Hard {
			ceiling = min(ceiling, x.HardAt())
		}
	}
	var easy, beside []record.Felt
	for _, x := range felt {
		switch {
		case x.Hard || x.Doubtful || x.Talk != record.TalkComfortable || x.Date <= on-easyDays || x.Mean < edges.BPM[1]+1 || r.UsedUp(x.IDs()):
		case len(x.Bouts) > 0 || x.Mean >= ceiling || r.Explained(x.Session):
			beside = append(beside, x)
		default:
			easy = append(easy, x)
		}
	}
	if len(easy) < easyTimes || easy[len(easy)-1].Date-easy[0].Date < easySpan {
		return nil
	}
	means := record.Map(easy, func(x record.Felt) float64 { return x.Mean })
	slices.Sort(means)
	top := math.Floor(means[len(means)-easyTimes])
	if top < edges.BPM[1]+1 {
		return nil
	}
	return &Higher{m, top, easy, beside}
}

// undecided are the recordings of comfortable sessions above zone 1 for which a higher top is suggested that the trainer
// has not declined: time above zone 1 in them counts neither for nor against.
func (v Review) undecided() map[string]bool {
	out := map[string]bool{}
	for _, h := range HigherTops(v.Record, v.On) {
		for _, x := range slices.Concat(h.Sessions, h.Beside) {
			for _, id := range x.IDs() {
				out[id] = true
			}
		}
	}
	for _, a := range v.Record.Answered {
		for _, id := range a.Recordings {
			out[id] = a.Taken
		}
	}
	return out
}
