package recording_test

import (
	"bytes"
	"encoding/xml"
	"io"
	"math"
	"testing"
	"time"

	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/proto"

	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// hour is an outdoor run of one hour with a sample a second.
func hour() workout.Workout {
	w := workout.Workout{Sport: workout.Running, Place: workout.Outdoor, Start: time.Unix(1_800_000_000, 0).UTC(), Seconds: 3600}
	for k := range 3600 {
		t := float64(k)
		w.HeartRate.Add(t, math.Round(120+20*math.Sin(t/300)))
		w.Speed.Add(t, 2.5+0.3*math.Sin(t/60))
		w.Power.Add(t, math.Round(200+20*math.Sin(t/60)))
		w.Cadence.Add(t, 82)
	}
	return w
}

func benchmarkDecode(b *testing.B, format string) {
	data, err := recording.Encode(format, hour())
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if f := recording.Decode("x", data); f[0].Err != nil {
			b.Fatal(f[0].Err)
		}
	}
}

func BenchmarkFITHour(b *testing.B) { benchmarkDecode(b, "fit") }
func BenchmarkTCXHour(b *testing.B) { benchmarkDecode(b, "tcx") }
func BenchmarkGPXHour(b *testing.B) { benchmarkDecode(b, "gpx") }
func BenchmarkCSVHour(b *testing.B) { benchmarkDecode(b, "csv") }

type silent struct{ n int }

func (s *silent) OnMesg(proto.Message) { s.n++ }

// BenchmarkFITHourBare is the library alone, with a listener that keeps nothing.
func BenchmarkFITHourBare(b *testing.B) {
	data, err := recording.Encode("fit", hour())
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		dec := decoder.New(bytes.NewReader(data), decoder.WithMesgListener(&silent{}), decoder.WithBroadcastOnly())
		if _, err := dec.Decode(); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkTCXHourBare is encoding/xml alone, token by token.
func BenchmarkTCXHourBare(b *testing.B) { benchmarkTokens(b, "tcx") }

// BenchmarkGPXHourBare is encoding/xml alone, token by token.
func BenchmarkGPXHourBare(b *testing.B) { benchmarkTokens(b, "gpx") }

func benchmarkTokens(b *testing.B, format string) {
	data, err := recording.Encode(format, hour())
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		dec := xml.NewDecoder(bytes.NewReader(data))
		for {
			if _, err := dec.RawToken(); err == io.EOF {
				break
			} else if err != nil {
				b.Fatal(err)
			}
		}
	}
}
