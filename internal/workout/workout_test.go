package workout_test

import (
	"encoding/json"
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"nextrung/internal/workout"
)

func TestDateKeepsTheDayOfTheClient(t *testing.T) {
	fiji, err := time.LoadLocation("Pacific/Fiji")
	if err != nil {
		t.Fatal(err)
	}
	late := time.Date(2026, 9, 1, 20, 30, 0, 0, time.UTC)
	if got := workout.DateOf(late, time.UTC).String(); got != "2026-09-01" {
		t.Errorf("UTC: %s", got)
	}
	if got := workout.DateOf(late, fiji).String(); got != "2026-09-02" {
		t.Errorf("Fiji: %s", got)
	}
	if got := workout.MustDate("2026-03-01") - workout.MustDate("2026-02-01"); got != 28 {
		t.Errorf("February 2026 has %d days", got)
	}
	if got := workout.MustDate("1970-01-01"); got == 0 {
		t.Error("the first day of 1970 must not look like a date that is not set")
	}
	if got := workout.MustDate("2026-10-04").Long(); got != "4 October 2026" {
		t.Error(got)
	}
}

func TestDateRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := workout.Date(rapid.IntRange(1, 3_000_000).Draw(t, "day"))
		b, err := json.Marshal(d)
		if err != nil {
			t.Fatal(err)
		}
		var back workout.Date
		if err := json.Unmarshal(b, &back); err != nil || back != d {
			t.Fatalf("%d became %s and %d (%v)", d, b, back, err)
		}
		if next := workout.DateOf(d.Time().AddDate(0, 0, 1), time.UTC); next != d+1 {
			t.Fatalf("the day after %s is %s", d, next)
		}
	})
}

func TestParseDateRefuses(t *testing.T) {
	for _, bad := range []string{"2026-13-01", "2026-02-30", "1.2.2026", "yesterday"} {
		if d, err := workout.ParseDate(bad); err == nil {
			t.Errorf("%q became %s", bad, d)
		}
	}
}

func TestYearsAt(t *testing.T) {
	if got := workout.MustDate("1968-10-04").YearsAt(workout.MustDate("2026-10-04")); math.Abs(got-58) > 0.01 {
		t.Errorf("58th birthday: %.3f", got)
	}
	if got := workout.Date(0).YearsAt(workout.MustDate("2026-10-04")); got != 0 {
		t.Errorf("unknown birth: %.3f", got)
	}
}

func TestGrid(t *testing.T) {
	var c workout.Channel
	c.Add(0.2, 100)
	c.Add(0.9, 101) // the last of one second stands
	c.Add(4, 105)
	c.Add(2, 103) // file order may step back in time
	c.Add(9, 110)
	c.Add(40, 1) // outside
	got := c.Grid(12, 3)
	want := []float64{101, 102, 103, 104, 105, math.NaN(), math.NaN(), math.NaN(), math.NaN(), 110, math.NaN(), math.NaN()}
	for k := range want {
		if got[k] != want[k] && !(math.IsNaN(got[k]) && math.IsNaN(want[k])) {
			t.Errorf("second %d: %v, want %v", k, got[k], want[k])
		}
	}
}

func TestGridStaysBetweenItsSamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 200).Draw(t, "n")
		var c workout.Channel
		lo, hi := math.Inf(1), math.Inf(-1)
		for range rapid.IntRange(0, 60).Draw(t, "samples") {
			v := rapid.Float64Range(30, 230).Draw(t, "v")
			c.Add(float64(rapid.IntRange(0, n-1).Draw(t, "t")), v)
			lo, hi = min(lo, v), max(hi, v)
		}
		for k, v := range c.Grid(n, rapid.IntRange(0, 40).Draw(t, "bridge")) {
			if v < lo-1e-9 || v > hi+1e-9 {
				t.Fatalf("second %d is %v, samples lie in [%v, %v]", k, v, lo, hi)
			}
		}
	})
}

func TestSpan(t *testing.T) {
	a, b := workout.Span{From: 10, To: 20}, workout.Span{From: 15, To: 40}
	if a.Overlap(b) != 5 || b.Overlap(a) != 5 || a.Overlap(workout.Span{From: 20, To: 30}) != 0 {
		t.Error("overlap is wrong")
	}
	if !a.Contains(10) || a.Contains(20) || a.Seconds() != 10 {
		t.Error("a span is half-open")
	}
}

func TestDigest(t *testing.T) {
	// SHA-256 of "abc": FIPS 180-2, appendix B.1.
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	d := workout.DigestOf([]byte("abc"))
	if d.String() != abc || d.Short() != abc[:8] {
		t.Errorf("%s", d)
	}
	var back workout.Digest
	if err := back.UnmarshalText([]byte(abc)); err != nil || back != d {
		t.Errorf("%s, %v", back, err)
	}
	for _, bad := range []string{"", "zz", abc[:62], abc + "00"} {
		if err := back.UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q was taken for a digest", bad)
		}
	}
}

func TestPlan(t *testing.T) {
	p := workout.Plan{Mode: workout.Bike, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300}, {Kind: workout.Work, Seconds: 60}, {Kind: workout.Recovery, Seconds: 240},
		{Kind: workout.Work, Seconds: 60}, {Kind: workout.CoolDown, Seconds: 300},
	}}
	if p.Seconds() != 960 || len(p.Bouts()) != 2 {
		t.Errorf("%d s, %d bouts", p.Seconds(), len(p.Bouts()))
	}
}

func TestModesAndSportsAgree(t *testing.T) {
	for _, m := range workout.Modes() {
		if got := m.Sport().Mode(); got != m {
			t.Errorf("%s becomes %s", m, got)
		}
	}
	if workout.Strength.Mode() != workout.OtherMode {
		t.Error("strength work has no mode of its own")
	}
	if workout.UnknownSensor.String() != "unknown" {
		t.Error("an unknown sensor must say so")
	}
}
