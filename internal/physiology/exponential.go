package physiology

import "math"

// Exponential is the curve HR(t) = A + B exp(-t/Tau): t in seconds since the stop, A the heart
// rate that the fall ends at and B the height it starts above that, both in bpm, Tau in seconds.
type Exponential struct {
	A, B, Tau float64
	RMSE      float64 // root mean square of the residuals, bpm
	N         int     // readings used
}

// At is the curve's heart rate in bpm, t seconds after the stop.
func (e Exponential) At(t float64) float64 { return e.A + e.B*math.Exp(-t/e.Tau) }

// The limits of the fit: a heart rate, a fall, and time constants that one recording can show.
const (
	lowestEnd, highestEnd = 30.0, 220.0 // bpm
	largestFall           = 200.0       // bpm
	shortestTau           = 5.0         // s
	longestTau            = 2000.0      // s
)

// FitRecovery fits a mono-exponential fall by unweighted least squares to readings hr (bpm) at
// times t (s since the stop, rising). The end A is sought in 30-220 bpm, the height B in 0-200 bpm
// and Tau in 5-2000 s; A and B are linear for a fixed Tau, so only Tau is searched.
//
// It is false with fewer than 6 readings or less than 45 s of them, and when the best curve lies at
// a limit: then the recording is too short or heart rate does not fall like this, and the numbers
// mean nothing. Source of the model: Pierpont, Stolpman & Gornick 2000, who found Tau stable only
// from 3 min of recovery on.
func FitRecovery(t, hr []float64) (Exponential, bool) {
	if len(t) < 6 || t[len(t)-1]-t[0] < 45 {
		return Exponential{}, false
	}
	sse := func(logTau float64) float64 {
		_, _, sse := fallAt(t, hr, math.Exp(logTau))
		return sse
	}
	tau := math.Exp(minimum(math.Log(shortestTau), math.Log(longestTau), 48, 1e-5, sse))
	a, b, rest := fallAt(t, hr, tau)
	e := Exponential{A: a, B: b, Tau: tau, RMSE: math.Sqrt(rest / float64(len(t))), N: len(t)}
	free := tau > 1.02*shortestTau && tau < 0.995*longestTau && b >= 0.01 && b < largestFall-0.1 &&
		a >= lowestEnd+0.1 && a < highestEnd-0.1
	return e, free
}

// decay visits exp(-t/tau) for every t.
func decay(t []float64, tau float64, visit func(i int, x float64)) {
	x, step, factor := 0.0, math.NaN(), 0.0
	for i := range t {
		if i == 0 {
			x = math.Exp(-t[0] / tau)
		} else {
			// Most readings are equally spaced: one exponential serves them all.
			if d := t[i] - t[i-1]; d != step {
				step, factor = d, math.Exp(-d/tau)
			}
			x *= factor
		}
		visit(i, x)
	}
}

// fallAt gives the best a and b within their limits for one tau, and the sum of squared residuals.
func fallAt(t, hr []float64, tau float64) (a, b, sse float64) {
	var m moments
	decay(t, tau, func(i int, x float64) { m.add(x, hr[i]) })
	a, b = m.line()
	if a >= lowestEnd && a <= highestEnd && b >= 0 && b <= largestFall {
		return a, b, m.sse(a, b)
	}
	// The sum of squares is convex: outside the box its smallest value lies on an edge.
	sse = math.Inf(1)
	try := func(ea, eb float64) {
		if v := m.sse(ea, eb); v < sse {
			a, b, sse = ea, eb, v
		}
	}
	for _, ea := range [2]float64{lowestEnd, highestEnd} {
		try(ea, clamp((m.xy-ea*m.x)/m.xx, 0, largestFall))
	}
	for _, eb := range [2]float64{0, largestFall} {
		try(clamp((m.y-eb*m.x)/m.n, lowestEnd, highestEnd), eb)
	}
	return a, b, sse
}

// moments are the sums that a straight line y = a + b x needs.
type moments struct{ n, x, y, xx, xy, yy float64 }

func (m *moments) add(x, y float64) {
	m.n++
	m.x += x
	m.y += y
	m.xx += x * x
	m.xy += x * y
	m.yy += y * y
}

// line is the least-squares line; without spread in x it is level.
func (m *moments) line() (a, b float64) {
	if d := m.n*m.xx - m.x*m.x; d > 1e-12*m.n*m.xx {
		b = (m.n*m.xy - m.x*m.y) / d
	}
	return (m.y - b*m.x) / m.n, b
}

// sse is the sum of squared residuals of y = a + b x, never negative.
func (m *moments) sse(a, b float64) float64 {
	return max(0, m.yy-2*a*m.y-2*b*m.xy+m.n*a*a+2*a*b*m.x+b*b*m.xx)
}

// spread is the sum of squared deviations of y from its mean.
func (m *moments) spread() float64 {
	if m.n == 0 {
		return 0
	}
	return max(0, m.yy-m.y*m.y/m.n)
}

func clamp(v, low, high float64) float64 { return min(max(v, low), high) }

// minimum finds where f is smallest in [low, high]: a grid of n points first, since a sum of
// squares may have several valleys, then golden-section search around the best down to tolerance.
func minimum(low, high float64, n int, tolerance float64, f func(float64) float64) float64 {
	step := (high - low) / float64(n-1)
	best, least := low, math.Inf(1)
	for i := range n {
		if v := f(low + step*float64(i)); v < least {
			best, least = low+step*float64(i), v
		}
	}
	const golden = 0.6180339887498949
	a, b := max(low, best-step), min(high, best+step)
	c, d := b-golden*(b-a), a+golden*(b-a)
	fc, fd := f(c), f(d)
	for b-a > tolerance {
		if fc < fd {
			b, d, fd = d, c, fc
			c = b - golden*(b-a)
			fc = f(c)
		} else {
			a, c, fc = c, d, fd
			d = a + golden*(b-a)
			fd = f(d)
		}
	}
	return (a + b) / 2
}
