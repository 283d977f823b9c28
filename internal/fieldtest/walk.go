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
	Remarks []workout.Remark // what was odd about typed values
	why     string
}

// ReadWalk reads a recorded walk: a lap of a mile, else the stretch of movement nearest to a mile by speed.
// What was typed into t is kept.
func ReadWalk(s heartrate.Series, w workout.Workout, t Walk) Walk {
	w.Power, w.Cadence, w.Seconds = workout.Channel{}, workout.Channel{}, len(s.BPM)
	e := physiology.EffortOf(w)
	if !e.Known() {
		t.why = "the recording has no speed: type the time for the mile and the heart rate over its last quarter"
		return t
	}
	switch w.Sport.Mode() {
	case workout.Run:
		t.Remarks = append(t.Remarks, workout.Remark{Code: "run", Text: "the recording calls itself a run; the equation is for walking only"})
	case workout.Bike, workout.Row, workout.Swim:
		t.why = fmt.Sprintf("the recording is %s, not walking", w.Sport)
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
		t.why = "speed was not recorded all the way"
		return t
	}
	metres := e.Metres(span)
	from := e.Reached(span, 0.75*metres)
	if c := s.CoverageIn(from, span.To); t.EndBPM == 0 && c < heartrate.Enough {
		t.why = heartrate.TooLittle(c) + " in the last quarter"
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
			t.Remarks = append(t.Remarks, workout.Remark{Code: "pause", Text: fmt.Sprintf("the timer was stopped for %d s on the way; this counts as part of the walk", paused)})
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
	if t.unfit(&out, b); out.Why != "" {
		return out
	}
	if t.Metres == 0 {
		out.remark("distance", "the distance is unknown and taken to be one mile (1609 m)")
	}
	if t.EndBPM < walkBPM {
		out.remark("slow", "the heart rate of %.0f bpm is below about 120 bpm, where the equation is unreliable (from memory): was the walk as fast as possible?", t.EndBPM)
	}
	if b.Age < 30 || b.Age >= 70 {
		out.remark("age", "the equation comes from people aged 30 to 69; for clients under 30 it reads too low")
	}
	relative, absolute := kline(b, t.MassKG, t.Seconds/60, t.EndBPM)
	if relative < physiology.RestUptake || absolute <= 0 {
		out.lacks("the equation gives less than the uptake at rest")
		return out
	}
	out.Enough, out.Norms = true, "not classed: compare it with the client's next estimate"
	out.Figures = append(out.Figures,
		plusMinus("maximal oxygen uptake per kg", relative, seeRelative, "mL/kg/min", "one standard error of about 5 (from memory): two people in three lie within"),
		plusMinus("maximal oxygen uptake", absolute, seeAbsolute, "L/min", "one standard error of 0.325 (0.355 in cross-validation)"),
		Figure{Name: "time of the walk", Value: t.Seconds, Unit: "s"},
		Figure{Name: "heart rate of the last quarter", Value: t.EndBPM, Unit: "bpm"})
	return out
}

// unfit says why the equation cannot be used for this person or this walk, if so.
func (t Walk) unfit(out *Result, b physiology.Body) {
	switch {
	case b.Slowed:
		out.lacks("a medicine slows the heart, so the equation does not hold")
	case b.Sex == physiology.UnknownSex || b.Age == 0 || t.MassKG == 0:
		out.lacks("the equation needs sex, age and mass")
	case b.Age < physiology.Adult:
		out.lacks("the equation is for adults")
	case t.Seconds == 0 || t.EndBPM == 0:
		out.lacks("%s", cmp.Or(t.why, "the time for the mile or the heart rate over its last quarter is missing"))
	case t.Metres != 0 && math.Abs(t.Metres/mile-1) > mileWithin:
		out.lacks("the walk measured %.0f m, not one mile (1609 m): mark the mile with a lap, or type its time", t.Metres)
	case t.Seconds < walkShortest || t.Seconds > walkLongest:
		out.lacks("%.1f min is not a likely time for a mile walked as fast as possible (10 to 30 min)", t.Seconds/60)
	case t.EndBPM < tenSeconds:
		out.lacks("%.0f bpm looks like a count over 10 s (times 6: %.0f bpm)", t.EndBPM, 6*t.EndBPM)
	case t.EndBPM > physiology.Highest:
		out.lacks("%.0f bpm is impossible", t.EndBPM)
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
func ClockTime(text string) (seconds float64, odd []workout.Remark, err error) {
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
		odd = append(odd, workout.Remark{Code: "decimal", Text: fmt.Sprintf(
			"%s was read as decimal minutes (%d:%02.0f); if %s min %s s was meant, write %s:%s", text, int(minutes), seconds-60*math.Floor(minutes), whole, part, whole, part)})
	}
	return seconds, odd, nil
}
