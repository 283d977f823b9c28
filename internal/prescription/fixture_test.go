package prescription_test

import (
	"fmt"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// made is the day on which every week of these tests is prescribed, a Sunday.
var made = workout.MustDate("2026-10-04")

// deckhand is an invented client of the ferry who may train, with a measured maximum.
func deckhand() record.Client {
	return record.Client{
		Name: "Ruvan", Born: workout.MustDate("1988-03-02"), Sex: physiology.Male, Stage: 1, Since: made - 41, State: record.Active,
		Modes: []workout.Mode{workout.Walk}, Zones: []record.ZoneSet{{HRMax: map[workout.Mode]float64{"": 185}}},
		Screening: record.Screening{On: made - 50, Disease: "none"},
	}
}

// steadyWeek is a prescription of so many sessions of 36 min in some modes.
func steadyWeek(sessions int, modes ...workout.Mode) record.Prescription {
	p := record.Prescription{Client: "Ruvan", From: made + 1, To: made + 7, Made: made, Stage: 1, Sessions: sessions, Minutes: 36}
	for _, m := range modes {
		p.Targets = append(p.Targets, record.Target{Mode: m, Low: 119, High: 142, Feel: workout.Comfortable})
	}
	if len(modes) == 0 {
		p.Targets = []record.Target{{Mode: workout.Walk, Low: 119, High: 142, Feel: workout.Comfortable}}
	}
	return p
}

// intervalWeek has interval sessions of 4 x 1:3 min among them.
func intervalWeek(sessions, hard int) record.Prescription {
	p := steadyWeek(sessions)
	p.Stage = 2
	p.Intervals = &record.Intervals{Count: hard, Bouts: 4, Work: 60, Rest: 180, Feel: workout.Brisk, High: 160}
	return p
}

// inStage2 puts a record into stage 2, with an interval week on record before.
func inStage2(r *record.Record) {
	r.Client.Stage = 2
	p := intervalWeek(3, 2)
	p.From, p.To, p.Made = made-6, made, made-7
	r.Prescriptions = append(r.Prescriptions, p)
}

// did adds a session of half an hour, so many days before the prescription.
func did(r *record.Record, daysBefore int, sport workout.Sport, bouts int) {
	on := made - workout.Date(daysBefore)
	x := record.Recording{
		ID: fmt.Sprintf("%s-%s#0", on, sport), Client: r.Client.Name, Received: on, Date: on, Format: "fit",
		Workout: workout.Workout{Sport: sport, Start: on.Time().Add(7 * time.Hour), Seconds: 1800},
	}
	for i := range bouts {
		x.Measured.Bouts = append(x.Measured.Bouts, physiology.Bout{Span: workout.Span{From: 300 + 240*i, To: 360 + 240*i}, By: "laps"})
	}
	r.Recordings = append(r.Recordings, x)
}

func lay(p record.Prescription, r record.Record) prescription.Week {
	return prescription.Lay(p, r, record.Assessment{Client: r.Client.Name, AsOf: made})
}

// hardDays are the days of the interval sessions.
func hardDays(w prescription.Week) []workout.Date {
	var out []workout.Date
	for _, s := range w.Sessions {
		if s.Kind == prescription.Intervals {
			out = append(out, s.Day)
		}
	}
	return out
}

// named are the days of all sessions, as "mon wed fri".
func named(w prescription.Week) string {
	out := ""
	for _, s := range w.Sessions {
		name := string(s.Day.Weekday())
		if s.Kind == prescription.Intervals {
			name += "!"
		}
		if s.Kind == prescription.Check {
			name += "?"
		}
		if out != "" {
			out += " "
		}
		out += name
	}
	return out
}
