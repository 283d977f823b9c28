package rehearsal

import (
	"context"
	"math"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestMain lets more garbage gather before it is collected: these tests make and drop so many records and series
// that collecting them costs up to half of the processor's time.
func TestMain(m *testing.M) {
	debug.SetGCPercent(400)
	m.Run()
}

func rehearse(t *testing.T, o Options) Result {
	t.Helper()
	o.Policy = defaults
	r, err := Run(context.Background(), o, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestSeedDecidesAndWorkersDoNot(t *testing.T) {
	one := rehearse(t, Options{Clients: 8, Weeks: 7, Seed: 5, Workers: 1})
	three := rehearse(t, Options{Clients: 8, Weeks: 7, Seed: 5, Workers: 3})
	if diff := cmp.Diff(one, three); diff != "" {
		t.Errorf("one and three workers differ:\n%s", diff)
	}
	other := rehearse(t, Options{Clients: 8, Weeks: 7, Seed: 6, Workers: 3})
	if cmp.Equal(one.Ways, other.Ways) {
		t.Error("another seed gives the same counts")
	}
}

// More clients change nothing about the first ones.
func TestClientsDoNotDependOnEachOther(t *testing.T) {
	a, b := draw(5, 3), draw(5, 3)
	if !cmp.Equal(live(Options{Policy: defaults, Weeks: 6}, a, Ways()), live(Options{Policy: defaults, Weeks: 6}, b, Ways())) || draw(5, 3).seed == draw(5, 4).seed || draw(5, 3).seed == draw(6, 3).seed {
		t.Error("a client does not follow from seed and number alone")
	}
}

func TestAccountsAddUp(t *testing.T) {
	const clients, weeks = 14, 10
	r := rehearse(t, Options{Clients: clients, Weeks: weeks, Seed: 9, Workers: 2})
	for _, w := range r.Ways {
		g := w.Groups
		everybody := g[0].Counts
		if everybody.Clients != clients || everybody.Weeks != clients*weeks || everybody.AtSix != clients {
			t.Errorf("%s: %+v", w.Way, everybody)
		}
		for _, parts := range [][]Group{g[3:5], g[5:8], g[8:11]} {
			var sum Counts
			for _, p := range parts {
				sum.Clients += p.Clients
				sum.Stays += p.Stays
				sum.Advanced += p.Advanced
				sum.AdvancedUnready += p.AdvancedUnready
				sum.Ready += p.Ready
				sum.Weeks += p.Weeks
				sum.Ease += p.Ease
				sum.Kept += p.Kept
			}
			want := Counts{
				Clients: everybody.Clients, Stays: everybody.Stays, Advanced: everybody.Advanced, AdvancedUnready: everybody.AdvancedUnready,
				Ready: everybody.Ready, Weeks: everybody.Weeks, Ease: everybody.Ease, Kept: everybody.Kept,
			}
			if diff := cmp.Diff(want, sum); diff != "" {
				t.Errorf("%s, %s...: parts do not add up:\n%s", w.Way, parts[0].Name, diff)
			}
		}
		if one, two := g[1].Counts, g[2].Counts; one.Stays+two.Stays != everybody.Stays || one.Advanced+two.Advanced != everybody.Advanced ||
			one.Weeks+two.Weeks > everybody.Weeks || one.Ready+two.Ready != everybody.Ready {
			t.Errorf("%s: the two moves do not add up: %+v, %+v, %+v", w.Way, one, two, everybody)
		}
		for _, x := range g {
			if x.AdvancedUnready > x.Advanced || x.UnreadyWhenDueAdvanced > x.UnreadyWhenDue || x.ReadyInTime > x.Ready || x.Advanced > x.Stays {
				t.Errorf("%s, %s: a part is larger than its whole: %+v", w.Way, x.Name, x.Counts)
			}
		}
	}
	calendar := r.Ways[3].Groups[0].Counts
	if r.Ways[3].Way != Calendar || calendar.Ease != 0 || calendar.StepBack != 0 || calendar.ReadyInTime != calendar.Ready ||
		calendar.UnreadyWhenDueAdvanced != calendar.UnreadyWhenDue || calendar.Kept != 0 {
		t.Errorf("the calendar moves everybody on time, ready or not: %+v", calendar)
	}
	if whole := r.Ways[0].Groups[0].Counts; whole.AdvancedUnready >= calendar.AdvancedUnready {
		t.Errorf("the policy moves up %d of the unready, the calendar %d", whole.AdvancedUnready, calendar.AdvancedUnready)
	}
}

// The published standard error of the age formula is 10.8 bpm (Nes 2013).
func TestErrorOfTheMaximum(t *testing.T) {
	const n = 4000
	sum, squares, strap := 0.0, 0.0, 0
	for i := range n {
		p := draw(1, i)
		sum += p.maxError
		squares += p.maxError * p.maxError
		if p.facts.Sensor == "strap" {
			strap++
		}
	}
	// Four standard errors: 10.8/sqrt(n) of the mean, 10.8/sqrt(2n) of the deviation, 50/sqrt(n) %.
	mean := sum / n
	sd := math.Sqrt(squares/n - mean*mean)
	if math.Abs(mean) > 4*10.8/math.Sqrt(n) || math.Abs(sd-10.8) > 4*10.8/math.Sqrt(2*n) {
		t.Errorf("error of the maximum %.2f ± %.2f bpm, want 0 ± 10.8", mean, sd)
	}
	if share := 100 * float64(strap) / n; math.Abs(share-50) > 4*50/math.Sqrt(n) {
		t.Errorf("%.1f %% wear a strap, want 50", share)
	}
}

// The worked example of the method: 56 of 70 against 48 of 80, 0.0524 to 0.3339 (Newcombe 1998,
// method 10; from memory). None of either is no certainty.
func TestDifference(t *testing.T) {
	low, high := difference(56, 70, 48, 80)
	if math.Abs(low-0.0524) > 0.0001 || math.Abs(high-0.3339) > 0.0001 {
		t.Errorf("%.4f to %.4f, want 0.0524 to 0.3339", low, high)
	}
	if low, high := difference(0, 20, 0, 20); low > -0.1 || high < 0.1 {
		t.Errorf("0 of 20 twice: %.3f to %.3f is too sure", low, high)
	}
}

func TestComparedPlainly(t *testing.T) {
	counts := func(unready, advanced int) Counts {
		return Counts{Advanced: advanced, AdvancedUnready: unready, Ready: 100, ReadyInTime: 50}
	}
	cases := map[string]struct {
		whole, plain Counts
		want         string
	}{
		"help":      {counts(10, 500), counts(60, 500), "keep some clients from moving up too early"},
		"nothing":   {counts(10, 500), counts(12, 500), "make no difference here, beyond chance"},
		"harm":      {counts(60, 500), counts(10, 500), "more clients moved up too early"},
		"nobody up": {counts(0, 0), counts(3, 10), "nobody was moved up"},
	}
	for name, c := range cases {
		if got := strings.Join(compare(c.whole, c.plain), " "); !strings.Contains(got, c.want) {
			t.Errorf("%s: %q", name, got)
		}
	}
}

func TestAimsAtTheirEdges(t *testing.T) {
	met := func(c, knowing Counts) [7]bool {
		var out [7]bool
		for i, a := range aims(c, knowing) {
			out[i] = *a.Met
			if a.Low > *a.Value || a.High < *a.Value || a.High-a.Low < 1 {
				t.Errorf("%s: %.1f %% lies outside %.1f to %.1f, or is too sure", a.Text, *a.Value, a.Low, a.High)
			}
		}
		return out
	}
	on := Counts{Advanced: 100, AdvancedUnready: 5, AdvancedUnable: 3, Followed: 20, HardAfter: 1, Ready: 100, ReadyInTime: 68, Trained: 10, TrainedInTime: 8, AtSix: 10, NotAssessableSix: 2}
	if got := met(on, Counts{Ready: 100, ReadyInTime: 80}); got != [7]bool{true, true, true, true, true, true, true} { // 68 is 85 % of 80
		t.Errorf("on the edges: %v", got)
	}
	over := Counts{Advanced: 100, AdvancedUnready: 6, AdvancedUnable: 4, Followed: 19, HardAfter: 1, Ready: 100, ReadyInTime: 59, Trained: 100, TrainedInTime: 79, AtSix: 100, NotAssessableSix: 21}
	if got := met(over, Counts{Ready: 100, ReadyInTime: 70}); got != [7]bool{} {
		t.Errorf("beyond the edges: %v", got)
	}
	for _, a := range aims(Counts{}, Counts{}) {
		if a.Met != nil || a.Value != nil {
			t.Errorf("without a case: %+v", a)
		}
	}
}

func TestRunRefuses(t *testing.T) {
	for name, o := range map[string]Options{"nobody": {Clients: 0, Weeks: 16}, "five weeks": {Clients: 1, Weeks: 5}} {
		o.Policy = defaults
		if _, err := Run(context.Background(), o, nil); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	stop()
	if _, err := Run(ctx, Options{Policy: defaults, Clients: 50, Weeks: 16, Workers: 2}, nil); err == nil {
		t.Error("a cancelled rehearsal gave a result")
	}
}

func TestProgressIsShown(t *testing.T) {
	last := 0
	r, err := Run(context.Background(), Options{Policy: defaults, Clients: 3, Weeks: 6, Workers: 2, Tidy: true}, func(done, all int) {
		if done != last+1 || all != 3 {
			t.Errorf("%d of %d after %d", done, all, last)
		}
		last = done
	})
	if err != nil || last != 3 || !r.Tidy || len(r.Assumed) == 0 || r.Definition == "" {
		t.Errorf("%v, %d shown, %+v", err, last, r)
	}
}

// BenchmarkLive is 16 weeks of one client under every way.
func BenchmarkLive(b *testing.B) {
	i := 0
	for b.Loop() {
		live(Options{Policy: defaults, Weeks: 16}, draw(1, i), Ways())
		i++
	}
}
