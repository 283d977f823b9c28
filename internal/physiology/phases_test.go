package physiology_test

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

func planned(k workout.StepKind, seconds int, low, high float64) workout.Step {
	return workout.Step{Kind: k, Seconds: seconds, Low: low, High: high}
}

func steadyPlan(m workout.Mode, minutes int) workout.Plan {
	return workout.Plan{Mode: m, Steps: []workout.Step{
		planned(workout.WarmUp, 300, 95, 110), planned(workout.Steady, 60*minutes, 120, 132), planned(workout.CoolDown, 300, 90, 105),
	}}
}

func intervalPlan(m workout.Mode, bouts, work, recovery int) workout.Plan {
	p := workout.Plan{Mode: m, Steps: []workout.Step{planned(workout.WarmUp, 300, 95, 110)}}
	for range bouts {
		p.Steps = append(p.Steps, planned(workout.Work, work, 148, 158), planned(workout.Recovery, recovery, 108, 118))
	}
	p.Steps = append(p.Steps, planned(workout.CoolDown, 300, 90, 105))
	return p
}

// TestPhasesOfPlayedSessions plays the programme's sessions on an invented beginner and wants the parts
// back: within 5 s where speed, power or laps show them, within 15 s from heart rate alone.
func TestPhasesOfPlayedSessions(t *testing.T) {
	sessions := map[string]workout.Plan{
		"steady 30 min":       steadyPlan(workout.Run, 30),
		"steady 45 min":       steadyPlan(workout.Bike, 45),
		"4 x 1:4 min":         intervalPlan(workout.Run, 4, 60, 240),
		"6 x 1:3 min":         intervalPlan(workout.Bike, 6, 60, 180),
		"6 x 2:2 min":         intervalPlan(workout.Run, 6, 120, 120),
		"5 x 3:3 min":         intervalPlan(workout.Bike, 5, 180, 180),
		"2 x 8:4 min":         intervalPlan(workout.Run, 2, 480, 240),
		"4 x 4:3 min walking": intervalPlan(workout.Walk, 4, 240, 180),
	}
	recordings := map[string]struct {
		o      simulate.Options
		within int
		by     physiology.By // of the bouts; "" any
	}{
		"speed or power":   {simulate.Options{}, 5, ""},
		"sparse":           {simulate.Options{Sparse: true}, 8, ""},
		"laps alone":       {simulate.Options{NoLoad: true, Laps: true}, 5, "laps"},
		"heart rate alone": {simulate.Options{NoLoad: true}, 15, "heart rate"},
	}
	for session, plan := range sessions {
		for recording, c := range recordings {
			for seed := range uint64(6) {
				t.Run(fmt.Sprintf("%s, %s, %d", session, recording, seed), func(t *testing.T) {
					o := c.o
					o.Seed, o.Tail, o.Still = seed, 180, true
					w, truth := simulate.Play(plan, simulate.Beginner(65, 180), o)
					m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
					compareParts(t, m.Phases, truth.Steps, c.within)
					for _, b := range m.Bouts {
						if c.by != "" && b.By != c.by {
							t.Errorf("bout at %d by %q, want %q", b.From, b.By, c.by)
						}
					}
				})
			}
		}
	}
}

// compareParts wants the planned steps up to the last bout or the end of the steady part; what follows
// is cool-down.
func compareParts(t *testing.T, phases []physiology.Phase, steps []simulate.Done, within int) {
	t.Helper()
	last := 0
	for i, s := range steps {
		if s.Step.Kind == workout.Work || s.Step.Kind == workout.Steady {
			last = i
		}
	}
	if len(phases) != last+2 {
		t.Fatalf("phases %s, want %d", kinds(phases), last+2)
	}
	for i, p := range phases {
		want := steps[i].Step.Kind
		if i > last {
			want = workout.CoolDown
		}
		if p.Kind != want {
			t.Errorf("phase %d is %s, want %s: %s", i, p.Kind, want, kinds(phases))
		}
		if d := p.From - steps[i].From; d < -within || d > within {
			t.Errorf("phase %d (%s) begins at %d, want %d within %d", i, p.Kind, p.From, steps[i].From, within)
		}
	}
}

func kinds(phases []physiology.Phase) string {
	out := ""
	for _, p := range phases {
		out += fmt.Sprintf("%s %d-%d, ", p.Kind, p.From, p.To)
	}
	return out
}

// TestLapLabelsAreNotBelieved: the same session with every lap called "rest", "active" or "interval" has
// the same parts (findings 7 and 14: real files label every lap alike).
func TestLapLabelsAreNotBelieved(t *testing.T) {
	w, _ := simulate.Play(intervalPlan(workout.Run, 5, 180, 180), simulate.Beginner(60, 185), simulate.Options{Seed: 3, Laps: true})
	want := kinds(physiology.PhasesOf(heartrate.Clean(w), w))
	for _, label := range []string{"", "rest", "active", "interval", "warmup"} {
		for i := range w.Laps {
			w.Laps[i].Label = label
		}
		if got := kinds(physiology.PhasesOf(heartrate.Clean(w), w)); got != want {
			t.Errorf("label %q: %s, want %s", label, got, want)
		}
	}
}

// TestSloppyLapMarks: marks pressed within 8 s of a change of speed are the edges; marks half a minute off
// still separate work from recovery by their means, but the edges are those of speed.
func TestSloppyLapMarks(t *testing.T) {
	for late, by := range map[int]physiology.By{0: "laps", 8: "laps", 30: "speed"} {
		w, truth := simulate.Play(intervalPlan(workout.Run, 5, 180, 180), simulate.Beginner(60, 185), simulate.Options{Seed: 4})
		w.Laps = nil
		for _, s := range truth.Steps {
			w.Laps = append(w.Laps, workout.Lap{Span: workout.Span{From: max(0, s.From+late), To: min(w.Seconds, s.To+late)}})
		}
		w.Laps[0].From = 0
		m := measured(w, false)
		if len(m.Bouts) != 5 {
			t.Fatalf("marks %d s late: %d bouts", late, len(m.Bouts))
		}
		for i, b := range m.Bouts {
			want := 300 + 360*i
			if by == "laps" {
				want += late
			}
			if b.By != by || b.From < want-3 || b.From > want+3 {
				t.Errorf("marks %d s late: bout %d from %d by %s, want %d by %s", late, i, b.From, b.By, want, by)
			}
		}
	}
}

// TestNoSeriesWithoutOne: what goes up and down without being work and recovery gives no bouts.
func TestNoSeriesWithoutOne(t *testing.T) {
	run := func(n int, speed func(k int) float64) workout.Workout {
		w := workout.Workout{Sport: workout.Running, Seconds: n}
		for k := range n {
			w.Speed.Add(float64(k), speed(k))
			w.HeartRate.Add(float64(k), 140+math.Sin(float64(k)/40))
		}
		return w
	}
	for name, w := range map[string]workout.Workout{
		"level": run(2400, func(int) float64 { return 3 }),
		"stops at traffic lights": run(2400, func(k int) float64 {
			if k%480 >= 455 {
				return 0
			}
			return 3
		}),
		"walks of a minute in a long run": made(true, leg{400, 3, 150}, leg{60, 1.4, 105}, leg{250, 3, 150}, leg{60, 1.4, 105}, leg{800, 3, 150},
			leg{60, 1.4, 105}, leg{350, 3, 150}, leg{60, 1.4, 105}, leg{500, 3, 150}),
		"rolling hills, heart rate level": run(2400, func(k int) float64 {
			return 3 + 0.9*math.Sin(float64(k)/30)
		}),
		"kilometre laps": func() workout.Workout {
			w := run(2400, func(int) float64 { return 3 })
			for k := 0; k < 2400; k += 333 {
				w.Laps = append(w.Laps, workout.Lap{Span: workout.Span{From: k, To: min(2400, k+333)}, Label: "interval"})
			}
			return w
		}(),
	} {
		m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
		if len(m.Bouts) != 0 {
			t.Errorf("%s: %d bouts, want none: %s", name, len(m.Bouts), kinds(m.Phases))
		}
	}
}

// TestStrengthHasNoPhases: sets and rests are neither steady nor intervals.
func TestStrengthHasNoPhases(t *testing.T) {
	w, _ := simulate.Play(intervalPlan(workout.Run, 5, 60, 60), simulate.Beginner(60, 185), simulate.Options{NoLoad: true})
	w.Sport = workout.Strength
	m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
	if len(m.Phases) != 1 || m.Phases[0].Kind != workout.OtherPart || len(m.Bouts) != 0 || len(m.Recoveries) != 0 {
		t.Errorf("phases %s, %d bouts, %d recoveries; want one other", kinds(m.Phases), len(m.Bouts), len(m.Recoveries))
	}
}

// TestTwoDevicesAgree: one ride on a trainer was recorded by two devices 12 s apart, one of which marked
// a lap at each change of load. The bouts found by laps and by power must be the same.
func TestTwoDevicesAgree(t *testing.T) {
	a, wa := outside.Recorded(t, "fit/indoor-ride-power-steady-01.fit")
	b, wb := outside.Recorded(t, "fit/virtual-ride-laps-01.fit")
	first := physiology.Measure(a, wa, physiology.Body{}, false).Bouts
	second := physiology.Measure(b, wb, physiology.Body{}, false).Bouts
	if len(first) != 6 || len(second) != 6 {
		t.Fatalf("%d and %d bouts, want 6 of 2, 3, 4, 3, 2 and 1 min", len(first), len(second))
	}
	for i, minutes := range []int{2, 3, 4, 3, 2, 1} {
		if second[i].By != "laps" || second[i].Seconds() != 60*minutes {
			t.Errorf("bout %d by %s lasts %d s, want %d by laps", i, second[i].By, second[i].Seconds(), 60*minutes)
		}
		if d := first[i].Seconds() - second[i].Seconds(); d < -5 || d > 5 {
			t.Errorf("bout %d lasts %d s by power, %d s by laps", i, first[i].Seconds(), second[i].Seconds())
		}
		if math.Abs(*first[i].End-*second[i].End) > 2 {
			t.Errorf("bout %d ends at %.1f and %.1f bpm", i, *first[i].End, *second[i].End)
		}
	}
}

// TestHeartRateAloneOnRealIntervals takes speed, power, cadence and laps away from real interval sessions:
// heart rate alone must give the same bouts, their edges within 15 s.
func TestHeartRateAloneOnRealIntervals(t *testing.T) {
	for _, name := range []string{"fit/indoor-rowing-intervals-recovery-01.fit", "fit/indoor-ride-power-laps-01.fit", "fit/indoor-ride-lowbattery-01.fit"} {
		s, w := outside.Recorded(t, name)
		want := physiology.Measure(s, w, physiology.Body{}, false).Bouts
		w.Speed, w.Power, w.Cadence, w.Laps = workout.Channel{}, workout.Channel{}, workout.Channel{}, nil
		got := physiology.Measure(s, w, physiology.Body{}, false).Bouts
		if len(got) != len(want) {
			t.Errorf("%s: %d bouts, want %d", name, len(got), len(want))
			continue
		}
		for i, b := range got {
			if d := b.From - want[i].From; d < -15 || d > 15 || b.By != "heart rate" {
				t.Errorf("%s: bout %d begins at %d by %s, want %d", name, i, b.From, b.By, want[i].From)
			}
			if d := b.To - want[i].To; d < -15 || d > 15 {
				t.Errorf("%s: bout %d ends at %d, want %d", name, i, b.To, want[i].To)
			}
		}
	}
}

// TestMonthSeries: one runner's month. Every lap is labelled "Resting"; what the runs were is plain from
// speed: minute repeats, 1-km repeats, two long blocks, and runs without bouts.
func TestMonthSeries(t *testing.T) {
	for name, c := range map[string]struct {
		bouts, from, to int // number and shortest and longest length in seconds
	}{
		"tcx/run-series-12.tcx.gz": {20, 40, 70},
		"tcx/run-series-06.tcx.gz": {5, 210, 230},
		"tcx/run-series-04.tcx.gz": {2, 670, 690},
		"tcx/run-series-01.tcx.gz": {},
		"tcx/run-series-05.tcx.gz": {},
		"tcx/run-series-08.tcx.gz": {},
		"tcx/run-series-10.tcx.gz": {},
		"tcx/run-series-16.tcx.gz": {},
	} {
		s, w := outside.Recorded(t, name)
		m := physiology.Measure(s, w, physiology.Body{}, false)
		if len(m.Bouts) < c.bouts || len(m.Bouts) > c.bouts+1 || c.bouts == 0 && len(m.Bouts) > 0 {
			t.Errorf("%s: %d bouts, want %d", name, len(m.Bouts), c.bouts)
		}
		for _, b := range m.Bouts[:min(c.bouts, len(m.Bouts))] {
			if b.Seconds() < c.from || b.Seconds() > c.to {
				t.Errorf("%s: a bout of %d s, want %d to %d", name, b.Seconds(), c.from, c.to)
			}
		}
	}
}

// TestBoutFields: end is the mean of the last 30 s, or of the last third; peak and low are 5-s means.
func TestBoutFields(t *testing.T) {
	w := workout.Workout{Sport: workout.Cycling, Seconds: 1200}
	for k := range 1200 {
		into := k % 300
		power, hr := 100.0, 120.0
		if into >= 180 { // 2 min of work, heart rate up a step every 30 s
			power, hr = 220, 130+10*float64((into-180)/30)
		}
		w.Power.Add(float64(k), power)
		w.HeartRate.Add(float64(k), hr)
	}
	m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
	if len(m.Bouts) != 4 {
		t.Fatalf("%d bouts, want 4", len(m.Bouts))
	}
	for i, b := range m.Bouts {
		if b.From != 180+300*i || b.To != 300+300*i || b.By != "power" {
			t.Errorf("bout %d is %d-%d by %s", i, b.From, b.To, b.By)
		}
		if !near(b.End, 160, 1e-9) || !near(b.Peak, 160, 1e-9) {
			t.Errorf("bout %d ends at %s, peak %s; want 160", i, text(b.End), text(b.Peak))
		}
		if last := i == 3; last != (b.Low == nil) || !last && !near(b.Low, 120, 1e-9) {
			t.Errorf("bout %d: low after it %s", i, text(b.Low))
		}
	}
	short := workout.Workout{Sport: workout.Cycling, Seconds: 600}
	for k := range 600 {
		into := k % 60
		power, hr := 100.0, 120.0
		if into >= 30 { // 30 s of work, heart rate up in its last third
			power, hr = 250, 125
			if into >= 50 {
				hr = 135
			}
		}
		short.Power.Add(float64(k), power)
		short.HeartRate.Add(float64(k), hr)
	}
	m = physiology.Measure(heartrate.Clean(short), short, physiology.Body{}, false)
	if len(m.Bouts) != 10 || !near(m.Bouts[4].End, 135, 1e-9) {
		t.Errorf("%d bouts; want 10 that end at 135: %s", len(m.Bouts), kinds(m.Phases))
	}
}

// TestSeriesOfAnotherLength: phases cover the series, whatever length the workout claims.
func TestSeriesOfAnotherLength(t *testing.T) {
	w, _ := simulate.Play(intervalPlan(workout.Run, 4, 120, 120), simulate.Beginner(60, 185), simulate.Options{Seed: 1, Laps: true})
	s := heartrate.Clean(w)
	for _, n := range []int{0, 1, 500, len(s.BPM), len(s.BPM) + 400} {
		w.Seconds = n
		m := physiology.Measure(s, w, physiology.Body{}, false)
		if last := m.Phases[len(m.Phases)-1].To; last != len(s.BPM) || len(m.Bouts) != 4 {
			t.Errorf("workout of %d s: phases end at %d of %d, %d bouts", n, last, len(s.BPM), len(m.Bouts))
		}
	}
}

// TestPhasesCoverProperty: whatever is recorded, phases follow on each other from 0 to the end, bouts are
// the work phases, and every stop and drift lies inside the workout.
func TestPhasesCoverProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 1800).Draw(t, "seconds")
		w := workout.Workout{
			Sport:   rapid.SampledFrom([]workout.Sport{workout.Running, workout.Cycling, workout.Strength, workout.Other}).Draw(t, "sport"),
			Seconds: n,
		}
		for _, c := range []struct {
			channel *workout.Channel
			top     float64
		}{{&w.HeartRate, 200}, {&w.Speed, 6}, {&w.Power, 400}, {&w.Cadence, 110}} {
			if rapid.Bool().Draw(t, "has") {
				every := rapid.IntRange(1, 9).Draw(t, "every")
				period := rapid.IntRange(20, 700).Draw(t, "period")
				low, high := rapid.Float64Range(0, c.top).Draw(t, "low"), rapid.Float64Range(0, c.top).Draw(t, "high")
				for k := rapid.IntRange(0, 300).Draw(t, "from"); k < n; k += every {
					v := low
					if k/period%2 == 1 {
						v = high
					}
					c.channel.Add(float64(k), v)
				}
			}
		}
		for at := 0; at < n && rapid.Bool().Draw(t, "lap"); {
			to := min(n, at+rapid.IntRange(1, 900).Draw(t, "length"))
			w.Laps = append(w.Laps, workout.Lap{Span: workout.Span{From: at, To: to}})
			at = to
		}
		if n > 10 && rapid.Bool().Draw(t, "pause") {
			from := rapid.IntRange(0, n-2).Draw(t, "pause from")
			w.Pauses = []workout.Span{{From: from, To: rapid.IntRange(from+1, n).Draw(t, "pause to")}}
		}
		m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, rapid.Bool().Draw(t, "steady"))
		at, work := 0, 0
		for i, p := range m.Phases {
			if p.From != at || p.To <= p.From || i > 0 && m.Phases[i-1].Kind == p.Kind && p.Kind != workout.OtherPart && p.Kind != workout.Steady { // two paces are two steady parts
				t.Fatalf("phases %s do not follow on each other", kinds(m.Phases))
			}
			at = p.To
			if p.Kind == workout.Work {
				if b := m.Bouts[work]; b.Span != p.Span || b.Seconds() < 20 {
					t.Fatalf("bout %v, work phase %v", b.Span, p.Span)
				}
				work++
			}
		}
		if at != n || work != len(m.Bouts) || work == 1 {
			t.Fatalf("phases end at %d of %d with %d work phases and %d bouts", at, n, work, len(m.Bouts))
		}
		if m.Main.From < 0 || m.Main.To > n || m.Main.From > m.Main.To {
			t.Fatalf("main part %v of %d", m.Main.Span, n)
		}
		for _, r := range m.Recoveries {
			if r.Stop < 0 || r.Stop >= n || r.Basis.Enough && r.Drop60 == nil || r.Basis.Enough != (len(r.Basis.Why) == 0) {
				t.Fatalf("recovery %+v", r)
			}
		}
		if d := m.Drift; d.Enough && (d.To-d.From < 1200 || d.From < 600 || d.Low > d.Slope || d.Slope > d.High) || d.Enough != (len(d.Why) == 0) {
			t.Fatalf("drift %+v", d)
		}
	})
}
