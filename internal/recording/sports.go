package recording

import (
	"slices"

	"github.com/muktihari/fit/profile/typedef"

	"nextrung/internal/workout"
)

// sports are the sports that both sides know, each with its sub-sport on a machine; the first row of a sport is
// the one that is written.
var sports = [...]struct {
	sport   workout.Sport
	fit     typedef.Sport
	machine typedef.SubSport
}{
	{workout.Running, typedef.SportRunning, typedef.SubSportTreadmill},
	{workout.Running, typedef.SportRunning, typedef.SubSportIndoorRunning},
	{workout.Walking, typedef.SportWalking, typedef.SubSportIndoorWalking},
	{workout.Walking, typedef.SportHiking, typedef.SubSportIndoorWalking},
	{workout.Cycling, typedef.SportCycling, typedef.SubSportIndoorCycling},
	{workout.Cycling, typedef.SportCycling, typedef.SubSportSpin},
	{workout.Rowing, typedef.SportRowing, typedef.SubSportIndoorRowing},
	{workout.Swimming, typedef.SportSwimming, typedef.SubSportLapSwimming},
	{workout.Skiing, typedef.SportCrossCountrySkiing, typedef.SubSportIndoorSkiing},
	{workout.Skiing, typedef.SportAlpineSkiing, typedef.SubSportIndoorSkiing},
}

// sportAndPlace reads the sport and sub-sport numbers of the FIT profile. Only indoor sub-sports
// decide the place: "road" and its like are also written for rides on a trainer, so only positions prove
// outdoors.
func (c sportCode) sportAndPlace() (workout.Sport, workout.Place) {
	sport, place := workout.Other, workout.AnyPlace
	for _, s := range sports {
		if typedef.Sport(c.sport) == s.fit {
			sport = s.sport
		}
	}
	for _, s := range sports {
		if typedef.SubSport(c.sub) == s.machine {
			place = workout.Indoor
			if sport == workout.Other {
				sport = s.sport
			}
		}
	}
	switch typedef.SubSport(c.sub) {
	case typedef.SubSportElliptical, typedef.SubSportStairClimbing, typedef.SubSportVirtualActivity:
		place = workout.Indoor
	case typedef.SubSportStrengthTraining:
		sport = workout.Strength
	}
	return sport, place
}

// fitSport is the inverse of sportAndPlace.
func fitSport(w workout.Workout) (typedef.Sport, typedef.SubSport) {
	if w.Sport == workout.Strength {
		return typedef.SportTraining, typedef.SubSportStrengthTraining
	}
	sport, machine := typedef.SportGeneric, typedef.SubSportElliptical
	for _, s := range slices.Backward(sports[:]) {
		if s.sport == w.Sport {
			sport, machine = s.fit, s.machine
		}
	}
	if w.Place != workout.Indoor {
		machine = typedef.SubSportGeneric
	}
	return sport, machine
}
