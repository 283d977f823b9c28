package rehearsal

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var defaults = policy.Default()

// plain is somebody about whom nothing is odd: active before, three sessions a week, the maximum at
// the formula, no lapses, a machine in even weather.
func plain() person {
	p := draw(3, 0).tidy()
	p.mode, p.facts.Modes, p.facts.Sensor = workout.Run, []workout.Mode{workout.Run}, workout.Strap
	p.facts.Days, p.facts.Screening.Active = 3, true
	age := p.facts.Born.YearsAt(start)
	p.facts.Zones = []record.ZoneSet{{HRRest: 65}}
	p.body = simulate.Beginner(65, 211-0.64*age)
	p.maxError, p.gap, p.bias, p.celsius = 0, 0, 0, 18
	return p
}

func TestReadyAndUnready(t *testing.T) {
	for stage, bouts := range map[int]int{2: 6, 3: 4} {
		plan := trial(defaults, plain().facts, stage)
		if got := plan.Bouts(); len(got) != bouts {
			t.Fatalf("stage %d is tried with %d bouts, want the %d of its fourth week", stage, len(got), bouts)
		}
		fit := plain().in(0, 0)
		fit.Feels = -2
		if r := readiness(plan, fit, stage, 0); !r.Ready() {
			t.Errorf("stage %d: somebody to whom all feels easy is not ready: %+v", stage, r)
		}
		cases := map[string]struct {
			change func(*simulate.Athlete)
			want   Readiness
		}{
			"feels far harder":         {func(a *simulate.Athlete) { a.Feels = 4 }, Readiness{Effort: false, Talk: true, Return: true, Base: true}},
			"heart rate hardly falls":  {func(a *simulate.Athlete) { a.Fast, a.Slow = 4000, 4000; a.Rise = 10 }, Readiness{Effort: true, Talk: true, Return: false, Base: true}},
			"hardly talks at a stroll": {func(a *simulate.Athlete) { a.Talk1, a.Talk2 = 0.2, 0.3 }, Readiness{Effort: true, Talk: stage == 3, Return: true, Base: true}},
		}
		for name, c := range cases {
			body := fit
			c.change(&body)
			if got := readiness(plan, body, stage, 0); got != c.want {
				t.Errorf("stage %d, %s: %+v, want %+v", stage, name, got, c.want)
			}
		}
	}
}

// A missing base makes the same person unready, and training closes it.
func TestGapDecidesAndCloses(t *testing.T) {
	p := plain()
	plan := trial(defaults, p.facts, 2)
	if r := readiness(plan, p.in(0, 2), 2, 0); r.Ready() {
		t.Errorf("ready with most of the base missing: %+v", r)
	}
	p.gap, p.closing = 1, 6
	gap := p.gap
	for range 6 {
		gap = p.after(gap, 3)
	}
	if math.Abs(gap-1/math.E) > 1e-9 {
		t.Errorf("after 6 weeks of 3 sessions the gap is %g, want 1/e", gap)
	}
	if idle := p.after(gap, 0); idle <= gap || p.after(1, 0) > 1 {
		t.Errorf("a week without a session: %g to %g", gap, idle)
	}
}

func TestPlainlyReadyIsMovedUp(t *testing.T) {
	p := plain()
	p.body.Feels = -2
	got := live(Options{Policy: defaults, Weeks: 14}, p, Ways())
	for _, way := range []Way{Whole, NoHeart, Knowing} {
		if c := Count([]Journey{got[way]}, 1); c.Advanced != 1 || c.AdvancedUnready != 0 || c.Ready != 1 {
			t.Errorf("%s: %+v", way, c)
		}
	}
}

func TestPlainlyUnreadyIsNotMovedUpButByTheCalendar(t *testing.T) {
	p := plain()
	p.body.Feels, p.body.Drift = 4, 5
	got := live(Options{Policy: defaults, Weeks: 10, KeepZones: true}, p, Ways()) // lower zones would make the client ready
	for _, way := range []Way{Whole, NoHeart} {
		if c := Count([]Journey{got[way]}, 0); c.Advanced != 0 || c.UnreadyWhenDue != 1 || c.By["effort"] != 0 || c.DueUnready == 0 {
			t.Errorf("%s: %+v", way, c)
		}
	}
	weeks := got[Calendar].Weeks
	if weeks[3].Verdict != record.Advance || weeks[2].Verdict != record.Hold || weeks[3].Truth.Ready() || weeks[4].Stage != 2 {
		t.Errorf("the calendar moves after four weeks, ready or not: %+v", weeks)
	}
	if c := Count([]Journey{got[Calendar]}, 0); c.Advanced != 2 || c.AdvancedUnready != 2 {
		t.Errorf("calendar: %+v", c)
	}
}

// The same luck under every way: until two ways differ in a verdict their weeks are the same.
func TestWaysShareTheirLuck(t *testing.T) {
	parted := 0
	for i := range 6 {
		got := live(Options{Policy: defaults, Weeks: 8}, draw(7, i), Ways())
		for _, other := range []Way{NoHeart, Calendar} {
			for w := range got[Whole].Weeks {
				a, b := got[Whole].Weeks[w], got[other].Weeks[w]
				a.Open, b.Open = nil, nil // each names the rules that it heeds
				same := a.Verdict == b.Verdict
				a.Verdict, b.Verdict = "", ""
				if diff := cmp.Diff(a, b); diff != "" {
					t.Errorf("client %d, week %d, %s: %s", i, w+1, other, diff)
				}
				if !same {
					parted++
					break
				}
			}
		}
	}
	if parted == 0 {
		t.Error("the ways never differed")
	}
}

func TestConcludes(t *testing.T) {
	yes, no := true, false
	reason := func(id policy.ID, kind policy.Kind, met *bool) record.Reason {
		return record.Reason{Rule: id, Kind: kind, Met: met}
	}
	made := func(verdict record.Verdict, week int, reasons ...record.Reason) record.Assessment {
		return record.Assessment{Stage: 1, Week: week, Weeks: 4, Verdict: &verdict, Reasons: reasons}
	}
	var (
		weeks    = reason("weeks", policy.Required, &yes)
		evidence = reason("evidence", policy.Required, &no)
	)
	cases := map[string]struct {
		a                      record.Assessment
		whole, plain, calendar record.Verdict
	}{
		"only the heart rate against":  {made(record.Hold, 5, weeks, evidence), record.Hold, record.Advance, record.Advance},
		"only the heart rate untold":   {made(record.NotAssessable, 5, weeks, reason("evidence", policy.Required, nil)), record.NotAssessable, record.Advance, record.Advance},
		"effort against":               {made(record.Hold, 5, weeks, evidence, reason("effort", policy.Required, &no)), record.Hold, record.Hold, record.Advance},
		"effort untold":                {made(record.Hold, 5, weeks, evidence, reason("effort", policy.Required, nil)), record.Hold, record.NotAssessable, record.Advance},
		"a piece of evidence against":  {made(record.Advance, 5, weeks, reason("zone", policy.Evidence, &no)), record.Advance, record.Advance, record.Advance},
		"a cold":                       {made(record.Ease, 5, weeks, reason("tired-sign", policy.StepBackRule, &no)), record.Ease, record.Ease, record.Advance},
		"weeks not over":               {made(record.Hold, 3, reason("weeks", policy.Required, &no)), record.Hold, record.Hold, record.Hold},
		"screening open, weeks over":   {made(record.NotAssessable, 5, weeks, reason("screening", policy.Gate, nil)), record.NotAssessable, record.NotAssessable, record.Advance},
		"stage 3 has nothing above it": {record.Assessment{Stage: 3, Verdict: new(record.Hold)}, record.Hold, record.Hold, record.Hold},
	}
	for name, c := range cases {
		for way, want := range map[Way]record.Verdict{Whole: c.whole, NoHeart: c.plain, Calendar: c.calendar} {
			got := way.concludes(c.a, true)
			if *got.Verdict != want {
				t.Errorf("%s, %s: %s, want %s", name, way, *got.Verdict, want)
			}
			if moved := want == record.Advance && way != Whole && *c.a.Verdict != record.Advance; moved && (got.To == nil || *got.To != 2) {
				t.Errorf("%s, %s: leads to %v, want stage 2", name, way, got.To)
			}
		}
	}
}

func TestBackBetweenByHand(t *testing.T) {
	step := func(k workout.StepKind, from, to int) simulate.Done {
		return simulate.Done{Step: workout.Step{Kind: k}, Span: workout.Span{From: from, To: to}}
	}
	truth := simulate.Truth{
		BPM: []float64{150, 150, 120, 150, 150, 131, 150, 150, 100},
		Steps: []simulate.Done{
			step(workout.Work, 0, 2), step(workout.Recovery, 2, 3), step(workout.Work, 3, 5), step(workout.Recovery, 5, 6),
			step(workout.Work, 6, 8), step(workout.CoolDown, 8, 9),
		},
	}
	if back, bouts := backBetween(truth, 130); back != 1 || bouts != 2 {
		t.Errorf("%d of %d, want 1 of 2: recovery after the last bout does not count", back, bouts)
	}
	if back, bouts := backBetween(truth, 131.5); back != 2 || bouts != 2 {
		t.Errorf("%d of %d, want 2 of 2", back, bouts)
	}
}
