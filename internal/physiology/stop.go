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
	turnAround  = 60  // s around a change point in which heart rate turns
	turnWithin  = 1.0 // bpm below its highest 5-s mean: the last such second is the turn
	leastTurn   = 10  // bpm that heart rate must fall after its turn, within
	turnWatched = 180 // s
	sustained   = 5   // s mean that tells effort from a single push
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
		if b.By == "laps" || isMark(w, b.To) {
			st = stop{at: b.To, by: "laps", until: until}
		}
		switch {
		case c.effort.known():
			if !c.effort.falls(st.at, min(levelBefore, b.Seconds()), until) {
				continue
			}
		case st.by != "laps":
			st.at = turn(s, b.To, b.From, until)
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
	case c.effort.known():
		last, ok = lastEffort(c.effort, main, w)
	case c.signal.by == "heart rate":
		last, ok = lastTurn(s, c, main), true
	}
	if ok {
		out = append(out, last)
	}
	return out
}

// lastEffort is the last second of effort: at least half the main part's mean. In a session with a slow
// cool-down that is the end of the main part.
func lastEffort(e effort, main workout.Span, w workout.Workout) (stop, bool) {
	n := len(e.v)
	k := lastAbove(e.v, fallen*levelOf(positive(e.v[main.From:main.To])))
	if k < 0 || !e.falls(k, levelBefore, n) {
		return stop{}, false
	}
	st := stop{at: k, by: e.by, until: n}
	for _, p := range w.Pauses {
		if d := p.From - k; d >= -timerNear && d <= timerNear {
			st.by = "timer"
		}
	}
	return st, true
}

// isMark says whether a lap begins or ends at second k.
func isMark(w workout.Workout, k int) bool {
	for _, l := range w.Laps {
		if l.From == k || l.To == k {
			return true
		}
	}
	return false
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

// falls says whether the effort really falls after second k: to half of its mean over the seconds before,
// or to a stop. Where the recording ends at once there is nothing that speaks against it.
func (e effort) falls(k, before, until int) bool {
	high, ok1 := e.mean(k-before+1, k+1)
	low, ok2 := e.mean(k+5, min(until, k+levelAfter))
	return ok1 && (!ok2 || low <= fallen*high)
}

// lastTurn is where heart rate turns at the end of the main part, else its last clear turn; without one
// the effort is taken to last to the end of the recording.
func lastTurn(s heartrate.Series, c course, main workout.Span) stop {
	n := len(s.BPM)
	at := func(edge int) (stop, bool) {
		k := turn(s, edge, max(0, edge-levelBefore), n)
		high, ok1 := valueAt(s, k)
		low, ok2 := s.LowIn(k, min(n, k+turnWatched))
		return stop{at: k, by: "heart rate", until: n}, ok1 && ok2 && high-low >= leastTurn
	}
	if len(c.bouts) > 0 && main.To >= n { // the last bout runs to the end
		return stop{at: n - 1, by: "heart rate", until: n}
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
	return stop{at: n - 1, by: "heart rate", until: n}
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
