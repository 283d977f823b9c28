package reasons

import (
	p "nextrung/internal/progression"
	"nextrung/internal/record"
)

const notHot = `{{if .hot}} Not in the heat.{{end}}`

// needed says what to record, enter or change.
var needed = map[record.Code]string{
	p.NeedBirthDate:      `Enter the date of birth.`,
	p.NeedScreening:      `Go through the screening questions with the client.`,
	p.NeedScreeningFirst: `Go through the screening questions with the client before the first session.`,
	p.NeedScreeningAgain: `Go through the screening questions with the client again.`,
	p.NeedClearance:      `Enter the date of a doctor's clearance.`,
	p.NeedAskAtOnce:      `Ask at once, and enter the answer.`,

	p.NeedFiles:    `Ask for the recordings of the sessions that the client has answered about.`,
	p.NeedSessions: `Have every session recorded or reported.`,
	p.NeedWalks:    `Let walks count if they are {{.client}}'s training; otherwise have every session recorded or reported.`,
	p.NeedDays:     `Find days that suit the client.`,
	p.NeedMinutes:  `Make the sessions a few minutes longer.`,
	p.NeedMoreTime: `Find time for one more session a week, or for longer ones.`,
	p.NeedEffort:   `Ask after each session how hard it was and whether talking was comfortable, and enter the answer.`,

	p.NeedSensor:     `Have the client wear the heart-rate sensor in every session.`,
	p.NeedGoodSensor: `Have the client use a chest strap, moistened and snug, or wear a wrist sensor tight, two finger widths above the wrist bone.`,
	p.NeedZones:      `Enter what the zones are based on: the date of birth, or a measured maximal heart rate.`,
	p.NeedSteadySession: `Plan a session of at least 35 minutes with 25 at a steady speed, or a check session: ` +
		`25 minutes on one machine at one steady speed in zone 1, plus warm-up and cool-down.` + notHot,
	p.NeedCoolCheck:   `Repeat the check session where it is cool, with a fan.`,
	p.NeedCheckEffort: `Ask how hard the check session was, and enter the answer.`,
	p.NeedSameEffort:  `Plan one session a week on the same machine at the same speed, steady for the first 15 minutes.` + notHot,

	p.NeedIntervals:      `Prescribe interval sessions and have them recorded with laps, speed or power.`,
	p.NeedStrap:          `Have the client wear the chest strap in interval sessions.`,
	p.NeedStrapIntervals: `Have the interval sessions done as prescribed, with the chest strap.`,

	p.NeedSlower: `Have the client slow down until the heart rate stays below the top of zone 1. ` +
		`If the effort is low and talking is comfortable all the same, check what the zones are based on.`,
	p.NeedLevel:         `Keep the sessions as they are until the heart rate stays level at a steady load.`,
	p.NeedAskAround:     `Keep the week as it is, and ask about sleep, illness, heat and stress outside training.`,
	p.NeedEasierBouts:   `Make the bouts easier until the heart rate comes back between them.`,
	p.NeedEasier:        `Make the sessions easier until the effort is within its limit and talking is comfortable.`,
	p.NeedZonesAnswered: `Accept or decline the suggested zones, so that these sessions can be judged.`,
	p.NeedOtherZones: `The pulse stayed in zone 1, yet it felt hard: talk and effort overrule the zones. ` +
		`Have the client go slower than the zones allow, and look at the evidence for other zones or do a talk test.`,
}
