package physiology

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// z90 is the normal quantile that leaves 5 % on either side.
const z90 = 1.6448536269514722

// senSlope is the Theil-Sen slope of y over x, the median of the slopes of all pairs, with a 90 %
// interval.
//
// The interval is Sen's (1968): the pair slopes ranked (N -+ z sqrt(V))/2, with Kendall's variance
// V = n(n-1)(2n+5)/18. Neighbouring means of heart rate are alike, so V is multiplied by n/n_eff =
// (1+r1)/(1-r1) with the likeness r1 of what is left (see prior). That the rank interval and not a standard
// error is widened follows from a trap: for a dozen points with r1 > 0 the Newey-West error comes out
// smaller than the plain one.
//
// NaN in y is left out. It is false with fewer than 4 points, or when the ranks of the interval lie
// outside all pairs: then there are too few independent points to bound the slope.
func senSlope(x, y []float64, p prior) (slope, low, high float64, ok bool) {
	xs, ys := make([]float64, 0, len(x)), make([]float64, 0, len(y))
	for i := range y {
		if !math.IsNaN(y[i]) {
			xs, ys = append(xs, x[i]), append(ys, y[i])
		}
	}
	n := len(xs)
	if n < 4 {
		return 0, 0, 0, false
	}
	pairs := make([]float64, 0, n*(n-1)/2)
	for i := range xs {
		for j := i + 1; j < n; j++ {
			if xs[j] != xs[i] {
				pairs = append(pairs, (ys[j]-ys[i])/(xs[j]-xs[i]))
			}
		}
	}
	slices.Sort(pairs)
	slope = median(pairs)

	residuals := make([]float64, n)
	for i := range xs {
		residuals[i] = ys[i] - slope*xs[i]
	}
	r1 := p.likeness(residuals)
	m := float64(n)
	variance := m * (m - 1) * (2*m + 5) / 18 * (1 + r1) / (1 - r1)
	half := z90 * math.Sqrt(variance)
	at := (float64(len(pairs)) - half) / 2
	lower, upper := int(math.Floor(at)), int(math.Ceil((float64(len(pairs))+half)/2))
	if lower < 0 || upper >= len(pairs) {
		return slope, math.Inf(-1), math.Inf(1), false
	}
	return slope, pairs[lower], pairs[upper], true
}

// prior is what is known beforehand of the autocorrelation of neighbouring means: its usual value and the
// least that is possible. The zero value means that nothing is known.
type prior struct{ usual, least float64 }

// priorWeight is the number of means that the usual value counts for: common practice, no source;
// TestSenIntervalCovers and TestDriftOutdoors show how often the interval then holds the truth.
const priorWeight = 40

// likeness estimates the autocorrelation of neighbours from residuals about a line. Noise of single values
// hides it at lag 1, so that the root of lag 2 is taken where it is larger. Its bias in short series about
// a line, (2+4 r1)/n, is taken off (Marriott & Pope 1954, from memory); then it is drawn to what is usual,
// since 20 min are too short to separate slow unrest from drift, and kept between the least and 0.95.
func (p prior) likeness(r []float64) float64 {
	n := float64(len(r))
	r1 := autocorrelation(r, 1)
	if r1 > 0 {
		r1 = max(r1, math.Sqrt(max(0, autocorrelation(r, 2))))
	}
	r1 = (r1 + 2/n) / (1 - 4/max(n, 5))
	if p.usual > 0 {
		r1 = (n*r1 + priorWeight*p.usual) / (n + priorWeight)
	}
	return min(max(r1, p.least), 0.95)
}

// meanError is the standard error of the mean of neighbouring values: SD sqrt((1+r1)/(1-r1)/n).
func meanError(v []float64, p prior) float64 {
	r1 := p.likeness(v)
	return stat.StdDev(v, nil) * math.Sqrt((1+r1)/(1-r1)/float64(len(v)))
}

// autocorrelation of residuals at a lag, 0 when they do not vary.
func autocorrelation(r []float64, lag int) float64 {
	mean := stat.Mean(r, nil)
	num, den := 0.0, 0.0
	for i, v := range r {
		den += (v - mean) * (v - mean)
		if i >= lag {
			num += (v - mean) * (r[i-lag] - mean)
		}
	}
	if den <= 1e-20*float64(len(r))*(1+mean*mean) { // a straight line but for rounding
		return 0
	}
	return num / den
}

// median of sorted values, NaN for none.
func median(sorted []float64) float64 {
	n := len(sorted)
	if n == 0 {
		return math.NaN()
	}
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// middle is the median of values in any order, NaN for none; it reorders them.
func middle(v []float64) float64 {
	slices.Sort(v)
	return median(v)
}
