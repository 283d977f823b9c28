package physiology

import (
	"math"
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// How a stop is found (common practice, no source).
const (
	fallen      = 0.5  // of the level before: the effort must fall at least this low
	levelBefore = 120  // s before a stop whose mean is the level
	levelAfter  = 60   // s after it
	timerNear   = 3    // s: a stop this close to the timer's own is put down to it
	turnBefore  = 45   // s before a change point and
	turnAfter   = 35   // s after it in which heart rate turns
	turnMargin  = 8    // s that each side of the corner has at least
	leastSlope  = 0.02 // bpm a second that heart rate falls after it, and more than before
	leastTurn   = 10   // bpm that heart rate must fall after its turn, within
	turnWatched = 180  // s
	sustained   = 5    // s whose mean separates effort from a single push
)

// stopsOf gives the ends of efforts that heart rate can be read after: of every work bout followed by
// recovery, and of the main part. When the effort at the end of the main part does not fall to half (a
// jog home), the last second of effort stands instead.
func stopsOf(s heartrate.Series, w workout.Workout, c course) []stop {
	n, ended := len(s.BPM), false
	var out []stop
	for i, b := range c.bouts {
		until := n
		if i+1 < len(c.bouts) {
			until = c.bouts[i+1].From
		}
		if b.To >= n {
			continue
		}
		st := stop{at: b.To - 1, by: b.By, until: until}
		switch {
		case b.By == "laps" || isMark(w, b.To):
			st = stop{at: b.To, by: "laps", until: until}
		case b.By == ByHeartRate: // here it is heart rate's own turn that counts
			st.at = min(st.at+aimLate, until-1)
		}
		if c.effort.Known() && !c.effort.falls(st.at, min(levelBefore, b.Seconds()), until) {
			continue
		}
		out = append(out, st)
		ended = i == len(c.bouts)-1
	}
	main := mainSpan(c.phases)
	if ended && main.To-c.bouts[len(c.bouts)-1].To < leastPart || w.Sport == workout.Strength {
		return out // sets and rests have no one end of effort
	}
	last, ok := stop{}, false
	switch {
	case main.Seconds() < leastPart:
	case c.effort.Known():
		last, ok = lastEffort(c.effort, main, w)
	case c.signal.by == ByHeartRate:
		last, ok = lastTurn(s, c, main), true
	}
	if ok {
		out = append(out, last)
	}
	return out
}

// lastEffort is the last second of effort: at least half the upper quartile of the main part's 30-s means,
// which a long recovery inside the main part hardly lowers. In a session with a slow cool-down that is the
// end of the main part.
func lastEffort(e Effort, main workout.Span, w workout.Workout) (stop, bool) {
	n := len(e.v)
	level := positive(means(e.v, main.From, main.To, 30))
	slices.Sort(level)
	k := -1
	if len(level) > 0 {
		k = lastAbove(e.v, fallen*level[3*len(level)/4])
	}
	if k < 0 || !e.falls(k, levelBefore, n) {
		return stop{}, false
	}
	st := stop{at: k, by: e.By, until: n}
	for _, p := range w.Pauses {
		if d := p.From - k; d >= -timerNear && d <= timerNear {
			st.by = "timer"
		}
	}
	return st, true
}

// isMark says whether a lap begins or ends at second k.
func isMark(w workout.Workout, k int) bool {
	return slices.ContainsFunc(w.Laps, func(l workout.Lap) bool { return l.From == k || l.To == k })
}

// positive gives the values above zero.
func positive(v []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(v), func(x float64) bool { return !(x > 0) })
}

// lastAbove is the last second at or above the limit that belongs to an effort of a few seconds, -1
// without any.
func lastAbove(v []float64, limit float64) int {
	for k := len(v) - 1; k >= 0; k-- {
		if v[k] >= limit && levelOf(v[max(0, k-sustained+1):k+1]) >= limit {
			return k
		}
	}
	return -1
}

// falls says whether the effort really falls after second k: to half of its mean over the seconds before,
// or to a stop. Where the recording ends at once nothing counts against it.
func (e Effort) falls(k, before, until int) bool {
	high, ok1 := e.mean(k-before+1, k+1)
	low, ok2 := e.mean(k+5, min(until, k+levelAfter))
	return ok1 && (!ok2 || low <= fallen*high)
}

// lastTurn is where heart rate turns at the end of the main part, else its last clear turn; without one
// the effort is taken to last to the end of the recording.
func lastTurn(s heartrate.Series, c course, main workout.Span) stop {
	n := len(s.BPM)
	at := func(edge int) (stop, bool) {
		k := Turn(s, edge, max(0, edge-levelBefore), n)
		high, ok1 := s.Near(k)
		low, ok2 := s.LowIn(k, min(n, k+turnWatched))
		return stop{at: k, by: ByHeartRate, until: n}, ok1 && ok2 && high-low >= leastTurn
	}
	if len(c.bouts) > 0 && main.To >= n { // the last bout runs to the end
		return stop{at: n - 1, by: ByHeartRate, until: n}
	}
	if main.To < n {
		if st, ok := at(main.To); ok {
			return st
		}
	}
	for i := len(c.levels) - 1; i > 0; i-- {
		if c.levels[i-1].level-c.levels[i].level >= clearBPM {
			if st, ok := at(c.levels[i].from); ok {
				return st
			}
		}
	}
	return stop{at: n - 1, by: ByHeartRate, until: n}
}

// turn is where heart rate turns down near second k, within [from, until): the corner of the broken line
// HR = a + b min(0, t-corner) + c max(0, t-corner) with the least squared residuals, b and c free. A peak
// some time before the stop, or a beat or two above the rest, does not move it.
func Turn(s heartrate.Series, k, from, until int) int {
	from, until = max(from, k-turnBefore, 0), min(until, k+turnAfter, len(s.BPM))
	best, least := k, math.Inf(1)
	for corner := from + turnMargin; corner < until-turnMargin; corner++ {
		if sse, falls := brokenLine(s.BPM[from:until], corner-from); falls && sse < least {
			best, least = corner, sse
		}
	}
	return best
}

// brokenLine fits two straight lines that meet at the corner to the known values; falls says whether the
// second one goes down, and more steeply than the first.
func brokenLine(v []float64, corner int) (sse float64, falls bool) {
	// Normal equations of y = a + b p + c q with p = min(0, t), q = max(0, t); p q = 0.
	var n, p, q, pp, qq, y, py, qy, yy float64
	for i, x := range v {
		if math.IsNaN(x) {
			continue
		}
		t := float64(i - corner)
		lo, hi := min(0, t), max(0, t)
		n, p, q, pp, qq = n+1, p+lo, q+hi, pp+lo*lo, qq+hi*hi
		y, py, qy, yy = y+x, py+lo*x, qy+hi*x, yy+x*x
	}
	if n < 2*turnMargin || pp == 0 || qq == 0 {
		return 0, false
	}
	d := n - p*p/pp - q*q/qq
	if d <= 0 {
		return 0, false
	}
	a := (y - p*py/pp - q*qy/qq) / d
	b, c := (py-a*p)/pp, (qy-a*q)/qq
	return yy - a*y - b*py - c*qy, c < -leastSlope && c < b-leastSlope
}
