package physiology

import (
	"math"

	"gonum.org/v1/gonum/stat"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Banister is the training impulse after Banister: the sum over the recorded seconds of
// x w(x) / 60 with x = (HR - HRrest) / (HRmax - HRrest), w = 0.64 e^(1.92 x) for men and
// 0.86 e^(1.67 x) for women. (Coefficients as quoted by later papers; the original was not seen.)
//
// It departs from the original, which puts the mean heart rate of a bout in once: since w is
// convex, the sum over seconds is larger when heart rate varies. Below rest x counts as 0. Seconds
// without a heart rate add nothing. It is false without sex, resting or maximal heart rate, when a
// medicine slows the heart, and when nothing was recorded.
func Banister(s heartrate.Series, b Body, m workout.Mode) (float64, bool) {
	top, ok := b.Maximum(m)
	if !ok || b.Slowed || b.HRRest <= 0 || top.BPM <= b.HRRest {
		return 0, false
	}
	var k, e float64
	switch b.Sex {
	case Male:
		k, e = 0.64, 1.92
	case Female:
		k, e = 0.86, 1.67
	default:
		return 0, false
	}
	sum, n := 0.0, 0
	for i, v := range s.BPM {
		if !s.Has(i) {
			continue
		}
		x := max(0, (v-b.HRRest)/(top.BPM-b.HRRest))
		sum += x * k * math.Exp(e*x)
		n++
	}
	return sum / 60, n > 0
}

// Lucia is the zone-weighted time of Lucia 2003 (from memory) in min: time in the three zones
// times 1, 2 and 3. Time under zone 1 counts as zone 1 and time over zone 3 as zone 3, since the
// original's zones are open at both ends.
func (z ZoneTime) Lucia() float64 {
	return float64(z.Under+z.Zone1+2*z.Zone2+3*(z.Zone3+z.Over)) / 60
}

// SessionRPE is the load of a session after Foster 2001: the rating on the 0-10 scale, given about
// half an hour after the session, times its minutes. It is false for a rating on another scale.
func SessionRPE(r workout.RPE, minutes float64) (float64, bool) {
	if r.Scale != 10 || minutes <= 0 {
		return 0, false
	}
	return r.Value * minutes, true
}

// Monotony is Foster's (1998): the mean daily load over its sample standard deviation, a rest day
// counting 0. It is false when all days are equal, and for fewer than 7 days. (The abstract does
// not say which deviation is meant; the sample's is a convention.)
func Monotony(daily []float64) (float64, bool) {
	if len(daily) < 7 {
		return 0, false
	}
	mean, sd := stat.MeanStdDev(daily, nil)
	if sd == 0 {
		return 0, false
	}
	return mean / sd, true
}
