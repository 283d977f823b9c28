package proposal

import (
	"cmp"
	"maps"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	// hard is the effort that does not belong in zone 1: vigorous begins at 14 (Garber 2011); 5 corresponds
	// to it on the 0-10 scale (common practice, no source).
	hard, hard10 = 14, 5
	// twice is how many sessions must say so within talkDays, and answersDays how far back a comfortable
	// session counts (common practice, no source).
	twice, talkDays, answersDays = 2, 28, 84
	// kept is the share of the main part below the top of zone 1 from which a session was one in zone 1, as
	// in the policy's rule on it; one that held a heart rate of zone 3 for 15 s was none.
	kept = 0.8
	// warm is the temperature in °C above which heart rate and effort rise because of the heat alone.
	warm = 25
)

// steadySession is a session that shows what a heart rate feels like in one mode.
type steadySession struct {
	record.Session
	mean   float64 // heart rate of the main part
	inside bool    // it was a session in zone 1
}

// tops proposes, for each mode, to lower the top of zone 1 to the last comfortable heart rate, when two
// sessions of the last four weeks that were kept in zone 1 were answered with an effort of 14 or more, or
// with talk that was not comfortable: then the zones are wrong, not the client. The last comfortable
// heart rate is the highest mean of a main part that was comfortable and is below all that were not.
//
// Sessions with work bouts show nothing here, and hard ones in the heat, without a fan, or within a week
// after a noted sign of tiredness or illness say something about those days, not about the zones.
func (s *search) tops() {
	for _, m := range s.modes() {
		edges := s.body(s.set).Edges(m)
		if edges == nil {
			continue
		}
		var against, comfortable []steadySession
		explained := 0
		for _, x := range s.steady(m, edges) {
			switch {
			case !uncomfortable(x.Session):
				comfortable = append(comfortable, x)
			case x.Date <= s.on-talkDays || !x.inside || s.used(TopOfZone1, x.IDs()...):
			case s.explained(x.Session):
				explained++
			default:
				against = append(against, x)
			}
		}
		if len(against) < twice {
			if n := len(against) + explained; n >= twice {
				s.near(Near{Code: HardDays, Mode: m, N: n})
			}
			continue
		}
		s.lower(m, edges, against, comfortable)
	}
}

// steady lists the answered sessions of a mode without work bouts. They are held against the newest
// edges, whichever held on their day: what they say is about heart rates.
func (s *search) steady(m workout.Mode, edges *physiology.Edges) []steadySession {
	var out []steadySession
	for _, x := range s.sessions {
		if x.Mode != m || x.Date <= s.on-answersDays || x.RPE == nil && x.Talk == record.NotAsked {
			continue
		}
		var all physiology.Histogram
		bouts, sprint := false, false
		for _, rec := range x.Recordings {
			bouts = bouts || len(rec.Measured.Bouts) > 0
			sprint = sprint || rec.Measured.Held != nil && rec.Measured.Held.BPM >= edges.BPM[2]
			if rec.Measured.HeartRate.Usable {
				all = all.Plus(rec.Measured.Main.PerBPM)
			}
		}
		mean, ok := all.Mean()
		if ok && !bouts {
			below := float64(all.Below(edges.BPM[1])) / float64(all.Total())
			out = append(out, steadySession{x, mean, edges.Zone(mean) == 1 && below >= kept && !sprint})
		}
	}
	return out
}

// uncomfortable says that talk or effort do not belong into zone 1.
func uncomfortable(x record.Session) bool {
	return reaches(x.RPE, hard, hard10) || x.Talk == record.TalkHard || x.Talk == record.TalkNo
}

// explained says that heat or a noted sign may explain why a session was hard.
func (s *search) explained(x record.Session) bool {
	return x.NoFan || x.HeatC != nil && *x.HeatC > warm || s.unwell(x.Date)
}

func (s *search) lower(m workout.Mode, edges *physiology.Edges, against, comfortable []steadySession) {
	byMean := func(a, b steadySession) int { return cmp.Compare(a.mean, b.mean) }
	lowest := slices.MinFunc(against, byMean).mean
	below := record.Keep(comfortable, func(x steadySession) bool { return x.mean < lowest })
	top := edges.BPM[1]
	if len(below) == 0 {
		s.near(Near{Code: NothingEasy, Mode: m, N: len(against), Was: top})
		return
	}
	last := slices.MaxFunc(below, byMean)
	if top-whole(last.mean) < clearly {
		return
	}
	p := Proposal{Kind: TopOfZone1, Mode: m, Was: &top, Value: whole(last.mean), Zones: s.set,
		Evidence: record.Map(against, steadySession.evidence), Beside: []Evidence{last.evidence()}}
	p.Zones.T1 = p.Value
	// Where nobody measured the top of zone 2, the reason that is wrong for zone 1 is wrong for it, too:
	// most often the maximum is lower than age says. It comes down in proportion.
	upper := whole(s.set.HRRest + (edges.BPM[2]-s.set.HRRest)*(p.Value-s.set.HRRest)/(top-s.set.HRRest))
	_, fixed := s.body(s.set).Fixed[m]
	follows := !fixed && (s.set.T2 == 0 || s.lowered[s.set.T2]) && edges.BPM[2]-upper >= clearly
	if follows {
		p.Zones.T2 = upper
		p.Upper = &Moved{edges.BPM[2], upper}
	}
	if s.otherwise(m, p.Zones) {
		// A threshold counts for every mode; where it would not lower this one alone, explicit edges do.
		p.Zones.T1, p.Zones.T2, p.Zones.Edges = s.set.T1, s.set.T2, maps.Clone(s.set.Edges)
		if p.Zones.Edges == nil {
			p.Zones.Edges = map[workout.Mode][4]float64{}
		}
		open := s.set // a limit goes on top of explicit edges, too
		open.Limit = 0
		bpm := s.body(open).Edges(m).BPM
		bpm[1], bpm[0] = p.Value, min(bpm[0], p.Value-clearly)
		if follows {
			bpm[2] = upper
		}
		p.Zones.Edges[m] = bpm
	}
	if higher := len(comfortable) - len(below); higher > 0 {
		p.Cautions = append(p.Cautions, Caution{Code: HigherWasEasy, N: higher})
	}
	if slices.ContainsFunc(p.Evidence, func(e Evidence) bool { return e.Sensor != workout.Strap }) {
		p.Cautions = append(p.Cautions, Caution{Code: NotAllFromStrap})
	}
	p.Cautions = append(p.Cautions, Caution{Code: BecomesEasier})
	s.propose(p)
}

// otherwise says that a threshold would raise zone 1 of another mode or not lower that of this one.
func (s *search) otherwise(m workout.Mode, after record.ZoneSet) bool {
	return slices.ContainsFunc(s.modes(), func(x workout.Mode) bool {
		a, b := s.body(after).Edges(x), s.body(s.set).Edges(x)
		return a != nil && b != nil && (a.BPM[1] > b.BPM[1] || x == m && a.BPM[1] >= b.BPM[1])
	})
}

func (x steadySession) evidence() Evidence {
	return Evidence{Date: x.Date, Recordings: x.IDs(), BPM: x.mean, RPE: x.RPE, Talk: x.Talk, Sensor: x.Recordings[0].Measured.HeartRate.Source}
}
