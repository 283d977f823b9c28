package physiology_test

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats"

	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// vector writes numbers as R reads them.
func vector(v []float64) string {
	parts := make([]string, len(v))
	for i, x := range v {
		parts[i] = strconv.FormatFloat(x, 'g', -1, 64)
	}
	return "c(" + strings.Join(parts, ",") + ")"
}

// Slopes and typical errors of 60 drawn series, with and without ties, against base R: the median of outer
// differences, sd of differences, between trials and between successive values, over the square root of 2, and qt with
// the degrees of freedom of the quadratic form itself (Satterthwaite 1946).
func TestTrendAgainstR(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	var script strings.Builder
	script.WriteString(`
tell <- function(y, z) {
  n <- length(y); x <- seq_len(n)
  s <- outer(x, x, function(i, j) ifelse(i < j, (y[j] - y[i]) / (j - i), NA))
  own <- sd(diff(y)) / sqrt(2)
  d <- diff(diag(n)); q <- t(d) %*% (diag(n - 1) - 1 / (n - 1)) %*% d
  df <- sum(diag(q))^2 / sum(diag(q %*% q))
  mdc <- qt(0.95, df) * own * sqrt(1 / n + 1 / 3)
  cat(format(c(median(s, na.rm = TRUE), sd(z - y) / sqrt(2), own, df, mdc), digits = 15), "\n")
}
`)
	var ys, zs [][]float64
	for i := range 60 {
		n := 5 + r.IntN(11)
		y, z := make([]float64, n), make([]float64, n)
		for k := range y {
			y[k] = 120 + 6*r.NormFloat64() + 0.7*float64(k)*float64(i%3-1)
			if i%2 == 0 {
				y[k] = float64(int(y[k]))
			}
			z[k] = y[k] + 3*r.NormFloat64()
		}
		ys, zs = append(ys, y), append(zs, z)
		fmt.Fprintf(&script, "tell(%s, %s)\n", vector(y), vector(z))
	}
	rows := outside.R(t, script.String())
	if len(rows) != len(ys) {
		t.Fatalf("R prints %d lines for %d series", len(rows), len(ys))
	}
	for i, want := range rows {
		slope, _, _, _ := physiology.SenSlope(steps(len(ys[i])), ys[i])
		te, ok := physiology.TypicalError(ys[i], zs[i])
		own, df, ok2 := physiology.OwnTypicalError(ys[i])
		mdc := physiology.DetectableChange(own, df, len(ys[i]), 3)
		if got := []float64{slope, te, own, df, mdc}; !ok || !ok2 || !floats.EqualApprox(got, want, 1e-6) {
			t.Errorf("series %d %v:\n got slope, typical errors, degrees of freedom and detectable change %v\nR has %v", i, ys[i], got, want)
		}
	}
}

// Loads of 20 drawn sessions and weeks against base R: the impulse summed over seconds, minutes weighted by
// zone with findInterval, session-RPE and monotony with sd.
func TestLoadAgainstR(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	var script strings.Builder
	script.WriteString(`
tell <- function(h, edges, days) {
  x <- pmax(0, (h - 60) / 125)
  zone <- pmin(3, pmax(1, findInterval(h, edges)))
  cat(format(c(sum(x * 0.64 * exp(1.92 * x)) / 60, sum(x * 0.86 * exp(1.67 * x)) / 60, sum(zone) / 60,
    mean(days) / sd(days), sum(days) * mean(days) / sd(days)), digits = 15), "\n")
}
`)
	edges := physiology.Edges{BPM: [4]float64{110, 135, 153.75, 172.5}}
	type drawn struct{ bpm, days []float64 }
	var all []drawn
	for range 20 {
		d := drawn{bpm: make([]float64, 900), days: make([]float64, 7)}
		h := 60 + 90*r.Float64()
		for k := range d.bpm {
			h = min(175, max(55, h+1.2*r.NormFloat64()))
			d.bpm[k] = float64(int(h))
		}
		for i := range d.days {
			if r.IntN(3) > 0 {
				d.days[i], _ = physiology.SessionRPE(workout.RPE{Value: float64(1 + r.IntN(9)), Scale: 10}, float64(20+r.IntN(60)))
			}
		}
		d.days[0], d.days[1] = 0, 100
		all = append(all, d)
		fmt.Fprintf(&script, "tell(%s, %s, %s)\n", vector(d.bpm), vector(edges.BPM[:]), vector(d.days))
	}
	rows := outside.R(t, script.String())
	if len(rows) != len(all) {
		t.Fatalf("R prints %d lines for %d sessions", len(rows), len(all))
	}
	for i, d := range all {
		s := heartrate.Clean(oneASecond(d.bpm))
		body := physiology.Body{Sex: physiology.Male, HRRest: 60, HRMaxAny: 185}
		men, ok1 := physiology.Banister(s, body, workout.Run)
		body.Sex = physiology.Female
		women, ok2 := physiology.Banister(s, body, workout.Run)
		monotony, ok3 := physiology.Monotony(d.days)
		if !ok1 || !ok2 || !ok3 {
			t.Fatalf("session %d has no load", i)
		}
		got := []float64{men, women, physiology.TimeInZone(s, edges).Lucia(), monotony, monotony * floats.Sum(d.days)}
		for j, want := range rows[i] {
			if !within(got[j], want, 1e-9*(1+want)) {
				t.Errorf("session %d: %v, R has %v", i, got, rows[i])
				break
			}
		}
	}
}
