package physiology

import (
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
	mainShare   = 0.75 // of that upper quartile: less, an effort is that of the way home
	homeShare   = 0.85 // the same after a break
	sustained   = 5    // s whose mean separates effort from a single push
)

// stopsOf gives the ends of efforts that heart rate can be read after: of every work bout followed by
// recovery, and of the main part. When the effort at the end of the main part does not fall to half (a
// jog home), the last second of effort stands instead.
func stopsOf(s heartrate.Series, w workout.Workout, c course) []stop {
	n, ended, h := len(s.BPM), false, smooth(s)
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
		case b.By == ByHeartRate:
			if k := deepest(h, b.To-levelAfter, min(b.To+levelAfter, until)); k >= 0 {
				st = turnedAt(s, h, k, until)
			}
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
		last, ok = lastEffort(s, c.effort, main, w)
	case c.signal.by == ByHeartRate:
		// Without a turn the effort is taken to last to the end.
		last, ok = append(turns(s), stop{at: n - 1, by: ByHeartRate, until: n})[0], true
	}
	if ok {
		out = append(out, last)
	}
	return out
}

// lastEffort is the last second of effort: at least half the upper quartile of the main part's 30-s means,
// which a long recovery inside the main part hardly lowers. In a session with a slow cool-down that is the
// end of the main part. An easier way home after a break is none of it. Where heart rate is far below its peak there,
// and the effort below that of the main part, heart rate's own turn stands instead.
func lastEffort(s heartrate.Series, e Effort, main workout.Span, w workout.Workout) (stop, bool) {
	n := len(e.v)
	level := positive(means(e.v, main.From, main.To, 30))
	if len(level) == 0 {
		return stop{}, false
	}
	slices.Sort(level)
	full := level[3*len(level)/4]
	h := smooth(s)
	k, until := e.beforeHome(full, h)
	if !e.falls(k, levelBefore, n) {
		return stop{}, false
	}
	top, low := heartRange(h)
	if before, _ := e.mean(k-levelBefore+1, k+1); h[k] < top-farBelow*(top-low) && before < mainShare*full {
		if ends := turns(s); len(ends) > 0 && ends[0].at < k {
			return ends[0], true
		}
	}
	st := stop{at: k, by: e.By, until: until}
	for _, p := range w.Pauses {
		if d := p.From - k; d >= -timerNear && d <= timerNear {
			st.by = "timer"
		}
	}
	return st, true
}

// beforeHome is the last second of effort before an easier way home, or -1, and where that way begins: one with less
// load and less heart rate h, after a break.
func (e Effort) beforeHome(full float64, h []float64) (k, until int) {
	until = len(e.v)
	for all := e.stretches(fallen*full, leastPart); len(all) > 1; all = all[:len(all)-1] {
		home, before := all[len(all)-1], all[len(all)-2]
		top, _ := heartRange(h[home.From:home.To])
		if levelOf(e.v[home.From:home.To]) >= homeShare*full || !(top < h[before.To-1]) {
			break
		}
		until = home.From
	}
	return lastAbove(e.v[:until], fallen*full), until
}

// isMark says whether a lap begins or ends at second k.
func isMark(w workout.Workout, k int) bool {
	return slices.ContainsFunc(w.Laps, func(l workout.Lap) bool { return l.From == k || l.To == k })
}

// positive gives the values above zero.
func positive(v []float64) []float64 {
	return slices.DeleteFunc(slices.Clone(v), func(x float64) bool { return !(x > 0) })
}

// lastAbove is the last second above the limit that belongs to an effort of a few seconds, -1
// without any.
func lastAbove(v []float64, limit float64) int {
	for k := len(v) - 1; k >= 0; k-- {
		if v[k] > limit && levelOf(v[max(0, k-sustained+1):k+1]) > limit {
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
