package physiology

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// The shape of a session without work bouts (common practice, no source; warm-up and cool-down usually
// last 5 to 10 min).
const (
	easierBy      = 0.08 // of the main level: lower, the start is warm-up and the end cool-down
	easierByBPM   = 8.0
	leastPart     = 60      // s of a warm-up or cool-down
	leastByHeart  = 150     // s of a warm-up, where a slow rise of heart rate alone looks like one
	mostPart      = 20 * 60 // s
	mostPartShare = 1.0 / 3
	longPause     = 5 * 60  // s: a pause this long parts a steady session in two
	longStop      = 100     // s of next to no effort between two paces that belong to neither
	longPace      = 5 * 60  // s that another pace lasts
	longAround    = 20 * 60 // s before or after bouts: more than a warm-up or a cool-down
	// unsteady is the coefficient of variation of the 60-s means of a part that is no steady load at all;
	// power varies more than speed, since coasting is zero.
	unsteadySpeed, unsteadyPower = 0.35, 0.6
	unsteadyBPM                  = 15.0
)

// course is what the parts of one workout are.
type course struct {
	effort Effort
	signal signal
	phases []Phase
	bouts  []Bout
	stops  []stop
	levels []segment
}

// courseOf parts a workout into warm-up, steady, work, recovery, cool-down and other, a contiguous cover of
// its seconds. The parts follow from power, else speed, else cadence, else heart rate alone; laps give edges
// where the effort goes up and down between them, their labels count for nothing.
func courseOf(s heartrate.Series, w workout.Workout) course {
	w.Seconds = len(s.BPM) // the series rules, should it come from elsewhere
	e := EffortOf(w).believed(s)
	return courseBy(s, w, course{effort: e, signal: signalOf(s, e)})
}

func courseBy(s heartrate.Series, w workout.Workout, c course) course {
	if len(s.BPM) == 0 {
		return c
	}
	if w.Sport == workout.Strength {
		c.phases = cover(nil, workout.OtherPart, len(s.BPM))
	} else {
		c.levels = c.signal.levels(0, len(c.signal.v))
		c.bouts = boutsOf(s, w, c.signal, c.levels, c.signal.clearLevels(c.levels))
		c.phases = c.signal.parts(c.bouts, c.levels, w)
	}
	for i, p := range c.phases {
		c.phases[i].Mean = some(s.MeanIn(p.From, p.To))
	}
	c.stops = stopsOf(s, w, c)
	return c
}

// parts lays out the phases around the bouts, or those of a session without bouts.
func (g signal) parts(bouts []Bout, levels []segment, w workout.Workout) []Phase {
	n := len(g.v)
	if len(bouts) == 0 {
		return g.steadyParts(nil, workout.WarmUp, levels, 0, n, w, true)
	}
	var out []Phase
	if before := bouts[0].From; before >= longAround {
		out = g.steadyParts(out, workout.WarmUp, g.levels(0, before), 0, before, w, false)
	} else if before >= leastPart {
		out = cover(out, workout.WarmUp, before)
	} else if before > 0 {
		out = cover(out, workout.OtherPart, before)
	}
	for i, b := range bouts {
		if i > 0 {
			out = cover(out, workout.Recovery, b.From)
		}
		out = cover(out, workout.Work, b.To)
	}
	var relief []float64
	for i := 1; i < len(bouts); i++ {
		relief = append(relief, g.v[bouts[i-1].To:bouts[i].From]...)
	}
	switch after := bouts[len(bouts)-1].To; {
	case n-after >= longAround && levelOf(relief) < g.easier(levelOf(g.v[after:])): // more than recovery goes on
		return g.steadyParts(out, workout.Recovery, g.levels(after, n), after, n, w, true)
	case n-after >= leastPart:
		return cover(out, workout.CoolDown, n)
	}
	return cover(out, workout.Recovery, n)
}

// steadyParts adds the phases of [from, to) without bouts: an easier start is the lead, an easier end
// cool-down (where the part ends the workout), the rest is steady unless it varies too much.
func (g signal) steadyParts(out []Phase, lead workout.StepKind, levels []segment, from, to int, w workout.Workout, ends bool) []Phase {
	if g.by == "" || to-from < 2*leastPart {
		return cover(out, workout.OtherPart, to)
	}
	start, end := g.steadySpan(levels, from, to, w, ends)
	out = cover(out, lead, start)
	kind := workout.Steady
	if g.unsteady(start, end) {
		kind = workout.OtherPart
	}
	for _, p := range w.Pauses {
		if p.Seconds() >= longPause && p.From > start && p.To < end {
			out = cover(out, kind, p.From)
			out = cover(out, workout.OtherPart, p.To)
		}
	}
	if kind == workout.Steady && g.by != ByHeartRate {
		out = g.paces(out, levels, end)
	}
	out = cover(out, kind, end)
	return cover(out, workout.CoolDown, to)
}

// paces parts a steady stretch where the effort changes for long; a long stop between two paces is neither.
func (g signal) paces(out []Phase, levels []segment, end int) []Phase {
	from := 0
	if len(out) > 0 {
		from = out[len(out)-1].To
	}
	main, last := g.mainLevel(from, end), math.NaN()
	var stop workout.Span
	for _, l := range levels {
		a, b := max(l.from, from), min(l.to, end)
		switch {
		case b-a >= longStop && l.level < fallen*main:
			stop = workout.Span{From: a, To: b}
			continue
		case b-a < longPace:
			continue
		case math.Abs(l.level-last) >= g.clear(max(l.level, last)):
			if stop.To == 0 {
				stop = workout.Span{From: a, To: a}
			}
			out = cover(cover(out, workout.Steady, stop.From), workout.OtherPart, stop.To)
			out = append(out, Phase{Kind: workout.Steady, Span: workout.Span{From: stop.To, To: b}})
		}
		last, stop = l.level, workout.Span{}
	}
	return out
}

// steadySpan is what lies between an easier start and, where the part ends the workout, an easier end.
func (g signal) steadySpan(levels []segment, from, to int, w workout.Workout, ends bool) (start, end int) {
	easier := g.easier(g.mainLevel(from, to))
	longest := min(mostPart, int(mostPartShare*float64(to-from)))
	start, end = from, to
	for i := 0; i < len(levels) && levels[i].to-from <= longest && !(levels[i].level >= easier); i++ {
		start = levels[i].to
	}
	for i := len(levels) - 1; ends && i >= 0 && to-levels[i].from <= longest && !(levels[i].level >= easier); i-- {
		end = levels[i].from
	}
	// The parts were found in 5-s means; their edges are where the signal crosses half way.
	half := func(low, at, high int) float64 {
		return (levelOf(g.v[max(low, at-60):at]) + levelOf(g.v[at:min(high, at+60)])) / 2
	}
	if start > from && start < end {
		start = g.edge(w, start, from, end, half(from, start, end), false)
	}
	if end < to && start < end {
		end = g.edge(w, end, start, to, half(start, end, to), true)
	}
	least := leastPart
	if g.by == ByHeartRate {
		least = leastByHeart
	}
	if start-from < least {
		start = from
	}
	if to-end < leastPart {
		end = to
	}
	return start, end
}

// easier is the level below which a start is warm-up and an end cool-down.
func (g signal) easier(main float64) float64 {
	if g.by == ByHeartRate {
		return main - easierByBPM
	}
	return (1 - easierBy) * main
}

// mainLevel is the median of the 30-s means in which there was any effort.
func (g signal) mainLevel(from, to int) float64 {
	return middle(positive(means(g.v, from, to, 30)))
}

// unsteady says whether the load of [from, to) varies too much to be called one.
func (g signal) unsteady(from, to int) bool {
	parts := positive(means(g.v, from, to, block))
	if len(parts) < 3 {
		return true
	}
	mean, sd := stat.MeanStdDev(parts, nil)
	switch g.by {
	case ByHeartRate:
		return sd > unsteadyBPM
	case "power":
		return sd > unsteadyPower*mean
	}
	return sd > unsteadySpeed*mean
}

// cover adds a phase from the end of the last one to second to; an empty one is left out, one of the same
// kind is prolonged.
func cover(out []Phase, kind workout.StepKind, to int) []Phase {
	from := 0
	if n := len(out); n > 0 {
		from = out[n-1].To
		if out[n-1].Kind == kind {
			out[n-1].To = max(from, to)
			return out
		}
	}
	if to <= from {
		return out
	}
	return append(out, Phase{Kind: kind, Span: workout.Span{From: from, To: to}})
}

// mainSpan is what lies between warm-up and cool-down.
func mainSpan(phases []Phase) workout.Span {
	var span workout.Span
	for i, p := range phases {
		switch {
		case i == 0 && p.Kind != workout.WarmUp:
			span.From = p.From
			span.To = p.To
		case i == 1 && phases[0].Kind == workout.WarmUp:
			span.From = p.From
		}
		if p.Kind != workout.WarmUp && p.Kind != workout.CoolDown {
			span.To = p.To
		}
	}
	return span
}
