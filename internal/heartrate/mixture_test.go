package heartrate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// plant puts a fault into the readings of a real recording. It gives the recording and whether each
// second that had a reading is planted. A lock shows the recording's own cadence times the factor.
func plant(w workout.Workout, f simulate.Fault) (workout.Workout, map[int]bool) {
	rng := rand.New(rand.NewPCG(uint64(f.From), uint64(f.To)))
	step := 10
	if w.Seconds > 2*w.HeartRate.Len() {
		step = 30
	}
	cad := w.Cadence.Grid(w.Seconds, step)
	in := map[int]bool{}
	out := workout.Channel{}
	first := math.NaN()
	for i, t := range w.HeartRate.T {
		k, v := int(t), w.HeartRate.V[i]
		if !f.Contains(k) {
			out.Add(t, v)
			continue
		}
		if math.IsNaN(first) {
			first = v
		}
		in[k] = true
		switch f.Kind {
		case simulate.Dropout:
			continue
		case simulate.Frozen:
			v = first
		case simulate.Zeros:
			v = 0
		case simulate.Sentinel:
			v = 255
		case simulate.Doubled:
			v *= 2
		case simulate.Halved:
			v = math.Round(v / 2)
		case simulate.Lag:
			j := i
			for j > 0 && w.HeartRate.T[j] > t-float64(f.Late) {
				j--
			}
			v = w.HeartRate.V[j]
		case simulate.Lock:
			if c := cad[k] * f.Factor; c >= heartrate.Lowest && c <= heartrate.Highest {
				v = math.Round(c)
			} else {
				delete(in, k)
			}
		case simulate.DryStart:
			switch u := rng.Float64(); {
			case u < 0.3:
				continue
			case u < 0.5:
				v += 30 + math.Round(50*rng.Float64())
			}
		}
		out.Add(t, v)
	}
	w.HeartRate = out
	return w, in
}

// off is the mean distance of a lock from the heart, false when it covers less than 80 % of its span.
func off(w workout.Workout, f simulate.Fault) (float64, bool) {
	p, in := plant(w, f)
	a, b := w.HeartRate.Grid(w.Seconds, 0), p.HeartRate.Grid(w.Seconds, 0)
	sum, n, all := 0.0, 0, 0
	for k := f.From; k < f.To; k++ {
		if !math.IsNaN(a[k]) {
			all++
			if in[k] {
				sum += math.Abs(a[k] - b[k])
				n++
			}
		}
	}
	return sum / float64(max(n, 1)), n >= 6 && 10*n >= 8*all
}

// The mixture that proves something: faults planted into real recordings, locks from their own real
// cadence. What the recordings show without them counts neither for nor against.
func TestFaultsPlantedIntoRealRecordings(t *testing.T) {
	research(t, "cleans some thousand recordings")
	var all []realSeries
	for _, r := range realWorkouts(t, outside.Data(t)) {
		c, _ := r.s.Coverage()
		twin := strings.HasPrefix(r.name, "broken") || strings.HasSuffix(r.name, ".csv") || r.name == "ride-power-recovery-01.gpx"
		if !twin && r.s.Usable() && c >= 0.9 && r.w.Seconds >= 1500 && r.w.BeatHeartRate.Len() == 0 {
			all = append(all, r)
		}
	}
	if len(all) < 30 {
		t.Fatalf("only %d recordings", len(all))
	}
	scores, order := map[string]*score{}, []string(nil)
	for _, r := range all {
		group := "1 s"
		if r.w.Seconds > 2*r.w.HeartRate.Len() {
			group = "sparse"
		}
		var seconds []int
		for _, x := range r.w.HeartRate.T {
			seconds = append(seconds, int(x))
		}
		seconds = slices.Compact(seconds)
		for quarter := 1; quarter <= 3; quarter++ {
			at := func(kind simulate.FaultKind, long int) simulate.Fault {
				from := r.w.Seconds * quarter / 4
				return simulate.Fault{Kind: kind, Span: workout.Span{From: from, To: from + long}, Factor: 1}
			}
			fs := []simulate.Fault{
				at(simulate.Dropout, 40), at(simulate.Frozen, 150), at(simulate.Zeros, 15), at(simulate.Sentinel, 15),
				at(simulate.Doubled, 120), at(simulate.Halved, 120),
			}
			for _, f := range []float64{0.5, 1, 2} {
				lock := at(simulate.Lock, 120)
				lock.Factor = f
				fs = append(fs, lock)
			}
			if quarter == 1 {
				fs = append(fs,
					simulate.Fault{Kind: simulate.DryStart, Span: workout.Span{To: 240}},
					simulate.Fault{Kind: simulate.Lag, Span: workout.Span{To: r.w.Seconds}, Late: 30})
			}
			for _, f := range fs {
				name := string(f.Kind)
				if f.Kind == simulate.Lock {
					d, ok := off(r.w, f)
					if !ok {
						continue
					}
					name = "lock 8 bpm or more off"
					if d < 8 {
						name = "lock within 8 bpm"
					}
				}
				w, in := plant(r.w, f)
				if f.Kind == simulate.Lag {
					if _, ok := heartrate.LagOf(r.s, r.w); !ok {
						name = "lag without three clear ends"
					}
				}
				name += ", " + group
				if scores[name] == nil {
					scores[name] = &score{}
					order = append(order, name)
				}
				scores[name].count(kindOf(f.Kind), seconds, func(k int) bool { return in[k] }, heartrate.Clean(w).Faults, r.s.Faults)
			}
		}
	}
	slices.Sort(order)
	t.Logf("%d recordings", len(all))
	logScores(t, order, scores)
	for _, name := range order {
		least, cannot := 0.90, strings.Contains(name, "without")
		switch {
		case strings.Contains(name, "within"): // harmless, and hard to see
			least = 0.70
		case name == "lag, 1 s": // where there are ends of effort to see it by
			least = 0.75
		}
		if s := scores[name]; !(s.precision() >= 0.85) || !cannot && !(s.recall() >= least) {
			t.Errorf("%s: precision %.3f, recall %.3f", name, s.precision(), s.recall())
		}
	}
}
