package physiology

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Exponential is the curve HR(t) = A + B exp(-t/Tau): t in seconds since the stop, A the heart
// rate that the fall ends at and B the height it starts above that, both in bpm, Tau in seconds.
type Exponential struct {
	A, B, Tau float64
	Low, High float64 // 90 % interval of Tau, s
	RMSE      float64 // root mean square of the residuals, bpm
	N         int     // readings used
}

// At is the curve's heart rate in bpm, t seconds after the stop.
func (e Exponential) At(t float64) float64 { return e.A + e.B*math.Exp(-t/e.Tau) }

// The limits of the fit: a heart rate, a fall, and time constants that one recording can show (common practice,
// no source). TestFitAgainstR and TestCardioReference fit within the same limits in R.
const (
	lowestEnd, highestEnd = 30.0, 220.0 // bpm
	largestFall           = 200.0       // bpm
	shortestTau           = 5.0         // s
	longestTau            = 2000.0      // s

	fitReadings, fitSpan = 6, 45.0 // readings, and s between the first and the last
)

// FitRecovery fits a mono-exponential fall by unweighted least squares to readings hr (bpm) at
// times t (s since the stop, rising). The end A is sought in 30-220 bpm, the height B in 0-200 bpm
// and Tau in 5-2000 s; A and B are linear for a fixed Tau, so only Tau is searched.
//
// It is false with fewer than 6 readings or less than 45 s of them, and when the best curve lies at
// a limit: then the recording is too short or heart rate does not fall like this, and the numbers
// mean nothing. Source of the model: Pierpont, Stolpman & Gornick 2000, who found Tau stable only
// from 3 min of recovery on. For the interval of Tau see interval.
func FitRecovery(t, hr []float64) (Exponential, bool) {
	if len(t) < fitReadings || t[len(t)-1]-t[0] < fitSpan {
		return Exponential{}, false
	}
	sse := func(logTau float64) float64 {
		_, _, sse := fallAt(t, hr, math.Exp(logTau))
		return sse
	}
	tau := math.Exp(minimum(math.Log(shortestTau), math.Log(longestTau), 48, 1e-5, sse))
	a, b, rest := fallAt(t, hr, tau)
	e := Exponential{A: a, B: b, Tau: tau, RMSE: math.Sqrt(rest / float64(len(t))), N: len(t)}
	e.Low, e.High = e.interval(t, hr)
	// So near to a limit the search has ended there: margins wider than its own steps (common practice, no source).
	free := tau > 1.02*shortestTau && tau < 0.995*longestTau && b >= 0.01 && b < largestFall-0.1 &&
		a >= lowestEnd+0.1 && a < highestEnd-0.1
	return e, free
}

// interval is the 90 % interval of Tau. The standard error comes from the Jacobian J of the curve at the
// least-squares fit, s^2 (J'J)^-1 (Bates & Watts 1988, from memory), for log Tau, whose error is nearer to
// normal than that of Tau. Neighbouring readings of heart rate are alike: the n residuals count as n/x
// independent ones, x = 1 + 2 (sum of their autocorrelations), both in the variance and in the degrees of
// freedom of Student's quantile, n/x - 3. It is everything above 0 without enough independent readings.
func (e Exponential) interval(t, hr []float64) (low, high float64) {
	// What the readings say of log Tau beyond A and B: the residuals of its column of J, B t/Tau exp(-t/Tau),
	// on the columns 1 and exp(-t/Tau). The corner of the inverse is one over their sum of squares.
	var m moments
	slope := func(at float64) (x, y float64) {
		x = math.Exp(-at / e.Tau)
		return x, e.B * at / e.Tau * x
	}
	residuals, sse := make([]float64, len(t)), 0.0
	for i, at := range t {
		m.add(slope(at))
		residuals[i] = hr[i] - e.At(at)
		sse += residuals[i] * residuals[i]
	}
	a, b := m.line()
	own := 0.0
	for _, at := range t {
		x, y := slope(at)
		own += (y - a - b*x) * (y - a - b*x)
	}
	independent := float64(len(t)) / alikeness(residuals, 3)
	if independent <= 4 || own == 0 {
		return 0, math.Inf(1)
	}
	q := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: independent - 3}.Quantile(0.95)
	// SSE/(n_eff-3) is s^2 n/n_eff, so that own, a sum over all n, needs no further factor.
	half := q * math.Sqrt(sse/(independent-3)/own)
	return e.Tau * math.Exp(-half), e.Tau * math.Exp(half)
}

// alikeness is how many neighbouring residuals of a least-squares fit count as one independent value:
// x = 1 + 2 (r1 + r2 + ...), summed up to where the pairs r1+r2, r3+r4 ... are no longer above 0 (Geyer
// 1992, Statistical Science 7:473, from memory). Fitting p slow curves takes p x/n of the variance away from every
// autocovariance; that is given back, which needs a few rounds since x is on both sides. The number of
// rounds, the most that is given back (half) and the longest lag (120) are common practice, no source;
// TestTauIntervalHoldsTheTruth shows what the interval then holds.
func alikeness(residuals []float64, p float64) float64 {
	n := len(residuals)
	var lags []float64
	lag := func(k int) float64 {
		for len(lags) <= k { // most are never needed
			sum := 0.0
			for i := len(lags); i < n; i++ {
				sum += residuals[i] * residuals[i-len(lags)]
			}
			lags = append(lags, sum)
		}
		return lags[k]
	}
	if n == 0 || lag(0) <= 0 {
		return 1
	}
	x := 1.0
	for range 12 {
		taken := min(p*x/float64(n), 0.5)
		at := func(k int) float64 { return lag(k)/lag(0)*(1-taken) + taken*(1-float64(k)/float64(n)) }
		sum := -1.0
		for k := 0; k+1 < min(n, 120); k += 2 {
			pair := at(k) + at(k+1)
			if pair <= 2*taken {
				break
			}
			sum += 2 * pair
		}
		x = max(1, sum)
	}
	return x
}

// T30 is the time constant in s of the first 30 s of a fall, -1/b with b the slope of the least-squares
// line of ln HR over time (Imai et al. 1994, JACC 24:1529; the window from memory, some take 10-40 s). It
// is false with fewer than 4 readings or less than 25 s of them in that time, and when heart rate does not
// fall or T30 would be above 2000 s: less than about 2 bpm.
func T30(t, hr []float64) (float64, bool) {
	var m moments
	first, last := 0.0, 0.0
	for i, at := range t {
		if at < 0 || at > 30 || hr[i] <= 0 {
			continue
		}
		if m.n == 0 {
			first = at
		}
		last = at
		m.add(at, math.Log(hr[i]))
	}
	_, b := m.line()
	if m.n < 4 || last-first < 25 || -b*longestTau < 1 {
		return 0, false
	}
	return -1 / b, true
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
		try(ea, min(max((m.xy-ea*m.x)/m.xx, 0), largestFall))
	}
	for _, eb := range [2]float64{0, largestFall} {
		try(min(max((m.y-eb*m.x)/m.n, lowestEnd), highestEnd), eb)
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

// minimum finds where f is smallest in [low, high]: a grid of n points first, since a sum of
// squares may have several valleys, then golden-section search (Kiefer 1953, from memory) around the best down to
// tolerance. gonum/optimize has no search in one dimension between bounds.
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
