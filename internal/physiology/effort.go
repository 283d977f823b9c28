package physiology

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// effort is what the athlete did, second by second: the external load that heart rate answers to.
type Effort struct {
	// by names the channel: "power", "speed", "cadence", or "" when the recording holds none.
	By By
	// not names a channel that the recording holds but heart rate contradicts.
	not By
	// unit is that of v: "W", "m/s", "/min".
	unit string
	// drag says that the work grows with the cube of v, as it does against air and water.
	drag bool
	// v has one value for each second, not smoothed (users average over 5 s and more); 0 in pauses,
	// NaN where the recording does not say.
	v []float64
}

// The rules of the second-by-second effort (common practice, no source).
const (
	longestBridge = 30   // s: a longer silence between readings is not filled by a straight line
	enoughOfIt    = 0.25 // share of the recorded seconds that a channel must be there and above zero
)

// effortOf gives the effort of a workout from power, else from speed, else from cadence. Power and
// cadence left out of a recorded sample mean coasting, so 0; speed left out is not known there. Sparse
// recordings (a reading every 5-8 s) are joined by straight lines.
func EffortOf(w workout.Workout) Effort {
	n := max(0, w.Seconds)
	recorded := recordedSeconds(w, n)
	for _, c := range []struct {
		by      By
		unit    string
		channel workout.Channel
		coasts  bool
	}{
		{"power", "W", w.Power, true},
		{"speed", "m/s", w.Speed, false},
		{"cadence", "/min", w.Cadence, true},
	} {
		v := c.channel.Grid(n, 0)
		if !enough(v, recorded) {
			continue
		}
		if c.coasts {
			for k := range v {
				if math.IsNaN(v[k]) && recorded[k] {
					v[k] = 0
				}
			}
		}
		workout.Bridge(v, longestBridge)
		for _, p := range w.Pauses {
			for k := max(0, p.From); k < min(n, p.To); k++ {
				v[k] = 0
			}
		}
		mode := w.Sport.Mode()
		drag := c.by == "speed" && (mode == workout.Bike || mode == workout.Row || mode == workout.Swim)
		return Effort{By: c.by, unit: c.unit, v: v, drag: drag}
	}
	return Effort{v: slices.Repeat([]float64{math.NaN()}, n)}
}

// How a stuck channel is caught (common practice, no source).
const (
	stuckCV    = 0.10 // coefficient of variation of the 30-s means
	stillCV    = 0.01 // the same of the single seconds while heart rate falls: satellites make more unrest, a stuck channel none
	largeFall  = 30.0 // bpm within fallWithin: no heart does that at constant effort
	fallWithin = 90   // s
	fallsAsked = 2
)

// believed gives e unless heart rate contradicts it: at constant effort heart rate does not fall by 30
// bpm within 90 s, so when it does so twice while the channel hardly moves all the time, the channel is
// stuck (an indoor machine that goes on writing its last value through the rests). Then the effort is not
// known.
func (e Effort) believed(s heartrate.Series) Effort {
	if !e.Known() {
		return e
	}
	mean, sd := stat.MeanStdDev(positive(means(e.v, 0, len(e.v), 30)), nil)
	if !(sd <= stuckCV*mean) {
		return e
	}
	falls := 0
	for k := 0; k+fallWithin < len(s.BPM); k++ {
		high, ok1 := s.Near(k)
		low, ok2 := s.Near(k + fallWithin)
		if ok1 && ok2 && high-low >= largeFall && levelOf(e.v[k:k+fallWithin]) > (1-stuckCV)*mean && stillness(e.v[k:k+fallWithin]) {
			falls++
			k += 2 * fallWithin
		}
	}
	if falls < fallsAsked {
		return e
	}
	return Effort{not: e.By, v: slices.Repeat([]float64{math.NaN()}, len(e.v))}
}

// stillness says that the known values do not move.
func stillness(v []float64) bool {
	mean, sd := stat.MeanStdDev(positive(v), nil)
	return sd <= stillCV*mean
}

// remarks says that a channel was not believed.
func (e Effort) remarks() []workout.Fact {
	if e.not == "" {
		return nil
	}
	return []workout.Fact{workout.Say(EffortStuck, workout.Args{"by": e.not, "bpm": largeFall})}
}

// Known says whether any channel shows the effort.
func (e Effort) Known() bool { return e.By != "" }

// isLoad says whether the effort can be compared between workouts: power and speed can, cadence
// says nothing of the resistance.
func (e Effort) isLoad() bool { return e.By == "power" || e.By == "speed" }

// mean is the mean effort over the known seconds of [from, to), false without any.
func (e Effort) mean(from, to int) (float64, bool) {
	from = min(max(0, from), len(e.v))
	m := levelOf(e.v[from:max(from, min(to, len(e.v)))])
	return m, !math.IsNaN(m)
}

// Metres is the distance of a span by speed in m, NaN unless nearly all of it is known.
func (e Effort) Metres(span workout.Span) float64 {
	v := e.v[max(0, span.From):min(span.To, len(e.v))]
	if known(v) < 0.95*float64(span.Seconds()) {
		return math.NaN()
	}
	return levelOf(v) * float64(span.Seconds())
}

// Reached is the second of a span by which so many metres of it are behind the athlete.
func (e Effort) Reached(span workout.Span, metres float64) int {
	k := span.From
	for done := 0.0; k < span.To && done < metres; k++ {
		if !math.IsNaN(e.v[k]) {
			done += e.v[k]
		}
	}
	return k
}

// Movements gives the stretches of effort: at least half of its mean, parted by stand seconds and more
// of less. Seconds of which nothing is known part nothing.
func (e Effort) Movements(stand int) []workout.Span {
	return e.stretches(fallen*levelOf(positive(e.v)), stand)
}

// stretches are the same above any limit.
func (e Effort) stretches(limit float64, stand int) []workout.Span {
	var out []workout.Span
	v, still := e.v, stand
	for k := range v {
		switch {
		case math.IsNaN(v[k]):
		case v[k] < limit || levelOf(v[max(0, k-sustained+1):k+1]) < limit && levelOf(v[k:min(k+sustained, len(v))]) < limit:
			still++
		case still >= stand:
			out, still = append(out, workout.Span{From: k, To: k + 1}), 0
		default:
			out[len(out)-1].To, still = k+1, 0
		}
	}
	return out
}

// known is the number of values that are known.
func known(v []float64) float64 {
	n := 0.0
	for _, x := range v {
		if !math.IsNaN(x) {
			n++
		}
	}
	return n
}

// recordedSeconds marks the seconds in which the device wrote anything.
func recordedSeconds(w workout.Workout, n int) []bool {
	out := make([]bool, n)
	for _, c := range []workout.Channel{w.HeartRate, w.Speed, w.Power, w.Cadence} {
		for _, t := range c.T {
			if k := int(math.Floor(t)); k >= 0 && k < n {
				out[k] = true
			}
		}
	}
	return out
}

// enough says whether a channel covers the workout: above zero in a share of what was recorded.
func enough(v []float64, recorded []bool) bool {
	some, all := 0, 0
	for k, r := range recorded {
		if r {
			all++
		}
		if v[k] > 0 { // false for NaN
			some++
		}
	}
	return some > 0 && float64(some) >= enoughOfIt*float64(all)
}

// means gives the mean of the known values in each block of width seconds from `from` on, NaN for a
// block that is known for less than half; the last block may be short.
func means(v []float64, from, to, width int) []float64 {
	var out []float64
	for a := from; a < to; a += width {
		part, m := v[a:min(to, a+width)], math.NaN()
		if 2*known(part) >= float64(len(part)) {
			m = levelOf(part)
		}
		out = append(out, m)
	}
	return out
}

// sums are running sums of known values, their squares and their number before each index.
type sums struct{ v, squares, known []float64 }

func runningSums(v []float64) sums {
	s := sums{make([]float64, len(v)+1), make([]float64, len(v)+1), make([]float64, len(v)+1)}
	for i, x := range v {
		s.v[i+1], s.squares[i+1], s.known[i+1] = s.v[i], s.squares[i], s.known[i]
		if !math.IsNaN(x) {
			s.v[i+1] += x
			s.squares[i+1] += x * x
			s.known[i+1]++
		}
	}
	return s
}

// mean of the known values in [a, b), NaN without any.
func (s sums) mean(a, b int) float64 { return (s.v[b] - s.v[a]) / (s.known[b] - s.known[a]) }

// part gives the moments of the known values in [a, b).
func (s sums) part(a, b int) moments {
	return moments{n: s.known[b] - s.known[a], y: s.v[b] - s.v[a], yy: s.squares[b] - s.squares[a]}
}
