package fieldtest

import (
	"cmp"
	"math"
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// The protocol of the three-minute step test, as copies of the handbook give it: a bench of 12 in
// (30 cm), a metronome at 96 (24 cycles up-up-down-down a minute), 3 min, then sit at once, begin to
// count within 5 s and count for one minute.
const (
	stepBenchLow, stepBenchHigh = 29.5, 31.0 // cm
	stepSeconds, stepWithin     = 180, 10    // s; the tolerance is common practice, no source
	stepStand                   = 15         // s without steps that separate one effort from the next (the same)
	countAfter, countSeconds    = 5, 60      // s
	leastCount                  = 50         // beats: fewer look like a shorter count; the norms begin at about 50
)

// OldestToStep is the age in years above which nobody is tested on the bench (common practice, no source).
const OldestToStep = 65

// Cadence and length of the test for the metronome: steps a minute and seconds.
const (
	StepCadence  = 96
	StepSeconds  = stepSeconds
	CountSeconds = countSeconds
)

// How far the stop of a recording may be off, in s (common practice, no source).
const stopByMark, stopByHeart = 2, 8

// peakEither is how many seconds on either side of a second are averaged where heart rate peaks.
const peakEither = 2

// Step is a three-minute step test as it was done. Zero means unknown.
type Step struct {
	BenchCM    float64
	Stepped    float64        // s
	Count      float64        // beats
	CountAfter float64        // s between the stop and the start of the count
	Remarks    []workout.Fact // what was odd about typed values
	low, high  float64        // the count with the stop as early and as late as it may have been
	by         physiology.By  // how the stop of a recording was found
	why        workout.Facts
}

// ReadStep reads a recorded step test: the count is the mean heart rate of seconds 5 to 65 after the
// stop, over one minute, not the heart rate at 1 min. The stop is the end of a lap of about 3 min, else
// the end of the stretch with cadence nearest to that, else the turn of heart rate itself; speed is ignored, since it
// is noise on a bench. What was typed into t is kept.
func ReadStep(s heartrate.Series, w workout.Workout, t Step) Step {
	if t.Count > 0 {
		return t
	}
	w.Speed, w.Power, w.Seconds = workout.Channel{}, workout.Channel{}, len(s.BPM)
	e := physiology.EffortOf(w)
	span, by, off := stepSpan(s, w, e)
	t.by = by
	if span.To == 0 {
		t.why = because(NoHeartRate, nil)
		return t
	}
	if t.Stepped == 0 && t.by != physiology.ByHeartRate {
		t.Stepped = float64(span.Seconds())
	}
	count := func(stop int) (beats, coverage float64) {
		return s.ValuesIn(stop+countAfter, stop+countAfter+countSeconds)
	}
	n, coverage := count(span.To)
	switch {
	case len(s.BPM) < span.To+countAfter+countSeconds-heartrate.Nearby:
		t.why = because(EndsEarly, nil)
		return t
	case coverage < heartrate.Enough:
		t.why = workout.Facts{heartrate.TooLittle(coverage)}
		return t
	}
	t.Count, t.low, t.high = n, n, n
	for d := -off; d <= off; d++ {
		if v, coverage := count(span.To + d); coverage >= heartrate.Enough {
			t.low, t.high = min(t.low, v), max(t.high, v)
		}
	}
	if s.Source == workout.Wrist {
		t.Remarks = append(t.Remarks, workout.Say(OnWrist, nil))
	}
	if e.ActivityAfter(span.To, len(s.BPM)) == physiology.Moving {
		t.Remarks = append(t.Remarks, workout.Say(Moved, nil))
	}
	return t
}

// stepSpan is when the client stepped, how that was found, and by how many seconds its end may be off.
func stepSpan(s heartrate.Series, w workout.Workout, e physiology.Effort) (span workout.Span, by physiology.By, off int) {
	var found workout.Span
	most := 0.0
	for _, l := range w.Laps {
		bpm, ok := s.Near(l.To)
		if ok && bpm > most && math.Abs(float64(l.Seconds()-stepSeconds)) <= stepWithin {
			found, most = l.Span, bpm
		}
	}
	if found.To > 0 {
		return found, "laps", stopByMark
	}
	seconds := func(s workout.Span) float64 { return float64(s.Seconds()) }
	if span, ok := nearest(e.Movements(stepStand), stepSeconds, seconds); ok {
		return span, e.By, stopByMark
	}
	top, at := 0.0, -1
	for k := range s.BPM {
		if v, ok := s.MeanIn(k-peakEither, k+peakEither+1); ok && v > top {
			top, at = v, k
		}
	}
	if at < 0 {
		return workout.Span{}, "heart rate", 0
	}
	return workout.Span{To: physiology.Turn(s, at, 0, len(s.BPM)) + 1}, "heart rate", stopByHeart
}

// Result judges the test against its protocol. The count is classed only when the protocol was kept and
// sex and age are known. The norms have no published error; none was found.
func (t Step) Result(b physiology.Body) Result {
	out := newResult("step-test")
	out.Remarks = append(out.Remarks, t.Remarks...)
	out.person(b, 0)
	if b.Age > OldestToStep {
		out.remark(TooOld, workout.Args{"age": OldestToStep})
	}
	if t.Count <= 0 {
		out.lacks(t.why)
		out.lacks(because(NoCount, nil))
		return out
	}
	out.Enough = true
	f := Figure{Code: StepCount, Value: t.Count, Unit: "beats"}
	if t.high > 0 {
		f.Low, f.High, f.By = &t.low, &t.high, t.by
	}
	out.Figures = append(out.Figures, f)
	if t.Stepped > 0 {
		out.Figures = append(out.Figures, Figure{Code: TimeStepped, Value: t.Stepped, Unit: "s"})
	}
	kept := t.kept(&out) && len(t.Remarks) == 0
	switch {
	case b.Slowed:
		out.Classed = NotUnderSlowing
	case !kept:
		out.Classed = NotKept
	case b.Sex == physiology.UnknownSex || b.Age < physiology.Adult:
		out.Classed = NotForAnybody
	default:
		out.Classes, out.Classed = stepClassesOf(b, cmp.Or(t.low, t.Count), cmp.Or(t.high, t.Count))
	}
	return out
}

// kept says what contradicts the protocol, and whether the norms still hold.
func (t Step) kept(out *Result) bool {
	n := len(out.Remarks)
	switch h := t.BenchCM; {
	case h == 0:
		out.remark(Bench, workout.Args{"is": "unknown"})
	case h >= 10 && h <= 14:
		out.remark(Bench, workout.Args{"is": "inches", "cm": h})
	case h < stepBenchLow || h > stepBenchHigh:
		out.remark(Bench, workout.Args{"is": "other", "cm": h})
	}
	if math.Abs(t.Stepped-stepSeconds) > stepWithin {
		out.remark(Duration, workout.Args{"seconds": t.Stepped})
	}
	if t.CountAfter > countAfter {
		out.remark(Late, workout.Args{"seconds": t.CountAfter})
	}
	switch {
	case t.Count < leastCount:
		out.remark(Count, workout.Args{"is": "few", "beats": t.Count})
	case t.Count > physiology.Highest:
		out.remark(Count, workout.Args{"is": "impossible", "beats": t.Count})
	}
	return len(out.Remarks) == n
}

// Class is a class of a test's norms by its name there.
type Class string

// stepClasses are the classes from the lowest count to the highest.
var stepClasses = [...]Class{"excellent", "good", "above average", "average", "below average", "poor", "very poor"}

// The upper bounds of the classes by sex for 18-25, 26-35, 36-45, 46-55, 56-65 and over 65 years
// (Golding's handbook table), from copies: all rows for men, the first two for women. No copy of the other
// rows for women was seen, so they are not here and nobody is classed by them. The published ranges
// leave gaps; a count in a gap belongs to the next class. For men of 36-45 years the copy prints "92-88"
// in the third row, read as 92-98.
var (
	stepMen = [6][6]float64{
		{76, 84, 93, 100, 107, 119},
		{76, 85, 94, 102, 110, 121},
		{76, 88, 98, 105, 113, 124},
		{82, 93, 101, 111, 119, 126},
		{77, 94, 100, 109, 117, 128},
		{81, 92, 102, 110, 118, 126},
	}
	stepWomen = [6][2]float64{{81, 93}, {80, 92}, {84, 96}, {91, 101}, {92, 103}, {92, 101}}
)

// stepClassesOf classes a count between low and high by the tables' upper bounds: into one class, or into those
// of both ends; none where no row of the tables was seen.
func stepClassesOf(b physiology.Body, low, high float64) ([]Class, workout.Code) {
	group, _ := slices.BinarySearch([]float64{25, 35, 45, 55, 65}, math.Floor(b.Age))
	bounds := stepMen[group][:]
	if b.Sex == physiology.Female {
		bounds = stepWomen[group][:]
	}
	from, _ := slices.BinarySearch(bounds, math.Round(low))
	to, _ := slices.BinarySearch(bounds, math.Round(high))
	if to == len(bounds) && b.Sex == physiology.Female {
		return nil, NoRow
	}
	return slices.Compact([]Class{stepClasses[from], stepClasses[to]}), Handbook
}
