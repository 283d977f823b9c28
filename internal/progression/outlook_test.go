package progression

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"nextrung/internal/outside"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// said is an answer about a session at so many beats; no effort for 0.
func said(beats, effort float64, talk record.Talk) felt {
	f := felt{Session: record.Session{Talk: talk}, beats: beats}
	if effort > 0 {
		f.RPE = &workout.RPE{Value: effort, Scale: 20}
	}
	return f
}

// TestOutlookByQuadrature: base R integrates prior and likelihood over 20,001 points and knows nothing of the closed
// form; talk is weighed with its logistic distribution.
func TestOutlookByQuadrature(t *testing.T) {
	run, bike := scale{top: 142, reserve: 118, point: 8.85}, scale{top: 134, reserve: 104, point: 7.8}
	const halfLife, beats = 28, 155.0
	type given struct {
		s   scale
		x   felt
		age float64
	}
	all := []given{
		{run, said(130, 12, record.TalkComfortable), 0}, {run, said(131, 13, record.TalkHard), 3}, {bike, said(122, 14, record.TalkComfortable), 14},
		{run, said(126, 11, ""), 30}, {bike, said(124, 0, record.TalkNo), 56}, {run, said(150, 15, record.TalkHard), 5},
	}
	var weighs []weighed
	var efforts, talks []string
	for _, g := range all {
		weighs = append(weighs, g.s.weigh(g.x, g.age, halfLife))
		w := math.Pow(0.5, g.age/halfLife)
		if g.x.RPE != nil {
			efforts = append(efforts, fmt.Sprintf("c(%v,%v,%v,%v,%v)", g.x.RPE.Value, g.x.beats, g.s.top, g.s.point, w))
		}
		if kind, ok := map[record.Talk]int{record.TalkComfortable: 1, record.TalkHard: 2, record.TalkNo: 3}[g.x.Talk]; ok {
			talks = append(talks, fmt.Sprintf("c(%d,%v,%v,%v,%v)", kind, g.x.beats, g.s.top, g.s.reserve, w))
		}
	}
	script := `
a <- rbind(` + strings.Join(efforts, ",") + `); b <- rbind(` + strings.Join(talks, ",") + `); n <- ` + fmt.Sprint(beats) + `
one <- function(top, k, R) {
  m <- seq(-15, 15, length.out = 20001)
  l <- dnorm(m, 0, sqrt(1 + (8.5/k)^2), log = TRUE)
  for (i in seq_len(nrow(a))) l <- l + dnorm(a[i,1], 13 + (a[i,2]-a[i,3])/a[i,4] + m, sqrt((1.5^2 + (5/a[i,4])^2/2)/a[i,5]), log = TRUE)
  p <- exp(l - max(l)); p <- p/sum(p)
  E <- 13 + (n - top)/k + m
  mean <- sum(p*E); sd <- sqrt(sum(p*(E-mean)^2)); effort <- pnorm(16.5, mean, sd)
  d <- seq(-36, 36, by = 3); q <- dnorm(d, 0, 8.5, log = TRUE)
  for (i in seq_len(nrow(b))) {
    t1 <- b[i,3] + d; yes <- plogis((t1-b[i,2])/5); no <- plogis((b[i,2]-t1-0.2*b[i,4])/5)
    q <- q + b[i,5]*log(0.04/3 + 0.96*cbind(yes, 1-yes-no, no)[,b[i,1]])
  }
  q <- exp(q); q <- q/sum(q)
  speech <- sum(q*pmin(1, pmax(0, 0.5 + (top + d + 0.2*R - n)/3)))
  cat(mean, sd, effort, speech, "\n")
}
one(142, 8.85, 118); one(134, 7.8, 104)
`
	rows := outside.R(t, script)
	for i, s := range []scale{run, bike} {
		o := forecaster{modes: []scale{s}, beats: beats, room: 3, talks: true}.forecast(weighs)
		for name, pair := range map[string][2]float64{
			"effort": {middle20 + o.above, rows[i][0]}, "its deviation": {o.sd, rows[i][1]}, "within the limit": {o.bearable, rows[i][2]}, "speech": {o.speech, rows[i][3]},
		} {
			if math.Abs(pair[0]-pair[1]) > 2e-3 {
				t.Errorf("mode %d, %s: %.5f, R has %.5f", i, name, pair[0], pair[1])
			}
		}
	}
	// Of two modes the one in which less is sure speaks.
	both := forecaster{modes: []scale{run, bike}, beats: beats, room: 3, talks: true}.forecast(weighs)
	if want := math.Min(rows[0][2]*rows[0][3], rows[1][2]*rows[1][3]); math.Abs(both.sure()-want) > 2e-3 {
		t.Errorf("two modes: %.4f, want the lower one, %.4f", both.sure(), want)
	}
}

// TestOutlookIsCalibrated: in a world that obeys the model, sessions forecast with a chance of about p stay within their
// limits in about p of the cases.
func TestOutlookIsCalibrated(t *testing.T) {
	const n, bins = 20000, 10
	s, beats := scale{top: 140, reserve: 115, point: 8.6}, 160.0
	rng := rand.New(rand.NewPCG(8, 15))
	var cases, forecast, held [bins]float64
	for range n {
		person := rng.NormFloat64() * math.Hypot(1, zoneError/s.point)
		at := int(math.Round(rng.NormFloat64()*zoneError/talkStep)) + talkSteps/2 // where talking stops being comfortable
		t1 := s.top + place(min(max(at, 0), talkSteps-1))
		var weighs []weighed
		for range 1 + rng.IntN(8) {
			h := 118 + 20*rng.Float64()
			effort := middle20 + (h-s.top)/s.point + person + rng.NormFloat64()*math.Sqrt(answerError*answerError+heartError*heartError/(s.point*s.point)/2)
			comfortable := 1 / (1 + math.Exp((h-t1)/talkWidth))
			no := 1 / (1 + math.Exp(-(h-t1-talkSpan*s.reserve)/talkWidth))
			talk, u := record.TalkHard, rng.Float64()
			switch {
			case rng.Float64() < talkLapse:
				talk = []record.Talk{record.TalkComfortable, record.TalkHard, record.TalkNo}[rng.IntN(3)]
			case u < comfortable:
				talk = record.TalkComfortable
			case u > 1-no:
				talk = record.TalkNo
			}
			weighs = append(weighs, s.weigh(said(h, effort, talk), 0, 28))
		}
		sure := forecaster{modes: []scale{s}, beats: beats, room: 3, talks: true}.forecast(weighs).sure()
		kept := (beats-s.top)/s.point+person <= 3.5 && rng.Float64() < 0.5+(t1+talkSpan*s.reserve-beats)/talkBorder
		i := min(int(sure*bins), bins-1)
		cases[i], forecast[i] = cases[i]+1, forecast[i]+sure
		if kept {
			held[i]++
		}
	}
	for i := range bins {
		if cases[i] < 100 {
			continue
		}
		p, q := forecast[i]/cases[i], held[i]/cases[i]
		// Four standard errors, and a point for the places of talk, which the world rounds.
		if math.Abs(p-q) > 4*math.Sqrt(p*(1-p)/cases[i])+0.01 {
			t.Errorf("forecast %.3f, true in %.3f of %.0f", p, q, cases[i])
		}
	}
}

// TestOldAnswersFade: an answer counts half after one half-life, and a quarter after two.
func TestOldAnswersFade(t *testing.T) {
	s := scale{top: 140, reserve: 115, point: 8.6}
	now := s.weigh(said(130, 15, record.TalkHard), 0, 28)
	for age, share := range map[float64]float64{28: 0.5, 56: 0.25} {
		old := s.weigh(said(130, 15, record.TalkHard), age, 28)
		if math.Abs(old.sure-share*now.sure) > 1e-12 || math.Abs(old.talk[3]-share*now.talk[3]) > 1e-12 {
			t.Errorf("after %g days: %g and %g of %g and %g", age, old.sure, old.talk[3], now.sure, now.talk[3])
		}
	}
}

// TestAim: the middle of two limits, 5 bpm under one, and nothing of nothing.
func TestAim(t *testing.T) {
	for _, c := range [][3]float64{{110, 130, 120}, {0, 150, 145}, {0, 0, 0}} {
		if got := aim(c[0], c[1]); got != c[2] {
			t.Errorf("%g to %g: %g, want %g", c[0], c[1], got, c[2])
		}
	}
}
