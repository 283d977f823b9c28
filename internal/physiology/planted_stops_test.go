package physiology_test

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// knownStop is a session whose last effort ends at a second that is known from elsewhere.
type knownStop struct {
	group, name string
	w           workout.Workout
	stop        int
	drop        float64 // of heart rate in the 60 s after it, NaN where the recording ends before
}

// tail is what a real heart did after a stop, one value a second from the last second of effort on.
type tail struct {
	name string
	bpm  []float64
}

// realTails are the recoveries after the stops of interval_reference.csv and of the effort tests.
func realTails(t *testing.T) []tail {
	t.Helper()
	var out []tail
	for _, row := range outside.Table(t, "research/interval_reference.csv") {
		s, _ := outside.Recorded(t, row["file"])
		from, _ := outside.Cell(t, row["start_s"])
		length, _ := outside.Cell(t, row["duration_s"])
		at := int(from + length)
		out = append(out, tail{row["file"] + " " + row["work_lap"], unbroken(s.BPM[at:min(at+290, len(s.BPM))])})
	}
	patients := cardioPatients(t)
	for _, id := range slices.Sorted(maps.Keys(patients)) {
		p := patients[id]
		s := p.series()
		out = append(out, tail{"cardio " + id, unbroken(s.BPM[int(p.stop):min(int(p.until)+1, len(s.BPM))])})
	}
	return out
}

// unbroken cuts v at its first unknown value.
func unbroken(v []float64) []float64 {
	for i, x := range v {
		if math.IsNaN(x) {
			return v[:i]
		}
	}
	return v
}

// realRises are the ways to the limit of the treadmill ramp and of the effort tests, from the start of load
// to its end.
func realRises(t *testing.T) []tail {
	t.Helper()
	s, _ := outside.Recorded(t, "tcx/treadmill-ramp-recovery-01.tcx")
	out := []tail{{"ramp", unbroken(s.BPM[120:854])}}
	patients := cardioPatients(t)
	for _, id := range slices.Sorted(maps.Keys(patients)) {
		p := patients[id]
		s := p.series()
		out = append(out, tail{"cardio " + id, unbroken(s.BPM[int(p.t[0]):int(p.stop)])})
	}
	return out
}

// realEfforts are stretches of 10 to 20 min of real steady sessions.
func realEfforts(t *testing.T) []tail {
	t.Helper()
	var out []tail
	for _, f := range []string{
		"fit/run-56min-steady-01.fit", "fit/run-1s-laps-01.fit", "fit/indoor-ride-power-steady-01.fit", "fit/ride-short-steady-01.fit", "fit/ride-power-laps-01.fit",
		"tcx/run-laps-irregular-01.tcx", "tcx/run-series-04.tcx.gz", "tcx/run-series-08.tcx.gz", "tcx/run-series-10.tcx.gz", "tcx/run-series-16.tcx.gz", "tcx/run-series-12.tcx.gz",
	} {
		s, _ := outside.Recorded(t, f)
		if v := unbroken(s.BPM[420:min(len(s.BPM), 1620)]); len(v) > 500 {
			out = append(out, tail{f, v})
		}
	}
	return out
}

// joint strings stretches of heart rate together, each shifted so that it goes on where the last one ended, and
// the speeds at which they might have been done.
type joint struct{ bpm, speed []float64 }

func (j *joint) add(v []float64, shift bool, speed func(i int) float64) {
	d := 0.0
	if n := len(j.bpm); shift && n > 0 {
		d = j.bpm[n-1] - v[0]
	}
	for i, x := range v {
		j.bpm = append(j.bpm, x+d)
		// What satellites add from second to second, alike for some seconds.
		k := float64(len(j.bpm))
		j.speed = append(j.speed, max(0, speed(i)+0.15*math.Sin(k/3.1)+0.1*math.Sin(k/11)+0.1*math.Sin(k*1.7)))
	}
}

func at(speed float64) func(int) float64 { return func(int) float64 { return speed } }

// shuttles are runs of 20 m to and fro, 0.14 m/s quicker each minute, with a turn at each end; with rests there
// are 10 s of walking after every second one.
func shuttles(rests bool) func(int) float64 {
	return func(i int) float64 {
		v := 2.8 + 0.14*float64(i/60)
		lap := int(20 / v)
		if cycle := 2*lap + 10; rests && i%cycle >= 2*lap {
			return 0.8
		}
		if i%lap == 0 {
			return v / 3
		}
		return v
	}
}

// stretched plays v at another pace and between other levels.
func stretched(v []float64, seconds int, from, to float64) []float64 {
	out := make([]float64, seconds)
	for i := range out {
		x := float64(i) / float64(max(1, seconds-1)) * float64(len(v)-1)
		k := min(int(x), len(v)-2)
		y := v[k] + (x-float64(k))*(v[k+1]-v[k])
		out[i] = from + (y-v[0])/(v[len(v)-1]-v[0])*(to-from)
	}
	return out
}

func (j joint) workout(speed bool) workout.Workout {
	w := workout.Workout{Sport: workout.Running, Sensor: workout.Strap, Seconds: len(j.bpm)}
	for k, v := range j.bpm {
		w.HeartRate.Add(float64(k), math.Round(v))
		if speed {
			w.Speed.Add(float64(k), j.speed[k])
		}
	}
	return w
}

// plantedStops joins real efforts to real recoveries at a known second: steady ones after a walk, and runs to
// the limit after a long warm-up; after the recovery the recording ends, or a walk or a jog home follows.
func plantedStops(t *testing.T) []knownStop {
	t.Helper()
	tails, rises, efforts := realTails(t), realRises(t), realEfforts(t)
	walkSeries, _ := outside.Recorded(t, "tcx/walk-laps-irregular-01.tcx")
	walk := unbroken(walkSeries.BPM[600:1500])
	var out []knownStop
	plant := func(group, name string, i int, j joint, end tail) {
		stop := len(j.bpm) - 1
		if len(end.bpm) < 70 {
			return
		}
		after := []float64{0, 1.3, 1.0}[i%3]
		j.add(end.bpm[1:], false, at(after))
		// The first value of the tail is that of the last second of effort.
		d := j.bpm[stop] - end.bpm[0]
		for k := stop + 1; k < len(j.bpm); k++ {
			j.bpm[k] += d
		}
		switch i % 3 {
		case 1:
			j.add(walk[:300], true, at(1.3))
		case 2: // a jog home: heart rate comes up again, but not so far
			e := efforts[(i+1)%len(efforts)]
			top := j.bpm[len(j.bpm)-1]
			j.add(stretched(rises[0].bpm, 90, top, top+15), false, at(2.1))
			home := e.bpm[:400]
			if most, room := slices.Max(home)-home[0], j.bpm[stop]-15-j.bpm[len(j.bpm)-1]; most > room {
				home = stretched(home, 400, 0, max(0, room)/most*(home[399]-home[0]))
			}
			j.add(home, true, at(2.1))
		}
		for heart, by := range map[bool]string{true: "heart rate", false: "speed"} {
			out = append(out, knownStop{group + ", " + by, name + " | " + end.name, j.workout(!heart), stop, end.bpm[0] - end.bpm[60]})
		}
	}
	for i, end := range tails {
		e := efforts[i%len(efforts)]
		var j joint
		j.add(walk[:300], false, at(1.5))
		j.add(stretched(rises[0].bpm, 120, j.bpm[299], e.bpm[0]), false, at(2.6))
		j.add(e.bpm, true, at(2.6))
		plant("planted: steady", e.name, i/2, j, end)
	}
	for i, end := range tails {
		rise, e := rises[i%len(rises)], efforts[(i*3)%len(efforts)]
		seconds := 140 + 60*(i%13)
		var j joint
		j.add(walk[:200], false, at(1.5))
		j.add(stretched(rises[0].bpm, 100, j.bpm[199], 125), false, at(2.2))
		j.add(e.bpm[:300+30*(i%7)], true, at(2.2))
		if i%2 == 0 { // a pause before the run
			j.add(tails[(i+5)%len(tails)].bpm[:60], true, at(0.3))
		}
		j.add(stretched(rise.bpm, seconds, j.bpm[len(j.bpm)-1], 185), false, shuttles(i%4 < 2))
		plant("planted: to the limit", fmt.Sprintf("%s in %d s", rise.name, seconds), i, j, end)
	}
	return out
}

// alone leaves nothing but heart rate.
func alone(w workout.Workout) workout.Workout {
	w.Speed, w.Power, w.Cadence, w.Laps = workout.Channel{}, workout.Channel{}, workout.Channel{}, nil
	return w
}

// knownStops are all of them, from heart rate alone and by load.
func knownStops(t *testing.T) []knownStop {
	t.Helper()
	var out []knownStop
	for _, row := range outside.Table(t, "research/cardio_reference.csv") {
		p := cardioPatients(t)[row["id"]]
		drop, ok := outside.Cell(t, row["hrr60"])
		if !ok {
			drop = math.NaN()
		}
		w := workout.Workout{Seconds: int(p.t[len(p.t)-1]) + 1, Sport: workout.Cycling, Sensor: workout.Strap, HeartRate: workout.Channel{T: p.t, V: p.hr}}
		out = append(out, knownStop{"effort tests, heart rate", row["id"], w, int(p.stop), drop})
		w.Power = workout.Channel{T: p.t, V: p.load}
		out = append(out, knownStop{"effort tests, power", row["id"], w, int(p.stop), drop})
	}
	for _, row := range outside.Table(t, "research/interval_reference.csv") {
		_, w := outside.Recorded(t, row["file"])
		from, _ := outside.Cell(t, row["start_s"])
		length, _ := outside.Cell(t, row["duration_s"])
		drop, _ := outside.Cell(t, row["hrr60"])
		if row["file"] == "tcx/treadmill-ramp-recovery-01.tcx" {
			out = append(out, knownStop{"treadmill ramp", "", w, int(from + length), drop})
			continue
		}
		name := row["file"] + " " + row["work_lap"]
		w.Laps = nil
		out = append(out, knownStop{"interval files, heart rate", name, alone(w), int(from + length), drop})
		out = append(out, knownStop{"interval files, load", name, w, int(from + length), drop})
	}
	return append(out, plantedStops(t)...)
}

// nearestStop is the recovery whose stop is nearest to a second.
func nearestStop(m physiology.Measurements, at int) (best physiology.Recovery, off int) {
	off = math.MaxInt
	for _, r := range m.Recoveries {
		if d := r.Stop - at; max(d, -d) < max(off, -off) {
			best, off = r, d
		}
	}
	return best, off
}

// TestKnownStops counts how often a stop is found where it was, and how often a 60-second figure is wrong by
// more than 10 bpm.
func TestKnownStops(t *testing.T) {
	type tally struct{ n, near, told, wrong, rising, work int }
	counts, order := map[string]*tally{}, []string{}
	for _, k := range knownStops(t) {
		c := counts[k.group]
		if c == nil {
			c = &tally{}
			counts[k.group], order = c, append(order, k.group)
		}
		m := physiology.Measure(heartrate.Clean(k.w), k.w, physiology.Body{}, false)
		r, off := nearestStop(m, k.stop)
		c.n++
		c.near += count(off >= -20 && off <= 20)
		for _, p := range m.Phases {
			if p.Kind == workout.Work && p.Contains(k.stop-30) {
				c.work++
				break
			}
		}
		if r.Basis.Enough && r.Drop60 != nil {
			c.told++
			c.rising += count(*r.Drop60 < 0)
			c.wrong += count(!(math.Abs(*r.Drop60-k.drop) <= 10))
		}
		t.Logf("%-34s %-70.70s stop %5d off %6d told %v %s want %.0f by %s %s", k.group, k.name, k.stop, off, r.Basis.Enough, text(r.Drop60), k.drop, r.By, r.Basis.Why)
	}
	var all tally
	for _, g := range order {
		c := counts[g]
		t.Logf("STOPS %-34s %3d stops, %3d within 20 s; 60-second figure for %3d, %d wrong by more than 10 bpm, %d negative; %d are work",
			g, c.n, c.near, c.told, c.wrong, c.rising, c.work)
		all.n, all.near, all.told, all.wrong, all.rising = all.n+c.n, all.near+c.near, all.told+c.told, all.wrong+c.wrong, all.rising+c.rising
	}
	t.Logf("STOPS all: %d of %d within 20 s; figures for %d, %d wrong, %d negative", all.near, all.n, all.told, all.wrong, all.rising)
	if 20*all.wrong > all.told || all.rising > 0 || 2*all.told < all.n {
		t.Errorf("of %d figures %d are wrong by more than 10 bpm and %d negative; want 1 in 20 at most, none, and figures for half of %d stops", all.told, all.wrong, all.rising, all.n)
	}
	for group, want := range map[string]tally{
		"effort tests, heart rate": {near: 16, work: 18}, "effort tests, power": {near: 21, work: 20}, "treadmill ramp": {near: 1, work: 1},
		"interval files, heart rate": {near: 12}, "interval files, load": {near: 12},
		"planted: steady, heart rate": {near: 23}, "planted: steady, speed": {near: 28},
		"planted: to the limit, heart rate": {near: 24, work: 23}, "planted: to the limit, speed": {near: 25, work: 28},
	} {
		if c := counts[group]; c.near < want.near || c.work < want.work {
			t.Errorf("%s: %d stops within 20 s, %d efforts called work; want %d and %d at least", group, c.near, c.work, want.near, want.work)
		}
	}
	if n := counts["planted: steady, heart rate"].work + counts["planted: steady, speed"].work; n > 0 {
		t.Errorf("%d steady efforts called work", n)
	}
}

// TestNoLoneEffortInOrdinarySessions: of the real recordings only the treadmill ramp is one effort to the limit.
func TestNoLoneEffortInOrdinarySessions(t *testing.T) {
	outside.Workouts(t, outside.Data(t), physiology.OneIn(), func(name string, w workout.Workout) {
		m := measured(w, false)
		if ramp := name == "treadmill-ramp-recovery-01.tcx"; len(m.Bouts) == 1 != ramp {
			t.Errorf("%s: %d bouts, %s", name, len(m.Bouts), kinds(m.Phases))
		}
	})
}
