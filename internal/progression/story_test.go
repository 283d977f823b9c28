package progression_test

import (
	"fmt"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/progression"
	"nextrung/internal/workout"
)

// story builds the record of one deckhand of an invented island ferry: weeks of sessions with the
// measurements that a test wants. Unless changed it is Ines, who was active before and does three
// good sessions a week with a chest strap in stage 1.
type story struct {
	client progression.Client
	weeks  int
	days   []int // days of the week with a session, 0 is the first
	plans  bool  // a prescription is stored for every week
	edit   func(i int, d *done)
	late   []func(*progression.Record)
	ahead  int // days after the last week on which the story is assessed
}

// done is one session as the builder writes it down.
type done struct {
	day     workout.Date
	hour    int
	minutes int
	sport   workout.Sport
	place   workout.Place
	sensor  workout.Sensor
	skip    bool

	below   int // percent of the main part below the top of zone 1
	drift   *float64
	check   *float64
	fall    *float64
	end     float64
	still   bool
	effort  *float64
	load    float64
	gain    float64 // usual rise of heart rate for the whole load, in bpm
	bouts   int
	bout    int     // length of a bout in seconds
	creep   float64 // bpm from the second bout to the last
	stays   int     // bouts after which the heart rate does not come back into zone 1
	noHeart bool

	rpe       *workout.RPE
	talk      progression.Talk
	enjoyment int
	heat      *float64
	noFan     bool
	resting   float64
	symptoms  []progression.Symptom
}

// began is the first day of every story, a Monday.
var began = workout.MustDate("2026-09-07")

func num(v float64) *float64        { return &v }
func rpe20(v float64) *workout.RPE  { return &workout.RPE{Value: v, Scale: 20} }
func rpe10(v float64) *workout.RPE  { return &workout.RPE{Value: v, Scale: 10} }
func day(n int) workout.Date        { return began + workout.Date(n) }
func ferry(weeks int) *story        { return newStory(weeks, 1) }
func (s *story) last() workout.Date { return day(7*s.weeks - 1 + s.ahead) }
func (s *story) each(f func(int, *done)) *story {
	before := s.edit
	s.edit = func(i int, d *done) {
		if before != nil {
			before(i, d)
		}
		f(i, d)
	}
	return s
}

// later moves the day of the assessment; before the end of the last week with a negative number.
func (s *story) later(days int) *story {
	s.ahead += days
	return s
}

// then changes the finished record.
func (s *story) then(f func(*progression.Record)) *story {
	s.late = append(s.late, f)
	return s
}

func (s *story) who(f func(*progression.Client)) *story {
	f(&s.client)
	return s
}

func newStory(weeks, stage int) *story {
	return &story{
		weeks: weeks, days: []int{0, 2, 4}, plans: true,
		client: progression.Client{
			Name: "Ines", Born: workout.MustDate("1988-03-02"), Sex: physiology.Female, Stage: stage, Since: began,
			State: progression.Active, Modes: []workout.Mode{workout.Run, workout.Walk},
			Zones:     []progression.ZoneSet{{HRMax: map[workout.Mode]float64{"": 185}}},
			Screening: progression.Screening{On: began - 3, Active: true, Disease: "none"},
		},
	}
}

// intervals is a story in stage 2: two interval sessions of 4 x 1:4 min a week and a steady one.
func intervals(weeks int) *story {
	return newStory(weeks, 2).each(func(i int, d *done) {
		if i%3 != 1 {
			d.bouts, d.bout, d.rpe = 4, 60, rpe20(15)
			if weeks > 3 && i >= 3*(weeks-2) { // the last two weeks have longer ones
				d.bout = 120
			}
		}
	})
}

func (s *story) record() progression.Record {
	r := progression.Record{Client: s.client}
	n := 0
	for w := range s.weeks {
		for _, d := range s.days {
			x := done{
				day: day(7*w + d), hour: 7, minutes: 35, sport: workout.Running, place: workout.Outdoor, sensor: workout.Strap,
				below: 95, drift: num(1), fall: num(30), end: 125, effort: num(128), load: 2.4,
				rpe: rpe20(12), talk: progression.TalkComfortable, enjoyment: 4,
			}
			if s.edit != nil {
				s.edit(n, &x)
			}
			n++
			if !x.skip {
				x.enter(&r)
			}
		}
		if s.plans {
			p := progression.Prescription{
				Client: s.client.Name, From: day(7 * w), To: day(7*w + 6), Made: day(7*w) - 1, Stage: s.client.Stage,
				Sessions: len(s.days), Minutes: 35, Targets: []progression.Target{},
			}
			if s.client.Stage > 1 {
				p.Intervals = &progression.Intervals{Count: 2, Bouts: 4, Work: 60, Rest: 240, Feel: workout.Brisk}
				if s.weeks > 3 && w >= s.weeks-2 {
					p.Intervals.Work, p.Intervals.Rest = 120, 120
				}
			}
			r.Prescriptions = append(r.Prescriptions, p)
		}
	}
	for _, f := range s.late {
		f(&r)
	}
	return r
}

// enter adds the recording of a session and the note of its day.
func (d done) enter(r *progression.Record) {
	seconds := d.minutes * 60
	start := d.day.Time().Add(time.Duration(d.hour) * time.Hour)
	m := physiology.Measurements{
		HeartRate: physiology.Summary{Usable: !d.noHeart, Source: d.sensor, Elapsed: seconds},
		Main:      physiology.MainPart{Span: workout.Span{From: 300, To: seconds - 300}},
	}
	if !d.noHeart {
		m.Main.PerBPM = make(physiology.Histogram, physiology.Highest-physiology.Lowest+1)
		m.Main.PerBPM[130-physiology.Lowest] = 10 * d.below
		m.Main.PerBPM[150-physiology.Lowest] = 10 * (100 - d.below)
		if d.drift != nil {
			m.Drift = physiology.Drift{Basis: physiology.Basis{Enough: true}, Slope: *d.drift, Low: *d.drift - 0.5, High: *d.drift + 0.5}
		}
		if d.check != nil {
			m.Check = &physiology.Check{Basis: physiology.Basis{Enough: true}, Rise: *d.check, Load: 2.4, Unit: "m/s"}
		}
		if d.effort != nil {
			m.SameEffort = &physiology.SameEffort{Basis: physiology.Basis{Enough: true}, Mean: *d.effort, Load: d.load, Unit: "m/s", Gain: d.gain}
		}
		if d.fall != nil {
			x := physiology.Recovery{Stop: seconds - 200, End: num(d.end), Drop60: d.fall, Activity: physiology.Moving, Basis: physiology.Basis{Enough: true}}
			if d.still {
				x.Activity = physiology.Still
			}
			m.Recoveries = []physiology.Recovery{x}
		}
	}
	for i := range d.bouts {
		b := physiology.Bout{Span: workout.Span{From: 300 + 300*i, To: 300 + 300*i + d.bout}, By: "speed"}
		if !d.noHeart {
			b.End, b.Low = num(155), num(120)
			if i == 0 {
				b.End = num(140) // the first bout starts from a lower heart rate
			}
			if i == d.bouts-1 {
				b.End = num(155 + d.creep)
			}
			if i < d.stays {
				b.Low = num(145)
			}
		}
		m.Bouts = append(m.Bouts, b)
	}
	id := fmt.Sprintf("%s-%d#0", d.day, d.hour)
	r.Recordings = append(r.Recordings, progression.Recording{
		ID: id, File: workout.DigestOf([]byte(id)), Name: id + ".fit", Format: "fit", Client: r.Client.Name, Received: d.day, Date: d.day,
		Workout:  workout.Workout{Sport: d.sport, Place: d.place, Start: start, Seconds: seconds, Sensor: d.sensor},
		Measured: m,
	})
	r.Notes = append(r.Notes, progression.Note{
		ID: "note " + id, Date: d.day, Entered: d.day, RPE: d.rpe, Talk: d.talk, Enjoyment: d.enjoyment, HeatC: d.heat, NoFan: d.noFan,
		HRRest: d.resting, Symptoms: d.symptoms,
	})
}

// note adds a note on one day.
func note(n int, symptoms ...progression.Symptom) func(*progression.Record) {
	return func(r *progression.Record) {
		r.Notes = append(r.Notes, progression.Note{Date: day(n), Entered: day(n), Symptoms: symptoms})
	}
}

// mornings adds resting heart rates on days.
func mornings(bpm float64, days ...int) func(*progression.Record) {
	return func(r *progression.Record) {
		for _, d := range days {
			r.Notes = append(r.Notes, progression.Note{Date: day(d), Entered: day(d), HRRest: bpm})
		}
	}
}

// decided adds a decision that holds from a day.
func decided(act progression.Act, from, stage int) func(*progression.Record) {
	return func(r *progression.Record) {
		r.Decisions = append(r.Decisions, progression.Decision{Client: r.Client.Name, Entered: day(from), From: day(from), Act: act, Stage: stage, Because: "the trainer said so", By: "Marit"})
	}
}

// paused adds a pause of whole days.
func paused(from, to int) func(*progression.Record) {
	return func(r *progression.Record) {
		r.Decisions = append(r.Decisions, progression.Decision{Client: r.Client.Name, Entered: day(from), From: day(from), To: day(to), Act: progression.DoPause, Stage: r.Client.Stage})
	}
}

// assess runs the default policy at the end of the story.
func (s *story) assess() progression.Assessment {
	return policy.Assess(s.last(), s.record())
}

// reason finds a rule's reason.
func reason(a progression.Assessment, rule string) (progression.Reason, bool) {
	for _, r := range a.Reasons {
		if r.Rule == rule {
			return r, true
		}
	}
	return progression.Reason{}, false
}

// met spells a verdict on a rule.
func met(r progression.Reason) string {
	switch {
	case r.Met == nil:
		return "untold"
	case *r.Met:
		return "met"
	}
	return "unmet"
}

// policy is the default policy, which every story is assessed by.
var policy = progression.DefaultPolicy()
