package proposal

import (
	"fmt"
	"maps"

	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

const (
	// clearly is by how many bpm an observation must differ to say anything: devices store whole beats.
	clearly = 1
	// peakDays is how long a peak counts. With a fall of 0.64 bpm a year (Nes 2013) a maximum of a year ago
	// is still one; what an older recording says of the sensor and the client, nobody remembers. Common
	// practice, no source.
	peakDays = 365
	// veryHard is the effort from which a peak may be near the maximum: 17 is the top of the published
	// vigorous band (Garber 2011), and the answer is about a whole session, of which the peak was the hardest
	// part; 8 stands beside it on the 0-10 scale as 7 beside 16 and 9 beside 18. Common practice, no source.
	veryHard, veryHard10 = 17, 8
)

// maxima proposes, for each mode, the highest heart rate that was held for 15 s as the maximum: from a
// chest strap, in recordings without a fault that touches peaks, at least 1 bpm above the maximum that
// the zones rest on, and in a session that was answered with very hard or with talk not possible. A
// sensor that loses the heart shows high values in easy sessions, too: there it is told and not proposed.
func (s *search) maxima() {
	for _, m := range s.modes() {
		top, ok := s.body(s.set).Maximum(m)
		if !ok {
			continue
		}
		var evidence []Evidence
		var other *seenPeak // the highest that is none
		older := 0
		for _, x := range s.sessions {
			for _, rec := range x.Recordings {
				h := rec.Measured.Held
				if modeOf(rec, x) == m && measuredBefore(rec) && rec.Date > s.on-peakDays {
					older++
				}
				if modeOf(rec, x) != m || h == nil || rec.Date <= s.on-peakDays || whole(h.BPM)-top.BPM < clearly || s.used(Maximum, rec.ID) {
					continue
				}
				if h.Enough && (reaches(x.RPE, veryHard, veryHard10) || x.Talk == record.TalkNo) {
					evidence = append(evidence, Evidence{
						Date: rec.Date, Recordings: []string{rec.ID}, BPM: h.BPM, Sensor: rec.Measured.HeartRate.Source, RPE: x.RPE, Talk: x.Talk,
						Text: fmt.Sprintf("%s: %.0f bpm held for 15 s from a chest strap; %s", rec.Date.Long(), whole(h.BPM), answered(x)),
					})
				} else if other == nil || h.BPM > other.rec.Measured.Held.BPM {
					other = &seenPeak{rec, x}
				}
			}
		}
		if older > 0 {
			s.untold("%s of %s %s measured by an earlier version of the program, which did not work out what was held for 15 s. All are measured again whenever a fact about the client is entered.",
				wording.Count(older, "recording"), doing(m), wording.Verb(older, "was", "were"))
		}
		if len(evidence) == 0 {
			if other != nil {
				s.untold("%s", other.why(m, top.BPM))
			}
			continue
		}
		value := 0.0
		for _, e := range evidence {
			value = max(value, whole(e.BPM))
		}
		p := Proposal{Kind: Maximum, Mode: m, Was: &top.BPM, Value: value, Evidence: evidence, Zones: s.set}
		p.Zones.HRMax = maps.Clone(s.set.HRMax)
		if p.Zones.HRMax == nil {
			p.Zones.HRMax = map[workout.Mode]float64{}
		}
		p.Zones.HRMax[m] = value
		rests := fmt.Sprintf("%.0f bpm, which was entered", top.BPM)
		if top.SEE > 0 {
			rests = fmt.Sprintf("%.0f bpm, an estimate from age that misses by more than %.0f bpm in one person of three", top.BPM, top.SEE)
		}
		p.Text = fmt.Sprintf("In %s a chest strap held %.0f bpm for 15 s with an effort that goes with it. The maximal heart rate is taken as %s. Proposed: %.0f bpm as the maximum for %s.",
			doing(m), value, rests, value, doing(m))
		p.Cautions = []string{"A higher maximum raises the zones. For a beginner that is a trap: where zone 1 feels hard or talking is not comfortable now, decline or lower zone 1 first. Talk and effort overrule percentages.",
			"What was observed is at most the maximum, never more; nobody should be sent to their limit to find it."}
		if _, fixed := s.body(s.set).Fixed[m]; fixed {
			p.Cautions = append(p.Cautions, "The zones for "+doing(m)+" are explicit edges and stay where they are.")
		}
		s.propose(p)
	}
}

// modeOf is the mode of a recording; one whose file tells no sport has that of its session.
func modeOf(rec record.Recording, x record.Session) workout.Mode {
	if m := rec.Workout.Sport.Mode(); m != workout.OtherMode {
		return m
	}
	return x.Mode
}

// measuredBefore says that a chest strap recorded a minute and more, and yet nothing is told of what was
// held: the measurements are of a program that did not know it.
func measuredBefore(rec record.Recording) bool {
	m := rec.Measured
	return m.Held == nil && m.HeartRate.Source == workout.Strap && m.PerBPM.Total() >= 60
}

// seenPeak is a high value that makes no proposal.
type seenPeak struct {
	rec     record.Recording
	session record.Session
}

// why says what is missing.
func (p seenPeak) why(m workout.Mode, top float64) string {
	h := p.rec.Measured.Held
	seen := fmt.Sprintf("In %s %.0f bpm were held for 15 s on %s (%s), above the maximum of %.0f", doing(m), whole(h.BPM), p.rec.Date.Long(), p.rec.ID, top)
	switch {
	case !h.Enough:
		return seen + ", but " + h.Why + "."
	case p.session.RPE == nil && p.session.Talk == record.NotAsked:
		return seen + ", but how hard the session was is not known. Ask, and enter the answer."
	}
	return seen + ", but the answer does not go with a maximum (" + answered(p.session) + "). Look at the recording: a strap can lose the heart."
}
