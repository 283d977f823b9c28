package coach

import (
	"strings"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
)

// sessionZone is a column of seconds in a zone of all recordings of a session; empty where none has zones.
func sessionZone(name, means string, of func(physiology.ZoneTime) int) column[record.Session] {
	return column[record.Session]{name, means + ", all recordings of the session added up", "s", func(s record.Session) string {
		var sum physiology.ZoneTime
		known := false
		for _, x := range s.Recordings {
			if z := x.Measured.Zones; z != nil {
				sum, known = sum.Plus(*z), true
			}
		}
		if !known {
			return ""
		}
		return whole(of(sum))
	}}
}

// highest is the highest of what a session's recordings hold; nil without any.
func highest(s record.Session, of func(record.Recording) *float64) (most *float64) {
	for _, x := range s.Recordings {
		if v := of(x); v != nil && (most == nil || *v > *most) {
			most = v
		}
	}
	return most
}

func driftOf(r record.Recording) *float64 {
	return only(r.Measured.Drift.Enough, r.Measured.Drift.Slope)
}

// largestDrop is the largest drop in 60 s of the stops that can be relied on.
func largestDrop(r record.Recording) (most *float64) {
	for _, x := range r.Measured.Recoveries {
		if x.Basis.Enough && x.Drop60 != nil && (most == nil || *x.Drop60 > *most) {
			most = x.Drop60
		}
	}
	return most
}

// sessionColumns are of one row a session, also of one that does not count.
func sessionColumns(client string) []column[record.Session] {
	return []column[record.Session]{
		{"client", "name of the client", "", func(record.Session) string { return client }},
		{"date", "day of the session", "date", func(s record.Session) string { return s.Date.String() }},
		{"start", "start in UTC; empty if only reported", "date and time", func(s record.Session) string {
			if s.Start.IsZero() {
				return ""
			}
			return s.Start.UTC().Format(time.RFC3339)
		}},
		{"sport", "kind of sport", "", func(s record.Session) string { return string(s.Sport) }},
		{"minutes", "length without pauses; of a circuit the minutes in zone 1 and above", "min", func(s record.Session) string { return figure(s.Minutes) }},
		{"reported", "yes: without a recording", "", func(s record.Session) string { return yes(s.Reported) }},
		{"recordings", "names of its recordings in the book", "", func(s record.Session) string { return strings.Join(s.IDs(), "; ") }},
		{"not_counted", "why it does not count as a session; empty if it counts", "", func(s record.Session) string { return reasons.NotCounted(s.Uncounted) }},
		{"late", "yes: received more than 7 days after it was done", "", func(s record.Session) string { return yes(s.Late) }},
		sessionZone("under_zone_1", "time under zone 1", func(z physiology.ZoneTime) int { return z.Under }),
		sessionZone("zone_1", "time in zone 1", func(z physiology.ZoneTime) int { return z.Zone1 }),
		sessionZone("zone_2", "time in zone 2", func(z physiology.ZoneTime) int { return z.Zone2 }),
		sessionZone("zone_3", "time in zone 3", func(z physiology.ZoneTime) int { return z.Zone3 }),
		sessionZone("over_zone_3", "time over zone 3", func(z physiology.ZoneTime) int { return z.Over }),
		sessionZone("not_recorded", "time without a heart rate", func(z physiology.ZoneTime) int { return z.NotRecorded }),
		{"drift", "slow rise at constant load after 10 min, the highest of its recordings; empty where it cannot be found", "bpm per 10 min",
			func(s record.Session) string { return orNothing(highest(s, driftOf)) }},
		{"drop_60", "largest drop in heart rate 60 s after a stop", "bpm", func(s record.Session) string { return orNothing(highest(s, largestDrop)) }},
		{"effort", "perceived effort, the hardest that was given", "on effort_scale", func(s record.Session) string { return effortOf(s.RPE) }},
		{"effort_scale", "20 for the scale from 6 to 20, 10 for 0 to 10", "", func(s record.Session) string { return scaleOf(s.RPE) }},
		{"talk", "how talking went, the worst answer", "", func(s record.Session) string { return string(s.Talk) }},
		{"enjoyment", "how enjoyable it was, the worst answer; empty if nobody asked", "1 to 5", func(s record.Session) string {
			if s.Enjoyment == 0 {
				return ""
			}
			return whole(s.Enjoyment)
		}},
		{"heat", "air temperature", "°C", func(s record.Session) string { return orNothing(s.HeatC) }},
	}
}

// made says of measured columns, by name, how a value is found and how far off it was on played sessions with a known truth;
// the errors are those of the table of accuracy in DEVELOPERS.md.
var made = map[string]struct{ method, error string }{
	"under_zone_1": inZones, "zone_1": inZones, "zone_2": inZones, "zone_3": inZones, "over_zone_3": inZones,
	"mean":             {"mean of the clean heart rate, one value a second, without pauses", "strap: median 0.0, 95 % within 0.1 bpm; wrist with faults: median 0.2, 95 % within 1.0 bpm"},
	"peak":             {"highest 5 s mean without a missing second", "strap: median 0.2, 95 % within 0.8 bpm"},
	"drift":            {"robust slope of heart rate over the steady part after the tenth minute", "machine: median 0.0, 95 % within 0.1 bpm per 10 min; road: median 0.2, 95 % within 0.6 bpm per 10 min"},
	"drop_60":          {"heart rate at the stop minus heart rate 60 s later, the largest of the stops that can be relied on", "strap: median 0.9, 95 % within 3.3 bpm"},
	"banister_impulse": {"minutes times share of heart-rate reserve, weighted by sex (Banister)", ""},
	"lucia_weighted":   {"minutes under and in zone 1, plus 2 times zone 2, plus 3 times zone 3 and over (Lucia)", ""},
}

var inZones = struct{ method, error string }{"seconds with a clean heart rate between the client's zone edges; gaps of a few seconds are bridged",
	"strap: median 0.5, 95 % within 1.3 % of the session in another zone; wrist with faults: median 2.9, 95 % within 10.0 % of the session in another zone"}
