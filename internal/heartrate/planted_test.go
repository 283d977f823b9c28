package heartrate_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// score counts seconds with a reading (or one that was taken away) by what was planted and found.
// Named are those of the right ones that were found as the kind that was planted: a heart rate doubled
// onto twice the step rate, say, may as well be a lock.
type score struct{ right, missed, wrong, named, cases int }

func (s score) recall() float64    { return share(s.right, s.missed) }
func (s score) precision() float64 { return share(s.right, s.wrong) }

func share(a, b int) float64 {
	if a+b == 0 {
		return math.NaN()
	}
	return float64(a) / float64(a+b)
}

// count compares the faults with the planted seconds. before are those that the series had without the
// planted one: they are no false alarms of it.
func (s *score) count(kind heartrate.FaultKind, seconds []int, planted func(k int) bool, got, before []heartrate.Fault) {
	s.cases++
	for _, k := range seconds {
		switch found := shows(got, "", k); {
		case found && planted(k):
			s.right++
			if shows(got, kind, k) {
				s.named++
			}
		case planted(k):
			s.missed++
		case found && !shows(before, "", k):
			s.wrong++
		}
	}
}

// shows says whether second k is faulty, of any kind for "".
func shows(fs []heartrate.Fault, kind heartrate.FaultKind, k int) bool {
	for _, f := range fs {
		if (f.Kind == kind || kind == "") && f.Contains(k) {
			return true
		}
	}
	return false
}

// kindOf names the fault that a planted one must be found as.
func kindOf(k simulate.FaultKind) heartrate.FaultKind {
	if k == simulate.Zeros || k == simulate.Sentinel {
		return heartrate.Marker
	}
	return heartrate.FaultKind(k)
}

func logScores(t *testing.T, order []string, scores map[string]*score) {
	t.Helper()
	var b strings.Builder
	fmt.Fprintf(&b, "%-28s %5s %8s %8s %8s %8s %9s %7s\n", "fault", "cases", "right s", "named so", "missed s", "wrong s", "precision", "recall")
	for _, name := range order {
		s := scores[name]
		fmt.Fprintf(&b, "%-28s %5d %8d %8d %8d %8d %9.3f %7.3f\n", name, s.cases, s.right, s.named, s.missed, s.wrong, s.precision(), s.recall())
	}
	t.Log("\n" + b.String())
}

// bouts is a session with six bouts, in any mode.
func bouts(m workout.Mode) workout.Plan {
	p := workout.Plan{Mode: m}
	add := func(k workout.StepKind, seconds int, bpm float64) {
		p.Steps = append(p.Steps, workout.Step{Kind: k, Seconds: seconds, Low: bpm - 3, High: bpm + 3})
	}
	add(workout.WarmUp, 420, 108)
	for range 6 {
		add(workout.Work, 180, 152)
		add(workout.Recovery, 150, 103)
	}
	add(workout.CoolDown, 300, 105)
	return p
}

// plantable says whether a lock differs enough from the heart to be one: within a few beats of it
// nobody can see it, and it harms nothing.
func plantable(f simulate.Fault, w workout.Workout, truth simulate.Truth) bool {
	if f.Kind != simulate.Lock {
		return true
	}
	cad, foot := w.Cadence.Grid(w.Seconds, 0), w.Sport != workout.Cycling && w.Sport != workout.Rowing
	for k := f.From; k < f.To; k++ {
		v := cad[k] * f.Factor
		if foot {
			v *= 2
		}
		if v < heartrate.Lowest+5 || v > heartrate.Highest-5 || math.Abs(v-truth.BPM[k]) < 10 {
			return false
		}
	}
	return true
}

// Every fault that the simulator can plant, one at a time and at known places, is found as what it is.
func TestPlantedFaultsAreFound(t *testing.T) {
	for _, c := range []struct {
		name  string
		least float64
		body  func(a *simulate.Athlete)
		o     simulate.Options
	}{
		{"clean", 0.95, func(a *simulate.Athlete) {}, simulate.Options{Sensor: workout.Strap}},
		{"noisy", 0.90, func(a *simulate.Athlete) { a.BeatToBeat, a.Wobble = 1.5, 0.05 }, simulate.Options{Sensor: workout.Wrist}},
	} {
		t.Run(c.name, func(t *testing.T) {
			scores, order := map[string]*score{}, []string(nil)
			for _, mode := range []workout.Mode{workout.Walk, workout.Run, workout.Bike, workout.Row} {
				body := simulate.Beginner(62, 186)
				c.body(&body)
				for seed := range uint64(6) {
					o := c.o
					o.Seed = 100*seed + 7
					clean, _ := simulate.Play(bouts(mode), body, o)
					before := heartrate.Clean(clean).Faults
					for _, f := range planted(int(seed)) {
						o.Faults = []simulate.Fault{f}
						w, truth := simulate.Play(bouts(mode), body, o)
						f = truth.Faults[0]
						if !plantable(f, w, truth) {
							continue
						}
						name := string(f.Kind)
						if f.Kind == simulate.Lock {
							name = fmt.Sprintf("lock x%g", f.Factor)
						}
						if scores[name] == nil {
							scores[name] = &score{}
							order = append(order, name)
						}
						scores[name].count(kindOf(f.Kind), span(0, w.Seconds), f.Contains, heartrate.Clean(w).Faults, before)
					}
				}
			}
			logScores(t, order, scores)
			for _, name := range order {
				if s := scores[name]; !(s.precision() >= c.least) || !(s.recall() >= c.least) {
					t.Errorf("%s: precision %.3f, recall %.3f, want %.2f", name, s.precision(), s.recall(), c.least)
				}
			}
		})
	}
}

// planted lists one fault of each kind, at places that move with n.
func planted(n int) []simulate.Fault {
	at := func(kind simulate.FaultKind, from, long int) simulate.Fault {
		return simulate.Fault{Kind: kind, Span: workout.Span{From: from, To: from + long}, Factor: 1}
	}
	move := 97 * n
	lock := func(f float64, from, long int) simulate.Fault {
		x := at(simulate.Lock, from, long)
		x.Factor = f
		return x
	}
	lag := at(simulate.Lag, 0, 1<<20)
	lag.Late = 30 + 2*n
	return []simulate.Fault{
		at(simulate.Dropout, 500+move, 12+5*n), at(simulate.Frozen, 600+move, 120+20*n),
		at(simulate.Zeros, 700+move, 5+5*n), at(simulate.Sentinel, 640+move, 5+5*n),
		at(simulate.Doubled, 450+move, 20+40*n), at(simulate.Halved, 800+move, 20+40*n),
		at(simulate.DryStart, 0, 60+50*n), lag,
		lock(1, 430+move, 60+15*n), lock(0.5, 470+move, 60+15*n), lock(2, 440+move, 60+15*n),
		lock(1, 60+40*n, 90+15*n), lock(2, 70+40*n, 90+15*n), lock(0.5, 600+move, 60+15*n),
	}
}

// Data without a fault stay untouched.
func TestNoFaultNoAlarm(t *testing.T) {
	for _, mode := range workout.Modes() {
		for seed := range uint64(20) {
			w, truth := simulate.Play(bouts(mode), simulate.Beginner(62, 186), simulate.Options{Seed: seed, Sensor: workout.Strap})
			s := heartrate.Clean(w)
			if len(s.Faults) > 0 || s.Rejected > 0 {
				t.Errorf("%s %d: %v", mode, seed, s.Faults)
			}
			for k, v := range s.BPM {
				if math.Abs(v-truth.BPM[k]) > 3 {
					t.Fatalf("%s %d: second %d reads %v, truth %v", mode, seed, k, v, truth.BPM[k])
				}
			}
			if g := s.Grade; !g.UseZones || !g.UseDrift || !g.UseRecovery || !g.UsePeaks {
				t.Errorf("%s %d: graded %+v", mode, seed, g)
			}
		}
	}
}

// A wrist sensor's noise is not taken for faults but for single values that stand off by chance.
func TestNoiseIsHardlyTouched(t *testing.T) {
	body := simulate.Beginner(62, 186)
	body.BeatToBeat, body.Wobble = 1.5, 0.05
	gone, all := 0, 0
	for _, mode := range workout.Modes() {
		for seed := range uint64(20) {
			w, _ := simulate.Play(bouts(mode), body, simulate.Options{Seed: seed, Sensor: workout.Wrist, Sparse: seed%4 == 3})
			s := heartrate.Clean(w)
			gone, all = gone+s.Rejected, all+w.HeartRate.Len()
			for _, f := range s.Faults {
				if f.Kind != heartrate.Spike || f.Seconds() > 2 {
					t.Errorf("%s %d: %v", mode, seed, f)
				}
			}
		}
	}
	t.Logf("%d of %d readings (%.2f %%) taken out", gone, all, 100*float64(gone)/float64(all))
	if gone*100 > all {
		t.Errorf("%d of %d readings taken out", gone, all)
	}
}
