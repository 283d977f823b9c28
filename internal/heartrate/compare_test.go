package heartrate_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/workout"
)

// hour is an hour of intervals with the small noise of a strap, always the same.
func hour() workout.Workout { return session(3600, 7) }

// session is n seconds of work and rest whose lengths and heights follow from seed.
func session(n int, seed uint32) workout.Workout {
	w := workout.Workout{Seconds: n}
	draw := func(m int) int {
		seed = seed*1664525 + 1013904223
		return int(seed>>8) % m
	}
	bpm, target, left := 80.0, 120.0, 100
	for k := range n {
		if left--; left < 0 {
			target, left = float64(95+draw(80)), 90+draw(240)
		}
		bpm += (target - bpm) / 45
		w.HeartRate.Add(float64(k), math.Round(bpm+float64(draw(3)-1)/2))
	}
	return w
}

// from cuts the first seconds off, as a device does that is started later, and adds off to all
// values.
func from(w workout.Workout, later int, off float64) workout.Workout {
	out := workout.Workout{Seconds: w.Seconds - later}
	for i, t := range w.HeartRate.T {
		if t >= float64(later) {
			out.HeartRate.Add(t-float64(later), w.HeartRate.V[i]+off)
		}
	}
	return out
}

func TestCompare(t *testing.T) {
	a := heartrate.Clean(hour())
	short := session(299, 7)
	for name, c := range map[string]struct {
		b        heartrate.Series
		offset   int
		same     bool
		shift    int
		quarters int
		common   bool
	}{
		"itself":                        {a, 0, true, 0, 0, true},
		"a second device started later": {heartrate.Clean(from(hour(), 40, 1)), 40, true, 0, 0, true},
		"its clock is 12 s ahead":       {heartrate.Clean(from(hour(), 40, 1)), 52, true, -12, 0, true},
		"its clock is 12 s behind":      {heartrate.Clean(from(hour(), 40, 1)), 28, true, 12, 0, true},
		"its clock is 120 s behind":     {heartrate.Clean(hour()), -120, true, 120, 0, true},
		"two hours east":                {heartrate.Clean(hour()), 7200, true, 0, -8, false},
		"five and a half hours west":    {heartrate.Clean(hour()), -19800, true, 0, 22, false},
		"a quarter-hour off":            {heartrate.Clean(hour()), 900, true, 0, -1, true},
		"another workout at once":       {heartrate.Clean(session(3600, 99)), 0, false, 0, 0, true},
		"another workout hours later":   {heartrate.Clean(session(3600, 99)), 7200, false, 0, 0, false},
		"half an hour off, not a zone":  {heartrate.Clean(hour()), 1800 + 200, false, 0, 0, true},
		"under 300 s":                   {heartrate.Clean(short), 0, false, 0, 0, false},
		"no heart rate":                 {heartrate.Clean(readings(3600)), 0, false, 0, 0, false},
		"too little overlap":            {a, 3600 + 120 - 299, false, 0, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			l := heartrate.Compare(a, c.b, c.offset)
			same := l.Quarters != 0 || l.Comparable && l.Difference <= 3
			if same != c.same || l.Quarters != c.quarters || l.Comparable != c.common {
				t.Errorf("%+v, want alike %v, %d quarters, comparable %v", l, c.same, c.quarters, c.common)
			}
			if c.same && c.quarters == 0 && (l.Shift != c.shift || l.Difference > 1.01) {
				t.Errorf("shift %d s with %v bpm, want %d s", l.Shift, l.Difference, c.shift)
			}
		})
	}
}

// Two days of a heart rate that never moves are a whole number of quarter-hours apart and prove
// nothing.
func TestFlatHeartRateIsNoOtherTimeZone(t *testing.T) {
	a := heartrate.Clean(recordingOf(level(1800, 120)...))
	if l := heartrate.Compare(a, a, 86400); l.Quarters != 0 {
		t.Errorf("%+v", l)
	}
	if l := heartrate.Compare(heartrate.Clean(hour()), heartrate.Clean(hour()), 86400); l.Quarters != -96 {
		t.Errorf("%+v, want the recording a day later to be found", l)
	}
}

func TestCompareIsMutualProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := session(1800, rapid.Uint32().Draw(t, "seed"))
		late := rapid.IntRange(0, 600).Draw(t, "late")
		wrong := rapid.IntRange(-120, 120).Draw(t, "clock")
		a, b := heartrate.Clean(w), heartrate.Clean(from(w, late, 0))
		ab, ba := heartrate.Compare(a, b, late+wrong), heartrate.Compare(b, a, -late-wrong)
		if ab.Shift != -wrong || ab.Difference != 0 {
			t.Fatalf("clock off by %d s is read as %+v", wrong, ab)
		}
		if ba.Shift != -ab.Shift || ba.Common != ab.Common || ba.Difference != ab.Difference {
			t.Fatalf("one way %+v, the other %+v", ab, ba)
		}
	})
}

func BenchmarkCompareHour(b *testing.B) {
	x, y := heartrate.Clean(hour()), heartrate.Clean(session(3600, 99))
	for b.Loop() {
		heartrate.Compare(x, y, 30)
	}
}

func BenchmarkCleanHour(b *testing.B) {
	w := hour()
	for b.Loop() {
		heartrate.Clean(w)
	}
}

func BenchmarkStoreHour(b *testing.B) {
	s := heartrate.Clean(hour())
	for b.Loop() {
		if _, err := s.MarshalBinary(); err != nil {
			b.Fatal(err)
		}
	}
}
