package recording

import (
	"cmp"
	"math"
	"slices"

	"github.com/muktihari/fit/profile/typedef"

	"nextrung/internal/workout"
)

// shortTransition is the length in seconds under which the way between two parts of a multisport
// recording is left out: it is changing shoes, not training. A longer one becomes a workout of
// its own, as everything does from the 10 minutes that a session needs to count.
const shortTransition = 600

// adopt takes over the heart rate of a sequence that holds nothing else.
func (a *fitActivity) adopt(b *fitActivity) {
	a.beats.T, a.beats.V = append(a.beats.T, b.beats.T...), append(a.beats.V, b.beats.V...)
}

// finish splits what was recorded by session and hands the parts on.
func (a *fitActivity) finish(r *reading) {
	before := math.Inf(1)
	for _, k := range a.takes {
		before = min(before, k.first)
	}
	a.placeBeats()
	if len(a.takes) > 0 && a.records > 0 && before-a.takes[0].first >= 60 {
		r.remarks = append(r.remarks, workout.Say(StrapFirst, workout.Args{"seconds": before - a.takes[0].first}))
	}
	if a.timeless > 0 && len(a.takes) > 0 {
		r.remarks = append(r.remarks, workout.Say(NoTime, workout.Args{"n": a.timeless, "of": "record"}))
	}
	if a.lost > 0 {
		r.remarks = append(r.remarks, workout.Say(ClockJumps, workout.Args{"n": a.lost, "of": "record"}))
	}
	sessions := a.order()
	pauses := a.pauses()
	for _, whole := range a.takes {
		for i, s := range sessions {
			k := whole
			if len(sessions) > 1 {
				from, to := math.Inf(-1), math.Inf(1)
				if i > 0 {
					from = s.start
				}
				if i+1 < len(sessions) {
					to = sessions[i+1].start
				}
				if k = whole.cut(from, to); k == nil {
					continue
				}
				if seconds := k.last - k.first; typedef.Sport(s.sport) == typedef.SportTransition && seconds < shortTransition {
					r.remarks = append(r.remarks, workout.Say(Transition, workout.Args{"seconds": seconds}))
					continue
				}
			}
			k.Sport, k.Place = s.sportAndPlace()
			k.Effort = s.effort
			k.Device = a.device
			k.Sensor = a.sensor()
			k.laps, k.pauses = a.laps, pauses
			r.takes = append(r.takes, k)
		}
	}
}

// order gives the sessions by start, each start once; a file without any has one that says
// nothing but the sport.
func (a *fitActivity) order() []fitSession {
	out := slices.DeleteFunc(slices.Clone(a.sessions), func(s fitSession) bool { return math.IsInf(s.start, -1) })
	slices.SortStableFunc(out, func(x, y fitSession) int { return cmp.Compare(x.start, y.start) })
	out = slices.CompactFunc(out, func(x, y fitSession) bool { return x.start == y.start })
	switch {
	case len(out) > 0:
		return out
	case len(a.sessions) > 0:
		return a.sessions[:1]
	}
	return []fitSession{{start: math.Inf(-1), sportCode: a.code}}
}

// pauses pairs each stop of the timer with the next start; further stops between change nothing.
func (a *fitActivity) pauses() []absoluteSpan {
	var out []absoluteSpan
	stop := math.NaN()
	slices.SortStableFunc(a.timer, func(x, y timerEvent) int { return cmp.Compare(x.t, y.t) })
	for _, e := range a.timer {
		switch {
		case !e.start && math.IsNaN(stop):
			stop = e.t
		case e.start && !math.IsNaN(stop):
			out = append(out, absoluteSpan{stop, e.t})
			stop = math.NaN()
		}
	}
	if !math.IsNaN(stop) {
		out = append(out, absoluteSpan{stop, math.Inf(1)})
	}
	return out
}

// placeBeats gives the strap's own heart rate and the R-R intervals to the takes that they fall in.
func (a *fitActivity) placeBeats() {
	a.now = nil
	for i, t := range a.beats.T {
		if k := a.at(t); k != nil {
			k.BeatHeartRate.Add(t, a.beats.V[i])
		}
	}
	for i, t := range a.intervals.T {
		for _, k := range a.takes {
			if t >= k.first && t < math.Floor(k.last)+1 {
				k.Intervals.Add(t, a.intervals.V[i])
				break
			}
		}
	}
}

func (a *fitActivity) sensor() workout.Sensor {
	switch {
	case a.strap, a.beats.Len() > 0: // a watch with a paired strap uses it; both are listed
		return workout.Strap
	case a.wrist:
		return workout.Wrist
	}
	return workout.UnknownSensor
}

// cut gives the part of a take with from <= t < to, nil when there is none.
func (k *take) cut(from, to float64) *take {
	out := &take{first: math.Inf(1), last: math.Inf(-1), zeroes: k.zeroes, scrap: k.isScrap()}
	parts := append(channels(&out.Workout), &out.distance)
	for n, c := range append(channels(&k.Workout), &k.distance) {
		for i, t := range c.T {
			if t >= from && t < to {
				parts[n].Add(t, c.V[i])
			}
		}
	}
	for i, t := range k.position.t {
		if t >= from && t < to {
			out.position.t, out.position.p = append(out.position.t, t), append(out.position.p, k.position.p[i])
		}
	}
	for _, t := range k.times {
		if t >= from && t < to {
			out.times = append(out.times, t)
			out.first, out.last = min(out.first, t), max(out.last, t)
		}
	}
	if len(out.times) == 0 {
		return nil
	}
	return out
}
