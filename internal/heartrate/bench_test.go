package heartrate_test

import (
	"bytes"
	"math"
	"testing"
	"time"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/heartrate"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// fullHour is an hour's run with a sample of every channel a second, and as a FIT file.
func fullHour(b *testing.B) (workout.Workout, []byte) {
	w := hour()
	w.Sport, w.Start = workout.Running, time.Unix(1_800_000_000, 0).UTC()
	for k := range 3600 {
		t := float64(k)
		w.Speed.Add(t, 2.5+0.3*math.Sin(t/60))
		w.Power.Add(t, math.Round(200+20*math.Sin(t/60)))
		w.Cadence.Add(t, math.Round(82+2*math.Sin(t/40)))
	}
	data, err := recording.Encode("fit", w)
	if err != nil {
		b.Fatal(err)
	}
	return w, data
}

// The three figures of one run: the FIT library alone with a listener that keeps nothing, reading the
// file, and reading it with cleaning.
func BenchmarkBareDecoderHour(b *testing.B) {
	_, data := fullHour(b)
	for b.Loop() {
		dec := decoder.New(bytes.NewReader(data), decoder.WithMesgListener(deaf{}), decoder.WithBroadcastOnly())
		if _, err := dec.Decode(); err != nil {
			b.Fatal(err)
		}
	}
}

type deaf struct{}

func (deaf) OnMesg(proto.Message) {}

func BenchmarkDecodeHour(b *testing.B) {
	_, data := fullHour(b)
	for b.Loop() {
		if f := recording.Decode("hour.fit", data); f[0].Err != nil {
			b.Fatal(f[0].Err)
		}
	}
}

func BenchmarkDecodeAndCleanHour(b *testing.B) {
	_, data := fullHour(b)
	for b.Loop() {
		f := recording.Decode("hour.fit", data)
		if f[0].Err != nil || !heartrate.Clean(f[0].Workouts[0]).Usable() {
			b.Fatal("not read")
		}
	}
}

func BenchmarkCleanFullHour(b *testing.B) {
	w, _ := fullHour(b)
	for b.Loop() {
		heartrate.Clean(w)
	}
}
