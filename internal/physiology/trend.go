package physiology

import (
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

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

// fewestOwn is the number of like measurements needed for a typical error of one person. Common practice,
// no source.
const fewestOwn = 5

// OwnTypicalError is the typical error of one person from n like measurements in the order of time: the
// standard deviation of the differences of successive ones over the square root of 2 (Hopkins 2000), so
// that a steady trend does not count as error. It is false with fewer than 5 measurements.
//
// df says how sure it is. Neighbouring differences share a measurement, so there are fewer degrees of
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

// ErrorToJudgeBy is the typical error that a change is judged by: the person's own from like measurements in the order
// of time, where there are 5, but never less than the published one (in the unit of the values). Five values that
// happen to lie close together do not make somebody steadier than those in whom the error was measured, and
// outdoors most are less steady: the heart rate of 11 runs of one person lies 4.0 % around its line over speed, where 3 %
// are published (DEVELOPERS.md, Accuracy); that bound is common practice, no source. df is infinite for the published one.
func ErrorToJudgeBy(values []float64, published float64) (te, df float64, own bool) {
	if te, df, ok := OwnTypicalError(values); ok && te > published {
		return te, df, true
	}
	return published, math.Inf(1), false
}

// DetectableChange is the smallest change that stands out from chance with 90 % confidence (MDC90) between the
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
	// TypicalErrorSubmax is that of heart rate at a submaximal load, as a share of it.
	TypicalErrorSubmax = 0.03
	// TypicalErrorRest is that of resting heart rate, as a share of it.
	TypicalErrorRest = 0.10
)
