package physiology_test

import (
	"maps"
	"math/rand/v2"
	"slices"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// known is a session of which it is known where its bouts begin and end, or its phases, or where its effort
// stops. edges is nil where there must be no bouts.
type known struct {
	group, name string
	s           heartrate.Series
	w           workout.Workout
	edges       []int
	what        string // the edges are those of "bouts", of "phases", or "stops"
	within      int    // s
}

// bare takes away all but heart rate.
func bare(w workout.Workout) workout.Workout {
	w.Speed, w.Power, w.Cadence, w.Laps = workout.Channel{}, workout.Channel{}, workout.Channel{}, nil
	return w
}

// workLaps are the laps of real recordings in which the athlete worked; the marks are pressed by hand,
// within some 10 s of the change.
var workLaps = map[string][]int{
	"fit/indoor-rowing-intervals-recovery-01.fit": {0, 2, 4, 6},
	"fit/run-intervals-tail-01.fit":               {2, 4, 6, 8, 10},
	"fit/indoor-ride-power-laps-01.fit":           {1, 3},
	"fit/virtual-ride-laps-01.fit":                {1, 3, 5, 7, 9, 11},
}

// knownSessions are played ones, of bodies and machines from calm to restless, and recorded ones.
func knownSessions(t *testing.T) []known {
	t.Helper()
	var out []known
	play := func(group, name string, plan workout.Plan, seed uint64, what string) {
		body := simulate.Beginner(65, 180)
		body.Wobble = []float64{0.02, 0.06, 0.12, 0.2}[seed%4]
		body.Rise = []float64{57.6, 34, 70, 45}[seed%4]
		for _, alone := range []bool{false, true} {
			w, truth := simulate.Play(plan, body, simulate.Options{Seed: seed, Tail: 120, Still: true, Sparse: seed%4 == 2, NoLoad: alone})
			k := known{group: group + ", by effort", name: name, s: heartrate.Clean(w), w: w, what: what, within: 5}
			if seed%4 == 2 {
				k.within = 8 // readings up to 9 s apart
			}
			if alone {
				k.group, k.within = group+", heart rate alone", 15
			}
			if what == "phases" {
				k.edges = []int{truth.Steps[1].From, truth.Steps[1].To}
			} else {
				for _, b := range doneWork(truth) {
					k.edges = append(k.edges, b.From, b.To)
				}
			}
			out = append(out, k)
		}
	}
	for seed := range uint64(4) {
		for name, plan := range intervalSessions() {
			play("played intervals", name, plan, seed, "bouts")
		}
		play("played 30/15 s", "30/15", briefPlan(12+4*int(seed)), seed, "bouts")
		play("played steady", "steady", steadyPlan(workout.Run, 30), seed, "phases")
		rng := rand.New(rand.NewPCG(seed, 3))
		var lengths []int
		for range 5 + rng.IntN(6) {
			lengths = append(lengths, 30+15*rng.IntN(15), 45+15*rng.IntN(10))
		}
		play("played intervals", "drawn lengths", boutPlan(workout.Run, lengths...), seed, "bouts")
	}
	for file, work := range workLaps {
		s, w := outside.Recorded(t, file)
		k := known{group: "recorded intervals, by effort", name: file, s: s, what: "bouts", within: 10}
		for _, i := range work {
			k.edges = append(k.edges, w.Laps[i].From, w.Laps[i].To)
		}
		w.Laps = nil // they are what is to be found
		k.w = w
		out = append(out, k)
		k.group, k.w, k.within = "recorded intervals, heart rate alone", bare(w), 15
		out = append(out, k)
	}
	for _, file := range []string{"tcx/run-series-01.tcx.gz", "tcx/run-series-05.tcx.gz", "tcx/run-series-08.tcx.gz", "tcx/run-series-10.tcx.gz",
		"tcx/run-series-16.tcx.gz", "tcx/ski-laps-irregular-01.tcx", "fit/run-56min-steady-01.fit", "fit/ride-short-steady-01.fit", "fit/run-long-pauses-02.fit", "gpx/ride-power-recovery-01.gpx"} {
		s, w := outside.Recorded(t, file)
		w.Laps = nil
		out = append(out, known{group: "recorded without bouts", name: file, s: s, w: w, what: "bouts"}, known{group: "recorded without bouts", name: file, s: s, w: bare(w), what: "bouts"})
	}
	for id, p := range cardioPatients(t) {
		w := workout.Workout{Sport: workout.Cycling, Seconds: int(p.t[len(p.t)-1]) + 1}
		for i := range p.t {
			if p.hr[i] > 0 {
				w.HeartRate.Add(p.t[i], p.hr[i])
			}
		}
		// A reading every 10 s, and heart rate rises on for a while where it does.
		out = append(out, known{group: "effort tests, heart rate alone", name: id, s: heartrate.Clean(w), w: w, edges: []int{int(p.stop)}, what: "stops", within: 25})
	}
	return out
}

// right is how many true edges have one of those found within so many seconds, each used once.
func right(found, truth []int, within int) int {
	used, n := make([]bool, len(found)), 0
	for _, e := range truth {
		best, d := -1, within+1
		for i, f := range found {
			if x := max(f-e, e-f); !used[i] && x < d {
				best, d = i, x
			}
		}
		if best >= 0 {
			used[best] = true
			n++
		}
	}
	return n
}

// score is the mean over the groups of F1 = 2 right / (found + true) of the edges of bouts, of phases in
// steady sessions, of the stop in effort tests; of recordings without bouts it is the share in which none is
// found.
func score(ks []known, noise, clear float64) (float64, map[string]float64) {
	hits, all := map[string]float64{}, map[string]float64{}
	for _, k := range ks {
		c := physiology.CutAt(k.s, k.w, noise, clear)
		var found []int
		switch k.what {
		case "stops":
			found = c.Stops
		case "phases":
			for _, p := range c.Phases[1:] {
				found = append(found, p.From)
			}
		default:
			for _, b := range c.Bouts {
				found = append(found, b.From, b.To)
			}
		}
		if k.edges == nil {
			hits[k.group] += float64(count(len(found) == 0))
			all[k.group]++
			continue
		}
		hits[k.group] += 2 * float64(right(found, k.edges, k.within))
		all[k.group] += float64(len(found) + len(k.edges))
	}
	mean := 0.0
	for g := range all {
		hits[g] /= all[g]
		mean += hits[g] / float64(len(all))
	}
	return mean, hits
}

// TestPenaltyIsTheBest scans the two penalties around those in use over sessions whose bouts are known:
// none may score higher. It is the search through the penalties of PELT of Haynes, Eckley & Fearnhead 2017
// (J Comput Graph Stat 26:134, from memory), with labelled data to choose by (Hocking et al. 2013, ICML, from memory).
func TestPenaltyIsTheBest(t *testing.T) {
	physiology.Research(t, "parts some hundred sessions twenty times")
	ks := knownSessions(t)
	best, groups := score(ks, physiology.NoisePenalty, physiology.ClearPenalty)
	for _, g := range slices.Sorted(maps.Keys(groups)) {
		t.Logf("%-40s F1 %.3f", g, groups[g])
	}
	t.Logf("noise %d, clear %d: mean %.4f over %d sessions", physiology.NoisePenalty, physiology.ClearPenalty, best, len(ks))
	scan := func(noise, clear float64) {
		got, _ := score(ks, noise, clear)
		t.Logf("noise %4g, clear %4g: mean %.4f", noise, clear, got)
		if got > best+1e-9 {
			t.Errorf("noise %g, clear %g scores %.4f, more than the %.4f of those in use", noise, clear, got, best)
		}
		if (noise >= 4*physiology.NoisePenalty || noise <= physiology.NoisePenalty/4 || clear >= 4*physiology.ClearPenalty || clear <= physiology.ClearPenalty/4) && got >= best {
			t.Errorf("noise %g, clear %g scores as much: the data do not choose", noise, clear)
		}
	}
	for _, noise := range []float64{0, 4, 8, 16, 22, 24, 28, 32, 64, 92} {
		scan(noise, physiology.ClearPenalty)
	}
	for _, clear := range []float64{3, 6, 8, 17, 24, 48} {
		scan(physiology.NoisePenalty, clear)
	}
}
