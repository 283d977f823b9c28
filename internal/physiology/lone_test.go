package physiology_test

import (
	"math"
	"testing"

	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// hardRun is a jog, a rest and a run of 20 m to and fro on the small model of the heart that run has, too. Its speed is
// what satellites see of it, its effort is what it costs: in a run to the limit more and more.
type hardRun struct {
	jog, rest, seconds int
	after              float64 // m/s
	toLimit, walks     bool
}

func (r hardRun) play(speed, bpm []float64) (w workout.Workout, work workout.Span) {
	w = workout.Workout{Sport: workout.Running, Sensor: workout.Strap}
	hr := 72.0
	add := func(seconds int, effort, seen func(i int) float64) {
		for i := range seconds {
			aim, tau := 70+25*effort(i), 60.0
			if aim > hr {
				tau = 45
			}
			hr += (aim - hr) / tau
			k := w.Seconds % len(speed)
			w.Speed.Add(float64(w.Seconds), math.Round(1000*seen(i)*speed[k])/1000)
			w.HeartRate.Add(float64(w.Seconds), math.Round(hr+bpm[k]))
			w.Seconds++
		}
	}
	add(r.jog, at(2.3), at(2.3))
	add(r.rest, at(0.2), at(0.2))
	work.From = w.Seconds
	effort := at(3.3)
	if r.toLimit {
		effort = func(i int) float64 { return 3 + 1.6*float64(i)/float64(r.seconds) }
	}
	add(r.seconds, effort, shuttles(r.walks))
	work.To = w.Seconds
	add(400, at(r.after), at(r.after))
	return w, work
}

// TestRunsToTheLimit: a run to the limit is the one work bout of its session, with speed or from heart rate alone; one at
// an even effort is none. With walks between the shuttles the speed on the way home can be no lower than in the run,
// and then speed shows no end.
func TestRunsToTheLimit(t *testing.T) {
	type tally struct{ all, found, off, others int }
	counts := map[string]*tally{"to the limit, heart rate": {}, "to the limit, speed": {}, "even, heart rate": {}, "even, speed": {}}
	for i, f := range []string{"fit/run-1s-laps-01.fit", "tcx/run-series-04.tcx.gz", "tcx/run-series-08.tcx.gz", "tcx/run-series-10.tcx.gz", "tcx/run-series-16.tcx.gz", "tcx/run-series-01.tcx.gz"} {
		speed, bpm := unrest(t, f)
		for j, after := range []float64{0.1, 1.3, 2.0} {
			for l, seconds := range []int{200, 330, 480, 660} {
				r := hardRun{600 + 60*i, 90 * ((i + j + l) % 3), seconds, after, true, (i+l)%2 == 0}
				kinds := []string{"to the limit"}
				if seconds >= 480 { // a shorter one has not settled when it ends
					kinds = append(kinds, "even")
				}
				for _, kind := range kinds {
					r.toLimit = kind == "to the limit"
					w, want := r.play(speed, bpm)
					for by, w := range map[string]workout.Workout{"speed": w, "heart rate": alone(w)} {
						c := counts[kind+", "+by]
						c.all++
						for _, b := range measured(w, false).Bouts {
							if b.Contains(want.To - 30) {
								c.found++
								c.off += count(math.Abs(float64(b.To-want.To)) > 30 || math.Abs(float64(b.From-want.From)) > 90)
							} else {
								c.others++
							}
						}
					}
				}
			}
		}
	}
	for name, want := range map[string]tally{
		"to the limit, heart rate": {all: 72, found: 72}, "to the limit, speed": {all: 72, found: 66, off: 2, others: 3}, "even, heart rate": {all: 36}, "even, speed": {all: 36},
	} {
		c := *counts[name]
		t.Logf("%s: %d of %d work, %d with an edge far off, %d other bouts", name, c.found, c.all, c.off, c.others)
		if c.all != want.all || c.found < want.found || want.found == 0 && c.found > 0 || c.off > want.off || c.others > want.others {
			t.Errorf("%s: %+v, want %+v", name, c, want)
		}
	}
}

// TestNoLoneEffortInParts: nor is there one in a part of an ordinary session, but for two stretches in which heart
// rate alone rises to its peak and falls.
func TestNoLoneEffortInParts(t *testing.T) {
	parts, lone := 0, 0
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		if name == "treadmill-ramp-recovery-01.tcx" {
			return
		}
		for _, part := range [][2]int{{0, 50}, {50, 100}, {30, 70}, {0, 75}, {20, 100}} {
			cut := partOf(w, part[0]*w.Seconds/100, part[1]*w.Seconds/100)
			for _, x := range []workout.Workout{cut, alone(cut)} {
				parts++
				if m := measured(x, false); len(m.Bouts) == 1 {
					lone++
					t.Logf("%s, %d to %d %%, %d s: one bout by %s, %s", name, part[0], part[1], x.Seconds, m.Bouts[0].By, spans(m.Bouts))
				}
			}
		}
	})
	t.Logf("%d parts, %d with one bout", parts, lone)
	if lone > 2 || parts < 100 {
		t.Errorf("%d of %d parts with one bout, want 2 at most", lone, parts)
	}
}

// partOf is what was recorded in [from, to), without laps.
func partOf(w workout.Workout, from, to int) workout.Workout {
	out := workout.Workout{Sport: w.Sport, Sensor: w.Sensor, Seconds: to - from}
	for _, c := range [][2]*workout.Channel{{&w.HeartRate, &out.HeartRate}, {&w.Speed, &out.Speed}, {&w.Power, &out.Power}, {&w.Cadence, &out.Cadence}} {
		for i, at := range c[0].T {
			if at >= float64(from) && at < float64(to) {
				c[1].Add(at-float64(from), c[0].V[i])
			}
		}
	}
	return out
}
