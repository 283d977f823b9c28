package physiology_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// outing is a run of 50 min as the roads make it: what the body does differs from what speed says.
type outing struct {
	load   func(minute int) float64 // of the load, relative to an even one; the body does it
	shown  func(k int) float64      // of the speed, relative to the load; the recording shows it
	gps    float64                  // coefficient of variation of speed from positions, alike over 8 s
	wander float64                  // bpm, standard deviation of a slow unrest of heart rate, alike over 2 min
	breaks int                      // minutes of easy walking
	bike   bool                     // a ride with a power meter; else a run
}

// play plays the outing on an invented beginner.
func (o outing) play(seed uint64) (workout.Workout, simulate.Truth) {
	body := simulate.Beginner(65, 180)
	body.Drift = 0.4 * float64(seed%6) // 0 to 2 bpm per 10 min at half of the reserve
	rng := rand.New(rand.NewPCG(seed, 77))
	mode := workout.Run
	if o.bike { // power never stands still, and the heart feels it
		mode, body.Wobble = workout.Bike, 0.25
	}
	plan := workout.Plan{Mode: mode, Steps: []workout.Step{planned(workout.Steady, 900, 125, 135)}}
	for minute := 15; minute < 50; minute++ {
		// 130 bpm is 53 bpm over this body's heart rate of standing.
		bpm := 130.0
		if o.load != nil {
			bpm += 53 * o.load(minute)
		}
		plan.Steps = append(plan.Steps, planned(workout.Steady, 60, bpm-5, bpm+5))
	}
	for range o.breaks {
		plan.Steps[2+rng.IntN(33)] = planned(workout.Recovery, 60, 0, 0)
	}
	w, truth := simulate.Play(plan, body, simulate.Options{Seed: seed, HeatC: 22})
	noise, slow := 0.0, 0.0
	shown := w.Speed
	if o.bike {
		shown = w.Power
	}
	for i := range shown.V {
		noise = math.Exp(-1.0/8)*noise + math.Sqrt(1-math.Exp(-2.0/8))*o.gps*rng.NormFloat64()
		shown.V[i] *= 1 + noise
		if o.shown != nil {
			shown.V[i] *= 1 + o.shown(int(shown.T[i]))
		}
	}
	for i := range w.HeartRate.V {
		slow = math.Exp(-1.0/120)*slow + math.Sqrt(1-math.Exp(-2.0/120))*o.wander*rng.NormFloat64()
		w.HeartRate.V[i] = math.Round(w.HeartRate.V[i] + slow)
	}
	return w, truth
}

func hills(k int) float64 {
	return 0.07*math.Sin(2*math.Pi*float64(k)/420) + 0.04*math.Sin(2*math.Pi*float64(k)/150)
}

// TestDriftOutdoors: on outings as roads make them the slope is unbiased where speed shows the load, and
// the 90 % interval holds the true drift in at least 85 % of the results, however speed misleads.
func TestDriftOutdoors(t *testing.T) {
	physiology.Research(t, "plays some hundred outings")
	const outings = 120
	for _, c := range []struct {
		name string
		outing
		told int     // at least
		bias float64 // at most
	}{
		{"machine", outing{}, 114, 0.1},
		{"speed from positions", outing{gps: 0.08}, 114, 0.1},
		{"slower unrest of heart rate", outing{gps: 0.08, wander: 3}, 60, 0.3},
		{"slow unrest of heart rate", outing{gps: 0.08, wander: 2}, 100, 0.2},
		{"hills at an even effort", outing{gps: 0.08, wander: 1, shown: hills}, 100, 0.3},
		{"hills at an even speed", outing{gps: 0.08, wander: 1, load: func(m int) float64 { return hills(60 * m) },
			shown: func(k int) float64 { return -hills(k / 60 * 60) }}, 100, 0.3},
		{"four walking breaks of a minute", outing{gps: 0.08, wander: 1, breaks: 4}, 100, 0.3},
		{"6 % quicker in the end", outing{gps: 0.08, wander: 1, load: func(m int) float64 { return 0.06 * float64(m-15) / 35 }}, 100, 1},
		{"a ride with unrest of power", outing{wander: 1, bike: true, load: func(m int) float64 { return hills(60 * m) }}, 100, 0.3},
		{"a ride 8 % stronger in the end", outing{wander: 1, bike: true, load: func(m int) float64 { return 0.08 * float64(m-15) / 35 }}, 100, 0.5},
		{"a long climb at an even effort", outing{gps: 0.08, wander: 1, shown: func(k int) float64 { return -0.06 * float64(k) / 3000 }}, 100, 1},
	} {
		told, held, bias, width := 0, 0, 0.0, 0.0
		for seed := range uint64(outings) {
			w, truth := c.play(seed)
			s := heartrate.Clean(w)
			d := physiology.Measure(s, w, physiology.Body{}, false).Drift
			if !d.Enough {
				continue
			}
			told++
			bias += d.Slope - truth.Drift
			width += d.High - d.Low
			held += count(d.Low <= truth.Drift && truth.Drift <= d.High)
		}
		n := float64(told)
		t.Logf("%-32s told %3d of %d, bias %+.2f bpm per 10 min, interval %.1f wide, holds the truth in %.0f %%",
			c.name, told, outings, bias/n, width/n, 100*float64(held)/n)
		if told < c.told || math.Abs(bias/n) > c.bias || float64(held) < 0.85*n {
			t.Errorf("%s: found %d times, bias %.2f, held %d", c.name, told, bias/n, held)
		}
	}
}

// TestSameEffortOutdoors: on the same outings the heart rate of minutes 5 to 15, moved to one load by the
// usual gain, is that of the body at this load on this day, whatever speed adds to it: nearer than the 3 %
// (4 bpm) by which days differ (Buchheit 2014).
func TestSameEffortOutdoors(t *testing.T) {
	physiology.Research(t, "plays some hundred outings")
	for _, c := range []struct {
		name string
		outing
		told         int     // at least
		bias, spread float64 // at most, bpm
	}{
		{"machine", outing{}, 100, 0.2, 0.3},
		{"speed from positions", outing{gps: 0.08}, 100, 0.3, 1},
		{"slow unrest of heart rate", outing{gps: 0.08, wander: 2}, 95, 0.5, 1.7},
		{"hills at an even effort", outing{gps: 0.08, wander: 1, shown: hills}, 95, 0.8, 1.3},
		{"a ride with unrest of power", outing{wander: 1, bike: true}, 70, 0.8, 3.5},
	} {
		told, sum, squares, said := 0, 0.0, 0.0, 0.0
		for seed := range uint64(100) {
			w, truth := c.play(seed)
			e := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false).SameEffort
			if e == nil || !e.Enough {
				continue
			}
			told++
			off := e.At(truth.Steps[0].Load) - stat.Mean(truth.BPM[300:900], nil)
			sum, squares, said = sum+off, squares+off*off, said+e.Error
		}
		n := float64(told)
		bias := sum / n
		spread := math.Sqrt(squares/n - bias*bias)
		t.Logf("%-28s told %3d of 100, bias %+.2f bpm, spread %.2f bpm, said %.2f", c.name, told, bias, spread, said/n)
		if told < c.told || math.Abs(bias) > c.bias || spread > c.spread {
			t.Errorf("%s: found %d times, bias %.2f, spread %.2f", c.name, told, bias, spread)
		}
	}
}

// TestDriftOfHalves splits real recordings. The odd and the even half minutes of one recording must show
// the same slope, within what the whole says it is unsure of. The first and the second half need not, since
// nothing says that heart rate drifts in a straight line; how often their intervals meet is for people.
func TestDriftOfHalves(t *testing.T) {
	physiology.Research(t, "reads some hundred files")
	long, steady, told, narrow, agree, meet := 0, 0, 0, 0, 0, 0
	var alike []float64
	seen := map[float64]bool{}
	for _, dir := range []string{outside.Data(t), outside.Module(t, "github.com/muktihari/fit"), outside.Module(t, "github.com/tormoder/fit")} {
		outside.Workouts(t, dir, physiology.OneIn(), func(name string, w workout.Workout) {
			s := heartrate.Clean(w)
			mean, _ := s.Mean()
			if w.Seconds < 2100 || !s.Usable() || seen[mean] { // several files hold one recording
				return
			}
			seen[mean] = true
			long++
			d := physiology.Measure(s, w, physiology.Body{}, false).Drift
			steady += count(d.To > 0)
			if !d.Enough {
				t.Logf("%-44s %v", name, d.Why)
				return
			}
			told++
			alike = append(alike, physiology.LikenessOf(s, w, d.From, d.To))
			narrow += count(d.High-d.Low <= 6)
			whole := (d.To - d.From) / 30
			part := func(keep func(int) bool) (a, low, high float64) {
				a, low, high, _ = physiology.DriftOfBlocks(s, w, d.From, d.To, keep)
				return a, low, high
			}
			odd, _, _ := part(func(i int) bool { return i%2 == 1 })
			even, _, _ := part(func(i int) bool { return i%2 == 0 })
			first, _, high1 := part(func(i int) bool { return i < whole/2 })
			second, low2, high2 := part(func(i int) bool { return i >= whole/2 })
			_, low1, _ := part(func(i int) bool { return i < whole/2 })
			same := math.Abs(odd-even) <= max(0.1, (d.High-d.Low)/2)
			agree += count(same)
			meet += count(low1 <= high2 && low2 <= high1)
			t.Logf("%-44s %5.2f (%5.2f to %5.2f), odd %5.2f, even %5.2f, halves %5.2f and %5.2f", name, d.Slope, d.Low, d.High, odd, even, first, second)
		})
	}
	t.Logf("%d recordings of 35 min and more, %d with a steady part of 20 min, drift told in %d, in %d within 6 bpm per 10 min", long, steady, told, narrow)
	t.Logf("odd and even half minutes agree in %d; the intervals of first and second half meet in %d", agree, meet)
	slices.Sort(alike)
	t.Logf("neighbouring means are alike by %.2f, median of %.2f to %.2f", alike[told/2], alike[0], alike[told-1])
	if alike[told/2] < 0.65 || alike[told/2] > 0.85 {
		t.Errorf("the usual likeness of neighbouring means is %.2f, not 0.75", alike[told/2])
	}
	if 2*told < steady || agree < told*9/10 {
		t.Errorf("told %d of %d, agree %d", told, steady, agree)
	}
}

// TestDriftOfTwoDevices: two devices recorded one ride on a machine, 12 s apart. It has bouts, so neither
// may show drift. The slope of heart rate over the same stretch differs by a small part of what the bouts
// make it unsure by.
func TestDriftOfTwoDevices(t *testing.T) {
	s1, w1 := outside.Recorded(t, "fit/indoor-ride-power-steady-01.fit")
	s2, w2 := outside.Recorded(t, "fit/virtual-ride-laps-01.fit")
	for _, d := range []physiology.Drift{
		physiology.Measure(s1, w1, physiology.Body{}, false).Drift, physiology.Measure(s2, w2, physiology.Body{}, false).Drift,
	} {
		if d.Enough {
			t.Errorf("drift of a ride with bouts: %+v", d)
		}
	}
	// finding 12: their clocks are 12 s apart.
	offset := int(w2.Start.Sub(w1.Start).Seconds())
	later := offset + heartrate.Compare(s1, s2, offset).Shift
	all := func(int) bool { return true }
	for _, from := range []int{600, 900, 1200} {
		a, low, high, _ := physiology.DriftOfBlocks(s1, w1, from, from+1800, all)
		b, _, _, _ := physiology.DriftOfBlocks(s2, w2, from-later, from+1800-later, all)
		t.Logf("from %d s: %.2f and %.2f bpm per 10 min (interval of the first %.2f to %.2f)", from, a, b, low, high)
		if math.Abs(a-b) > (high-low)/4 {
			t.Errorf("from %d s: %.2f and %.2f bpm per 10 min", from, a, b)
		}
	}
}
