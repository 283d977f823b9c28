package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// By is what an effort, an edge or a stop was found by; "" for nothing. ByHeartRate, "power", "speed" and
// "cadence" are signals, "laps" and "timer" marks of the device.
type By string

// ByHeartRate says that edges were found in the heart rate itself, for want of anything better.
const ByHeartRate By = "heart rate"

// signal is what the parts of a workout are found in, second by second: the effort where the recording
// holds it, else what heart rate says of it.
type signal struct {
	by By // "power", "speed", "cadence", "heart rate", "" for none
	v  []float64
	// scale turns a level into the difference that is clear at that level: a share of it for an effort,
	// a fixed number of bpm for heart rate.
	share, bpm float64
	penalty    penalty
}

// penalty is what a change point costs: clear, times the square of half a clear difference, for stretches
// that are clearly apart; and so as not to follow noise, at least noise, times sigma^2 ln n.
type penalty struct{ noise, clear float64 }

// What a clear difference is (common practice, no source).
const (
	clearShare = 0.18 // of the higher level, for power and speed
	clearSteps = 0.12 // for cadence, which changes less than the work
	clearBPM   = 14.0 // of the heart rate aimed at
	blockWidth = 5    // s: levels are sought in means of so much

	shortestLevel = 3 // such means

	// atATime is how many such means are cut at once, 6 h: the time that takes grows with its square. The
	// stretches on either side of a join are joined as all others are.
	atATime = 6 * 3600 / blockWidth

	lapGap = 2 // s that devices leave between laps (seen in real recordings)

	// The penalties that part sessions with known bouts best; see TestPenaltyIsTheBest. Schwarz's
	// criterion would be 2 sigma^2 ln n for independent noise; that of speed and heart rate is not.
	noisePenalty = 23
	clearPenalty = 12
)

// signalOf takes the effort, else heart rate.
func signalOf(s heartrate.Series, e Effort) signal {
	g := signal{by: e.By, v: e.v, share: clearShare, penalty: penalty{noisePenalty, clearPenalty}}
	if e.By == "cadence" {
		g.share = clearSteps
	}
	if e.Known() {
		return g
	}
	for k := range s.BPM {
		if s.Has(k) {
			g.by, g.v, g.share, g.bpm = ByHeartRate, aim(s), 0, clearBPM
			break
		}
	}
	return g
}

// clear is the difference from a level that counts as clear.
func (g signal) clear(level float64) float64 { return g.share*math.Abs(level) + g.bpm }

// aimTau and aimSpan: heart rate is taken to run after the load with a time constant a little below the
// published 55-60 s of a step (Hunt, Fankhauser and Saengsuwan 2015).
const (
	aimTau  = 50.0 // s
	aimSpan = 7    // s on either side of the slope's centre
	aimLate = 5    // s that heart rate waits before it answers (common practice, no source)
)

// aim is the heart rate that the present effort would lead to: HR + tau dHR/dt, the inverse of a
// first-order response, with the slope taken over 15 s. It answers to a change of effort within seconds
// where heart rate itself needs minutes, so that edges found in it need no shift for the lag of the heart.
func aim(s heartrate.Series) []float64 {
	n := len(s.BPM)
	out := make([]float64, n)
	for k := range out {
		var m moments
		centre := min(k+aimLate, n-1)
		for j := max(0, centre-aimSpan); j <= min(n-1, centre+aimSpan); j++ {
			if v := s.BPM[j]; !math.IsNaN(v) {
				m.add(float64(j-centre), v)
			}
		}
		if m.n < aimSpan {
			out[k] = math.NaN()
			continue
		}
		a, b := m.line()
		out[k] = a + aimTau*b
	}
	return out
}

// levels cuts the signal into stretches of clearly different level: change points of its 5-s means, then
// neighbours that are not clearly apart are joined, the nearest first. Where the signal is restless it
// takes more than a clear difference, so that short bouts are lost.
func (g signal) levels(from, to int) []segment {
	y := means(g.v, from, to, blockWidth)
	usual, _ := g.costs(y)
	return g.cut(y, from, to, usual)
}

// clearLevels are the same for the whole signal whatever the noise, as many short bouts look like noise;
// levels is what was found with it.
func (g signal) clearLevels(levels []segment) []segment {
	y := means(g.v, 0, len(g.v), blockWidth)
	usual, clear := g.costs(y)
	if usual == clear {
		return levels
	}
	return g.cut(y, 0, len(g.v), clear)
}

// costs are the penalties for a change point: the usual one, and what a clear difference is worth.
func (g signal) costs(y []float64) (usual, clear float64) {
	sigma, step := noise(y), g.clear(levelOf(y))/2
	clear = g.penalty.clear * step * step
	return max(clear, g.penalty.noise*sigma*sigma*math.Log(float64(len(y)))), clear
}

func (g signal) cut(y []float64, from, to int, cost float64) []segment {
	if math.IsNaN(cost) { // nothing is known
		return []segment{{from, to, math.NaN()}}
	}
	var out []segment
	for at := 0; at < len(y); at += atATime {
		for _, c := range changePoints(y[at:min(at+atATime, len(y))], cost, shortestLevel) {
			out = append(out, segment{from + (at+c.from)*blockWidth, min(to, from+(at+c.to)*blockWidth), c.level})
		}
	}
	return g.join(out)
}

// join merges neighbours whose levels differ by less than half of what is clear.
func (g signal) join(in []segment) []segment {
	for len(in) > 1 {
		best, least := -1, 1.0
		for i := 1; i < len(in); i++ {
			a, b := in[i-1].level, in[i].level
			d := 0.0
			if !math.IsNaN(a) && !math.IsNaN(b) {
				d = math.Abs(a-b) / (g.clear(max(a, b)) / 2)
			}
			if d < least {
				best, least = i, d
			}
		}
		if best < 0 {
			break
		}
		a, b := in[best-1], in[best]
		na, nb := float64(a.to-a.from), float64(b.to-b.from)
		level := (a.level*na + b.level*nb) / (na + nb)
		if math.IsNaN(a.level) {
			level = b.level
		} else if math.IsNaN(b.level) {
			level = a.level
		}
		in[best-1] = segment{a.from, b.to, level}
		in = append(in[:best], in[best+1:]...)
	}
	return in
}

// lapLevels cuts the signal at the laps instead.
func (g signal) lapLevels(w workout.Workout) []segment {
	var out []segment
	at := 0
	add := func(to int) {
		if to <= at {
			return
		}
		out = append(out, segment{at, to, levelOf(g.v[at:to])})
		at = to
	}
	for _, l := range w.Laps {
		if l.From > at+lapGap {
			add(min(l.From, len(g.v)))
		}
		add(min(l.To, len(g.v)))
	}
	add(len(g.v))
	return out
}

// levelOf is the mean of the known values, NaN without any.
func levelOf(v []float64) float64 {
	sum, n := 0.0, 0.0
	for _, x := range v {
		if !math.IsNaN(x) {
			sum += x
			n++
		}
	}
	return sum / n
}
