package proposal

import (
	"cmp"
	"maps"
	"slices"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

const (
	// clearly is how many bpm an observation must differ by to say anything: devices store whole beats.
	clearly = 1
	// peakDays is how long a peak counts. With a drop of 0.64 bpm a year (Nes 2013) a maximum of a year ago
	// still holds; nobody remembers the sensor and the client behind an older recording. Common
	// practice, no source.
	peakDays = 365
	// veryHard is the effort from which a peak may be near the maximum: 17 is the top of the published
	// vigorous band (Garber 2011), and the answer is about a whole session, of which the peak was the hardest
	// part; 8 corresponds to it on the 0-10 scale, as 7 to 16 and 9 to 18. Common practice, no source.
	veryHard, veryHard10 = 17, 8
)

// maxima proposes, for each mode, the highest heart rate that was held for 15 s as the maximum: from a
// chest strap, in recordings without a fault that touches peaks, at least 1 bpm above the maximum that
// the zones rest on, and in a session that was answered with very hard or with talk not possible. A
// sensor that loses contact shows high values in easy sessions, too: these are shown but not suggested.
func (s *search) maxima() {
	for _, m := range s.modes() {
		top, ok := s.body(s.set).Maximum(m)
		if !ok {
			continue
		}
		evidence, other, older := s.peaks(m, top.BPM)
		if older > 0 {
			s.near(Near{Code: MeasuredBefore, Mode: m, N: older})
		}
		if len(evidence) == 0 {
			if other != nil {
				s.near(other.near(m, top.BPM, top.SEE > 0))
			}
			continue
		}
		value := whole(slices.MaxFunc(evidence, func(a, b Evidence) int { return cmp.Compare(a.BPM, b.BPM) }).BPM)
		p := Proposal{Kind: Maximum, Mode: m, Was: &top.BPM, SEE: top.SEE, Value: value, Evidence: evidence, Zones: s.set}
		p.Zones.HRMax = maps.Clone(s.set.HRMax)
		if p.Zones.HRMax == nil {
			p.Zones.HRMax = map[workout.Mode]float64{}
		}
		p.Zones.HRMax[m] = value
		p.Cautions = []Caution{{Code: HigherIsHarder}, {Code: AtMostMaximum}}
		if _, fixed := s.body(s.set).Fixed[m]; fixed {
			p.Cautions = append(p.Cautions, Caution{Code: EdgesStay, Mode: m})
		}
		s.propose(p)
	}
}

// peaks lists the peaks of a mode clearly above its maximum, the highest of those that are none for want of
// effort or a sound sensor, and how many recordings were measured before peaks were looked for.
func (s *search) peaks(m workout.Mode, top float64) (evidence []Evidence, other *seenPeak, older int) {
	for _, x := range s.sessions {
		for _, rec := range x.Recordings {
			if modeOf(rec, x) != m || rec.Date <= s.on-peakDays {
				continue
			}
			if measuredBefore(rec) {
				older++
			}
			h := rec.Measured.Held
			switch {
			case h == nil || whole(h.BPM)-top < clearly || s.used(Maximum, rec.ID):
			case h.Enough && (x.RPE.Reaches(veryHard, veryHard10) || x.Talk == record.TalkNo):
				evidence = append(evidence, Evidence{
					Date: rec.Date, Recordings: []string{rec.ID}, BPM: h.BPM, Sensor: rec.Measured.HeartRate.Source, RPE: x.RPE, Talk: x.Talk,
				})
			case other == nil || h.BPM > other.rec.Measured.Held.BPM:
				other = &seenPeak{rec, x}
			}
		}
	}
	return evidence, other, older
}

// modeOf is the mode of a recording; one whose file names no sport has that of its session.
func modeOf(rec record.Recording, x record.Session) workout.Mode {
	if m := rec.Workout.Sport.Mode(); m != workout.OtherMode {
		return m
	}
	return x.Mode
}

// measuredBefore says that a chest strap recorded a minute and more, yet has nothing on what was
// held: the measurements come from a version that did not look for it.
func measuredBefore(rec record.Recording) bool {
	m := rec.Measured
	return m.Held == nil && m.HeartRate.Source == workout.Strap && m.PerBPM.Total() >= 60
}

// Peak is a heart rate that a sound chest strap held above the maximum that the zones rest on, whether or not it led to a
// suggestion.
type Peak struct {
	Mode      workout.Mode
	BPM, Was  float64
	Estimated bool // the maximum is an estimate from age
}

// Peaks are the peaks above the maximum, in the order of the findings.
func (f Findings) Peaks() []Peak {
	var out []Peak
	for _, p := range f.Open {
		if p.Kind == Maximum {
			out = append(out, Peak{p.Mode, p.Value, *p.Was, p.SEE > 0})
		}
	}
	for _, n := range f.Near {
		if n.Code == PeakNotAsked || n.Code == PeakTooEasy {
			out = append(out, Peak{n.Mode, n.BPM, n.Was, n.Estimated})
		}
	}
	return out
}

// seenPeak is a high value that does not lead to a suggestion.
type seenPeak struct {
	rec     record.Recording
	session record.Session
}

// near says what is missing.
func (p seenPeak) near(m workout.Mode, top float64, estimated bool) Near {
	h := p.rec.Measured.Held
	n := Near{Code: PeakTooEasy, Mode: m, BPM: whole(h.BPM), Was: top, Estimated: estimated, Date: p.rec.Date, Recording: p.rec.ID, RPE: p.session.RPE, Talk: p.session.Talk}
	switch {
	case !h.Enough:
		n.Code, n.Why, n.Clause = PeakInDoubt, h.Why, h.Clause
	case n.RPE == nil && n.Talk == record.NotAsked:
		n.Code = PeakNotAsked
	}
	return n
}
