package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// How a stop is found (common practice, no source).
const (
	fallen      = 0.5 // of the level before: the effort must fall at least so low
	levelBefore = 120 // s before a stop whose mean is the level
	levelAfter  = 60  // s after it
	timerNear   = 3   // s: a stop so close to the timer's own is told by it
	turnAround  = 30  // s around a change point in which heart rate turns
	turnWithin  = 1.0 // bpm below its highest 5-s mean: the last such second is the turn
	leastTurn   = 10  // bpm that heart rate must fall after its turn
	sustained   = 5   // s mean that tells effort from a single push
)

// stopsOf gives the ends of efforts that heart rate can be read after: of every work bout followed by
// recovery, and of the main part. When the effort at the end of the main part does not fall to half (a
// jog home), the last second of effort stands instead.
func stopsOf(s heartrate.Series, w workout.Workout, c course) []stop {
	n := len(s.BPM)
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
		if b.By == "laps" || atMark(w, b.To) {
			st = stop{at: b.To, by: "laps", until: until}
		}
		switch {
		case c.effort.known():
			if !c.effort.falls(st.at, until) {
				continue
			}
		case st.by != "laps":
			st.at = turn(s, b.To, b.From, until)
		}
		out = append(out, st)
	}
	if last, ok := lastStop(s, w, c); ok && (len(out) == 0 || last.at > out[len(out)-1].at+60) {
		out = append(out, last)
	}
	return out
}

func atMark(w workout.Workout, k int) bool { return nearestMark(w, k, 0) == k && markAt(w, k) }

func markAt(w workout.Workout, k int) bool {
	for _, l := range w.Laps {
		if l.From == k || l.To == k {
			return true
		}
	}
	return false
}

// lastStop is the end of the main part, else the last second of effort.
func lastStop(s heartrate.Series, w workout.Workout, c course) (stop, bool) {
	n := len(s.BPM)
	main := mainSpan(c.phases)
	if main.Seconds() < leastPart || len(c.bouts) > 0 && c.bouts[len(c.bouts)-1].To >= main.To-60 && c.bouts[len(c.bouts)-1].To < n {
		return stop{}, false
	}
	if c.signal.by == "heart rate" {
		return lastTurn(s, c, main)
	}
	if !c.effort.known() {
		return stop{}, false
	}
	last := lastAbove(c.effort.v, fallen*levelOf(positive(c.effort.v[main.From:main.To])))
	if last < 0 {
		return stop{}, false
	}
	st := stop{at: last, by: c.effort.by, until: n}
	for _, p := range w.Pauses {
		if d := p.From - last; d >= -timerNear && d <= timerNear {
			st.by = "timer"
		}
	}
	return st, true
}

// positive gives the values above zero.
func positive(v []float64) []float64 {
	var out []float64
	for _, x := range v {
		if x > 0 {
			out = append(out, x)
		}
	}
	return out
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

// falls says whether the effort really falls after second k: to half of what it was, or to a stop.
func (e effort) falls(k, until int) bool {
	before, ok1 := e.mean(k-levelBefore, k+1)
	after, ok2 := e.mean(k+5, min(until, k+levelAfter))
	return ok1 && ok2 && after <= fallen*before
}

// lastTurn is the last clear turn of heart rate, the end of the main part when only heart rate tells.
func lastTurn(s heartrate.Series, c course, main workout.Span) (stop, bool) {
	n := len(s.BPM)
	levels := c.signal.levels(0, n)
	for i := len(levels) - 1; i > 0; i-- {
		at := levels[i].from
		if !(levels[i-1].level-levels[i].level >= clearBPM) {
			continue
		}
		k := turn(s, at, max(0, at-levelBefore), n)
		high, ok1 := valueAt(s, k)
		low, ok2 := s.LowIn(k, n)
		if ok1 && ok2 && high-low >= leastTurn {
			return stop{at: k, by: "heart rate", until: n}, true
		}
	}
	return stop{at: n - 1, by: "heart rate", until: n}, main.Seconds() > 0
}

// turn is where heart rate turns down near second k: the last second within 1 bpm of the highest 5-s mean
// around it.
func turn(s heartrate.Series, k, from, until int) int {
	a, b := max(from, k-turnAround), min(until, k+turnAround)
	top := math.Inf(-1)
	for j := a; j < b; j++ {
		if v := levelOf(s.BPM[max(0, j-2):min(len(s.BPM), j+3)]); v > top {
			top = v
		}
	}
	for j := b - 1; j >= a; j-- {
		if s.BPM[j] >= top-turnWithin {
			return j
		}
	}
	return k
}
