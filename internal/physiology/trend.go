package physiology

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// TheilSen is the median of the slopes of all pairs of points with different x (Sen 1968). It is
// false when there is no such pair.
func TheilSen(x, y []float64) (float64, bool) {
	var pairs []float64
	for i := range x {
		for j := i + 1; j < len(x); j++ {
			if x[j] != x[i] {
				pairs = append(pairs, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
	}
	if len(pairs) == 0 {
		return 0, false
	}
	slices.Sort(pairs)
	return median(pairs), true
}

// Kendall is the outcome of a Mann-Kendall test for a monotonic trend.
type Kendall struct {
	S   int     // pairs that rise minus pairs that fall
	Var float64 // of S without a trend, ties allowed for
	Z   float64 // (S -+ 1) / sqrt(Var), 0 for S = 0
	// P is the two-sided probability of an S at least as far from 0 without a trend.
	P     float64
	Exact bool // P was counted out and not taken from the normal distribution
}

// mostExact is the largest number of points for which the distribution of S is counted out.
const mostExact = 10

// MannKendall tests values in the order of time for a trend: S is the sum of the signs of all
// pairs, Var = [n(n-1)(2n+5) - sum t(t-1)(2t+5)] / 18 over groups of t ties. Up to 10 points
// without ties P is exact; otherwise it is the normal distribution's at Z, with the correction for
// continuity (Mann 1945, Kendall 1975). It is false with fewer than 4 points: three can never be
// told from chance. The points must be independent.
func MannKendall(y []float64) (Kendall, bool) {
	n := len(y)
	if n < 4 {
		return Kendall{}, false
	}
	var k Kendall
	for i := range y {
		for j := i + 1; j < n; j++ {
			switch {
			case y[j] > y[i]:
				k.S++
			case y[j] < y[i]:
				k.S--
			}
		}
	}
	m := float64(n)
	sum, tied := m*(m-1)*(2*m+5), false
	sorted := slices.Sorted(slices.Values(y))
	for i := 0; i < n; {
		j := i
		for j < n && sorted[j] == sorted[i] {
			j++
		}
		if t := float64(j - i); t > 1 {
			sum -= t * (t - 1) * (2*t + 5)
			tied = true
		}
		i = j
	}
	k.Var = sum / 18
	if k.Var > 0 && k.S != 0 {
		k.Z = (math.Abs(float64(k.S)) - 1) / math.Sqrt(k.Var)
		if k.S < 0 {
			k.Z = -k.Z
		}
	}
	if n <= mostExact && !tied {
		k.P, k.Exact = exactKendall(n, k.S), true
	} else {
		k.P = min(1, 2*distuv.UnitNormal.Survival(math.Abs(k.Z)))
	}
	return k, true
}

// exactKendall is the two-sided probability of |S| >= |s| among all orders of n different values.
// It counts the orders by their number of inversions: the i-th value adds 0 to i-1 of them.
func exactKendall(n, s int) float64 {
	counts := []float64{1}
	for i := 2; i <= n; i++ {
		next := make([]float64, len(counts)+i-1)
		for inversions, c := range counts {
			for more := range i {
				next[inversions+more] += c
			}
		}
		counts = next
	}
	if s < 0 {
		s = -s
	}
	pairs := n * (n - 1) / 2
	tail, all := 0.0, 0.0
	for inversions, c := range counts {
		all += c
		if pairs-2*inversions >= s {
			tail += c
		}
	}
	return min(1, 2*tail/all)
}

// TypicalError of a measurement from two trials of the same people or sessions: the standard
// deviation of the differences over the square root of 2 (Hopkins 2000). It is false with fewer
// than 3 pairs.
func TypicalError(first, second []float64) (float64, bool) {
	if len(first) != len(second) || len(first) < 3 {
		return 0, false
	}
	d := make([]float64, len(first))
	for i := range d {
		d[i] = second[i] - first[i]
	}
	return stat.StdDev(d, nil) / math.Sqrt2, true
}

// fewestOwn is the number of like sessions that a typical error of one's own takes. Common practice,
// no source.
const fewestOwn = 5

// OwnTypicalError is the typical error of one person from n like measurements in the order of time: the
// standard deviation of the differences of successive ones over the square root of 2 (Hopkins 2000), so
// that a steady trend does not count as error. It is false with fewer than 5 measurements.
//
// df tells how sure it is. Neighbouring differences share a measurement, so there are fewer degrees of
// freedom than the n - 2 of as many free differences. With m = n - 1 of them and independent errors, a
// chi-square of the same mean and variance (Satterthwaite 1946) has
//
//	df = 2 (m^2 - 1)^2 / (3m^3 - m^2 - 2m + 2)
//
// which is 2.65 for 5 measurements and 6.12 for 10.
func OwnTypicalError(values []float64) (te, df float64, ok bool) {
	if len(values) < fewestOwn {
		return 0, 0, false
	}
	te, ok = TypicalError(values[:len(values)-1], values[1:])
	m := float64(len(values) - 1)
	return te, 2 * (m*m - 1) * (m*m - 1) / (3*m*m*m - m*m - 2*m + 2), ok
}

// DetectableChange is the smallest change that is told from chance with 90 % (MDC90) between the
// means of before and after measurements with a typical error te that has df degrees of freedom:
//
//	t(0.95, df) te sqrt(1/before + 1/after)
//
// Of a typical error that is taken as known, such as a published one, df is infinite; then this is
// 1.645 sqrt(2) te / sqrt(n) for n on either side. It is infinite when there is no measurement on one side.
func DetectableChange(te, df float64, before, after int) float64 {
	if before <= 0 || after <= 0 {
		return math.Inf(1)
	}
	return StudentQuantile(df) * te * math.Sqrt(1/float64(before)+1/float64(after))
}

// StudentQuantile is the 0.95 quantile of Student's t, so that plus and minus it span a 90 % interval; df
// may be a fraction, or infinite for the normal distribution. With none it is infinite.
func StudentQuantile(df float64) float64 {
	switch {
	case !(df > 0):
		return math.Inf(1)
	case math.IsInf(df, 1):
		return z90
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: df}.Quantile(0.95)
}

// Published typical errors, used while a person has fewer than 5 measurements of their own
// (Buchheit 2014).
const (
	// TypicalErrorHRR60 is that of the 60-second fall, as a share of it.
	TypicalErrorHRR60 = 0.25
	// TypicalErrorSubmax is that of heart rate at a submaximal load, as a share of it.
	TypicalErrorSubmax = 0.03
	// TypicalErrorRest is that of resting heart rate, as a share of it.
	TypicalErrorRest = 0.10
)
