package physiology_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// TestIntervalReference checks heart rate at the end of work and 60 and 120 s later against figures
// computed from the raw samples of real recordings without this program (hr_end is the sample at or at
// most 4 s before the end of the work lap). Each stop is the one that Measure finds by itself.
func TestIntervalReference(t *testing.T) {
	for _, row := range outside.Table(t, "research/interval_reference.csv") {
		t.Run(row["file"]+" lap "+row["work_lap"], func(t *testing.T) {
			if strings.Contains(row["file"], "treadmill-ramp") {
				t.Skip("heart rate alone: see TestRampFromHeartRateAlone")
			}
			s, w := outside.Recorded(t, row["file"])
			from, _ := outside.Cell(t, row["start_s"])
			length, _ := outside.Cell(t, row["duration_s"])
			end := int(from + length)
			r, ok := recoveryNear(physiology.Measure(s, w, physiology.Body{}, false), end, 5)
			if !ok {
				t.Fatalf("no stop within 5 s of %d", end)
			}
			for name, got := range map[string]*float64{"hr_end": r.End, "hr_60": r.At60, "hr_120": r.At120} {
				want, ok := outside.Cell(t, row[name])
				if !ok {
					continue
				}
				if got == nil || math.Abs(*got-want) > 1 {
					t.Errorf("stop %d by %s: %s is %s, want %v within 1 bpm", r.Stop, r.By, name, text(got), want)
				}
			}
			if r.Drop60 == nil || s.Grade.UseRecovery && !r.Basis.Enough { // a wrist sensor's fall is shown, not judged
				t.Errorf("no drop in 60 s found: %v", r.Basis.Why)
			}
		})
	}
}

// TestRampFromHeartRateAlone reads a treadmill ramp to exhaustion whose load was taken off at 853 s
// according to the gas-exchange file. The recording holds heart rate alone, so the stop is its own turn.
func TestRampFromHeartRateAlone(t *testing.T) {
	s, w := outside.Recorded(t, "tcx/treadmill-ramp-recovery-01.tcx")
	r, ok := recoveryNear(physiology.Measure(s, w, physiology.Body{}, false), 853, 15)
	if !ok || r.By != "heart rate" {
		t.Fatalf("stop %+v, want one by heart rate within 15 s of 853", r)
	}
	t.Logf("the turn is found at %d s, load was off at 853 s", r.Stop)
	if r.Drop60 != nil && (math.Abs(*r.Drop60-39) > 10 || *r.Drop60Low > 39 || *r.Drop60High < 39) {
		t.Errorf("fall in 60 s %s, want 39 as from load off, within 10 bpm and in the interval, or none", text(r.Drop60))
	}
	r = physiology.RecoveryAfter(s, 853)
	if !near(r.End, 198, 1) || !near(r.At60, 159, 1) || r.At120 != nil {
		t.Errorf("at load off %s, 60 s later %s, 120 s later %s; want 198, 159 and nothing", text(r.End), text(r.At60), text(r.At120))
	}
}

// cardioPatient is one effort test of data set "cardio" of the R package doremi: cycle ergometer, steps
// of 25 W, active recovery at 25 W, a reading every 10 s.
type cardioPatient struct {
	t, load, hr []float64
	// stop is the last time with a load above 25 W; until the end of the longest stretch of one load after it.
	stop, until float64
}

func cardioPatients(t *testing.T) map[string]*cardioPatient {
	out := map[string]*cardioPatient{}
	for _, row := range outside.Table(t, "research/cardio.csv") {
		p := out[row["id"]]
		if p == nil {
			p = &cardioPatient{}
			out[row["id"]] = p
		}
		at, _ := outside.Cell(t, row["time"])
		load, _ := outside.Cell(t, row["load"])
		hr, _ := outside.Cell(t, row["hr"])
		p.t, p.load, p.hr = append(p.t, at), append(p.load, load), append(p.hr, hr)
	}
	for _, p := range out {
		k := 0
		for i, load := range p.load {
			if load > 25 {
				k = i
			}
		}
		p.stop = p.t[k]
		longest := 0
		for a := k + 1; a < len(p.t); {
			b := a
			for b < len(p.t) && p.load[b] == p.load[a] {
				b++
			}
			if b-a > longest {
				longest, p.until = b-a, p.t[b-1]
			}
			a = b
		}
	}
	return out
}

// series is the clean heart rate of the test.
func (p *cardioPatient) series() heartrate.Series {
	return heartrate.Clean(workout.Workout{
		Seconds: int(p.t[len(p.t)-1]) + 1, Sport: workout.Cycling, Sensor: workout.Strap, HeartRate: workout.Channel{T: p.t, V: p.hr},
	})
}

// fall gives the readings that the reference fit used, from the stop on.
func (p *cardioPatient) fall() (t, hr []float64) {
	for i, at := range p.t {
		if at >= p.stop && at <= p.until && p.hr[i] > 0 {
			t, hr = append(t, at-p.stop), append(hr, p.hr[i])
		}
	}
	return t, hr
}

// TestCardioReference checks values and fits against those that base R's nls (algorithm "port") gave on
// the same 21 effort tests: falls within 1 bpm, time constants within 5 %, and no time constant where
// R's ended at a bound.
func TestCardioReference(t *testing.T) {
	patients := cardioPatients(t)
	for _, row := range outside.Table(t, "research/cardio_reference.csv") {
		t.Run("patient "+row["id"], func(t *testing.T) {
			p := patients[row["id"]]
			r := physiology.RecoveryAfter(p.series(), int(p.stop))
			for name, got := range map[string]*float64{"hr_off": r.End, "hrr60": r.Drop60, "hrr120": r.Drop120} {
				want, ok := outside.Cell(t, row[name])
				if ok != (got != nil) || ok && math.Abs(*got-want) > 1 {
					t.Errorf("%s is %s, want %q", name, text(got), row[name])
				}
			}
			e, ok := physiology.FitRecovery(p.fall())
			if usable := row["fit_at_bound"] == "FALSE"; ok != usable {
				t.Fatalf("fit %+v usable %v, want %v", e, ok, usable)
			}
			if !ok {
				return
			}
			want, _ := outside.Cell(t, row["fit_tau_s"])
			rmse, _ := outside.Cell(t, row["fit_rmse_bpm"])
			if math.Abs(e.Tau-want) > 0.05*want || math.Abs(e.RMSE-rmse) > 0.02 {
				t.Errorf("tau %.2f s, rmse %.3f; want %v and %v", e.Tau, e.RMSE, want, rmse)
			}
		})
	}
}

// TestFitAgainstR takes the same falls to R beside it, so that no table of ours stands between: values by
// approx, fits by nls within the same bounds, T30 by lm. Every patient's falls are within 1 bpm; every usable
// time constant is within 5 %; fits that R ends at a bound, with or without an error, are refused.
func TestFitAgainstR(t *testing.T) {
	patients := cardioPatients(t)
	var script strings.Builder
	script.WriteString(`
tell <- function(id, t, hr, ft, fh) {
  g <- hr > 0; t <- t[g]; hr <- hr[g]
  at <- function(x) { i <- findInterval(x, t); if (i == length(t) && t[i] < x || i < length(t) && t[i] < x && t[i + 1] - t[i] > 45) NA else approx(t, hr, x)$y }
  v <- c(at(0), at(30), at(60), at(120))
  f <- try(nls(fh ~ a + b * exp(-ft / tau), start = list(a = min(fh) - 1, b = max(5, fh[1] - min(fh) + 1), tau = 60),
    algorithm = "port", lower = c(30, 0, 5), upper = c(220, 200, 2000), control = nls.control(maxiter = 500, warnOnly = TRUE)), silent = TRUE)
  p <- if (inherits(f, "try-error")) rep(NA, 5) else
    c(coef(f), deviance(f), tryCatch(summary(f)$coefficients["tau", 2], error = function(e) NA))
  early <- t >= 0 & t <= 30
  cat(id, v, p, max(ft), -1 / coef(lm(log(hr[early]) ~ t[early]))[2], "\n")
}
`)
	for id, p := range patients {
		at, hr := p.fall()
		var since []float64
		for _, x := range p.t {
			since = append(since, x-p.stop)
		}
		fmt.Fprintf(&script, "tell(%s, %s, %s, %s, %s)\n", id, vector(since), vector(p.hr), vector(at), vector(hr))
	}
	rows := outside.R(t, script.String())
	if len(rows) != len(patients) || len(rows) != 21 {
		t.Fatalf("R tells of %d of %d patients, want 21", len(rows), len(patients))
	}
	usable, refused, long, early := 0, 0, 0, 0
	for _, row := range rows {
		id := fmt.Sprint(int(row[0]))
		p := patients[id]
		r := physiology.RecoveryAfter(p.series(), int(p.stop))
		for i, got := range []*float64{r.End, r.Drop30, r.Drop60, r.Drop120} {
			want := row[1+i]
			if i > 0 {
				want = row[1] - want
			}
			if math.IsNaN(want) != (got == nil) || got != nil && math.Abs(*got-want) > 1 {
				t.Errorf("patient %s: value %d is %s, R %.2f", id, i, text(got), want)
			}
		}
		early += count(r.T30 != nil)
		if r.T30 != nil && !within(*r.T30, row[11], 1e-6*row[11]) {
			t.Errorf("patient %s: T30 %s, R %.2f", id, text(r.T30), row[11])
		}
		at, hr := p.fall()
		e, ok := physiology.FitRecovery(at, hr)
		a, b, tau, sse, se, span := row[5], row[6], row[7], row[8], row[9], row[10]
		bound := math.IsNaN(tau) || tau > 1990 || tau < 5.1 || b < 0.01 || a < 30.1
		if ok == bound {
			t.Errorf("patient %s: fitted %v, R at a bound %v", id, ok, bound)
		}
		if bound {
			refused++
			continue
		}
		usable++
		long += count(span >= 150)
		if ours := e.RMSE * e.RMSE * float64(e.N); ours > sse*1.0001 {
			t.Errorf("patient %s: squared residuals %.4f, R finds %.4f", id, ours, sse)
		}
		if math.Abs(e.Tau-tau) > 0.05*tau || math.Abs(e.A-a) > 0.5 || math.Abs(e.B-b) > 0.5 {
			t.Errorf("patient %s: a %.2f b %.2f tau %.2f, R %.2f %.2f %.2f", id, e.A, e.B, e.Tau, a, b, tau)
		}
		// R's standard error takes readings for independent; ours is that or larger.
		if plain, wide := 1.645*se/tau, math.Log(e.High/e.Low)/2; wide < 0.99*plain {
			t.Errorf("patient %s: interval %.1f-%.1f around %.1f is narrower than R's standard error %.2f allows", id, e.Low, e.High, tau, se)
		}
		t.Logf("patient %2s: over %3.0f s tau %6.1f s (R %6.1f, standard error %5.1f), 90 %% interval %.1f to %.1f", id, span, e.Tau, tau, se, e.Low, e.High)
	}
	t.Logf("%d usable fits, %d of them over 150 s and more, %d refused; T30 of %d patients", usable, long, refused, early)
	if usable != 18 || refused != 3 || early < 8 {
		t.Errorf("%d usable fits and %d refused, want 18 and 3; T30 of %d, want 8 and more", usable, refused, early)
	}
}

// TestStandardErrorAgainstR: where the noise is independent, half the interval of log Tau is Student's
// quantile times the standard error that R's nls gives, but for what chance alikeness adds.
func TestStandardErrorAgainstR(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 9))
	var script strings.Builder
	var fits []physiology.Exponential
	for range 25 {
		var at, hr []float64
		for k := 0; k <= 240; k += 2 {
			at, hr = append(at, float64(k)), append(hr, 95+50*math.Exp(-float64(k)/60)+1.2*rng.NormFloat64())
		}
		e, ok := physiology.FitRecovery(at, hr)
		if !ok {
			t.Fatal("no fit")
		}
		fits = append(fits, e)
		fmt.Fprintf(&script, "t <- %s; hr <- %s\n", vector(at), vector(hr))
		script.WriteString(`f <- nls(hr ~ a + b * exp(-t / tau), start = list(a = 90, b = 55, tau = 50))
cat(summary(f)$coefficients["tau", 1:2], qt(0.95, df.residual(f)), "\n")
`)
	}
	ratio := 0.0
	for i, row := range outside.R(t, script.String()) {
		x := math.Log(fits[i].High/fits[i].Low) / 2 / (row[2] * row[1] / row[0])
		ratio += x / float64(len(fits))
		if x < 0.99 || x > 1.6 || !within(fits[i].Tau, row[0], 0.01) {
			t.Errorf("fit %d: tau %.3f, R %.3f; interval %.3f times R's", i, fits[i].Tau, row[0], x)
		}
	}
	if ratio > 1.2 {
		t.Errorf("intervals are %.3f times R's on average", ratio)
	}
}

// TestT30 holds worked values: HR = 150 exp(-t/200) has T30 = 200 s; 150, 146, 141, 137, 132, 128, 125 bpm
// every 5 s have 159.80 s by the least-squares line of their logarithms.
func TestT30(t *testing.T) {
	every := func(step float64, hr ...float64) (at, v []float64) {
		for i := range hr {
			at = append(at, step*float64(i))
		}
		return at, hr
	}
	var pure []float64
	for k := range 61 {
		pure = append(pure, 150*math.Exp(-float64(k)/200))
	}
	at, hr := every(1, pure...)
	if got, ok := physiology.T30(at, hr); !ok || math.Abs(got-200) > 0.05 {
		t.Errorf("pure exponential: %v %v, want 200.0", got, ok)
	}
	at, hr = every(5, 150, 146, 141, 137, 132, 128, 125)
	if got, ok := physiology.T30(at, hr); !ok || math.Abs(got-159.80) > 0.005 {
		t.Errorf("rounded readings: %v %v, want 159.80", got, ok)
	}
	for name, hr := range map[string][]float64{
		"three readings": {150, 146, 141}, "rising": {120, 121, 122, 123, 124, 125, 126}, "level": {120, 120, 120, 120, 120, 120, 120},
		"recorded for 20 s": {150, 146, 141, 137, 132},
	} {
		at, hr := every(5, hr...)
		if got, ok := physiology.T30(at, hr); ok {
			t.Errorf("%s: %v, want nothing", name, got)
		}
	}
}

// TestFallOfKnownTau: with an amplitude of 44 bpm and a time constant of 50.6 s, the means of sedentary
// men seated after a submaximal ride (Barak et al. 2011, J Sports Sci Med 10:369), heart rate has fallen
// by 19.68 bpm after 30 s, 30.56 after 60 s and 39.89 after 120 s (worked from the formula).
func TestFallOfKnownTau(t *testing.T) {
	const amplitude, tau, rest, stop = 44.0, 50.6, 100.0, 400
	s := series(stop+300, func(k int) float64 {
		return rest + amplitude*math.Exp(-float64(max(0, k-stop))/tau)
	})
	for after, want := range map[float64]float64{30: 19.68, 60: 30.56, 120: 39.89} {
		e := physiology.Exponential{A: rest, B: amplitude, Tau: tau}
		if got := e.At(0) - e.At(after); math.Abs(got-want) > 0.005 {
			t.Errorf("fall after %v s %.3f, want %v", after, got, want)
		}
	}
	r := physiology.RecoveryAfter(s, stop)
	if !near(r.End, 144, 1e-9) || !near(r.Drop30, 19.68, 0.005) || !near(r.FromPeak30, 19.68, 0.005) || !near(r.FromPeak120, 39.89, 0.005) || !near(r.Drop60, 30.56, 0.005) || !near(r.Drop120, 39.89, 0.005) || !near(r.Tau, tau, 0.01) {
		t.Errorf("end %s, falls %s and %s, tau %s", text(r.End), text(r.Drop60), text(r.Drop120), text(r.Tau))
	}
}

// TestRecoveryOf covers what the recording may or may not hold after the last second of effort.
func TestRecoveryOf(t *testing.T) {
	const work = 900
	// Speed 3 m/s for 15 min, then the given speed; heart rate 160, then a fall to 100 with tau 50 s.
	play := func(after int, speed float64, spoil func(w *workout.Workout)) physiology.Recovery {
		w := workout.Workout{Sport: workout.Running, Seconds: work + after}
		for k := range w.Seconds {
			v, hr := 3.0, 160.0
			if k >= work {
				v, hr = speed, 100+60*math.Exp(-float64(k-work+1)/50)
			}
			w.Speed.Add(float64(k), v)
			w.HeartRate.Add(float64(k), math.Round(hr))
		}
		if spoil != nil {
			spoil(&w)
		}
		m := physiology.Measure(heartrate.Clean(w), w, physiology.Body{}, false)
		if len(m.Recoveries) != 1 {
			t.Fatalf("%d recoveries, want 1: %+v", len(m.Recoveries), m.Recoveries)
		}
		return m.Recoveries[0]
	}
	without := func(from, to int) func(*workout.Workout) {
		return func(w *workout.Workout) {
			var c workout.Channel
			for i, at := range w.HeartRate.T {
				if int(at) < from || int(at) >= to {
					c.Add(at, w.HeartRate.V[i])
				}
			}
			w.HeartRate = c
		}
	}
	for name, c := range map[string]struct {
		r        physiology.Recovery
		drop60   float64 // 0: not found
		drop120  float64
		tau      float64
		activity physiology.Activity
		why      workout.Code
	}{
		"standing for 5 min": {play(300, 0, nil), 42, 55, 50, physiology.Still, ""},
		"walking for 5 min":  {play(300, 1.2, nil), 42, 55, 50, physiology.Moving, ""},
		"recorded for 61 s":  {play(61, 0, nil), 42, 0, 0, physiology.Still, ""},
		"recorded for 58 s":  {play(58, 0, nil), 41, 0, 0, physiology.Still, ""},
		"recorded for 57 s":  {play(57, 0, nil), 0, 0, 0, physiology.Still, physiology.EndsAfterStop},
		"recorded for 20 s":  {play(20, 0, nil), 0, 0, 0, physiology.Still, physiology.EndsAfterStop},
		"recorded for 4 s":   {play(4, 0, nil), 0, 0, 0, physiology.UnknownActivity, physiology.EndsAfterStop},
		"heart rate lost at the stop": {play(300, 0, without(work-20, work+20)), 0, 0, 0, physiology.Still,
			physiology.NoHeartAtStop},
		"heart rate lost a minute later": {play(300, 0, without(work+40, work+80)), 0, 55, 50, physiology.Still,
			physiology.NoHeartAfter},
		"a short loss is bridged": {play(300, 0, without(work+56, work+64)), 42, 55, 50, physiology.Still, ""},
		"the timer is stopped": {play(300, 0, func(w *workout.Workout) {
			w.Pauses = []workout.Span{{From: work, To: work + 300}}
		}), 42, 55, 50, physiology.Still, ""},
	} {
		t.Run(name, func(t *testing.T) {
			r := c.r
			if r.Stop != work-1 {
				t.Errorf("stop at %d, want %d", r.Stop, work-1)
			}
			for what, p := range map[string]struct {
				got  *float64
				want float64
			}{"drop in 60 s": {r.Drop60, c.drop60}, "drop in 120 s": {r.Drop120, c.drop120}} {
				if (p.got != nil) != (p.want != 0) || p.got != nil && math.Abs(*p.got-p.want) > 1 {
					t.Errorf("%s %s, want %v (0: not found)", what, text(p.got), p.want)
				}
			}
			if (r.Tau != nil) != (c.tau != 0 && r.Drop60 != nil) || r.Tau != nil && math.Abs(*r.Tau-c.tau) > 2 {
				t.Errorf("tau %s, want %v", text(r.Tau), c.tau)
			}
			if r.Activity != c.activity {
				t.Errorf("activity %q, want %q", r.Activity, c.activity)
			}
			if r.Basis.Enough != (c.why == "") || codeOf(r.Basis.Why) != c.why {
				t.Errorf("enough %v, why %v; want %q", r.Basis.Enough, r.Basis.Why, c.why)
			}
		})
	}
	if by := play(300, 0, func(w *workout.Workout) { w.Pauses = []workout.Span{{From: work, To: work + 300}} }).By; by != "timer" {
		t.Errorf("a stopped timer: stop by %q", by)
	}
}

// TestRisingAfterTheStop: in 10 of 21 effort tests heart rate rises on after load is off; where it does so for
// long, there is no fall to show.
func TestRisingAfterTheStop(t *testing.T) {
	s := series(700, func(k int) float64 {
		switch {
		case k < 300:
			return 140
		case k < 370: // rising on
			return 140 + float64(k-300)/5
		}
		return 100 + 54*math.Exp(-float64(k-370)/60)
	})
	w := workout.Workout{Sport: workout.Cycling, Seconds: 700}
	for k := range 700 {
		v := 150.0
		if k > 300 {
			v = 0
		}
		w.Power.Add(float64(k), v)
	}
	m := physiology.Measure(s, w, physiology.Body{}, false)
	r, ok := recoveryNear(m, 300, 0)
	if !ok || r.Drop60 != nil || r.FromPeak60 != nil || r.Tau != nil || r.Basis.Enough || !near(r.End, 140, 0.1) || !near(r.At60, 152, 0.1) {
		t.Errorf("recoveries %+v; want a stop at 300 with 140 and 152 bpm and no fall", m.Recoveries)
	}
}

// TestFitRecoveryFindsWhatWasPut: whatever curve within the limits a fall follows, the fit returns it.
func TestFitRecoveryFindsWhatWasPut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := physiology.Exponential{
			A:   rapid.Float64Range(50, 120).Draw(t, "a"),
			B:   rapid.Float64Range(15, 90).Draw(t, "b"),
			Tau: rapid.Float64Range(15, 300).Draw(t, "tau"),
		}
		every := rapid.IntRange(1, 10).Draw(t, "every")
		var at, hr []float64
		for k := 0; k <= 300; k += every {
			at, hr = append(at, float64(k)), append(hr, want.At(float64(k)))
		}
		got, ok := physiology.FitRecovery(at, hr)
		if !ok || math.Abs(got.Tau-want.Tau) > 0.005*want.Tau || math.Abs(got.A-want.A) > 0.5 || got.RMSE > 0.01 {
			t.Fatalf("fit %+v %v, put %+v", got, ok, want)
		}
	})
}

func TestFitRecoveryRefuses(t *testing.T) {
	line := func(n, every int, f func(t float64) float64) (t, hr []float64) {
		for i := range n {
			at := float64(i * every)
			t, hr = append(t, at), append(hr, f(at))
		}
		return t, hr
	}
	for name, c := range map[string]struct {
		n, every int
		f        func(t float64) float64
	}{
		"too few readings":  {5, 60, func(t float64) float64 { return 90 + 60*math.Exp(-t/50) }},
		"too short":         {40, 1, func(t float64) float64 { return 90 + 60*math.Exp(-t/50) }},
		"rising":            {200, 1, func(t float64) float64 { return 90 + t/10 }},
		"level":             {200, 1, func(t float64) float64 { return 120 }},
		"straight downward": {200, 1, func(t float64) float64 { return 160 - t/4 }},
		"one step down":     {200, 1, func(t float64) float64 { return 150 - 50*min(1, t) }},
	} {
		at, hr := line(c.n, c.every, c.f)
		if e, ok := physiology.FitRecovery(at, hr); ok {
			t.Errorf("%s: fitted %+v", name, e)
		}
	}
	if _, ok := physiology.FitRecovery(nil, nil); ok {
		t.Error("nothing: fitted")
	}
}

// series makes a clean series without gaps.
func series(n int, f func(k int) float64) heartrate.Series {
	s := heartrate.Series{BPM: make([]float64, n), Origin: make([]heartrate.Origin, n)}
	for k := range n {
		s.BPM[k], s.Origin[k] = f(k), heartrate.Measured
	}
	return s
}

func recoveryNear(m physiology.Measurements, stop, within int) (physiology.Recovery, bool) {
	for _, r := range m.Recoveries {
		if r.Stop >= stop-within && r.Stop <= stop+within {
			return r, true
		}
	}
	return physiology.Recovery{}, false
}

func near(p *float64, want, within float64) bool { return p != nil && math.Abs(*p-want) <= within }

func text(p *float64) string {
	if p == nil {
		return "not found"
	}
	return fmt.Sprintf("%.2f", *p)
}

func BenchmarkFitRecovery(b *testing.B) {
	var at, hr []float64
	e := physiology.Exponential{A: 95, B: 60, Tau: 55}
	for k := range 301 {
		at, hr = append(at, float64(k)), append(hr, math.Round(e.At(float64(k))))
	}
	for b.Loop() {
		physiology.FitRecovery(at, hr)
	}
}
