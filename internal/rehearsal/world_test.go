package rehearsal

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// In the usual world a client answers with the truth, and nothing of the client is changed.
func TestUsualWorldChangesNothing(t *testing.T) {
	for i := range 20 {
		p := draw(4, i)
		if diff := cmp.Diff(p, Usual.in(p), cmp.AllowUnexported(person{}, link{})); diff != "" {
			t.Fatal(diff)
		}
		truth := simulate.Truth{RPE: float64(9 + i%8), Talk: string(record.TalkHard)}
		if effort, talk := p.says(truth, rand.New(rand.NewPCG(1, 2))); effort != truth.RPE || talk != record.TalkHard {
			t.Errorf("answered %g, %s, want the truth %g, hard", effort, talk, truth.RPE)
		}
	}
}

// Shares and spreads of each world, within four standard errors.
func TestWorldsAreWhatTheySay(t *testing.T) {
	const n = 2000
	near := func(what string, got, want, of float64) {
		t.Helper()
		if math.Abs(got-want) > 4*of/math.Sqrt(n) {
			t.Errorf("%s: %.3f, want %.3f", what, got, want)
		}
	}
	rosy, logs := 0.0, 0.0
	for i := range n {
		p := draw(1, i)
		if down := UnderReporters.in(p).rosy; down > 0 {
			rosy++
			if down < 2 || down > 3 {
				t.Fatalf("plays down by %.2f points, want 2 to 3", down)
			}
		}
		if q := FewUnderReporters.in(p); q.answers != 0.35 || (q.rosy > 0) != (UnderReporters.in(p).rosy > 0) {
			t.Fatalf("answers %.2f, plays down by %.2f", q.answers, q.rosy)
		}
		logs += math.Pow(math.Log(EffortLaw.in(p).body.Steep), 2)
		if WristOnly.in(p).facts.Sensor != workout.Wrist || DayNoise.in(p).body.DayToDay != 8.5 || FewAnswers.in(p).answers != 0.35 {
			t.Fatal("wrist, day noise or few answers not as described")
		}
	}
	near("share that plays down", rosy/n, 0.3, math.Sqrt(0.3*0.7))
	near("variance of the logarithm of the effort's slope", logs/n, 0.09, 0.09*math.Sqrt2)

	p, r := NoisyAnswers.in(plain()), rand.New(rand.NewPCG(3, 4))
	sum, squares, off := 0.0, 0.0, 0.0
	for range n {
		effort, talk := p.says(simulate.Truth{RPE: 13, Talk: string(record.TalkHard)}, r)
		sum, squares = sum+effort-13, squares+(effort-13)*(effort-13)
		off += float64(one(talk != record.TalkHard))
	}
	near("mean error of an answer", sum/n, 0, 1.8)
	near("variance of an answer", squares/n, 1.75*1.75+1.0/12, 1.8*1.8*math.Sqrt2) // whole points add 1/12
	near("answers about talk that are a step off", off/n, 0.15, math.Sqrt(0.15*0.85))
}

// Somebody who plays down calls what is hard comfortable, and never leaves the scale.
func TestPlayedDown(t *testing.T) {
	p := plain()
	p.rosy = 3
	r := rand.New(rand.NewPCG(3, 4))
	for _, c := range []struct {
		rpe, effort float64
		talk, says  record.Talk
	}{{16, 13, record.TalkHard, record.TalkComfortable}, {19, 16, record.TalkNo, record.TalkHard}, {7, 6, record.TalkComfortable, record.TalkComfortable}} {
		if effort, talk := p.says(simulate.Truth{RPE: c.rpe, Talk: string(c.talk)}, r); effort != c.effort || talk != c.says {
			t.Errorf("%g, %s: answered %g, %s, want %g, %s", c.rpe, c.talk, effort, talk, c.effort, c.says)
		}
	}
}

// Where the base decides, a large gap keeps from being ready whatever the session feels like, and a small one does not.
func TestBaseDecides(t *testing.T) {
	p := BaseDecides.in(plain())
	p.body.Feels = -3
	for gap, want := range map[float64]bool{0: true, 0.3: true, 0.31: false} {
		if written, done := p.ready(trial(defaults, p.facts, 2), 0, gap, 2); written.Ready() != want || done.Ready() != want || !written.Effort {
			t.Errorf("gap %g: %+v, %+v, want ready %v", gap, written, done, want)
		}
	}
}

// A client who likes to go 20 bpm harder can be ready for the session as written and not be able to do it as usual.
func TestHabitDecidesOnBeingAble(t *testing.T) {
	p := plain()
	plan := trial(defaults, p.facts, 2)
	p.bias = 20
	if written, done := p.ready(plan, 0, 0, 2); !written.Effort || done.Effort {
		t.Errorf("as written %+v, as done %+v", written, done)
	}
}

func TestWorldOf(t *testing.T) {
	for _, w := range Worlds() {
		if got, err := WorldOf(string(w)); err != nil || got != w {
			t.Errorf("%s: %s, %v", w, got, err)
		}
		if (w.describes() == "") != (w == Usual) {
			t.Errorf("%s is described as %q", w, w.describes())
		}
	}
	if _, err := WorldOf("paradise"); err == nil || !strings.Contains(err.Error(), "few-answers") {
		t.Errorf("an unknown world: %v", err)
	}
}
