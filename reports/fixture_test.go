package reports_test

import (
	"fmt"
	"math"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// asOf is the day of all fixtures: a Sunday.
var asOf = workout.MustDate("2026-10-04")

func ptr[T any](v T) *T { return &v }

// rule makes a reason with an interval of plus and minus half.
func rule(id string, kind progression.Kind, text string, observed, half float64, is string, threshold float64, unit string, met bool) progression.Reason {
	r := progression.Reason{
		Rule: id, Kind: kind, Text: text, Observed: &observed, Is: is, Threshold: &threshold, Unit: unit,
		From: asOf - 27, To: asOf, Enough: true, Met: &met, Source: "common practice, no source",
	}
	if half > 0 {
		r.Low, r.High = ptr(observed-half), ptr(observed+half)
	}
	return r
}

// points spreads values over the weeks before asOf.
func points(values ...float64) []progression.Point {
	var out []progression.Point
	for i, v := range values {
		out = append(out, progression.Point{Date: asOf - workout.Date(3*(len(values)-1-i)), Value: v})
	}
	return out
}

var bodyEdges = physiology.Edges{BPM: [4]float64{109.2, 132.8, 150.5, 168.2}, Basis: "reserve", Estimated: true}

// walk is one recorded steady session with its time by zone in minutes.
func walk(day workout.Date, client string, n int, under, zone1, zone2, zone3 int) progression.Session {
	z := physiology.ZoneTime{Under: under * 60, Zone1: zone1 * 60, Zone2: zone2 * 60, Zone3: zone3 * 60, NotRecorded: 30}
	start := day.Time().Add(17 * time.Hour)
	rec := progression.Recording{
		ID: fmt.Sprintf("%08x#0", n), File: workout.DigestOf([]byte(fmt.Sprint(client, n))), Name: fmt.Sprintf("harbour-walk-%d.fit", n),
		Format: "fit", Client: client, Received: day + 1, Date: day,
		Workout: workout.Workout{Sport: workout.Walking, Place: workout.Outdoor, Start: start, Seconds: z.Sum(), Sensor: workout.Strap},
		Measured: physiology.Measurements{
			HeartRate: physiology.Summary{Usable: true, Source: workout.Strap, Coverage: ptr(0.98), Mean: ptr(121.3), Min: ptr(82.0),
				Peak: ptr(141.0), Elapsed: z.Sum()},
			Edges: &bodyEdges, Zones: &z,
		},
	}
	return progression.Session{
		Date: day, Start: start, Mode: workout.Walk, Place: workout.Outdoor, Minutes: float64(z.Sum()) / 60,
		Recordings: []progression.Recording{rec}, RPE: &workout.RPE{Value: 11 + float64(n%3), Scale: 20}, Talk: progression.TalkComfortable, Enjoyment: 4,
	}
}

// weekOf sums sessions into a week.
func weekOf(to workout.Date, stage int, plan *progression.Prescription, sessions ...progression.Session) progression.Week {
	w := progression.Week{From: to - 6, To: to, Stage: stage, Plan: plan, Sessions: sessions}
	for _, s := range sessions {
		w.Minutes += s.Minutes
		w.Longest = max(w.Longest, s.Minutes)
		for _, r := range s.Recordings {
			w.Zones = w.Zones.Plus(*r.Measured.Zones)
		}
	}
	return w
}

func plan(client string, from workout.Date, stage, sessions, minutes int) *progression.Prescription {
	return &progression.Prescription{Client: client, From: from, To: from + 6, Made: from - 1, Stage: stage, Sessions: sessions, Minutes: minutes,
		Targets: []progression.Target{{Mode: workout.Walk, Low: bodyEdges.BPM[0], High: bodyEdges.BPM[1], Feel: workout.Comfortable}}}
}

var crewCautions = []string{
	"This is not a medical device and nothing here is a diagnosis.",
	"Medicines that slow the heart make zones wrong.",
	"Local rules and licensed practice come first.",
}

// ines has done six weeks of stage 1 and is ready to move up.
func ines() reports.Client {
	c := reports.Client{Record: progression.Record{Client: progression.Client{
		Name: "Ines", Born: workout.MustDate("1984-03-11"), Sex: physiology.Female, Modes: []workout.Mode{workout.Walk, workout.Bike},
		Stage: 1, Since: asOf - 41, State: progression.Active, Sensor: workout.Strap, Goal: "carry the mooring lines without getting out of breath",
	}}}
	n := 0
	for i := range 6 {
		to := asOf - workout.Date(7*(5-i))
		var sessions []progression.Session
		for k := range 2 + min(1, i/2) {
			n++
			sessions = append(sessions, walk(to-workout.Date(5-2*k), "Ines", n, 4, 20+2*i, max(0, 4-i), 0))
		}
		if i == 3 {
			sessions = append(sessions, progression.Session{Date: to, Mode: workout.Bike, Minutes: 25, Reported: true,
				RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: progression.TalkComfortable})
		}
		c.Weeks = append(c.Weeks, weekOf(to, 1, plan("Ines", to-6, 1, 3, 25+i), sessions...))
		for _, s := range sessions {
			c.Record.Recordings = append(c.Record.Recordings, s.Recordings...)
		}
	}
	steady := rule("steady", progression.Evidence, "Heart rate stays level at a steady load in 2 of the last 3 sessions.", 1.4, 0.8, "at most", 3, "bpm/10 min", true)
	steady.Points = points(4.6, 4.1, 3.5, 3.2, 2.2, 1.9, 1.4)
	zone := rule("in-zone", progression.Evidence, "At least 80 % of the main part lies below the top of zone 1.", 91, 4, "at least", 80, "%", true)
	zone.Points = points(71, 78, 80, 86, 90, 93, 94)
	fall := rule("fall", progression.Evidence, "The 60-second fall is not below the client's own baseline.", 3.2, 8.7, "at least", -8.7, "bpm", true)
	fall.Points = points(24, 25, 23, 27, 29, 30, 31)
	same := rule("same-effort", progression.Evidence, "Heart rate at the same effort is not above the baseline.", -4, 0, "at most", 4.5, "bpm", true)
	same.Met, same.Enough, same.Observed, same.Low, same.High = nil, false, nil, nil, nil
	c.Assessment = progression.Assessment{
		Client: "Ines", AsOf: asOf, State: progression.Active, Stage: 1, Verdict: ptr(progression.Advance), To: ptr(2),
		Policy: "sha256:9a4be0d1c27f4f1e8d2b7c05a1f3e6d49a4be0d1c27f4f1e8d2b7c05a1f3e6d4",
		Reasons: []progression.Reason{
			rule("weeks", progression.Required, "At least 4 weeks of the stage are done.", 6, 0, "at least", 4, "weeks", true),
			rule("sessions", progression.Required, "At least 2 sessions a week in 4 of the last 6 weeks.", 6, 0, "at least", 4, "weeks", true),
			rule("minutes", progression.Required, "At least 75 minutes a week in those weeks.", 96, 0, "at least", 75, "min", true),
			rule("effort", progression.Required, "Perceived effort is at most 13 where it was asked.", 12, 0, "at most", 13, "on 6–20", true),
			rule("talk", progression.Required, "Talking is comfortable where it was asked.", 100, 0, "at least", 100, "%", true),
			zone, steady, fall, same,
			rule("enjoyment", progression.Informative, "Enjoyment is above 2 in 2 of the last 3 sessions.", 4, 0, "at least", 2, "of 5", true),
		},
		Lacking:  []progression.Lack{{Rule: "same-effort", Text: "Heart rate at the same effort cannot be compared.", Needed: "two more walks on the same machine at the same speed, 20 minutes or longer"}},
		Cautions: crewCautions, Robustness: &progression.Robustness{SameVerdict: 0.91, Draws: 400, HangsOn: "the share of the main part below the top of zone 1"},
		Week: 6, Weeks: 4, First: asOf - 13, Summary: "Everything that stage 2 asks for is there: six weeks, enough minutes, comfortable talk and a level heart rate.",
	}
	for i, v := range []progression.Verdict{progression.Hold, progression.Hold, progression.Hold} {
		c.History = append(c.History, progression.Assessment{Client: "Ines", AsOf: asOf - workout.Date(7*(3-i)), Stage: 1, Verdict: ptr(v), Plan: ptr(progression.Build), Week: 3 + i, Weeks: 4})
	}
	c.Record.Decisions = []progression.Decision{{Client: "Ines", Entered: asOf - 14, Act: progression.DoHold, From: asOf - 13, Stage: 1,
		Because: "She wants one more easy week before the autumn timetable.", By: "Mara", Verdict: ptr(progression.Hold)}}
	next := plan("Ines", asOf+1, 2, 3, 32)
	next.Intervals = &progression.Intervals{Count: 1, Bouts: 4, Work: 60, Rest: 240, Feel: workout.Brisk, High: bodyEdges.BPM[2]}
	next.Notes = []string{"Leave two days between the faster session and the next one."}
	c.Next = next
	return c
}

// crew is the whole ferry.
func crew() []reports.Client { return []reports.Client{ines()} }

// ride is an invented interval session, second by second: its shape is what matters here.
func ride() (progression.Recording, heartrate.Series, workout.Workout) {
	const seconds = 34 * 60
	s := heartrate.Series{Source: workout.Strap}
	level, v := 96.0, 92.0
	rec := walk(asOf-2, "Ines", 77, 4, 20, 8, 2).Recordings[0]
	m := &rec.Measured
	m.Phases = []physiology.Phase{{Kind: workout.WarmUp, Span: workout.Span{To: 420}, Mean: ptr(108.0)}}
	at := 420
	for i := range 4 {
		m.Phases = append(m.Phases, physiology.Phase{Kind: workout.Work, Span: workout.Span{From: at, To: at + 60}, Mean: ptr(141.0)},
			physiology.Phase{Kind: workout.Recovery, Span: workout.Span{From: at + 60, To: at + 300}, Mean: ptr(121.0)})
		m.Recoveries = append(m.Recoveries, physiology.Recovery{Stop: at + 60, End: ptr(148.0 + float64(i)), At60: ptr(126.0), Drop60: ptr(22.0 + float64(i)),
			FromPeak60: ptr(24.0 + float64(i)), At120: ptr(117.0), Drop120: ptr(31.0), Tau: ptr(52.0), Activity: physiology.Moving, By: "speed",
			Basis: physiology.Basis{Method: "speed", Coverage: 1, Enough: true}})
		at += 300
	}
	m.Phases = append(m.Phases, physiology.Phase{Kind: workout.CoolDown, Span: workout.Span{From: at, To: seconds}, Mean: ptr(104.0)})
	m.Recoveries[3].Tau, m.Recoveries[3].At120, m.Recoveries[3].Drop120 = nil, nil, nil
	m.Drift = physiology.Drift{Basis: physiology.Basis{Method: "30-s means", Why: "the load changes: no 20 minutes at one speed"}}
	m.Load = physiology.Load{Banister: ptr(31.4)}
	m.Remarks = []workout.Remark{{Code: "gap", Text: "heart rate was lost for 43 s at 18:20"}}
	z := physiology.ZoneTime{}
	for k := range seconds {
		level = 116
		for _, p := range m.Phases {
			if p.Contains(k) {
				level = map[workout.StepKind]float64{workout.WarmUp: 112, workout.Work: 158, workout.Recovery: 116, workout.CoolDown: 98}[p.Kind]
			}
		}
		v += (level - v) / 38
		x := v + 1.2*math.Sin(float64(k)/9) + 0.7*math.Sin(float64(k)/3.1)
		o := heartrate.Measured
		if k > 1100 && k < 1143 {
			x, o = math.NaN(), heartrate.Missing
		}
		s.BPM, s.Origin = append(s.BPM, x), append(s.Origin, o)
		switch e := bodyEdges.BPM; {
		case math.IsNaN(x):
			z.NotRecorded++
		case x < e[0]:
			z.Under++
		case x < e[1]:
			z.Zone1++
		case x < e[2]:
			z.Zone2++
		default:
			z.Zone3++
		}
	}
	m.Zones = &z
	m.HeartRate.Gap, m.HeartRate.Elapsed, m.HeartRate.Coverage = 43, seconds, ptr(1-43.0/seconds)
	w := rec.Workout
	w.Seconds = seconds
	rec.Workout.Seconds, rec.Name = seconds, "quay-intervals.fit"
	return rec, s, w
}
