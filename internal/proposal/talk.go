package proposal

import (
	"cmp"
	"maps"
	"math"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	// twice is how many sessions must say so within talkDays, and answersDays how far back a comfortable
	// session counts (common practice, no source).
	twice, talkDays, answersDays = 2, 28, 84
	// thrice is how many hard sessions lower the top of zone 1 even where no lower heart rate is known to be comfortable,
	// if they are a third of those in zone 1: by chance alone a client whose zone fits has a hard day, not one
	// in three (common practice, no source).
	thrice = 3
	// kept is the share of the main part below the top of zone 1 from which a session was one in zone 1, as
	// in the policy's rule on it; one that held a heart rate of zone 3 for 15 s was none.
	kept = 0.8
)

// tops proposes, for each mode, another top of zone 1 where talk and effort contradict it: a higher one by
// progression.HigherTops, or a lower one by lowerTop.
func (s *search) tops() {
	higher := progression.HigherTops(s.record, s.on)
	for _, m := range s.modes() {
		edges := s.body(s.set).Edges(m)
		if edges == nil {
			continue
		}
		if i := slices.IndexFunc(higher, func(h progression.Higher) bool { return h.Mode == m }); i >= 0 {
			s.move(m, edges, higher[i].Top, Proposal{
				Evidence: record.Map(higher[i].Sessions, evidence), Beside: record.Map(higher[i].Beside, evidence), Cautions: []Caution{{Code: BecomesHarder}},
			})
			continue
		}
		s.lowerTop(m, edges)
	}
}

// lowerTop proposes to lower the top of zone 1 to the last comfortable heart rate, when two
// sessions of the last four weeks that were kept in zone 1 were answered with an effort of 14 or more, or
// with talk that was not comfortable: then the zones are wrong, not the client. The last comfortable
// heart rate is the highest mean of a main part that was comfortable and is below all that were not. Where there is
// none, and sessions in zone 1 were hard three times and one time in three, it is just below the lowest that was hard.
//
// Sessions with work bouts or a doubtful sensor show nothing here, and hard ones in the heat, without a fan, or within a week
// after a noted sign of tiredness or illness say something about those days, not about the zones.
func (s *search) lowerTop(m workout.Mode, edges *physiology.Edges) {
	var against, comfortable []record.Felt
	explained, beside := 0, 0 // hard for another reason; comfortable in zone 1
	for _, x := range s.record.Felt(m, s.on-answersDays+1) {
		lately := x.Date > s.on-talkDays && inside(x, edges)
		switch {
		case len(x.Bouts) > 0 || x.Doubtful:
		case !x.Hard:
			comfortable = append(comfortable, x)
			if lately {
				beside++
			}
		case !lately || s.used(TopOfZone1, x.IDs()...):
		case s.record.Explained(x.Session):
			explained++
		default:
			against = append(against, x)
		}
	}
	if len(against) < twice {
		if n := len(against) + explained; n >= twice {
			s.near(Near{Code: HardDays, Mode: m, N: n})
		}
		return
	}
	byMean := func(a, b record.Felt) int { return cmp.Compare(a.Mean, b.Mean) }
	lowest := slices.MinFunc(against, byMean).Mean
	below := record.Keep(comfortable, func(x record.Felt) bool { return x.Mean < lowest })
	p := Proposal{Evidence: record.Map(against, evidence)}
	value := math.Ceil(lowest) - clearly
	switch {
	case len(below) > 0:
		last := slices.MaxFunc(below, byMean)
		value, p.Beside = whole(last.Mean), []Evidence{evidence(last)}
	case len(against) < thrice || beside > 2*len(against):
		s.near(Near{Code: NothingEasy, Mode: m, N: len(against), Was: edges.BPM[1]})
		return
	}
	if higher := len(comfortable) - len(below); higher > 0 {
		p.Cautions = append(p.Cautions, Caution{Code: HigherWasEasy, N: higher})
	}
	p.Cautions = append(p.Cautions, Caution{Code: BecomesEasier})
	s.move(m, edges, value, p)
}

// inside says that a session was one in zone 1. It is held against the newest edges, whichever held on its day: what it
// says is about heart rates.
func inside(x record.Felt, edges *physiology.Edges) bool {
	sprint := slices.ContainsFunc(x.Recordings, func(rec record.Recording) bool {
		return rec.Measured.Held != nil && rec.Measured.Held.BPM >= edges.BPM[2]
	})
	below := float64(x.Main.Below(edges.BPM[1])) / float64(x.Main.Total())
	return edges.Zone(x.Mean) == 1 && below >= kept && !sprint
}

// move completes a proposal p that puts the top of zone 1 of a mode at a value, where that differs clearly.
func (s *search) move(m workout.Mode, edges *physiology.Edges, value float64, p Proposal) {
	top := edges.BPM[1]
	if math.Abs(top-value) < clearly {
		return
	}
	p.Kind, p.Mode, p.Was, p.Value, p.Zones = TopOfZone1, m, &top, value, s.set
	p.Zones.T1 = value
	// Where nobody measured the top of zone 2, the reason that is wrong for zone 1 is wrong for it, too:
	// most often the maximum is not what age says. It moves in proportion, and stays below zone 3's own top.
	upper := min(whole(s.set.HRRest+(edges.BPM[2]-s.set.HRRest)*(value-s.set.HRRest)/(top-s.set.HRRest)), whole(edges.BPM[3])-clearly)
	follows := edges.Basis != "explicit" && (s.set.T2 == 0 || s.moved[s.set.T2]) && math.Abs(edges.BPM[2]-upper) >= clearly
	if follows {
		p.Zones.T2 = upper
		p.Upper = &Moved{edges.BPM[2], upper}
	}
	if s.otherwise(m, value, p.Zones) {
		// A threshold counts for every mode; where it would not move this one alone, explicit edges do.
		p.Zones.T1, p.Zones.T2, p.Zones.Edges = s.set.T1, s.set.T2, maps.Clone(s.set.Edges)
		if p.Zones.Edges == nil {
			p.Zones.Edges = map[workout.Mode][4]float64{}
		}
		bpm := s.body(s.set).Unlimited().Edges(m).BPM // a limit goes on top of explicit edges, too
		bpm[1], bpm[0] = value, min(bpm[0], value-clearly)
		if follows {
			bpm[2] = upper
		}
		p.Zones.Edges[m] = bpm
	}
	if slices.ContainsFunc(p.Evidence, func(e Evidence) bool { return e.Sensor != workout.Strap }) {
		p.Cautions = append(p.Cautions, Caution{Code: NotAllFromStrap})
		if p.Raises() {
			p.Cautions = append(p.Cautions, Caution{Code: CheckWithStrap})
		}
	}
	s.propose(p)
}

// otherwise says that a threshold would raise zone 1 of another mode or not put that of this one at the value.
func (s *search) otherwise(m workout.Mode, value float64, after record.ZoneSet) bool {
	return slices.ContainsFunc(s.modes(), func(x workout.Mode) bool {
		a, b := s.body(after).Edges(x), s.body(s.set).Edges(x)
		return a != nil && b != nil && (x != m && a.BPM[1] > b.BPM[1] || x == m && a.BPM[1] != value)
	})
}

func evidence(x record.Felt) Evidence {
	return Evidence{Date: x.Date, Recordings: x.IDs(), BPM: x.Mean, RPE: x.RPE, Talk: x.Talk, Sensor: x.Recordings[0].Measured.HeartRate.Source}
}
