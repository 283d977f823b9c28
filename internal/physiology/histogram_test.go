package physiology_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

func TestHistogram(t *testing.T) {
	s := heartrate.Clean(oneASecond([]float64{30, 31, 31, 33.7, 33, 230}))
	h := physiology.Count(s, workout.Span{To: 5})
	if h.Total() != 5 || len(h) != 4 || h[0] != 1 || h[1] != 2 || h[2] != 0 || h[3] != 2 {
		t.Errorf("seconds by beat %v, want 1 2 0 2", h)
	}
	for bpm, want := range map[float64]int{29: 0, 30: 0, 30.5: 1, 31: 1, 32: 3, 33: 3, 33.5: 5, 400: 5} {
		if got := h.Below(bpm); got != want {
			t.Errorf("%d s below %v bpm, want %d", got, bpm, want)
		}
	}
	if m, ok := h.Mean(); !ok || !within(m, 158.0/5, 1e-12) {
		t.Errorf("mean %v %v, want 31.6", m, ok)
	}
	if m, ok := (physiology.Histogram{}).Mean(); ok || m != 0 {
		t.Errorf("mean of nothing %v %v", m, ok)
	}
	top := physiology.Count(heartrate.Clean(oneASecond([]float64{230})), workout.Span{From: -3, To: 9})
	if len(top) != 201 || top[200] != 1 {
		t.Errorf("230 bpm gives %d beats", len(top))
	}
	sum := h.Plus(top)
	if sum.Total() != 6 || sum[200] != 1 || sum[1] != 2 || h.Total() != 5 {
		t.Errorf("sum %v changes its parts or loses seconds", sum)
	}
}

// For whole beats the seconds below an edge are those that the zones count.
func TestHistogramAgreesWithZonesProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawn(t)
		for i, v := range w.HeartRate.V {
			w.HeartRate.V[i] = math.Round(v)
			w.HeartRate.T[i] = float64(i)
		}
		w.Seconds = w.HeartRate.Len()
		w.Pauses = nil
		s := heartrate.Clean(w)
		edge := rapid.Float64Range(60, 180).Draw(t, "edge")
		z := physiology.TimeInZone(s, physiology.Edges{BPM: [4]float64{edge, 231, 231, 231}})
		h := physiology.Count(s, workout.Span{To: w.Seconds})
		if s.Rejected == 0 && h.Below(edge) != z.Under {
			t.Fatalf("%d s below %v by beat, %d s by zone", h.Below(edge), edge, z.Under)
		}
		mean, ok := s.Mean()
		whole, ok2 := h.Mean()
		if ok != ok2 || mean-whole < -1e-9 || mean-whole > 1 {
			t.Fatalf("mean %v, by whole beats %v", mean, whole)
		}
	})
}
