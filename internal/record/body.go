package record

import (
	"slices"
	"time"

	"nextrung/internal/physiology"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Location is the client's time zone; UTC when none was entered or the name is not known.
func (c Client) Location() *time.Location {
	loc, err := time.LoadLocation(c.TimeZone)
	if err != nil {
		return time.UTC
	}
	return loc
}

// ZonesOn is the set of facts for zones that holds on a day: the last one that has started, or the
// first set for days before it.
func (c Client) ZonesOn(on workout.Date) ZoneSet {
	var set ZoneSet
	for i, z := range c.Zones {
		if i == 0 || z.From <= on {
			set = z
		}
	}
	return set
}

// LimitOver is the lowest limit in bpm that a doctor set for any day from one to another, 0 for none: what is handed out
// for some days is done on any of them.
func (c Client) LimitOver(from, to workout.Date) float64 {
	lowest := c.ZonesOn(from).Limit
	for _, z := range c.Zones {
		if z.Limit > 0 && z.From > from && z.From <= to && (lowest == 0 || z.Limit < lowest) {
			lowest = z.Limit
		}
	}
	return lowest
}

// Body is what physiology must know of the client on a day.
func (c Client) Body(on workout.Date) physiology.Body {
	z := c.ZonesOn(on)
	b := physiology.Body{
		Age: c.Born.YearsAt(on), Sex: c.Sex, HRRest: z.HRRest,
		HRMax: map[workout.Mode]float64{}, HRMaxAny: z.HRMax[""],
		T1: z.T1, T2: z.T2, Limit: z.Limit, Fixed: z.Edges, Slowed: c.ByEffort(),
	}
	for m, bpm := range z.HRMax {
		if m != "" {
			b.HRMax[m] = bpm
		}
	}
	return b
}

// ByEffort says that heart rate must not lead, so that effort and talk do: a medicine slows the
// heart, a pacemaker or an irregular rhythm sets it, or pregnancy changes it. (Brawner 2004 for
// rate-slowing medicines: an age formula misses by 18 bpm; the others are common practice, no source.)
func (c Client) ByEffort() bool {
	return c.Medicine == Slows || c.Has(Pacemaker) || c.Has(Irregular) || c.Has(Pregnant)
}

func (c Client) Has(x Condition) bool {
	return slices.Contains(c.Conditions, x)
}

// StopSigns are the signs at which a session ends, with the lines that concern this client, one sentence each.
func (c Client) StopSigns() []string {
	var own []signs.Stop
	if c.Has(Pregnant) {
		own = append(own, signs.InPregnancy)
	}
	if c.Has(Pacemaker) {
		own = append(own, signs.WithDevice)
	}
	return signs.StopSigns(own...)
}

// Inactive says that the client did not exercise regularly when the screening was answered; an
// unanswered screening counts as inactive, the more careful side.
func (c Client) Inactive() bool { return !c.Screening.Active }

// trains says that sessions in a mode count for the client. Every mode does, but a walk only when
// walking is one of the client's modes.
func (c Client) trains(m workout.Mode) bool {
	return m != workout.Walk || slices.Contains(c.Modes, workout.Walk)
}

// modes lists what the client trains; all but walking when nothing was entered.
func (c Client) TrainedModes() []workout.Mode {
	if len(c.Modes) > 0 {
		return c.Modes
	}
	return Keep(workout.Modes(), func(m workout.Mode) bool { return m != workout.Walk })
}
