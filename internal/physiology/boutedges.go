package physiology

import (
	"slices"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// edges moves the edges of bouts, found in 5-s means, to where the signal itself crosses half way, and to
// a lap mark close by. A recovery stays between bouts, and a bout that would lose more than a quarter keeps
// what it had.
func (g signal) edges(s heartrate.Series, runs []workout.Span, w workout.Workout) []workout.Span {
	sum := runningSums(g.v)
	out := slices.Clone(runs)
	for i, r := range runs {
		before, after := 0, len(g.v)
		if i > 0 {
			before = out[i-1].To + reliefShortest
		}
		if i+1 < len(runs) {
			after = runs[i+1].From - reliefShortest
		}
		moved := r
		high := sum.mean(r.From, r.To)
		if r.From > before {
			low := sum.mean(max(before, r.From-60), r.From)
			moved.From = max(before, g.edge(w, r.From, before, r.To, (low+high)/2, false))
		}
		if r.To < after {
			low := sum.mean(r.To, min(after, r.To+60))
			moved.To = min(after, g.end(s, w, r.To, r.From, after, (low+high)/2))
		}
		if moved.Seconds() >= max(boutShortest, 3*r.Seconds()/4) {
			out[i] = moved
		}
	}
	return out
}

// end is the first second after a bout: by the effort where it crosses half, by heart rate where it turns
// less what it waits before it answers.
func (g signal) end(s heartrate.Series, w workout.Workout, at, from, to int, half float64) int {
	if g.by == ByHeartRate {
		return nearestMark(w, Turn(s, at, from, to)+1-aimLate, snapToLapHeart)
	}
	return g.edge(w, at, from, to, half, true)
}

// edge is the second near `at`, within [from, to], at which the signal crosses half for good, moved to a
// lap mark close by: falling, the first second after the last one above half; rising, the first above half.
func (g signal) edge(w workout.Workout, at, from, to int, half float64, falling bool) int {
	around, reach := crossingAround, snapToLap
	if g.by == ByHeartRate {
		around, reach = crossingHeart, snapToLapHeart
	}
	found := at
	a, b := max(from, at-around), min(to, at+around)
	if falling {
		for k := b - 1; k >= a; k-- {
			if g.v[k] >= half {
				found = k + 1
				break
			}
		}
	} else {
		for k := a; k < b; k++ {
			if g.v[k] >= half {
				found = k
				break
			}
		}
	}
	return nearestMark(w, found, reach)
}

// nearestMark is the lap edge nearest to second k, or k when none is within reach.
func nearestMark(w workout.Workout, k, reach int) int {
	best, d := k, reach+1
	for _, l := range w.Laps {
		for _, edge := range [2]int{l.From, l.To} {
			if x := max(edge-k, k-edge); x < d && edge > 0 && edge < w.Seconds {
				best, d = edge, x
			}
		}
	}
	return best
}
