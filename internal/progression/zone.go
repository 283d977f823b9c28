package progression

import (
	"math"
	"slices"

	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Zone is the evidence that training keeps to zone 1: the share of the main parts below its top,
// pooled over the window. Time under zone 1 counts as kept. The interval is that of a ratio of
// sums over sessions (90 %); see decided for what is left out:
//
//	p = sum b / sum t,  SE = sqrt(n/(n-1) sum (b - p t)^2) / sum t
func (v Review) Zone() finding {
	rule, f := v.begin(policy.Zone)
	all, noEdges := v.mainParts(*rule.Window)
	all = draw{}.trusted(all)
	parts := v.decided(all)
	left := len(all) - len(parts)
	for _, m := range parts {
		f.rests(*m.session, 100*m.below(draw{})/m.seconds)
	}
	asked := int(rule.More["sessions"])
	if len(parts) < asked && left > 0 {
		return f.open(need(NeedZonesAnswered), FewWithoutSuggested, record.Args{"sessions": len(parts), "left": left, "needed": asked})
	}
	if len(parts) < asked {
		needed := need(NeedSensor)
		if _, doubted := v.sensorDoubted(); doubted {
			needed = need(NeedGoodSensor)
		}
		if noEdges {
			needed = need(NeedZones)
		}
		f = f.open(needed, FewZoneSessions, record.Args{"sessions": len(parts), "days": *rule.Window, "needed": asked})
		return f.unless(v.early(len(parts), len(v.recent(*rule.Window))))
	}
	p, low, high := shareBelow(parts, studentOf(parts), draw{})
	says, args := ZoneShare, record.Args{"share": p, "sessions": len(parts), "needed": *rule.Threshold}
	if left > 0 {
		says, args["left"] = ZoneShareOfRest, left
	}
	f = f.told(p, rule.Keeps(p), says, args)
	return f.interval(low, high)
}

// zoneAgain repeats the rule with other sessions, another top of zone 1, and doubtful sensors believed or not.
func (v Review) zoneAgain() func(draw, finding) finding {
	rule := v.Policy.Rule(policy.Zone)
	all, _ := v.mainParts(*rule.Window)
	all = v.decided(all)
	student := map[int]float64{} // by the number of sessions: it costs more than all the rest of a repetition
	return func(d draw, was finding) finding {
		parts := resampled(d, whichSessions, d.trusted(all))
		if len(parts) < int(rule.More["sessions"]) {
			was.Met, was.against = nil, false
			return was
		}
		if _, known := student[len(parts)]; !known {
			student[len(parts)] = studentOf(parts)
		}
		return was.judged(shareBelow(parts, student[len(parts)], d))
	}
}

// studentOf is the quantile that belongs to so many sessions.
func studentOf(parts []mainPart) float64 { return physiology.StudentQuantile(float64(len(parts) - 1)) }

// shareBelow is the share of the main parts below the top of zone 1 in percent, with its interval by
// Student's quantile.
func shareBelow(parts []mainPart, student float64, d draw) (share, low, high float64) {
	p, t := 0.0, 0.0
	below := make([]float64, len(parts))
	for i, m := range parts {
		below[i] = m.below(d)
		p, t = p+below[i], t+m.seconds
	}
	p /= t
	ss := 0.0
	for i, m := range parts {
		ss += math.Pow(below[i]-p*m.seconds, 2)
	}
	n := float64(len(parts))
	half := math.Inf(1)
	if n > 1 {
		half = student * math.Sqrt(n/(n-1)*ss) / t
	}
	return 100 * p, 100 * max(0, p-half), 100 * min(1, p+half)
}

// mainPart is the main part of one session with the top of zone 1 of each of its recordings.
type mainPart struct {
	session *record.Session
	doubt   trust
	seconds float64
	perBPM  []physiology.Histogram
	tops    []border
}

// decided leaves out the sessions that suggest a higher top of zone 1: whether they were above zone 1 is the
// very question that the trainer has to answer first.
func (v Review) decided(all []mainPart) []mainPart {
	open := v.undecided()
	return record.Keep(all, func(m mainPart) bool {
		return !slices.ContainsFunc(m.session.IDs(), func(id string) bool { return open[id] })
	})
}

// below is the time below the top of zone 1 in seconds.
func (m mainPart) below(d draw) float64 {
	n := 0
	for i, h := range m.perBPM {
		n += h.Below(m.tops[i].at(d))
	}
	return float64(n)
}

// mainParts lists the main parts of the last n days with a heart rate, with how far each can be trusted. A
// recording that cannot be measured on stands for its session only where that has no other. noEdges says that
// some recording has a heart rate but the client no zones.
func (v Review) mainParts(n int) (parts []mainPart, noEdges bool) {
	for _, s := range v.recent(n) {
		m := mainPart{session: &s}
		without := v.addRecordings(&m, usable)
		if m.seconds == 0 {
			m.doubt = leftOut
			v.addRecordings(&m, func(x record.Recording) bool { return x.Measured.HeartRate.Doubtful })
		}
		noEdges = noEdges || without
		if m.seconds > 0 {
			parts = append(parts, m)
		}
	}
	return parts, noEdges
}

// addRecordings adds those recordings of the session that count; it says whether one has no zones.
func (v Review) addRecordings(m *mainPart, counts func(record.Recording) bool) (noEdges bool) {
	for _, x := range m.session.Recordings {
		if !counts(x) {
			continue
		}
		top, ok := v.topOfZone1(x)
		if !ok {
			noEdges = true
			continue
		}
		if m.doubt == trusted && x.Measured.HeartRate.Doubtful {
			m.doubt = doubtful
		}
		m.perBPM, m.tops = append(m.perBPM, x.Measured.Main.PerBPM), append(m.tops, top)
		m.seconds += float64(x.Measured.Main.PerBPM.Total())
	}
	return noEdges
}

const (
	// measuredError is the standard deviation of a measured maximal heart rate in bpm; common practice,
	// no source.
	measuredError = 3
	// edgeWithin is how far an inner edge may lie from a person's own threshold, in bpm (Nuuttila 2025).
	edgeWithin = 8
)

// border is the top of zone 1 in one recording, and how far it moves when what it rests on is drawn
// within its error: the maximal heart rate or, where thresholds or the trainer set it, the edge itself.
type border struct {
	bpm, limit float64 // before a doctor's limit, and that limit, 0 for none
	byMaximum  float64 // bpm for each standard deviation of the maximal heart rate
	byEdge     float64 // bpm for the whole width of an edge's error; one of the two is 0
}

// at is the border in one draw.
func (b border) at(d draw) float64 {
	bpm := b.bpm + b.byMaximum*d.maximum + b.byEdge*d.edges
	if b.limit > 0 {
		bpm = min(bpm, b.limit)
	}
	return bpm
}

// topOfZone1 is false without the facts for zones.
func (v Review) topOfZone1(x record.Recording) (border, bool) {
	body, m := v.Record.Client.Body(x.Date), x.Workout.Sport.Mode()
	limit := body.Limit
	body = body.Unlimited()
	edges := body.Edges(m)
	if edges == nil {
		return border{}, false
	}
	b := border{bpm: edges.BPM[1], limit: limit}
	if edges.Basis != "maximum" && edges.Basis != "reserve" {
		b.byEdge = edgeWithin
		return b, true
	}
	top, _ := body.Maximum(m)
	body.HRMax = map[workout.Mode]float64{m: top.BPM + max(top.SEE, measuredError)}
	b.byMaximum = body.Edges(m).BPM[1] - b.bpm
	return b, true
}
