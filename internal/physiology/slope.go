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
// (1+r1)/(1-r1), where r1 is the lag-1 autocorrelation of the residuals, corrected for its bias in
// short series by (1+4 r1)/n (Kendall 1954, from memory) and never taken as less than least. That the rank
// interval and not a standard error is widened follows from a trap: for a dozen points with r1 > 0
// the Newey-West error comes out smaller than the plain one.
//
// NaN in y is left out. It is false with fewer than 4 points, or when the ranks of the interval lie
// outside all pairs: then there are too few independent points to bound the slope.
func senSlope(x, y []float64, least float64) (slope, low, high float64, ok bool) {
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
	r1 := likeness(residuals, least)
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

// likeness is the lag-1 autocorrelation of residuals, corrected for its bias in short series, at least
// least and at most 0.95.
func likeness(r []float64, least float64) float64 {
	r1 := autocorrelation(r)
	return clamp(r1+(1+4*r1)/float64(len(r)), least, 0.95)
}

// meanError is the standard error of the mean of neighbouring values that are alike by at least least:
// SD sqrt((1+r1)/(1-r1)/n).
func meanError(v []float64, least float64) float64 {
	r1 := likeness(v, least)
	return stat.StdDev(v, nil) * math.Sqrt((1+r1)/(1-r1)/float64(len(v)))
}

// autocorrelation at lag 1 of residuals, 0 when they do not vary.
func autocorrelation(r []float64) float64 {
	mean := 0.0
	for _, v := range r {
		mean += v / float64(len(r))
	}
	num, den := 0.0, 0.0
	for i, v := range r {
		den += (v - mean) * (v - mean)
		if i > 0 {
			num += (v - mean) * (r[i-1] - mean)
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
