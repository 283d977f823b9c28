package rehearsal

import (
	"math"
	"testing"

	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// The link between the gap and the body, as the package comment states it.
func TestGapChangesTheBody(t *testing.T) {
	p := plain()
	whole, raw := p.in(0, 0), p.in(0, 1)
	for name, pair := range map[string][2]float64{
		"drift × 3":                {raw.Drift, 3 * whole.Drift},
		"fast fall × 1.4":          {raw.Fast, 1.4 * whole.Fast},
		"slow fall × 1.4":          {raw.Slow, 1.4 * whole.Slow},
		"effort + 1.5":             {raw.Feels, whole.Feels + 1.5},
		"comfortable talk - 0.06":  {raw.Talk1, whole.Talk1 - 0.06},
		"possible talk - 0.06":     {raw.Talk2, whole.Talk2 - 0.06},
		"maximum stays":            {raw.Max, whole.Max},
		"heart rate at load stays": {raw.Gain[p.mode], whole.Gain[p.mode]},
	} {
		if math.Abs(pair[0]-pair[1]) > 1e-9 {
			t.Errorf("%s: %g, want %g", name, pair[0], pair[1])
		}
	}
}

// weeksOf plays the weeks of somebody to whom the first prescription is given again and again.
func weeksOf(p person, weeks int) (r record.Record, done, asked int) {
	r.Client = p.facts
	first := prescription.Prescribe(defaults, start-1, r, progression.Assess(defaults, start-1, r))
	for w := range weeks {
		next := first
		next.From, next.To, next.Made = ends(w)-6, ends(w), ends(w)-7
		laid := prescription.Lay(next, r, progression.Assess(defaults, ends(w)-7, r))
		r.Prescriptions = append(r.Prescriptions, next)
		if !p.conditions(w).away {
			asked += next.Sessions
		}
		done += p.train(&r, laid, w, 0).sessions
	}
	return r, done, asked
}

func answered(r record.Record) int {
	n := 0
	for _, x := range r.Notes {
		if x.RPE != nil {
			n++
		}
	}
	return n
}

func TestLapses(t *testing.T) {
	const weeks = 40
	tidy := plain()
	r, done, asked := weeksOf(tidy, weeks)
	if asked >= weeks*3 || asked < weeks*2 {
		t.Errorf("%d sessions planned in %d weeks: some weeks are away, most are not", asked, weeks)
	}
	if done != asked || len(r.Recordings) != asked || answered(r) != asked {
		t.Errorf("tidy: %d of %d done, %d recorded, %d answered", done, asked, len(r.Recordings), answered(r))
	}
	whole := map[int]bool{} // lengths of sessions recorded to the end, check sessions among them
	for _, x := range r.Recordings {
		whole[x.Workout.Seconds] = true
	}

	lapsing := tidy
	lapsing.skips, lapsing.answers, lapsing.stops = 0.2, 0.5, 1
	r, done, asked = weeksOf(lapsing, weeks)
	// Four standard errors of a share.
	near := func(n, of int, share float64) bool {
		return math.Abs(float64(n)/float64(of)-share) < 4*math.Sqrt(share*(1-share)/float64(of))
	}
	if !near(done, asked, 0.8) || !near(answered(r), done, 0.5) || len(r.Recordings) != done {
		t.Errorf("lapsing: %d of %d done, %d recorded, %d answered", done, asked, len(r.Recordings), answered(r))
	}
	for _, x := range r.Recordings {
		cuts := false // the tail of 60 s and most of a cool-down of 300 s
		for s := range whole {
			cuts = cuts || s-x.Workout.Seconds >= 300 && s-x.Workout.Seconds <= 420
		}
		if !cuts {
			t.Errorf("a recording stopped with the last effort has %d s; whole ones have %v", x.Workout.Seconds, whole)
		}
		if x.Workout.HeartRate.Len() > 0 || x.Measured.HeartRate.Elapsed != x.Workout.Seconds {
			t.Errorf("recording %s: channels kept, or not measured: %+v", x.ID, x.Measured.HeartRate)
		}
	}
}

func TestSensorsAndFaults(t *testing.T) {
	p := plain()
	rejected, sparse := 0, 0
	p.facts.Sensor = workout.Wrist
	r, _, _ := weeksOf(p, 20)
	for _, x := range r.Recordings {
		if x.Measured.HeartRate.Source != workout.Wrist {
			t.Fatalf("source %s", x.Measured.HeartRate.Source)
		}
		if x.Measured.HeartRate.Gap > 10 {
			sparse++
		}
		rejected += x.Measured.HeartRate.Rejected
	}
	if rejected == 0 || sparse == 0 {
		t.Errorf("wrist sensors without faults: %d s rejected, %d recordings with gaps", rejected, sparse)
	}
	if r, _, _ := weeksOf(plain(), 3); r.Recordings[0].Measured.HeartRate.Source != workout.Strap {
		t.Error("a strap is not shown as one")
	}
}
