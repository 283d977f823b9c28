package physiology

import (
	"math"
	"slices"
	"testing"
)

// A step of load is felt to 1 - 1/e of its height after one time constant; what is not known changes nothing.
func TestFelt(t *testing.T) {
	v := append(slices.Repeat([]float64{2}, 100), slices.Repeat([]float64{3}, 200)...)
	got := felt(v)
	if got[99] != 2 || math.Abs(got[99+58]-(3-math.Exp(-58/57.6))) > 1e-9 {
		t.Errorf("%v before the step, %v after 58 s", got[99], got[99+58])
	}
	v[0], v[150] = math.NaN(), math.NaN()
	if got := felt(v); !math.IsNaN(got[0]) || got[150] != got[149] {
		t.Errorf("unknown: %v at first, then %v after %v", got[0], got[150], got[149])
	}
}

// Twelve values whose least-squares slope is -0.85315 and whose residuals have r1 = 0.4075 (worked from the
// definitions); ten falling sessions with -0.9273.
func TestDetrended(t *testing.T) {
	steps := []float64{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11}
	slope, rest := detrended(steps, []float64{140, 140, 139, 139, 136, 134, 134, 135, 136, 134, 131, 130})
	if r1 := autocorrelation(rest, 1); math.Abs(slope+0.85315) > 5e-6 || math.Abs(r1-0.4075) > 5e-5 {
		t.Errorf("slope %.5f, r1 %.4f", slope, r1)
	}
	if slope, _ = detrended(steps[:10], []float64{138, 137, 139, 135, 136, 133, 134, 131, 132, 130}); math.Abs(slope+0.9273) > 5e-5 {
		t.Errorf("slope %.4f, want -0.9273", slope)
	}
	// Lag 1 is -1/8: (-1/8 + 2/8) / (1 - 4/8) = 1/4, so that n_eff is 3/5 of n. Drawn to a usual 0.75 it is
	// (8 x 1/4 + 40 x 3/4) / 48 = 2/3, and n_eff is n/5.
	v := []float64{1, -1, -1, 1, 1, -1, -1, 1}
	for p, part := range map[prior]float64{{}: 3.0 / 5, {usual: 0.75}: 1.0 / 5, {least: 0.9}: 1.0 / 19} {
		if got, want := meanError(v, p), math.Sqrt(8.0/7/(8*part)); math.Abs(got-want) > 1e-12 {
			t.Errorf("%+v: standard error %v, want %v", p, got, want)
		}
	}
}

// TestLevel: what goes up and down with the load is taken out, the load's own trend stays.
func TestLevel(t *testing.T) {
	var l evenLoad
	for i := range 60 {
		off := 0.001*float64(i) + 0.05*math.Sin(float64(i))
		l.minutes = append(l.minutes, float64(i)/2)
		l.off = append(l.off, off)
		l.bpm = append(l.bpm, 130+0.1*float64(i)+60*off)
	}
	bpm, trend := l.level()
	slope, rest := detrended(l.minutes, bpm)
	before, _ := detrended(l.minutes, l.bpm)
	for i, r := range rest {
		if math.Abs(r) > 1e-9 {
			t.Fatalf("block %d is %v off the line", i, r)
		}
	}
	if math.Abs(slope-before) > 1e-9 || math.Abs(trend-0.02) > 0.002 {
		t.Errorf("slope %v, before %v; trend %v", slope, before, trend)
	}
}

// The rise of heart rate for the whole load, at 135 bpm: on foot at 2.5 m/s, by power, against the air.
func TestCoupling(t *testing.T) {
	for name, c := range map[string]struct {
		e                Effort
		typical          float64
		low, usual, high float64
	}{
		"on foot":         {Effort{By: "speed"}, 2.5, 0, 60.5, 81.25},
		"by power":        {Effort{By: "power"}, 150, 39.42, 60, 80.58},
		"against the air": {Effort{By: "speed", drag: true}, 8, 0, 180, 241.74},
	} {
		l := evenLoad{Effort: c.e, typical: c.typical, bpm: []float64{130, 140}}
		low, usual, high := l.coupling()
		if math.Abs(low-c.low) > 0.005 || math.Abs(usual-c.usual) > 0.005 || math.Abs(high-c.high) > 0.005 {
			t.Errorf("%s: %.2f, %.2f, %.2f", name, low, usual, high)
		}
	}
}
