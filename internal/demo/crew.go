package demo

import (
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// The demo's people are the crew of the Grey Skerry, the ferry of the island of Halmarey, and their
// trainer Corvane. Island, ferry and everybody aboard are invented. Nothing here sets a verdict:
// each member has a body, a sensor and habits, and the verdict follows from what they record.

// trainer makes the decisions in the demo.
const trainer = "Corvane"

// crewMember is one invented client: the facts, the body, and the habits from week to week.
type crewMember struct {
	Facts record.Client
	Weeks int // the last one ends on Day

	Mode     workout.Mode
	Body     simulate.Athlete // in the first week
	Progress simulate.Progress
	Seed     uint64

	Days    []int // of training, 0 is Monday
	Minutes []int // a session, by week; the last goes on. 0: as prescribed.
	// Pace is the heart rate that the usual load led to in the first week; the load is then kept. 0:
	// the load follows the prescribed heart rates.
	Pace     float64
	Record   simulate.Options // how sessions are done and recorded, where weeks do not differ
	Format   string           // of the files: fit, tcx, gpx or csv; csv names no sport
	Pack     string           // "", "gz" or "zip" (one archive a week)
	Answers  int              // sessions of a week for which the client answers the trainer's questions
	Enjoys   int              // 1-5
	Mornings float64          // resting heart rate in the first week, reported on three mornings of each week; 0: not reported

	// Change alters an outing where something was different; weeks count from 1.
	Change func(week int, o *outing)
	// Says are further notes of a week. Dates are those of the outings.
	Says func(week int, ends workout.Date) []record.Note
	// Decides are the trainer's decisions at the end of a week.
	Decides map[int]record.Decision
}

// outing is one session as it was done and recorded.
type outing struct {
	Week, N int // the week and the session within it, from 0
	Date    workout.Date
	Pace    float64 // see crewMember
	Minute  int     // of the day
	Plan    workout.Plan
	Options simulate.Options
	Missed  bool
	Asked   bool
	Format  string
	Late    int    // weeks by which the file comes late
	Twin    string // format of a second recording by a wrist device; "" none
	Told    bool   // reported, not recorded
}

// ends is the last day of week i, counted from 0.
func (m crewMember) ends(i int) workout.Date { return Day - workout.Date(7*(m.Weeks-1-i)) }

func screened(on string, active bool) record.Screening {
	return record.Screening{On: workout.MustDate(on), Active: active}
}

func rest(bpm float64) []record.ZoneSet { return []record.ZoneSet{{HRRest: bpm}} }

// body is a beginner's with a few changes.
func body(rest, maximum float64, change func(a *simulate.Athlete)) simulate.Athlete {
	a := simulate.Beginner(rest, maximum)
	change(&a)
	return a
}

// crew lists the demo's clients. The comment of each says what the story is.
func crew() []crewMember {
	strap, wrist := workout.Strap, workout.Wrist
	members := []crewMember{
		{
			// Started from nothing on the treadmill in the crew's mess, built up minute by minute.
			Facts: record.Client{
				Name: "Avelin", Born: workout.MustDate("1988-03-14"), Sex: physiology.Female, HeightCM: 168, MassKG: 71,
				Modes: []workout.Mode{workout.Walk}, Sensor: strap, Zones: rest(70), Screening: screened("2026-07-24", false),
				Goal: "climb the stairs from the engine room without stopping", Days: 3, Minutes: 40,
				Equipment: record.AllUnderstood("treadmill"), Enjoys: record.AllUnderstood("walking to the radio"),
			},
			Weeks: 10, Mode: workout.Walk, Seed: 101, Body: simulate.Beginner(70, 185), Progress: simulate.Progress{Rest: 0.135, Gain: 0.010, Fall: 0.06, Drift: 0.03},
			Days: []int{0, 2, 5}, Minutes: []int{18, 20, 22, 24, 24, 24, 28, 32, 36, 36}, Pace: 128,
			Record: simulate.Options{Place: workout.Indoor, Sensor: strap, Tail: 20, Laps: true},
			Format: "fit", Answers: 2, Enjoys: 4, Mornings: 70,
		},
		{
			// Goes out once or twice a week and then runs as if the ferry were leaving; his maximum lies 9 bpm
			// above the age formula's, which the harbour run shows.
			Facts: record.Client{
				Name: "Torrec", Born: workout.MustDate("1979-11-02"), Sex: physiology.Male, HeightCM: 181, MassKG: 92,
				Modes: []workout.Mode{workout.Run}, Sensor: strap, Zones: rest(66), Screening: screened("2026-07-10", true),
				Goal: "win the harbour run", Days: 4, Minutes: 45, Equipment: record.AllUnderstood("running shoes"), Enjoys: record.AllUnderstood("the cliff path"),
			},
			Weeks: 12, Mode: workout.Run, Seed: 202, Body: simulate.Beginner(66, 190), Progress: simulate.Progress{Gain: 0.002, Fall: -0.008},
			Days: []int{1, 5}, Minutes: []int{35}, Record: simulate.Options{Place: workout.Outdoor, Sensor: strap, Bias: 26, Tail: 60, Laps: true},
			Format: "tcx", Answers: 2, Enjoys: 4,
			Change: func(week int, o *outing) {
				o.Missed = o.N == 1 && week%3 != 1
				if week == 8 && o.N == 0 {
					o.Late = 2
				}
				if week == 12 { // the harbour run
					o.Options.Bias = 70
				}
			},
			// The recording of week 8 is then still on his old watch.
			Decides: map[int]record.Decision{
				9: {Act: record.DoHold, Because: "twice a week to start with, and slow enough to talk"},
			},
		},
		{
			// Six weeks of base, then two interval sessions a week, as prescribed; a week off in the dry dock.
			Facts: record.Client{
				Name: "Maruna", Born: workout.MustDate("1991-06-21"), Sex: physiology.Female, HeightCM: 172, MassKG: 66,
				Modes: []workout.Mode{workout.Run}, Sensor: strap, Zones: rest(60), Screening: screened("2026-06-19", true),
				Goal: "run round the island", Days: 4, Minutes: 45, Equipment: record.AllUnderstood("running shoes"), Enjoys: record.AllUnderstood("mornings"),
			},
			Weeks: 15, Mode: workout.Run, Seed: 303, Progress: simulate.Usual(),
			Body: body(60, 190, func(a *simulate.Athlete) { a.Drift = 0.5; a.Rise = 45; a.Feels = -0.6 }),
			Days: []int{0, 3, 5}, Minutes: []int{22, 24, 36}, Record: simulate.Options{Place: workout.Outdoor, Sensor: strap, Tail: 30, Laps: true},
			Format: "fit", Answers: 3, Enjoys: 5, Mornings: 60,
			Change: func(week int, o *outing) {
				o.Missed = week == 11
				if week == 13 && o.N == 2 {
					o.Twin = "tcx"
				}
			},
			Decides: map[int]record.Decision{
				6:  {Act: record.DoAdvance, Because: "steady for six weeks, talks easily, heart rate settles"},
				10: {Act: record.DoPause, To: Day - 28, Because: "the ferry is in dry dock"},
			},
		},
		{
			// Wanted intervals before the base was there.
			Facts: record.Client{
				Name: "Jaskel", Born: workout.MustDate("1984-01-30"), Sex: physiology.Male, HeightCM: 177, MassKG: 96,
				Modes: []workout.Mode{workout.Bike}, Sensor: strap, Zones: rest(74), Screening: screened("2026-07-17", false),
				Goal: "lose the belly before the winter timetable", Days: 3, Minutes: 40, Equipment: record.AllUnderstood("exercise bike"),
			},
			Weeks: 10, Mode: workout.Bike, Seed: 404, Progress: simulate.Progress{Gain: 0.003},
			Body: body(74, 174, func(a *simulate.Athlete) { a.Drift = 3.2; a.Feels = 0.8; a.Fast, a.Slow = 40, 190 }),
			Days: []int{1, 4}, Minutes: []int{25, 25, 30}, Record: simulate.Options{Place: workout.Indoor, Sensor: strap, Tail: 30, Laps: true},
			Format: "tcx", Pack: "gz", Answers: 2, Enjoys: 3,
			Change: func(week int, o *outing) {
				o.Missed = week < 6 && o.N == 1 && week%2 == 0
				if week > 7 { // the intervals
					o.Options.Bias, o.Options.Skip, o.Options.DayRPE = 12, 1, 2
				}
			},
			Decides: map[int]record.Decision{
				7: {Act: record.DoAdvance, Because: "asks for intervals every week; let's try"},
			},
		},
		{
			// Was ready, but double shifts began: the same rowing feels harder and sleep is short.
			Facts: record.Client{
				Name: "Lindra", Born: workout.MustDate("1993-09-05"), Sex: physiology.Female, HeightCM: 165, MassKG: 63,
				Modes: []workout.Mode{workout.Row}, Sensor: strap, Zones: rest(62), Screening: screened("2026-07-24", true),
				Goal: "row the pilot gig at the regatta", Days: 3, Minutes: 40, Equipment: record.AllUnderstood("rowing machine"), Enjoys: record.AllUnderstood("rowing"),
			},
			Weeks: 10, Mode: workout.Row, Seed: 505, Progress: simulate.Progress{Rest: 0.1, Gain: 0.004, Fall: 0.005, Drift: 0.02},
			Body: simulate.Beginner(62, 186),
			Days: []int{0, 2, 5}, Minutes: []int{20, 22, 24, 24, 26, 30, 34, 36, 36, 0}, Pace: 124,
			Record: simulate.Options{Place: workout.Indoor, Sensor: strap, Tail: 30, Laps: true},
			Format: "fit", Answers: 3, Enjoys: 4, Mornings: 62,
			Change: func(week int, o *outing) {
				if week > 8 {
					o.Options.DayBPM, o.Options.DayRPE = 11, 3
				}
			},
			Says: func(week int, ends workout.Date) []record.Note {
				if week <= 8 {
					return nil
				}
				return []record.Note{
					{Date: ends - 5, Symptoms: []signs.Sign{"poor-sleep"}, Text: "Double shifts, slept five hours."},
					{Date: ends - 2, Symptoms: []signs.Sign{"poor-sleep"}},
				}
			},
			Decides: map[int]record.Decision{
				8: {Act: record.DoHold, Because: "double shifts begin on Monday; intervals wait until they are over"},
				9: {Act: record.DoEase, Because: "sleeps badly and everything feels harder"},
			},
		},
		{
			// Gets fitter fast; the heart rate drops faster every week, which is no cause for alarm.
			Facts: record.Client{
				Name: "Ondrel", Born: workout.MustDate("1986-12-11"), Sex: physiology.Male, HeightCM: 184, MassKG: 83,
				Modes: []workout.Mode{workout.Bike}, Sensor: strap, Zones: rest(64), Screening: screened("2026-07-10", true),
				Goal: "ride to the lighthouse and back", Days: 4, Minutes: 45, Equipment: record.AllUnderstood("exercise bike"), Enjoys: record.AllUnderstood("riding"),
			},
			Weeks: 10, Mode: workout.Bike, Seed: 607, Progress: simulate.Progress{Rest: 0.3, Gain: 0.03, Fall: 0.08, Drift: 0.05},
			Body: body(64, 178, func(a *simulate.Athlete) { a.Fast, a.Slow, a.FastShare, a.Feels = 35, 170, 0.35, -0.4 }),
			Days: []int{0, 2, 4}, Minutes: []int{20, 22, 24, 24, 24, 24, 28, 34, 36, 36}, Pace: 124,
			Record: simulate.Options{Place: workout.Indoor, Sensor: strap, Tail: 30, Laps: true},
			Format: "fit", Pack: "zip", Answers: 2, Enjoys: 5, Mornings: 64,
			Change: func(_ int, o *outing) {
				if o.N > 0 { // on Mondays the usual load, otherwise by heart rate
					o.Pace = 0
				}
			},
		},
		{
			// A medicine slows the heart: heart rate says nothing, effort and talk do.
			Facts: record.Client{
				Name: "Selvane", Born: workout.MustDate("1964-05-08"), Sex: physiology.Female, HeightCM: 163, MassKG: 74,
				Modes: []workout.Mode{workout.Walk}, Sensor: strap, Screening: record.Screening{On: workout.MustDate("2026-07-03"), Disease: "heart"},
				Medicine: record.Slows, DoseChange: workout.MustDate("2026-03-02"), Clearance: workout.MustDate("2026-07-02"),
				Goal: "walk to the chapel with the grandchildren", Days: 4, Minutes: 40, Enjoys: record.AllUnderstood("company"),
			},
			Weeks: 12, Mode: workout.Walk, Seed: 707, Progress: simulate.Usual(),
			Body: body(56, 128, func(a *simulate.Athlete) { a.Gain[workout.Walk] = 19; a.Feels = -0.5 }),
			Days: []int{0, 2, 4}, Minutes: []int{15, 18, 20, 20, 22, 22, 22, 24, 26, 28, 30, 32},
			Record: simulate.Options{Place: workout.Outdoor, Sensor: strap, Tail: 30},
			Format: "gpx", Answers: 3, Enjoys: 5,
			Change: func(week int, o *outing) {
				o.Told = week == 5 && o.N == 1
				if week > 6 { // a new telephone, another export
					o.Format = "csv"
				}
			},
		},
		{
			// A wrist device that stops at the garden gate, and no answers.
			Facts: record.Client{
				Name: "Pavor", Born: workout.MustDate("1971-08-19"), Sex: physiology.Male, HeightCM: 175, MassKG: 88,
				Modes: []workout.Mode{workout.Walk}, Sensor: wrist, Zones: rest(68), Screening: screened("2026-07-24", true),
				Goal: "keep up with the dog", Days: 4, Minutes: 35, Enjoys: record.AllUnderstood("the dog"),
			},
			Weeks: 10, Mode: workout.Walk, Seed: 808, Progress: simulate.Usual(), Body: simulate.Beginner(68, 177),
			Days: []int{0, 2, 5}, Minutes: []int{30, 30, 32}, Record: simulate.Options{Place: workout.Outdoor, Sensor: wrist, Sparse: true, Tail: -300},
			Format: "gpx", Enjoys: 4,
			Change: func(week int, o *outing) { o.Asked = week == 3 && o.N == 0 },
		},
		{
			// Everything was fine until the tightness on the pier.
			Facts: record.Client{
				Name: "Hedra", Born: workout.MustDate("1975-02-27"), Sex: physiology.Female, HeightCM: 170, MassKG: 77,
				Modes: []workout.Mode{workout.Run, workout.Walk}, Sensor: strap, Zones: rest(67), Screening: screened("2026-07-24", true),
				Goal: "five kilometres without walking", Days: 3, Minutes: 40, Equipment: record.AllUnderstood("running shoes"), Enjoys: record.AllUnderstood("the pier"),
			},
			Weeks: 10, Mode: workout.Walk, Seed: 909, Progress: simulate.Usual(), Body: body(67, 180, func(a *simulate.Athlete) { a.Feels = -0.4 }),
			Days: []int{1, 3, 6}, Minutes: []int{18, 20, 22, 22, 23, 26, 28, 32, 36}, Record: simulate.Options{Place: workout.Outdoor, Sensor: strap, Every: 5, Tail: 60},
			Format: "fit", Answers: 2, Enjoys: 4,
			Says: func(week int, ends workout.Date) []record.Note {
				if week != 10 {
					return nil
				}
				return []record.Note{{Date: ends - 3, Symptoms: []signs.Sign{"chest"}, Text: "Tight chest on the pier, gone after standing still."}}
			},
			Decides: map[int]record.Decision{
				9: {Act: record.DoHold, Because: "ready, but wants one more week on the flat pier first"},
			},
		},
	}
	for i := range members {
		m := &members[i]
		// The first talk is on the Sunday before the first week.
		m.Facts.Stage, m.Facts.Since, m.Facts.State = 1, m.ends(0)-6, record.Active
	}
	return members
}
