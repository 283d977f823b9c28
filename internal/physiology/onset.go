package physiology

import (
	"math"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// Rise is heart rate at the start of effort: From until Delay seconds have passed, then
// From + Gain (1 - exp(-(t-Delay)/Tau)); bpm and seconds.
type Rise struct {
	From, Gain, Delay, Tau float64
	RMSE                   float64 // bpm
}

// What a rise must show to count (common practice, no source).
const (
	onsetShortest = 120  // s of a bout
	onsetReadings = 10   // in it
	onsetLongest  = 300  // s of it that are fitted: later, drift would pass for a slow rise
	longestDelay  = 40.0 // s
	slowestRise   = 300.0
	leastGain     = 8.0 // bpm
	leastFit      = 0.9 // share of the variance that the curve explains
)

// mostFits is how many rises and how many falls of one recording are measured, the first ones: each takes milliseconds,
// and no session has more.
const mostFits = 100

// FitRise fits a mono-exponential rise with a delay by least squares to readings hr (bpm) at times t
// (s since the start of the effort, rising). The delay is sought in 0-40 s and Tau in 5-300 s. It is
// false with less than about 2 min or 10 readings, when the best Tau or the
// longest delay lies at a limit, when heart rate rises by
// less than 8 bpm, or when the curve explains less than 90 % of the variance: in beginners at low load
// it often does not (Trounson 2017).
//
// Source of the first-order model for treadmill steps: Hunt, Fankhauser and Saengsuwan 2015 (Tau 57.6 s, SD 23.6 s).
func FitRise(t, hr []float64) (Rise, bool) {
	if len(t) < onsetReadings || t[len(t)-1]-t[0] < onsetShortest-10 {
		return Rise{}, false
	}
	at := func(delay, tau float64) (Rise, float64) {
		var m moments
		start := math.Exp(delay / tau)
		decay(t, tau, func(i int, x float64) { m.add(1-min(1, x*start), hr[i]) })
		a, b := m.line()
		sse := m.sse(a, b)
		return Rise{a, b, delay, tau, math.Sqrt(sse / m.n)}, sse
	}
	low, high := math.Log(shortestTau), math.Log(slowestRise)
	bestTau := func(delay, tolerance float64) float64 {
		return math.Exp(minimum(low, high, 8, tolerance, func(l float64) float64 {
			_, sse := at(delay, math.Exp(l))
			return sse
		}))
	}
	withDelay := func(d float64) float64 {
		_, sse := at(d, bestTau(d, 0.02))
		return sse
	}
	delay := minimum(0, longestDelay, 9, 0.1, withDelay)
	if delay < 1 && withDelay(0) <= withDelay(delay) {
		delay = 0
	}
	tau := bestTau(delay, 1e-4)
	r, sse := at(delay, tau)

	var m moments
	for _, y := range hr {
		m.add(0, y)
	}
	a, _ := m.line()
	explained := 1 - sse/m.sse(a, 0)
	free := tau > 1.02*shortestTau && tau < 0.98*slowestRise && delay < 0.98*longestDelay && r.Gain >= leastGain && explained >= leastFit
	return r, free
}

// onsetsOf gives the rise of heart rate into each bout of at least 2 min.
func onsetsOf(s heartrate.Series, bouts []Bout) []Onset {
	var out []Onset
	for _, b := range bouts {
		if len(out) == mostFits {
			break
		}
		if b.Seconds() < onsetShortest {
			continue
		}
		o := Onset{At: b.From}
		t, hr := measuredIn(s, workout.Span{From: b.From, To: min(b.To, b.From+onsetLongest)})
		if r, ok := FitRise(t, hr); ok {
			o.Tau, o.Delay, o.Gain = &r.Tau, &r.Delay, &r.Gain
		}
		out = append(out, o)
	}
	return out
}

// measuredIn gives the seconds since the start of the span and the heart rate of its measured seconds,
// those in pauses included.
func measuredIn(s heartrate.Series, span workout.Span) (t, hr []float64) {
	for k := max(0, span.From); k < min(span.To, len(s.BPM)); k++ {
		if s.Recorded(k) {
			t = append(t, float64(k-span.From))
			hr = append(hr, s.BPM[k])
		}
	}
	return t, hr
}
