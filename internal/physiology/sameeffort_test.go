package physiology_test

import (
	"fmt"
	"math"
	"testing"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

func TestSameEffort(t *testing.T) {
	at := func(v float64) func(int) float64 { return func(int) float64 { return v } }
	settled := func(k int) float64 { return 70 + 50*(1-math.Exp(-float64(k)/57.6)) }
	e := measured(session(1200, at(2.5), settled), false).SameEffort
	// Heart rate after 3 min of a step from 70 to 120 bpm with tau 57.6 s is 117.80 and after 4 min 119.22
	// (worked): from minute 5 on the mean is 120 but for 0.03.
	if e == nil || !e.Enough || math.Abs(e.Mean-120) > 0.05 || e.Load != 2.5 || e.Unit != "m/s" || e.From != 300 || e.To != 900 {
		t.Errorf("one speed: %+v", e)
	}
	// 24.2 bpm per m/s (Hunt, Fankhauser and Saengsuwan 2015) for 0.1 m/s more.
	if got := e.At(2.6) - e.Mean; math.Abs(got-2.42) > 1e-6 {
		t.Errorf("at 2.6 m/s %.3f bpm more, want 2.42", got)
	}
	if e := measured(session(1200, at(-1), settled), true).SameEffort; e != nil {
		t.Errorf("no speed: %+v", e)
	}
	if e := measured(session(890, at(2.5), settled), false).SameEffort; e != nil {
		t.Errorf("14 min 50 s: %+v", e)
	}
	for name, speed := range map[workout.Code]func(int) float64{
		physiology.LoadChanged: func(k int) float64 { return 2.2 + 0.6*float64(k-300)/600 },
		physiology.LoadVaries:  func(k int) float64 { return 1.5 + 2*float64(k/60%2) },
	} {
		if e := measured(session(1200, speed, settled), false).SameEffort; e == nil || e.Enough || codeOf(e.Why) != name {
			t.Errorf("%s: %+v", name, e)
		}
	}
	lost := func(k int) float64 {
		if k > 400 && k < 700 {
			return 0
		}
		return settled(k)
	}
	wild := func(k int) float64 { return 130 + 15*math.Sin(float64(k)/120) }
	if e := measured(session(1200, at(2.5), wild), false).SameEffort; e == nil || e.Enough || codeOf(e.Why) != physiology.EffortWanders {
		t.Errorf("heart rate up and down by 15 bpm: %+v", e)
	}
	// A heart at 70 + 20 v bpm that follows speed v with the published time constant: the mean belongs to
	// the load that is said, with and without a halt.
	for name, speed := range map[string]func(int) float64{
		"a halt of a minute":      func(k int) float64 { return 2.5 * float64(1-count(k >= 600 && k < 660)) },
		"quicker by 6 %":          func(k int) float64 { return 2.4 + 0.15*float64(k)/1200 },
		"quick and slow in 6 min": func(k int) float64 { return 2.5 + 0.3*math.Sin(2*math.Pi*float64(k)/360) },
	} {
		h := 70.0
		e := measured(session(1200, speed, func(k int) float64 {
			h += (70 + 20*speed(k) - h) * (1 - math.Exp(-1/57.6))
			return h
		}), false).SameEffort
		if e == nil || !e.Enough || math.Abs(e.Mean-70-20*e.Load) > 0.3 || e.Error > 0.6 {
			t.Errorf("%s: %+v", name, e)
		}
	}
	if e := measured(session(1200, at(2.5), lost), false).SameEffort; e == nil || e.Enough || codeOf(e.Why) != heartrate.LittleHeart {
		t.Errorf("heart rate lost: %+v", e)
	}
}

// TestSameEffortOfTheMonth holds one runner's month of recordings against the published typical error of
// heart rate at a submaximal load, 3 % (Buchheit 2014; 1.1-1.4 % in a controlled test, Lamberts 2004): what
// is left of the sessions' heart rates around their line over speed, in R, is the error of one session on
// open roads, with heat, hills and tiredness in it. Moved to one speed by the published gain they must be
// nearer to each other than as they are.
func TestSameEffortOfTheMonth(t *testing.T) {
	physiology.Research(t, "reads a month of recordings")
	const reference = 3.9 // m/s, the middle of the month
	var bpm, speed, moved []float64
	long := 0
	t.Logf("%-10s %6s %10s %6s %10s", "day", "m/s", "bpm", "error", "at 3.9 m/s")
	for i := 1; i <= 17; i++ {
		s, w := recorded(t, fmt.Sprintf("tcx/run-series-%02d.tcx.gz", i))
		e := physiology.Measure(s, w, physiology.Body{}, false).SameEffort
		if e == nil {
			continue
		}
		long++
		if !e.Enough {
			t.Logf("%-10s %v", w.Start.Format("2 Jan"), e.Why)
			continue
		}
		t.Logf("%-10s %6.2f %10.1f %6.1f %10.1f", w.Start.Format("2 Jan"), e.Load, e.Mean, e.Error, e.At(reference))
		bpm, speed, moved = append(bpm, e.Mean), append(speed, e.Load), append(moved, e.At(reference))
	}
	r := inR(t, fmt.Sprintf("y <- %s; x <- %s; z <- %s; m <- lm(y ~ x); cat(summary(m)$sigma, coef(m)[2], sd(y), sd(z), mad(residuals(m)), mean(y), \"\\n\")",
		vector(bpm), vector(speed), vector(moved)))[0]
	own := 100 * r[0] / r[5]
	within, _, _ := physiology.OwnTypicalError(moved)
	t.Logf("told in %d of %d sessions of 15 min and more; %.1f bpm per m/s; SD as they are %.1f bpm, at one speed %.1f, around the line %.1f (robust %.1f)",
		len(bpm), long, r[1], r[2], r[3], r[0], r[4])
	t.Logf("the runner's own typical error is %.1f %% around the line, and %.1f bpm from successive sessions at one speed", own, within)
	if len(bpm) < 10 || own < 1 || own > 5 || r[3] > 0.8*r[2] {
		t.Errorf("told %d, own typical error %.1f %%, SD %.1f and at one speed %.1f", len(bpm), own, r[2], r[3])
	}
}
