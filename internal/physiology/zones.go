package physiology

import (
	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Edges of the zones as shares of the heart-rate reserve and of the maximum. 40, 60, 90 and 64, 77,
// 96 % are the published borders of moderate, vigorous and near-maximal effort (Garber 2011); 75 and
// 86.5 % halve the vigorous band (common practice, no source).
var (
	shareOfReserve = [4]float64{0.40, 0.60, 0.75, 0.90}
	shareOfMaximum = [4]float64{0.64, 0.77, 0.865, 0.96}
)

// narrowest is the least width in bpm that zone 1 keeps above a measured threshold's lower edge: a
// narrower one cannot be held. Common practice, no source.
const narrowest = 5

// Edges are the zone borders in mode m, nil when the facts for them lack or a medicine slows the
// heart.
//
// Explicit borders stand as they are. Otherwise the scale is, with a resting heart rate, HRrest +
// f (HRmax - HRrest) for f = 0.40, 0.60, 0.75, 0.90 (Karvonen 1957), else f HRmax for f = 0.64,
// 0.77, 0.865, 0.96; see Garber 2011 for the bands. Measured thresholds replace the two inner
// borders. When a threshold lies outside the scale's outer border, that border makes room: the
// lowest falls in the scale's own proportion, the highest rises to it.
//
// A limit lowers every border above it, so that all time above the limit counts as over.
//
// Fixed shares misplace a single person's thresholds by about 8 bpm when the maximum is estimated
// (Nuuttila 2025); talk and perceived effort overrule them.
func (b Body) Edges(m workout.Mode) *Edges {
	if b.Slowed {
		return nil
	}
	e, ok := b.explicit(m)
	if !ok {
		e, ok = b.scaled(m)
	}
	if !ok {
		return nil
	}
	if b.Limit > 0 && b.Limit < e.BPM[3] {
		for i := range e.BPM {
			e.BPM[i] = min(e.BPM[i], b.Limit)
		}
		e.Limited = true
	}
	return &e
}

// Origin is where an edge of a zone comes from.
type Origin string

// The origins of edges.
const (
	Entered   Origin = "entered"
	ByLimit   Origin = "limit"
	Threshold Origin = "threshold"
	OfReserve Origin = "share of the reserve"
	OfMaximum Origin = "share of the maximum"
	MadeRoom  Origin = "made room" // moved by a threshold beyond it
)

// EdgeOrigin is where one edge comes from, and its share of the reserve or the maximum where it is one.
type EdgeOrigin struct {
	Origin
	Share float64
}

// Origins says where each edge of Edges comes from.
func (b Body) Origins(m workout.Mode) (out [4]EdgeOrigin) {
	e := b.Edges(m)
	if e == nil {
		return out
	}
	bare := b.Unlimited()
	free := bare.Edges(m)
	bare.T1, bare.T2 = 0, 0
	scale := bare.Edges(m)
	talk := [4]float64{1: b.T1, 2: b.T2}
	for i, bpm := range e.BPM {
		o := &out[i]
		switch {
		case bpm < free.BPM[i]:
			o.Origin = ByLimit
		case e.Basis == "explicit":
			o.Origin = Entered
		case talk[i] > 0 && bpm == talk[i]:
			o.Origin = Threshold
		case bpm != scale.BPM[i]:
			o.Origin = MadeRoom
		case scale.Basis == "reserve":
			*o = EdgeOrigin{OfReserve, shareOfReserve[i]}
		default:
			*o = EdgeOrigin{OfMaximum, shareOfMaximum[i]}
		}
	}
	return out
}

func (b Body) explicit(m workout.Mode) (Edges, bool) {
	bpm, ok := b.Fixed[m]
	if !ok {
		bpm, ok = b.Fixed[""]
	}
	return Edges{BPM: bpm, Basis: "explicit"}, ok
}

func (b Body) scaled(m workout.Mode) (Edges, bool) {
	top, ok := b.Maximum(m)
	if !ok {
		return Edges{}, false
	}
	e := Edges{Basis: "maximum", Estimated: top.SEE > 0}
	floor, share := 0.0, shareOfMaximum
	if b.HRRest > 0 && b.HRRest < top.BPM {
		e.Basis, floor, share = "reserve", b.HRRest, shareOfReserve
	}
	for i, f := range share {
		e.BPM[i] = floor + f*(top.BPM-floor)
	}
	if b.T1 <= 0 && b.T2 <= 0 {
		return e, true
	}
	e.Basis = "thresholds"
	if b.T1 > 0 {
		e.BPM[1] = b.T1
		if e.BPM[0] > b.T1-narrowest {
			e.BPM[0] = min(floor+(b.T1-floor)*share[0]/share[1], b.T1)
		}
	}
	if b.T2 > 0 {
		e.BPM[2] = b.T2
	}
	e.BPM[2] = max(e.BPM[2], e.BPM[1])
	e.BPM[3] = max(e.BPM[3], e.BPM[2])
	return e, true
}

// Zone is the zone that a heart rate belongs to: 0 under, 1 to 3, 4 over. A border belongs to the
// zone above it.
func (e Edges) Zone(bpm float64) int {
	z := 0
	for z < len(e.BPM) && bpm >= e.BPM[z] {
		z++
	}
	return z
}

// TimeInZone counts the seconds of each zone: a second is paused, else not recorded when it has no
// measured or bridged heart rate, else of the zone of its unrounded value. The parts add up to the
// elapsed time.
func TimeInZone(s heartrate.Series, e Edges) ZoneTime {
	var z ZoneTime
	into := [5]*int{&z.Under, &z.Zone1, &z.Zone2, &z.Zone3, &z.Over}
	for k, o := range s.Origin {
		switch o {
		case heartrate.Paused:
			z.Paused++
		case heartrate.Missing:
			z.NotRecorded++
		default:
			*into[e.Zone(s.BPM[k])]++
		}
	}
	return z
}
