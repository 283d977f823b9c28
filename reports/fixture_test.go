package reports_test

import (
	"fmt"
	"math"
	"slices"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/hindsight"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// asOf is the day of all fixtures: a Sunday.
var asOf = workout.MustDate("2026-10-04")

func ptr[T any](v T) *T { return &v }

// done is one session of an invented client, as far as the rules look at it.
type done struct {
	day        workout.Date
	sport      workout.Sport
	minutes    int
	easy       float64 // share of the main part in zone 1
	drift      float64 // bpm per 10 min
	fall       float64 // bpm in 60 s
	effort     float64 // 0: not asked
	bouts      int     // of 60 s
	strap      bool
	noHeart    bool // no heart rate at all
	speed      float64
	atThisLoad float64 // heart rate at that speed
}

// recordingOf writes a session as the recording that a measured file would give.
func recordingOf(c record.Client, n int, d done) record.Recording {
	seconds := d.minutes * 60
	sensor := workout.Wrist
	if d.strap {
		sensor = workout.Strap
	}
	r := record.Recording{
		ID: fmt.Sprintf("%08x#0", n), File: workout.DigestOf([]byte(fmt.Sprint(c.Name, n))), Name: fmt.Sprintf("deck-%d.fit", n), Format: "fit",
		Client: c.Name, Received: d.day + 1, Date: d.day,
		Workout: workout.Workout{Sport: d.sport, Place: workout.Indoor, Start: d.day.Time().Add(17 * time.Hour), Seconds: seconds, Sensor: sensor},
	}
	m := &r.Measured
	m.HeartRate = physiology.Summary{Elapsed: seconds, Source: sensor}
	m.Edges = c.Body(d.day).Edges(d.sport.Mode())
	if d.noHeart {
		m.HeartRate.Coverage = ptr(0.0)
		m.Zones = &physiology.ZoneTime{NotRecorded: seconds}
		if m.Edges == nil {
			m.Zones = nil
		}
		return r
	}
	m.HeartRate.Usable, m.HeartRate.Coverage, m.HeartRate.Mean, m.HeartRate.Min, m.HeartRate.Peak = true, ptr(0.98), ptr(121.3), ptr(84.0), ptr(146.0)
	main := seconds - 600
	m.Main = physiology.MainPart{Span: workout.Span{From: 300, To: seconds - 300}, PerBPM: make(physiology.Histogram, physiology.Highest-physiology.Lowest+1)}
	easy := int(d.easy * float64(main))
	if m.Edges != nil {
		m.Main.PerBPM[int(m.Edges.BPM[1])-8-physiology.Lowest] = easy
		m.Main.PerBPM[int(m.Edges.BPM[1])+5-physiology.Lowest] = main - easy
		m.Zones = &physiology.ZoneTime{Under: 560, Zone1: easy, Zone2: (main - easy) * 4 / 5, Zone3: main - easy - (main-easy)*4/5, NotRecorded: 40}
	}
	m.Drift = physiology.Drift{Basis: physiology.Basis{Enough: d.drift != 0, Clause: "no 20 minutes at one load"}, Slope: d.drift, Low: d.drift - 0.6, High: d.drift + 0.6}
	if d.fall != 0 {
		m.Recoveries = []physiology.Recovery{{Stop: seconds - 240, End: ptr(128.0), At60: ptr(128 - d.fall), Drop60: &d.fall, Activity: physiology.Moving,
			By: "speed", Basis: physiology.Basis{Enough: true, Coverage: 1}}}
	}
	if d.atThisLoad != 0 {
		m.SameEffort = &physiology.SameEffort{Basis: physiology.Basis{Enough: true}, Mean: d.atThisLoad, Load: d.speed, Unit: "m/s"}
	}
	for i := range d.bouts {
		at := 420 + 240*i
		m.Bouts = append(m.Bouts, physiology.Bout{Span: workout.Span{From: at, To: at + 60}, End: ptr(146 + 2.5*float64(i)), Low: ptr(116 + 3*float64(i)), By: "laps"})
	}
	return r
}

// member is an invented client who is put together session by session.
type member struct {
	record record.Record
	n      int
}

func (m *member) did(all ...done) *member {
	for _, d := range all {
		m.n++
		m.record.Recordings = append(m.record.Recordings, recordingOf(m.record.Client, m.n, d))
		if d.effort > 0 {
			m.record.Notes = append(m.record.Notes, record.Note{ID: fmt.Sprint("note", m.n), Date: d.day, Entered: d.day,
				RPE: &workout.RPE{Value: d.effort, Scale: 20}, Talk: record.TalkComfortable, Enjoyment: 4})
		}
	}
	return m
}

// page runs the default policy over the member's record, week by week, and gives what the pages show.
func (m *member) page(weeks int) reports.Client {
	p := policy.Default()
	var out reports.Client
	for i := weeks - 1; i >= 0; i-- {
		on := asOf - workout.Date(7*i)
		r := m.record.Until(on)
		a := progression.Assess(p, on, r)
		next := prescription.Prescribe(p, on, r, a)
		if i > 0 {
			m.record.Prescriptions = append(m.record.Prescriptions, next)
			continue
		}
		m.seal(p)
		out.Record, out.Assessment, out.Weeks, out.Next = m.record, a, m.record.Weeks(on, weeks), &next
		out.Past = hindsight.Back(hindsight.Known{On: on, Now: m.record}, p)
		out.Assessment.Robustness = &record.Robustness{SameVerdict: 0.91, Draws: 400, DependsOn: progression.OnSessions}
	}
	return out
}

// seal chains the member's decisions, each with the recordings and the policy that it rested on.
func (m *member) seal(p policy.Policy) {
	var before *record.Decision
	for i := range m.record.Decisions {
		d := &m.record.Decisions[i]
		for _, x := range m.record.Until(d.Entered).Recordings {
			d.Files = append(d.Files, x.File)
		}
		d.Policy = p.Digest()
		*d = d.Seal(before)
		before = d
	}
}

func facts(name, born string, weeks int) record.Client {
	since := asOf - workout.Date(7*weeks) + 1
	return record.Client{
		Name: name, Born: workout.MustDate(born), Sex: physiology.Female, Modes: []workout.Mode{workout.Walk, workout.Bike}, Sensor: workout.Strap,
		Zones: []record.ZoneSet{{HRRest: 62}}, Screening: record.Screening{On: since - 1, Active: true},
		Stage: 1, Since: since, State: record.Active, Days: 4, Minutes: 45, Goal: "carry the mooring lines without getting out of breath",
	}
}

// base fills weeks of stage 1, three sessions each: better every week when steady is true.
func (m *member) base(weeks int, steady bool) *member {
	for w := range weeks {
		monday := m.record.Client.Since + workout.Date(7*w)
		share, drift := 0.99, 4.4-0.5*float64(w)
		if !steady {
			share, drift = 0.62+0.01*float64(w), 5.2
		}
		for k, day := range []int{1, 3, 5} {
			gain := float64(w)
			chance := []float64{0, 3, -2, 4, -3, 1, -4, 2}[(3*w+k)%8] // from day to day
			m.did(done{day: monday + workout.Date(day), sport: workout.Walking, minutes: 28 + 2*w + k, easy: max(0.3, share-0.05*float64(max(0, 3-w))),
				drift: max(0.6, drift+chance/6), fall: 21 + 1.9*gain + chance, effort: 11 + float64((w+k)%3), strap: true, speed: 1.5, atThisLoad: 127 - 1.6*gain + chance/2})
		}
	}
	return m
}

// avelin is ready to move up.
func avelin() reports.Client {
	m := &member{record: record.Record{Client: facts("Avelin", "1988-03-14", 7)}}
	m.base(7, true)
	m.record.Reports = append(m.record.Reports, record.Report{ID: "r1", Date: asOf - 14, Entered: asOf - 14, Minutes: 25, Sport: workout.Cycling,
		RPE: &workout.RPE{Value: 12, Scale: 20}, Talk: record.TalkComfortable})
	m.record.Decisions = []record.Decision{{Client: "Avelin", Entered: asOf - 21, Act: record.DoHold, From: asOf - 20, Stage: 1,
		Because: "one more easy week before the autumn timetable begins", By: "Corvane", Verdict: ptr(record.Hold)}}
	m.record.Notes = append(m.record.Notes, record.Note{ID: "m1", Date: asOf - 9, Entered: asOf - 9, HRRest: 61, Text: "Slept well, legs fresh."})
	out := m.page(7)
	out.Proposed = []proposal.Proposal{peakOfAvelin(out.Record)}
	out.Peaks = proposal.Findings{Open: out.Proposed}.Peaks()
	return out
}

// peakOfAvelin proposes another maximum for walking, found in her last walk as if it had been a hard one.
func peakOfAvelin(r record.Record) proposal.Proposal {
	r.Recordings = slices.Clone(r.Recordings)
	last := &r.Recordings[len(r.Recordings)-1]
	last.Measured.Held = &physiology.Held{BPM: 191, Basis: physiology.Basis{Enough: true}}
	r.Notes = append(slices.Clone(r.Notes), record.Note{ID: "hard", Date: last.Date, Entered: last.Date, RPE: &workout.RPE{Value: 18, Scale: 20}})
	return proposal.Find(r, asOf, nil).Open[0]
}

// torrec is in his second week.
func torrec() reports.Client {
	m := &member{record: record.Record{Client: facts("Torrec", "1979-11-02", 2)}}
	m.record.Client.Sex = physiology.Male
	return m.base(2, true).page(2)
}

// jaskel walks too fast for the base.
func jaskel() reports.Client {
	m := &member{record: record.Record{Client: facts("Jaskel", "1984-01-30", 6)}}
	return m.base(6, false).page(6)
}

// lindra is in stage 2.
func lindra() reports.Client {
	m := &member{record: record.Record{Client: facts("Lindra", "1993-09-05", 9)}}
	m.record.Client.Stage = 1
	m.base(5, true)
	m.record.Decisions = []record.Decision{{Client: "Lindra", Entered: asOf - 28, Act: record.DoAdvance, From: asOf - 27, Stage: 2,
		Because: "the base is there", By: "Corvane", Verdict: ptr(record.Advance)}}
	for w := range 4 {
		monday := asOf - workout.Date(7*(4-w)) + 1
		for k, day := range []int{1, 3, 5} {
			d := done{day: monday + workout.Date(day), sport: workout.Cycling, minutes: 36 + k, easy: 0.8, effort: 13, strap: true, fall: 27 + float64(w)}
			if k != 1 {
				d.bouts, d.effort = 4, 15
			}
			m.did(d)
		}
	}
	return m.page(9)
}

// selvane takes a medicine that slows the heart.
func selvane() reports.Client {
	c := facts("Selvane", "1964-05-08", 5)
	c.Medicine, c.Clearance = record.Slows, c.Since-10
	m := &member{record: record.Record{Client: c}}
	return m.base(5, true).page(5)
}

// pavor noted pressure in his chest.
func pavor() reports.Client {
	m := &member{record: record.Record{Client: facts("Pavor", "1971-08-19", 3)}}
	m.base(3, true)
	m.record.Notes = append(m.record.Notes, record.Note{ID: "s1", Date: asOf - 1, Entered: asOf - 1, Symptoms: []signs.Sign{"chest"}, Text: "pressure on the stairs"})
	return m.page(3)
}

// ondrel has not answered the screening questions and forgets the sensor.
func ondrel() reports.Client {
	c := facts("Ondrel", "1986-12-11", 6)
	c.Screening = record.Screening{}
	m := &member{record: record.Record{Client: c}}
	for w := range 6 {
		for _, day := range []int{2, 5} {
			m.did(done{day: c.Since + workout.Date(7*w+day), sport: workout.Walking, minutes: 40, noHeart: true})
		}
	}
	return m.page(6)
}

// maruna sleeps badly and finds everything hard.
func maruna() reports.Client {
	m := &member{record: record.Record{Client: facts("Maruna", "1991-06-21", 6)}}
	m.base(6, true)
	m.record.Notes = append(m.record.Notes, record.Note{ID: "t1", Date: asOf - 2, Entered: asOf - 2, Symptoms: []signs.Sign{"poor-sleep", "unusually-tired"}})
	return m.page(6)
}

// hedra is away.
func hedra() reports.Client {
	m := &member{record: record.Record{Client: facts("Hedra", "1975-02-27", 5)}}
	m.base(3, true)
	m.record.Decisions = []record.Decision{{Client: "Hedra", Entered: asOf - 15, Act: record.DoPause, From: asOf - 13, To: asOf + 7, Stage: 1,
		Because: "winter refit of the ferry", By: "Corvane"}}
	return m.page(5)
}

// crew is everybody aboard.
func crew() []reports.Client {
	return []reports.Client{torrec(), avelin(), hedra(), jaskel(), selvane(), lindra(), pavor(), ondrel(), maruna()}
}

// ride is an invented interval session, second by second: its shape is what matters here.
func ride() (record.Recording, heartrate.Series, workout.Workout) {
	const seconds = 34 * 60
	s := heartrate.Series{Source: workout.Strap}
	level, v := 96.0, 92.0
	rec := recordingOf(facts("Avelin", "1988-03-14", 7), 77, done{day: asOf - 2, sport: workout.Walking, minutes: 34, strap: true})
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
	m.Drift = physiology.Drift{Basis: physiology.Basis{Method: "30-s means", Clause: "the load changes: no 20 minutes at one speed"}}
	m.Load = physiology.Load{Banister: ptr(31.4)}
	m.Remarks = []workout.Fact{{Code: "gap", Text: "heart rate was lost for 43 s at 18:20"}}
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
		switch e := m.Edges.BPM; {
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
	top, mean, least := heartrateFigures(s.BPM)
	m.HeartRate.Peak, m.HeartRate.Mean, m.HeartRate.Min = &top, &mean, &least
	m.HeartRate.Gap, m.HeartRate.Elapsed, m.HeartRate.Coverage = 43, seconds, ptr(1-43.0/seconds)
	w := rec.Workout
	w.Seconds = seconds
	rec.Workout.Seconds, rec.Name = seconds, "quay-intervals.fit"
	return rec, s, w
}

func heartrateFigures(bpm []float64) (top, mean, least float64) {
	n := 0.0
	least = math.Inf(1)
	for _, v := range bpm {
		if !math.IsNaN(v) {
			top, least, mean, n = max(top, v), min(least, v), mean+v, n+1
		}
	}
	return top, mean / n, least
}
