package rehearsal

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// World is what the invented clients are like, apart from what is drawn for each. All of it is invented.
type World string

// The worlds.
const (
	Usual             World = "usual"
	NoisyAnswers      World = "noisy-answers"
	FewAnswers        World = "few-answers"
	UnderReporters    World = "under-reporters"
	FewUnderReporters World = "few-under-reporters"
	WristOnly         World = "wrist"
	DayNoise          World = "day-noise"
	EffortLaw         World = "effort-law"
	BaseDecides       World = "base-decides"
)

// Worlds lists them.
func Worlds() []World {
	return []World{Usual, NoisyAnswers, FewAnswers, UnderReporters, FewUnderReporters, WristOnly, DayNoise, EffortLaw, BaseDecides}
}

// describes is what a world has of its own, for people; "" for the usual one.
func (w World) describes() string {
	return map[World]string{
		NoisyAnswers:      "Answers are noisy: effort is off by a standard deviation of 1.75 points, and talk by a step in 15 % of the answers.",
		FewAnswers:        "Clients answer after 35 % of the sessions.",
		UnderReporters:    "Three in ten clients play down: they call effort 2 to 3 points lower and talk a step easier than it is.",
		FewUnderReporters: "Three in ten clients play down, effort by 2 to 3 points and talk by a step, and all answer after 35 % of the sessions only.",
		WristOnly:         "Everybody wears a wrist sensor.",
		DayNoise:          "The heart rate at the same load differs from day to day by a standard deviation of 8.5 bpm, about 7 %.",
		EffortLaw:         "How fast effort rises with the heart rate differs between people by 30 %.",
		BaseDecides:       "The base decides, and answers hardly show it: drift, recovery and the heart rate at the same load follow the gap twice as closely as usual, effort and talk a third as closely, and nobody is ready with a gap above 0.3.",
	}[w]
}

// The spreads of the worlds.
const (
	noisySD      = 1.75 // points
	noisyTalk    = 0.15
	fewAnswers   = 0.35
	playDown     = 0.30 // of the clients
	dayNoise     = 8.5  // bpm
	effortSpread = 0.3
	baseMostGap  = 0.3
)

// in gives a client what the world has of its own.
func (w World) in(p person) person {
	rng := rand.New(rand.NewPCG(p.seed, streamWorld))
	downs, by, steep := rng.Float64() < playDown, 2+rng.Float64(), math.Exp(effortSpread*rng.NormFloat64())
	switch w {
	case NoisyAnswers:
		p.scatter, p.mistaken = noisySD, noisyTalk
	case WristOnly:
		p.facts.Sensor = workout.Wrist
	case DayNoise:
		p.body.DayToDay = dayNoise
	case EffortLaw:
		p.body.Steep = steep
	case BaseDecides:
		p.link, p.mostGap = link{drift: 4, fall: 0.8, gain: 0.15, feels: 0.5, talk: 0.02}, baseMostGap
	}
	if w == FewAnswers || w == FewUnderReporters {
		p.answers = fewAnswers
	}
	if downs && (w == UnderReporters || w == FewUnderReporters) {
		p.rosy = by
	}
	return p
}

// says is what the client answers about a session: the truth, unless this world or this client bends it.
func (p person) says(t simulate.Truth, rng *rand.Rand) (effort float64, talk record.Talk) {
	off := p.scatter*rng.NormFloat64() - p.rosy
	effort = math.Round(min(max(t.RPE+off, 6), 20))
	steps := []record.Talk{record.TalkComfortable, record.TalkHard, record.TalkNo}
	at := slices.Index(steps, record.Talk(t.Talk))
	if rng.Float64() < p.mistaken {
		at += 1 - 2*rng.IntN(2)
	}
	if p.rosy > 0 {
		at--
	}
	return effort, steps[min(max(at, 0), len(steps)-1)]
}

// WorldOf reads the name of a world.
func WorldOf(name string) (World, error) {
	if w := World(name); slices.Contains(Worlds(), w) {
		return w, nil
	}
	return "", fmt.Errorf("there is no world %q; the worlds are %s", name, WorldNames())
}

// WorldNames lists them for people.
func WorldNames() string {
	return strings.Join(record.Map(Worlds(), func(w World) string { return string(w) }), ", ")
}
