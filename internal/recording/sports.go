package recording

import (
	"github.com/muktihari/fit/profile/typedef"

	"nextrung/internal/workout"
)

// sportAndPlace reads the sport and sub-sport numbers of the FIT profile. Only indoor sub-sports
// decide the place: "road" and its like are also written for rides on a trainer, so only positions prove
// outdoors.
func (c sportCode) sportAndPlace() (workout.Sport, workout.Place) {
	sport, place := workout.Other, workout.AnyPlace
	switch typedef.Sport(c.sport) {
	case typedef.SportRunning:
		sport = workout.Running
	case typedef.SportWalking, typedef.SportHiking:
		sport = workout.Walking
	case typedef.SportCycling:
		sport = workout.Cycling
	case typedef.SportRowing:
		sport = workout.Rowing
	case typedef.SportSwimming:
		sport = workout.Swimming
	case typedef.SportCrossCountrySkiing, typedef.SportAlpineSkiing:
		sport = workout.Skiing
	}
	onMachine := func(s workout.Sport) {
		place = workout.Indoor
		if sport == workout.Other {
			sport = s
		}
	}
	switch typedef.SubSport(c.sub) {
	case typedef.SubSportTreadmill, typedef.SubSportIndoorRunning:
		onMachine(workout.Running)
	case typedef.SubSportIndoorWalking:
		onMachine(workout.Walking)
	case typedef.SubSportSpin, typedef.SubSportIndoorCycling:
		onMachine(workout.Cycling)
	case typedef.SubSportIndoorRowing:
		onMachine(workout.Rowing)
	case typedef.SubSportIndoorSkiing:
		onMachine(workout.Skiing)
	case typedef.SubSportLapSwimming:
		onMachine(workout.Swimming)
	case typedef.SubSportElliptical, typedef.SubSportStairClimbing, typedef.SubSportVirtualActivity:
		place = workout.Indoor
	case typedef.SubSportStrengthTraining:
		sport = workout.Strength
	}
	return sport, place
}
