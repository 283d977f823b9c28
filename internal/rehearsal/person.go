// Package rehearsal tries a policy on invented clients, for whom the right moment to move up is known. Each goes
// week by week through what a trainer's clients go through: sessions as prescribed or nearly so,
// recordings with noise, faults and gaps, answers given or forgotten, weeks missed. The policy
// assesses and prescribes, the trainer follows it, and the counts say how often somebody was moved
// up who was not ready and how long those waited who were.
//
// # What is assumed
//
// The bodies are those of package simulate. What they lack at the start is one number, the gap: 0 is
// a finished base. Sessions close it, by an amount that differs between people, and all of these
// follow from it together, each on top of a difference between people that has nothing to do with
// readiness:
//
//	drift             × (1 + 2 gap)
//	slowness of drop  × (1 + 0.4 gap)
//	effort felt       + 1.5 gap points (6-20)
//	talking           comfortable up to a share of the reserve that is 0.06 gap lower
//
// That link is invented, and other worlds have other ones (see World); so are all spreads but one: the maximal heart rate scatters around the age
// formula with its published standard error of 10.8 bpm (Nes 2013). The rehearsal shows what the
// rules do in such a world. It does not prove that they are safe or right in this one.
//
// Units: weeks since the client began, bpm, RPE 6-20. Everything follows from the seed, whatever the
// number of workers.
package rehearsal

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// The random streams of one client, kept apart so that a change in one leaves the others alone.
const (
	streamPerson = 0x51e3
	streamWeek   = 0x77a1
	streamOuting = 0xc40d
	streamWorld  = 0x1d27
	streamAnswer = 0x93b6
)

// start is the first day of every rehearsal, a Monday; any other would do.
var start = workout.MustDate("2026-01-05")

// person is one invented client: what the trainer knows, the body, and the habits.
type person struct {
	number int // from 0
	facts  record.Client
	seed   uint64
	mode   workout.Mode

	body     simulate.Athlete // with a finished base, before any training
	progress simulate.Progress
	gap      float64 // at the start
	closing  float64 // weeks of three sessions in which the gap shrinks to 1/e

	maxError float64 // bpm by which the age formula is above the true maximum
	bias     float64 // bpm above the middle of the band that the client likes to go
	skips    float64 // chance of missing a session
	answers  float64 // chance of answering after a session
	stops    float64 // chance of ending the recording with the last effort
	celsius  float64 // usual temperature

	link     link
	mostGap  float64 // with which the client can be ready; 0 for any
	rosy     float64 // points of effort that answers leave out; talk is then called one step easier, too
	scatter  float64 // standard deviation of an answer about effort, in points, beside the day's own
	mistaken float64 // chance that an answer about talk is a step off
}

// link is what the gap does to a body: by how many times drift, both time constants of the fall and the heart rate at
// the same load grow for each unit of the gap, and what effort and talk lose.
type link struct{ drift, fall, gain, feels, talk float64 }

var usualLink = link{drift: 2, fall: 0.4, feels: 1.5, talk: 0.06}

// draw invents client i. All figures here are invented but the error of the age formula.
func draw(seed uint64, i int) person {
	p := person{number: i, seed: mix(seed, uint64(i))}
	rng := rand.New(rand.NewPCG(p.seed, streamPerson))
	normal := func(mean, sd, low, high float64) float64 { return min(max(mean+sd*rng.NormFloat64(), low), high) }
	times := func(sd float64) float64 { return math.Exp(sd * rng.NormFloat64()) }

	age := 25 + 40*rng.Float64()
	p.mode = []workout.Mode{workout.Walk, workout.Run, workout.Bike}[rng.IntN(3)]
	c := record.Client{
		Name: fmt.Sprintf("client %d", i+1), Born: start - workout.Date(age*365.2425),
		Modes: []workout.Mode{p.mode}, Stage: 1, Since: start, Days: 2 + rng.IntN(3), Minutes: 45,
		Screening: record.Screening{On: start - 7, Active: rng.IntN(2) == 0},
	}
	c.Sex = []physiology.Sex{physiology.Male, physiology.Female}[rng.IntN(2)]
	c.Sensor = []workout.Sensor{workout.Wrist, workout.Strap}[rng.IntN(2)]
	rest := normal(68, 7, 50, 88)
	p.maxError = physiology.SEENes * rng.NormFloat64()
	formula, _ := physiology.Body{Age: age}.Maximum(p.mode)
	if rng.Float64() < 0.8 { // reported as the mean of some mornings; one in five never measures
		c.Zones = []record.ZoneSet{{HRRest: math.Round(rest + 2*rng.NormFloat64())}}
	}
	p.facts = c

	b := simulate.Beginner(rest, max(formula.BPM-p.maxError, rest+60))
	p.maxError = formula.BPM - b.Max
	b.Gain = maps.Clone(b.Gain)
	b.Gain[p.mode] *= times(0.2)
	b.Rise = normal(57.6, 15, 25, 110) // spread invented; Hunt, Fankhauser and Saengsuwan 2015 saw 23.6 s
	b.Fast *= times(0.2)
	b.Slow *= times(0.2)
	b.FastShare = normal(0.55, 0.08, 0.3, 0.8)
	b.Drift *= times(0.4)
	b.Feels = 0.8 * rng.NormFloat64()
	b.Talk1 = normal(0.62, 0.04, 0.5, 0.75)
	b.Talk2 = b.Talk1 + normal(0.20, 0.03, 0.1, 0.3)
	p.body = b
	p.progress = simulate.Usual()
	k := times(0.4)
	p.progress.Rest, p.progress.Gain, p.progress.Fall, p.progress.Drift = k*p.progress.Rest, k*p.progress.Gain, 0, 0

	p.gap = 0.8 * rng.Float64()
	if !c.Screening.Active {
		p.gap = 0.5 + rng.Float64()
	}
	p.closing = 6 * times(0.4)
	p.bias = 4 * rng.NormFloat64()
	if rng.IntN(10) == 0 {
		p.bias += 12 // one in ten likes to train hard
	}
	p.skips = 0.02 + 0.25*rng.Float64()
	p.answers = 0.3 + 0.65*rng.Float64()
	p.stops = rng.Float64() * 0.8
	p.celsius = normal(19, 4, 5, 32)
	p.link = usualLink
	return p
}

// tidy is the same person without lapses.
func (p person) tidy() person {
	p.skips, p.answers, p.stops = 0, 1, 0
	return p
}

// mix makes one seed of two numbers, so that neighbours have nothing in common.
func mix(a, b uint64) uint64 { return rand.NewPCG(a, b).Uint64() }

// in is the body in week w (0 is the first) with so much of the gap left.
func (p person) in(w int, gap float64) simulate.Athlete {
	b := p.body.After(float64(w), p.progress)
	b.Drift *= 1 + p.link.drift*gap
	b.Fast *= 1 + p.link.fall*gap
	b.Slow *= 1 + p.link.fall*gap
	b.Gain[p.mode] *= 1 + p.link.gain*gap
	b.Feels += p.link.feels * gap
	b.Talk1 -= p.link.talk * gap
	b.Talk2 -= p.link.talk * gap
	return b
}

// after is the gap after a week with so many sessions; a week without any widens it by a tenth.
func (p person) after(gap float64, sessions int) float64 {
	if sessions == 0 {
		return min(gap*1.1, p.gap)
	}
	return gap * math.Exp(-float64(sessions)/3/p.closing)
}
