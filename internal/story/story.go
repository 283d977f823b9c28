// Package story builds the records of invented deckhands of an island ferry in a few words, for tests
// of packages above it.
package story

import (
	"fmt"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Story builds the record of one deckhand of an invented island ferry: weeks of sessions with the
// measurements that a test wants. Unless changed it is Ines, who was active before and does three
// good sessions a week with a chest strap in stage 1.
type Story struct {
	Client record.Client
	Weeks  int
	Days   []int // days of the week with a session, 0 is the first
	Plans  bool  // a prescription is stored for every week
	edit   func(i int, d *Done)
	late   []func(*record.Record)
	ahead  int // days after the last week on which the story is assessed
}

// Done is one session as the builder writes it down.
type Done struct {
	Day     workout.Date
	Hour    int
	Minutes int
	Sport   workout.Sport
	Place   workout.Place
	Sensor  workout.Sensor
	Skip    bool

	Below   int // percent of the main part below the top of zone 1
	Drift   *float64
	Check   *float64
	Fall    *float64
	End     float64
	Still   bool
	Effort  *float64
	Load    float64
	Gain    float64 // usual rise of heart rate for the whole load, in bpm
	Bouts   int
	Bout    int     // length of a bout in seconds
	Creep   float64 // bpm from the second bout to the last
	Stays   int     // bouts after which the heart rate does not come back into zone 1
	NoHeart bool

	Rpe       *workout.RPE
	Talk      record.Talk
	Enjoyment int
	Heat      *float64
	NoFan     bool
	Resting   float64
	symptoms  []signs.Sign
}

// Began is the first day of every story, a Monday.
var Began = workout.MustDate("2026-09-07")

func Num(v float64) *float64        { return &v }
func RPE20(v float64) *workout.RPE  { return &workout.RPE{Value: v, Scale: 20} }
func RPE10(v float64) *workout.RPE  { return &workout.RPE{Value: v, Scale: 10} }
func Day(n int) workout.Date        { return Began + workout.Date(n) }
func Ferry(weeks int) *Story        { return New(weeks, 1) }
func (s *Story) Last() workout.Date { return Day(7*s.Weeks - 1 + s.ahead) }
func (s *Story) Each(f func(int, *Done)) *Story {
	before := s.edit
	s.edit = func(i int, d *Done) {
		if before != nil {
			before(i, d)
		}
		f(i, d)
	}
	return s
}

// Later moves the day of the assessment; before the end of the last week with a negative number.
func (s *Story) Later(days int) *Story {
	s.ahead += days
	return s
}

// Then changes the finished record.
func (s *Story) Then(f func(*record.Record)) *Story {
	s.late = append(s.late, f)
	return s
}

func (s *Story) Who(f func(*record.Client)) *Story {
	f(&s.Client)
	return s
}

func New(weeks, stage int) *Story {
	return &Story{
		Weeks: weeks, Days: []int{0, 2, 4}, Plans: true,
		Client: record.Client{
			Name: "Ines", Born: workout.MustDate("1988-03-02"), Sex: physiology.Female, Stage: stage, Since: Began,
			State: record.Active, Modes: []workout.Mode{workout.Run, workout.Walk},
			Zones:     []record.ZoneSet{{HRMax: map[workout.Mode]float64{"": 185}}},
			Screening: record.Screening{On: Began - 3, Active: true, Disease: "none"},
		},
	}
}

// Intervals is a story in stage 2: two interval sessions of 4 x 1:4 min a week and a steady one.
func Intervals(weeks int) *Story {
	return New(weeks, 2).Each(func(i int, d *Done) {
		if i%3 != 1 {
			d.Bouts, d.Bout, d.Rpe = 4, 60, RPE20(15)
			if weeks > 3 && i >= 3*(weeks-2) { // the last two weeks have longer ones
				d.Bout = 120
			}
		}
	})
}

func (s *Story) Record() record.Record {
	r := record.Record{Client: s.Client}
	n := 0
	for w := range s.Weeks {
		for _, d := range s.Days {
			x := Done{
				Day: Day(7*w + d), Hour: 7, Minutes: 35, Sport: workout.Running, Place: workout.Outdoor, Sensor: workout.Strap,
				Below: 95, Drift: Num(1), Fall: Num(30), End: 125, Effort: Num(128), Load: 2.4,
				Rpe: RPE20(12), Talk: record.TalkComfortable, Enjoyment: 4,
			}
			if s.edit != nil {
				s.edit(n, &x)
			}
			n++
			if !x.Skip {
				x.Enter(&r)
			}
		}
		if s.Plans {
			p := record.Prescription{
				Client: s.Client.Name, From: Day(7 * w), To: Day(7*w + 6), Made: Day(7*w) - 1, Stage: s.Client.Stage,
				Sessions: len(s.Days), Minutes: 35, Targets: []record.Target{},
			}
			if s.Client.Stage > 1 {
				p.Intervals = &record.Intervals{Count: 2, Bouts: 4, Work: 60, Rest: 240, Feel: workout.Brisk}
				if s.Weeks > 3 && w >= s.Weeks-2 {
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

// Enter adds the recording of a session and the note of its day.
func (d Done) Enter(r *record.Record) {
	seconds := d.Minutes * 60
	start := d.Day.Time().Add(time.Duration(d.Hour) * time.Hour)
	m := physiology.Measurements{
		HeartRate: physiology.Summary{Usable: !d.NoHeart, Source: d.Sensor, Elapsed: seconds},
		Main:      physiology.MainPart{Span: workout.Span{From: 300, To: seconds - 300}},
	}
	if !d.NoHeart {
		m.Main.PerBPM = make(physiology.Histogram, physiology.Highest-physiology.Lowest+1)
		m.Main.PerBPM[130-physiology.Lowest] = 10 * d.Below
		m.Main.PerBPM[150-physiology.Lowest] = 10 * (100 - d.Below)
		if d.Drift != nil {
			m.Drift = physiology.Drift{Basis: physiology.Basis{Enough: true}, Slope: *d.Drift, Low: *d.Drift - 0.5, High: *d.Drift + 0.5}
		}
		if d.Check != nil {
			m.Check = &physiology.Check{Basis: physiology.Basis{Enough: true}, Rise: *d.Check, Load: 2.4, Unit: "m/s"}
		}
		if d.Effort != nil {
			m.SameEffort = &physiology.SameEffort{Basis: physiology.Basis{Enough: true}, Mean: *d.Effort, Load: d.Load, Unit: "m/s", Gain: d.Gain}
		}
		if d.Fall != nil {
			x := physiology.Recovery{Stop: seconds - 200, End: Num(d.End), Drop60: d.Fall, Activity: physiology.Moving, Basis: physiology.Basis{Enough: true}}
			if d.Still {
				x.Activity = physiology.Still
			}
			m.Recoveries = []physiology.Recovery{x}
		}
	}
	for i := range d.Bouts {
		b := physiology.Bout{Span: workout.Span{From: 300 + 300*i, To: 300 + 300*i + d.Bout}, By: "speed"}
		if !d.NoHeart {
			b.End, b.Low = Num(155), Num(120)
			if i == 0 {
				b.End = Num(140) // the first bout starts from a lower heart rate
			}
			if i == d.Bouts-1 {
				b.End = Num(155 + d.Creep)
			}
			if i < d.Stays {
				b.Low = Num(145)
			}
		}
		m.Bouts = append(m.Bouts, b)
	}
	id := fmt.Sprintf("%s-%d#0", d.Day, d.Hour)
	r.Recordings = append(r.Recordings, record.Recording{
		ID: id, File: workout.DigestOf([]byte(id)), Name: id + ".fit", Format: "fit", Client: r.Client.Name, Received: d.Day, Date: d.Day,
		Workout:  workout.Workout{Sport: d.Sport, Place: d.Place, Start: start, Seconds: seconds, Sensor: d.Sensor},
		Measured: m,
	})
	r.Notes = append(r.Notes, record.Note{
		ID: "note " + id, Date: d.Day, Entered: d.Day, RPE: d.Rpe, Talk: d.Talk, Enjoyment: d.Enjoyment, HeatC: d.Heat, NoFan: d.NoFan,
		HRRest: d.Resting, Symptoms: d.symptoms,
	})
}

// Note adds a note on one day.
func Note(n int, symptoms ...signs.Sign) func(*record.Record) {
	return func(r *record.Record) {
		r.Notes = append(r.Notes, record.Note{Date: Day(n), Entered: Day(n), Symptoms: symptoms})
	}
}

// Mornings adds resting heart rates on days.
func Mornings(bpm float64, days ...int) func(*record.Record) {
	return func(r *record.Record) {
		for _, d := range days {
			r.Notes = append(r.Notes, record.Note{Date: Day(d), Entered: Day(d), HRRest: bpm})
		}
	}
}

// Decided adds a decision that holds from a day.
func Decided(act record.Act, from, stage int) func(*record.Record) {
	return func(r *record.Record) {
		r.Decisions = append(r.Decisions, record.Decision{Client: r.Client.Name, Entered: Day(from), From: Day(from), Act: act, Stage: stage, Because: "the trainer said so", By: "Marit"})
	}
}

// Paused adds a pause of whole days.
func Paused(from, to int) func(*record.Record) {
	return func(r *record.Record) {
		r.Decisions = append(r.Decisions, record.Decision{Client: r.Client.Name, Entered: Day(from), From: Day(from), To: Day(to), Act: record.DoPause, Stage: r.Client.Stage})
	}
}
