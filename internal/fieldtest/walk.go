package fieldtest

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// The one-mile walk (Kline et al., Medicine and Science in Sports and Exercise 1987; 343 adults of
// 30-69 years): walk a mile as fast as possible, heart rate over the last quarter.
const (
	mile         = 1609.344 // m
	mileWithin   = 0.03     // how far the distance of a recording may be off (common practice, no source)
	walkShortest = 10 * 60  // s, and
	walkLongest  = 30 * 60  // s: faster is running, slower is strolling (common practice, no source)
	walkStand    = 60       // s of standing that separate one walk from the next (common practice, no source)
	walkBPM      = 120      // bpm below which the equation is unreliable (from memory)
	tenSeconds   = 45       // bpm below which a heart rate looks like a count over 10 s (common practice, no source)
	poundsPerKG  = 2.20462
	seeRelative  = 5.0   // mL/kg/min, from memory
	seeAbsolute  = 0.325 // L/min; 0.355 in cross-validation (abstract of Kline 1987)
)

// Walk is a one-mile walk as it was done. Zero means unknown.
type Walk struct {
	Seconds float64
	Metres  float64
	EndBPM  float64 // mean over the last quarter
	MassKG  float64
	Remarks []workout.Fact // what was odd about typed values
	why     workout.Facts
}

// ReadWalk reads a recorded walk: a lap of a mile, else the stretch of movement nearest to a mile by speed.
// What was typed into t is kept.
func ReadWalk(s heartrate.Series, w workout.Workout, t Walk) Walk {
	w.Power, w.Cadence, w.Seconds = workout.Channel{}, workout.Channel{}, len(s.BPM)
	e := physiology.EffortOf(w)
	if !e.Known() {
		t.why = because(NoSpeed, nil)
		return t
	}
	switch w.Sport.Mode() {
	case workout.Run:
		t.Remarks = append(t.Remarks, workout.Say(CalledRun, nil))
	case workout.Bike, workout.Row, workout.Swim:
		t.why = because(NotWalking, workout.Args{"sport": string(w.Sport)})
		return t
	}
	var laps []workout.Span
	for _, l := range w.Laps {
		if m := e.Metres(l.Span); math.Abs(m/mile-1) <= mileWithin {
			laps = append(laps, l.Span)
		}
	}
	span, ok := nearest(laps, mile, e.Metres)
	if !ok {
		span, ok = nearest(e.Movements(walkStand), mile, e.Metres)
	}
	if !ok {
		t.why = because(SpeedLost, nil)
		return t
	}
	metres := e.Metres(span)
	from := e.Reached(span, 0.75*metres)
	if c := s.CoverageIn(from, span.To); t.EndBPM == 0 && c < heartrate.Enough {
		t.why = because(LastQuarter, workout.Args{"why": workout.Facts{heartrate.TooLittle(c)}})
	} else if t.EndBPM == 0 {
		t.EndBPM, _ = s.MeanIn(from, span.To)
	}
	if t.Seconds == 0 {
		t.Seconds, t.Metres = float64(span.Seconds()), cmp.Or(t.Metres, metres)
		paused := 0
		for _, p := range w.Pauses {
			paused += p.Overlap(span)
		}
		if paused > 0 {
			t.Remarks = append(t.Remarks, workout.Say(Pause, workout.Args{"seconds": paused}))
		}
	}
	return t
}

// Result estimates the maximal oxygen uptake after Kline 1987, with sex 1 for men and 0 for women:
//
//	mL/kg/min = 132.853 - 0.0769 lb - 0.3877 y + 6.315 sex - 3.2649 min - 0.1565 bpm; SEE about 5 (from memory)
//	L/min     = 6.9652 + 0.0091 lb - 0.0257 y + 0.5955 sex - 0.2240 min - 0.0115 bpm; SEE 0.325 (0.355 in cross-validation)
//
// It is not assessable without sex, age, mass, time and heart rate, under a medicine that slows the
// heart, or when the distance was not a mile.
func (t Walk) Result(b physiology.Body) Result {
	out := newResult("walk-test",
		"Walking as fast as possible is only for screened clients; stop at any stop sign. The estimate is one figure among others and never decides alone.")
	out.Remarks = append(out.Remarks, t.Remarks...)
	out.person(b, t.MassKG)
	if t.unfit(&out, b); len(out.Why) > 0 {
		return out
	}
	if t.Metres == 0 {
		out.remark(Distance, nil)
	}
	if t.EndBPM < walkBPM {
		out.remark(Slow, workout.Args{"bpm": t.EndBPM})
	}
	if b.Age < 30 || b.Age >= 70 {
		out.remark(OutsideAges, nil)
	}
	relative, absolute := kline(b, t.MassKG, t.Seconds/60, t.EndBPM)
	if relative < physiology.RestUptake || absolute <= 0 {
		out.lacks(because(BelowRest, nil))
		return out
	}
	out.Enough, out.Norms = true, "not classed: compare it with the client's next estimate"
	out.Figures = append(out.Figures,
		plusMinus("maximal oxygen uptake per kg", relative, seeRelative, PerKG, "one standard error of about 5 (from memory): two people in three are within it"),
		plusMinus("maximal oxygen uptake", absolute, seeAbsolute, "L/min", "one standard error of 0.325 (0.355 in cross-validation)"),
		Figure{Name: "time of the walk", Value: t.Seconds, Unit: "s"},
		Figure{Name: "heart rate of the last quarter", Value: t.EndBPM, Unit: "bpm"})
	return out
}

// unfit says why the equation cannot be used for this person or this walk, if so.
func (t Walk) unfit(out *Result, b physiology.Body) {
	switch {
	case b.Slowed:
		out.lacks(because(Slowing, nil))
	case b.Sex == physiology.UnknownSex || b.Age == 0 || t.MassKG == 0:
		out.lacks(because(NoBody, nil))
	case b.Age < physiology.Adult:
		out.lacks(because(AdultsOnly, nil))
	case t.Seconds == 0 || t.EndBPM == 0:
		out.lacks(t.why)
		out.lacks(because(NothingTyped, nil))
	case t.Metres != 0 && math.Abs(t.Metres/mile-1) > mileWithin:
		out.lacks(because(NotAMile, workout.Args{"metres": t.Metres}))
	case t.Seconds < walkShortest || t.Seconds > walkLongest:
		out.lacks(because(UnlikelyTime, workout.Args{"minutes": t.Seconds / 60}))
	case t.EndBPM < tenSeconds:
		out.lacks(because(TenSeconds, workout.Args{"bpm": t.EndBPM, "times6": 6 * t.EndBPM}))
	case t.EndBPM > physiology.Highest:
		out.lacks(because(Impossible, workout.Args{"bpm": t.EndBPM}))
	}
}

// kline gives the two equations of 1987.
func kline(b physiology.Body, kg, minutes, bpm float64) (relative, absolute float64) {
	lb, man := kg*poundsPerKG, 0.0
	if b.Sex == physiology.Male {
		man = 1
	}
	return 132.853 - 0.0769*lb - 0.3877*b.Age + 6.315*man - 3.2649*minutes - 0.1565*bpm,
		6.9652 + 0.0091*lb - 0.0257*b.Age + 0.5955*man - 0.2240*minutes - 0.0115*bpm
}

// ClockTime reads a typed time in seconds: minutes:seconds, or decimal minutes. A decimal that may have
// been meant as minutes and seconds gets a remark. Errors: anything else.
func ClockTime(text string) (seconds float64, odd []workout.Fact, err error) {
	if m, s, ok := strings.Cut(text, ":"); ok {
		minutes, err1 := strconv.Atoi(m)
		rest, err2 := strconv.ParseFloat(s, 64)
		if err1 != nil || err2 != nil || minutes < 0 || !(rest >= 0 && rest < 60) {
			return 0, nil, fmt.Errorf("cannot read the time %q: write minutes:seconds, e.g. 15:12", text)
		}
		return float64(minutes)*60 + rest, nil, nil
	}
	minutes, err := strconv.ParseFloat(text, 64)
	if err != nil || !(minutes > 0 && minutes < 100) {
		return 0, nil, fmt.Errorf("cannot read the time %q: write minutes:seconds, e.g. 15:12", text)
	}
	seconds = minutes * 60
	if whole, part, ok := strings.Cut(text, "."); ok && len(part) == 2 && part > "00" && part < "60" {
		odd = append(odd, workout.Say(Decimal, workout.Args{"typed": text, "seconds": seconds, "whole": whole, "part": part}))
	}
	return seconds, odd, nil
}
