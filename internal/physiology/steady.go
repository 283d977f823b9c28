package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// What counts as one load: the halves' mean speed or power within 3 %, and a coefficient of variation
// of the 60-s means of at most 12 % (common practice, no source).
const (
	halvesWithin = 0.03
	mostCV       = 0.12
	block        = 60 // s
)

// steadiness describes the load of a span.
type steadiness struct {
	mean float64 // of the known seconds
	// halves is the relative difference between the second half's mean and the first's.
	halves float64
	cv     float64 // coefficient of variation of the 60-s means
	known  float64 // share of seconds at which the load is known
}

// steadinessOf describes the effort in [from, to).
func steadinessOf(e Effort, from, to int) steadiness {
	s := steadiness{halves: math.Inf(1), cv: math.Inf(1)}
	s.known = known(e.v[from:to]) / float64(max(1, to-from))
	mid := (from + to) / 2
	first, ok1 := e.mean(from, mid)
	second, ok2 := e.mean(mid, to)
	s.mean, _ = e.mean(from, to)
	if !ok1 || !ok2 || first <= 0 || s.mean <= 0 {
		return s
	}
	s.halves = second/first - 1
	sum, n := 0.0, 0.0
	for _, m := range means(e.v, from, to, block) {
		if !math.IsNaN(m) {
			sum += (m - s.mean) * (m - s.mean)
			n++
		}
	}
	if n > 1 {
		s.cv = math.Sqrt(sum/(n-1)) / s.mean
	}
	return s
}

// one says that this was one load.
func (s steadiness) one() bool {
	return s.known >= 0.8 && math.Abs(s.halves) <= halvesWithin && s.cv <= mostCV
}

// The same effort is read from minute 5 to minute 15: heart rate has risen (three time constants are
// about 3 min) and has hardly begun to drift.
const sameFrom, sameTo = 5 * 60, 15 * 60

// sameSurest is the largest standard error as a share of the mean: that of the published typical error of
// heart rate at a submaximal load (Buchheit 2014). A mean that is less sure cannot separate one day from another.
const sameSurest = TypicalErrorSubmax

// sameEffortOf is the mean heart rate of minutes 5 to 15 in the 30-s blocks at an even load (see
// evenLoadOf) with the mean load that belongs to it; nil when the recording has no speed or power, or ends
// before, since then no later workout can be compared with it. The standard error is
// that of the mean heart rate about its line (see meanError); what speed adds of its own is not in it.
func sameEffortOf(s heartrate.Series, e Effort) *SameEffort {
	if !e.isLoad() || len(s.BPM) < sameTo {
		return nil
	}
	l, why := evenLoadOf(s, e, sameFrom, sameTo)
	out := &SameEffort{
		Basis: basis(s, "mean of minutes 5 to 15 at an even load", sameFrom, sameTo),
		Load:  l.typical, Unit: e.unit,
	}
	switch {
	case len(why) > 0:
		out.Why = why
	case out.Coverage < heartrate.Enough || float64(len(l.bpm)) < evenShare*(sameTo-sameFrom)/evenBlock:
		out.Why = workout.Facts{heartrate.TooLittle(out.Coverage)}
	default:
		mean, off := levelOf(l.bpm), levelOf(l.off)
		out.Load = l.typical * (1 + off)
		bpm, _ := l.level()
		_, wander := detrended(l.minutes, bpm)
		_, gain, _ := l.coupling()
		if out.Error = meanError(wander, heartAlike); out.Error > sameSurest*mean {
			out.Error, out.Why = 0, because(EffortWanders, nil)
			return out
		}
		out.Mean, out.Gain, out.Enough = mean, gain*(1+off), true
	}
	return out
}

// At is the heart rate that a load near to this session's would have led to on the same day: Mean + Gain
// (load / Load - 1). The gain is a usual one and not the person's own, so the loads should be within 5 %.
func (e SameEffort) At(load float64) float64 {
	if e.Load <= 0 {
		return e.Mean
	}
	return e.Mean + e.Gain*(load/e.Load-1)
}

// A check session is 25 min at one load; 23 to 30 min are taken for one.
const (
	checkShortest, checkLongest = 23 * 60, 30 * 60
	checkFrom, checkTo          = 8 * 60, 12 * 60
	checkLast                   = 5 * 60
)

// checkOf reads a check session: one steady block of 23-30 min and, apart from a short warm-up and
// cool-down, nothing else. Rise is the mean of the block's last 5 min minus that of its minutes 8 to
// 12. It is nil when the workout has another shape. Without speed and power the load is known only to
// the trainer (steady), and Load stays 0. Error adds up the standard errors of the two means, each from
// its 30-s means; see meanError.
func checkOf(s heartrate.Series, phases []Phase, e Effort, steady bool) *Check {
	span, ok := onlySteady(phases)
	if !ok || span.Seconds() < checkShortest || span.Seconds() > checkLongest {
		return nil
	}
	out := &Check{Basis: basis(s, "mean of the last 5 min minus minutes 8 to 12", span.From, span.To)}
	switch {
	case e.isLoad():
		load := steadinessOf(e, span.From, span.To)
		if !load.one() {
			return nil
		}
		out.Load, out.Unit = load.mean, e.unit
	case !steady:
		return nil
	}
	least := min(out.Coverage, s.CoverageIn(span.From+checkFrom, span.From+checkTo), s.CoverageIn(span.To-checkLast, span.To))
	if least < heartrate.Enough {
		out.Why = workout.Facts{heartrate.TooLittle(least)}
		return out
	}
	early, _ := s.MeanIn(span.From+checkFrom, span.From+checkTo)
	late, _ := s.MeanIn(span.To-checkLast, span.To)
	out.Rise, out.Enough = late-early, true
	out.Error = math.Hypot(spanError(s, span.From+checkFrom, span.From+checkTo), spanError(s, span.To-checkLast, span.To))
	return out
}

// spanError is the standard error of the mean heart rate of a span, from its 30-s means.
func spanError(s heartrate.Series, from, to int) float64 {
	var bpm []float64
	for a := from; a < to; a += evenBlock {
		if m, ok := s.MeanIn(a, min(to, a+evenBlock)); ok {
			bpm = append(bpm, m)
		}
	}
	return meanError(bpm, heartAlike)
}

// onlySteady is the steady phase of a workout that has just one and no work bouts.
func onlySteady(phases []Phase) (workout.Span, bool) {
	var span workout.Span
	found := 0
	for _, p := range phases {
		switch p.Kind {
		case workout.Steady:
			span = p.Span
			found++
		case workout.Work, workout.OtherPart:
			return workout.Span{}, false
		}
	}
	return span, found == 1
}

// basis describes the span that a measurement rests on, not yet enough.
func basis(s heartrate.Series, method string, from, to int) Basis {
	return Basis{Method: method, From: from, To: to, Coverage: s.CoverageIn(from, to)}
}
