package physiology_test

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// pace is a stretch of a planted session at one speed.
type pace struct {
	seconds int
	speed   float64
	work    bool
}

// unrest is how the speed (as a share) and the heart rate (in bpm) of a real run go up and down around their means
// over a minute.
func unrest(t *testing.T, name string) (speed, bpm []float64) {
	t.Helper()
	s, w := outside.Recorded(t, name)
	v := w.Speed.Grid(w.Seconds, 30)
	for k := 300; k < w.Seconds-300; k++ {
		mv, mh, n := 0.0, 0.0, 0.0
		for j := k - 30; j <= k+30; j++ {
			if !math.IsNaN(v[j]) && !math.IsNaN(s.BPM[j]) {
				mv, mh, n = mv+v[j], mh+s.BPM[j], n+1
			}
		}
		if n < 60 || math.IsNaN(v[k]) || math.IsNaN(s.BPM[k]) || mv/n < 1.5 {
			continue
		}
		speed = append(speed, min(1.5, max(0.5, v[k]*n/mv)))
		bpm = append(bpm, min(8, max(-8, s.BPM[k]-mh/n)))
	}
	return speed, bpm
}

// run plays paces on a small model of the heart, 70 bpm and 25 more for each m/s, with a time constant of 45 s when
// it rises and 60 s when it falls, and the unrest of a real run.
func run(speed, bpm []float64, paces ...pace) (workout.Workout, []workout.Span) {
	w := workout.Workout{Sport: workout.Running, Sensor: workout.Strap}
	hr := 75.0
	var work []workout.Span
	for _, p := range paces {
		if p.work {
			work = append(work, workout.Span{From: w.Seconds, To: w.Seconds + p.seconds})
		}
		for range p.seconds {
			aim, tau := 70+25*p.speed, 60.0
			if aim > hr {
				tau = 45
			}
			hr += (aim - hr) / tau
			k := w.Seconds % len(speed)
			w.Speed.Add(float64(w.Seconds), math.Round(1000*p.speed*speed[k])/1000)
			w.HeartRate.Add(float64(w.Seconds), math.Round(hr+bpm[k]))
			w.Seconds++
		}
	}
	return w, work
}

// plantedSessions are what trainers' clients do around their bouts.
func plantedSessions() map[string][]pace {
	series := func(n int, bout, rest pace) (out []pace) {
		for i := range n {
			if i > 0 {
				out = append(out, rest)
			}
			out = append(out, bout)
		}
		return out
	}
	join := func(parts ...[]pace) (out []pace) {
		for _, p := range parts {
			out = append(out, p...)
		}
		return out
	}
	quick, walk := pace{180, 3.8, true}, pace{120, 1.4, false}
	return map[string][]pace{
		"a jog home after a walk":        join([]pace{{600, 2.7, false}, {60, 1.4, false}}, series(5, quick, walk), []pace{walk, {600, 2.8, false}}),
		"a jog home at once":             join([]pace{{600, 2.5, false}, {60, 1.4, false}}, series(4, quick, walk), []pace{{500, 2.8, false}}),
		"a short jog home after a walk":  join([]pace{{500, 2.5, false}, {60, 1.4, false}}, series(4, quick, walk), []pace{walk, {240, 2.9, false}, {60, 1.2, false}}),
		"one bout of 194 s":              {{1200, 2.7, false}, {194, 3.6, true}, {1000, 2.7, false}},
		"one bout of 240 s near the end": {{1500, 2.6, false}, {240, 3.5, true}, {300, 2.4, false}},
		"warm-up goes over into bout 1":  join([]pace{{480, 2.9, false}}, series(4, pace{180, 3.7, true}, pace{150, 1.6, false}), []pace{{300, 1.5, false}}),
		"warm-up and bout 1 of 2 min":    join([]pace{{420, 2.8, false}}, series(6, pace{120, 3.8, true}, walk), []pace{{300, 1.5, false}}),
		"steady":                         {{300, 1.6, false}, {1800, 2.7, false}, {300, 1.4, false}},
		"steady with a quicker end":      {{300, 1.6, false}, {1500, 2.7, false}, {600, 2.95, false}, {200, 1.4, false}},
		"steady with a stop of 2 min":    {{1200, 2.7, false}, {120, 0, false}, {1200, 2.7, false}},
		"two paces and a stop of 2 min":  {{1200, 2.4, false}, {120, 0, false}, {1200, 3.2, false}},
		"two paces":                      {{1300, 2.4, false}, {1300, 3.2, false}},
		"walking breaks":                 {{900, 2.6, false}, {60, 1.4, false}, {900, 2.6, false}, {60, 1.4, false}, {600, 2.6, false}},
	}
}

// TestPlantedBouts counts bouts that are found, edges within 15 s, and what is taken for one but is none, in
// sessions of known paces with the unrest of real runs.
func TestPlantedBouts(t *testing.T) {
	files := []string{"fit/run-1s-laps-01.fit", "tcx/run-series-04.tcx.gz", "tcx/run-series-08.tcx.gz", "tcx/run-series-10.tcx.gz", "tcx/run-series-16.tcx.gz", "tcx/run-series-01.tcx.gz"}
	sum := [3]int{}
	for name, paces := range plantedSessions() {
		found, false_, all := 0, 0, 0
		for _, f := range files {
			speed, bpm := unrest(t, f)
			w, work := run(speed, bpm, paces...)
			m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
			n := 0
			for _, want := range work {
				for _, b := range m.Bouts {
					if math.Abs(float64(b.From-want.From)) <= 15 && math.Abs(float64(b.To-want.To)) <= 15 {
						n++
					}
				}
			}
			all, found, false_ = all+len(work), found+n, false_+len(m.Bouts)-n
			if n != len(work) || len(m.Bouts) != n {
				t.Logf("   %s, %s: bouts %s want %v", name, f, spans(m.Bouts), work)
			}
			if len(work) == 0 && f == files[1] {
				t.Logf("   %s: %s", name, kinds(m.Phases))
			}
		}
		t.Logf("BOUTS %-32s %2d of %2d found, %d false", name, found, all, false_)
		sum[0], sum[1], sum[2] = sum[0]+found, sum[1]+all, sum[2]+false_
	}
	t.Logf("BOUTS all: %d of %d found, %d false", sum[0], sum[1], sum[2])
	if sum[0] < 146 || sum[2] > 3 {
		t.Errorf("%d of %d bouts found, %d false; want 146 and 3 at most", sum[0], sum[1], sum[2])
	}
}

// TestTwoPacesAreNotOneSteady: where the pace changes for long, the parts are two, and the stop between them is
// none of them.
func TestTwoPacesAreNotOneSteady(t *testing.T) {
	speed, bpm := unrest(t, "tcx/run-series-08.tcx.gz")
	for name, want := range map[string][]int{
		"two paces": {0, 1300, 2600}, "two paces and a stop of 2 min": {0, 1200, 1320, 2520}, "steady with a stop of 2 min": {0, 2520}, "walking breaks": {0, 2520},
	} {
		w, _ := run(speed, bpm, plantedSessions()[name]...)
		phases := measured(w, false).Phases
		if len(phases) != len(want)-1 {
			t.Errorf("%s: %s, want %v", name, kinds(phases), want)
			continue
		}
		for i, p := range phases {
			if math.Abs(float64(p.From-want[i])) > 15 || (p.Kind == workout.Steady) == (p.Seconds() < 200) {
				t.Errorf("%s: %s, want %v", name, kinds(phases), want)
			}
		}
	}
}

// TestSatelliteSpeedIsNotStuck: two falls of heart rate within two hours at an even pace, such as a sensor or a long
// descent makes, do not prove that speed is stuck while it moves from second to second.
func TestSatelliteSpeedIsNotStuck(t *testing.T) {
	speed, bpm := unrest(t, "tcx/run-series-08.tcx.gz")
	w, _ := run(speed, bpm, pace{7200, 2.7, false})
	stuck := w
	stuck.Speed = workout.Channel{}
	for k := range w.Seconds {
		stuck.Speed.Add(float64(k), 2.7)
		for _, at := range [2]int{2000, 5000} {
			if into := k - at; into >= 0 && into < 400 {
				w.HeartRate.V[k] -= 40 * math.Exp(-float64(max(0, into-100))/100) * (1 - math.Exp(-float64(into)/30))
			}
		}
	}
	if m := measured(w, false); m.Effort != "speed" {
		t.Errorf("effort by %q, want speed: %v", m.Effort, m.Remarks)
	}
	if m := measured(stuck, false); m.Effort != "" {
		t.Errorf("a speed that does not move is believed: by %q", m.Effort)
	}
}

// TestBoutsOfRealRecordings writes the bouts and the drift of every real recording with laps or power beside each
// other; where the athlete marked bouts, they are known.
func TestBoutsOfRealRecordings(t *testing.T) {
	physiology.Research(t, "lists what is found in each real recording")
	drift, all, told := 0, 0, 0
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		if w.Seconds < 600 {
			return
		}
		m := measured(w, false)
		all++
		drift += count(m.Drift.Enough)
		for _, r := range m.Recoveries {
			told += count(r.Basis.Enough && r.Drop60 != nil)
		}
		if len(w.Laps) < 2 && w.Power.Len() == 0 {
			return
		}
		marks := ""
		for file, laps := range workLaps {
			if filepath.Base(file) == name {
				for _, i := range laps {
					marks += fmt.Sprintf("%d-%d ", w.Laps[i].From, w.Laps[i].To)
				}
			}
		}
		unmarked := measured(unmarked(w), false)
		t.Logf("REAL %-46s laps %2d, bouts %-60.60s without laps %-60.60s marked %s drift %v", name, len(w.Laps), spans(m.Bouts), spans(unmarked.Bouts), marks, m.Drift.Enough)
	})
	t.Logf("REAL drift in %d of %d recordings of 10 min and more, %d drops in 60 s", drift, all, told)
}
