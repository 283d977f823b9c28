package rehearsal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/prescription"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// conditions of one week, the same under every policy.
type conditions struct {
	away   bool // no session at all
	unwell bool // a cold, or nights without sleep
	sign   signs.Sign
}

// The chances of a week without training and of a bad week. Invented.
const (
	chanceAway   = 0.03
	chanceUnwell = 0.04
)

func (p person) conditions(w int) conditions {
	rng := rand.New(rand.NewPCG(mix(p.seed, uint64(w)), streamWeek))
	return conditions{
		away: rng.Float64() < chanceAway, unwell: rng.Float64() < chanceUnwell, sign: [...]signs.Sign{signs.Cold, signs.PoorSleep}[rng.IntN(2)],
	}
}

// ends is the day on which week w is assessed.
func ends(w int) workout.Date { return start + workout.Date(7*w+6) }

// doneWeek is what a week brought, in truth and whatever was answered.
type doneWeek struct {
	sessions, intervals int
	hard                int // of intervals: above the effort of the next stage's limit, or in stage 2 without speech
}

func (t *doneWeek) add(kind prescription.Kind, stage int, truth simulate.Truth) {
	t.sessions++
	if kind != prescription.Intervals {
		return
	}
	t.intervals++
	t.hard += one(!bearable(truth, stage))
}

// train plays week w as it was laid over its days, check sessions included, and adds what reaches the
// trainer to the record.
func (p person) train(r *record.Record, laid prescription.Week, w int, gap float64) doneWeek {
	week := p.conditions(w)
	on := ends(w)
	var done doneWeek
	if week.away {
		return done
	}
	body := p.in(w, gap)
	for n, session := range laid.Sessions {
		rng := rand.New(rand.NewPCG(mix(p.seed, uint64(w)<<8|uint64(n)), streamOuting))
		if rng.Float64() < p.skips {
			continue
		}
		plan := withLow(session.Plan, r.Client.Body(on))
		o := p.options(rng, plan, week)
		date := session.Day
		o.Start = date.Time().Add(7 * time.Hour)
		played, truth := simulate.Play(plan, body, o)
		done.add(session.Kind, laid.Stage, truth)
		r.Recordings = append(r.Recordings, p.measured(played, r.Client.Body(date), date, on, session.Kind != prescription.Intervals, fmt.Sprintf("%d.%d", w+1, n+1)))
		if rng.Float64() < p.answers {
			effort, talk := p.says(truth, rand.New(rand.NewPCG(o.Seed, streamAnswer)))
			note := record.Note{Date: date, Entered: on, RPE: &workout.RPE{Value: effort, Scale: 20}, Talk: talk, Enjoyment: 4}
			if rng.Float64() < 0.5 {
				note.HeatC = &o.HeatC
			}
			r.Notes = append(r.Notes, note)
		}
	}
	if week.unwell {
		r.Notes = append(r.Notes, record.Note{Date: on - 1, Entered: on, Symptoms: []signs.Sign{week.sign}})
	}
	return done
}

// withLow gives steady parts the lower end of zone 1 back, which a client who is told to go slower does
// not see: the invented ones aim at the middle of what they are given.
func withLow(plan workout.Plan, body physiology.Body) workout.Plan {
	e := body.Edges(plan.Mode)
	plan.Steps = slices.Clone(plan.Steps)
	for i, s := range plan.Steps {
		if s.Kind == workout.Steady && s.Low == 0 && s.High > 0 && e != nil && e.BPM[0] < s.High {
			plan.Steps[i].Low = math.Ceil(e.BPM[0])
		}
	}
	return plan
}

// options says how one session is done and recorded. Invented.
func (p person) options(rng *rand.Rand, plan workout.Plan, week conditions) simulate.Options {
	o := simulate.Options{
		Seed: rng.Uint64(), Bias: p.bias + 3*rng.NormFloat64(), DayRPE: 0.6 * rng.NormFloat64(),
		HeatC: p.celsius + 3*rng.NormFloat64(), Sensor: p.facts.Sensor, Place: workout.Outdoor, Tail: 60, Laps: rng.IntN(2) == 0,
	}
	if week.unwell {
		o.DayBPM, o.DayRPE = 5, o.DayRPE+1.5
	}
	if p.mode == workout.Bike {
		o.Place = workout.Indoor
	}
	if rng.Float64() < p.stops { // ends within seconds of the last effort, before the cool-down
		cool := plan.Steps[len(plan.Steps)-1].Seconds
		o.Tail = -max(0, cool-rng.IntN(20))
	}
	switch {
	case o.Sensor == workout.Wrist:
		o.Faults, o.Sparse = simulate.WristFaults(o.Seed, plan.Seconds()), rng.IntN(4) == 0
	case rng.IntN(20) == 0:
		o.Faults = []simulate.Fault{{Kind: simulate.DryStart, Span: workout.Span{From: 0, To: 240}}}
	case rng.IntN(20) == 0:
		at := 300 + rng.IntN(600)
		o.Faults = []simulate.Fault{{Kind: simulate.Dropout, Span: workout.Span{From: at, To: at + 20 + rng.IntN(120)}}}
	}
	return o
}

// measured is a recording as the book would hold it.
func (p person) measured(w workout.Workout, body physiology.Body, date, received workout.Date, steady bool, id string) record.Recording {
	m := physiology.Measure(heartrate.Clean(w), w, body, steady)
	w.HeartRate, w.Speed, w.Power, w.Cadence = workout.Channel{}, workout.Channel{}, workout.Channel{}, workout.Channel{}
	return record.Recording{ID: id, Format: "fit", Client: p.facts.Name, Received: received, Date: date, Workout: w, Measured: m}
}
