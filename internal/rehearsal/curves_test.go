package rehearsal

import (
	"context"
	"nextrung/internal/record"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// few are the clients whose curves are tested, enough for some to move up from each stage.
var few = Options{Policy: defaults, Clients: 5, Weeks: 14, Seed: 4, Workers: 2, Tidy: true}

// drawn are their curves, drawn once.
var drawn = sync.OnceValues(func() ([]Curve, error) { return Curves(context.Background(), few, nil) })

func curves(t *testing.T) []Curve {
	t.Helper()
	got, err := drawn()
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// TestCurvesOfThePolicyItself: at the policy's own threshold a curve says what the policy said week by
// week, and the same for every rule of the stage.
func TestCurvesOfThePolicyItself(t *testing.T) {
	want := map[int]Point{}
	for stage := 1; stage <= 2; stage++ {
		var p Point
		for i := range few.Clients {
			h := draw(few.Seed, i).tidy().hold(few, stage)
			moved := -1
			for w, a := range h.said {
				if *a.Verdict == record.Advance && moved < 0 {
					moved = w
				}
			}
			p.count(h, moved)
		}
		if p.Moved == 0 {
			t.Fatalf("nobody leaves stage %d, so nothing is tested", stage)
		}
		want[stage] = p
	}
	for _, c := range curves(t) {
		seen := false
		for _, p := range c.Points {
			if p.Threshold != c.Now {
				continue
			}
			seen, p.Threshold = true, 0
			if diff := cmp.Diff(want[c.Stage], p); diff != "" {
				t.Errorf("stage %d, %s at its own threshold:\n%s", c.Stage, c.Rule, diff)
			}
		}
		if !seen {
			t.Errorf("%s: the policy's own threshold %g is not among the points", c.Rule, c.Now)
		}
	}
}

// TestStricterMovesFewer: in an open loop the weeks are the same, so a stricter threshold cannot move up
// anybody whom a milder one holds back.
func TestStricterMovesFewer(t *testing.T) {
	differ := 0
	for _, c := range curves(t) {
		for i := 1; i < len(c.Points); i++ {
			mild, strict := c.Points[i-1], c.Points[i]
			if c.Is == "at most" {
				mild, strict = strict, mild
			}
			if strict.Moved > mild.Moved || strict.InTime > mild.InTime || strict.Ready != mild.Ready {
				t.Errorf("%s: %+v, but %+v", c.Rule, mild, strict)
			}
			if strict.Moved < mild.Moved {
				differ++
			}
		}
	}
	if differ == 0 {
		t.Error("no threshold makes a difference, so nothing is tested")
	}
}

func TestCurvesRefuse(t *testing.T) {
	if _, err := Curves(context.Background(), Options{Policy: defaults, Clients: 0, Weeks: 16}, nil); err == nil {
		t.Error("nobody was rehearsed")
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if _, err := Curves(ended, Options{Policy: defaults, Clients: 3, Weeks: 6, Workers: 1}, nil); err == nil {
		t.Error("an ended rehearsal has curves")
	}
}
