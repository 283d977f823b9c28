package heartrate_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// rejectedOf lists the seconds whose reading is gone from the series.
func rejectedOf(w workout.Workout, s heartrate.Series) []int {
	var out []int
	for _, t := range w.HeartRate.T {
		if k := int(t); s.Origin[k] != heartrate.Measured && s.Origin[k] != heartrate.Paused {
			out = append(out, k)
		}
	}
	return out
}

func span(from, to int) []int {
	var out []int
	for k := from; k < to; k++ {
		out = append(out, k)
	}
	return out
}

// every lays values dt seconds apart.
func every(dt int, bpm ...float64) workout.Workout {
	w := workout.Workout{Seconds: (len(bpm)-1)*dt + 1}
	for i, v := range bpm {
		w.HeartRate.Add(float64(i*dt), v)
	}
	return w
}

func TestReject(t *testing.T) {
	for name, c := range map[string]struct {
		w    workout.Workout
		want []int
	}{
		// Worked with the definition of the Hampel identifier: median 123, MAD 2, limit 8.896.
		"hampel: one value of seven": {recordingOf(120, 121, 122, 180, 123, 124, 125), []int{3}},
		"hampel: 8 off with MAD 2":   {recordingOf(120, 121, 122, 131, 123, 124, 125), nil},
		"hampel: 9 off with MAD 2":   {recordingOf(120, 121, 122, 132, 123, 124, 125), []int{3}},
		"hampel: MAD floored at 1":   {recordingOf(120, 120, 120, 124, 120, 120, 120), nil},
		"hampel: 5 off on flat":      {recordingOf(120, 120, 120, 125, 120, 120, 120), []int{3}},
		"hampel: not across a gap":   {readings(14, 0, 120, 1, 120, 2, 120, 3, 126, 11, 120, 12, 120, 13, 120), nil},
		"hampel: not when sparse":    {every(5, 120, 120, 120, 130, 120, 120, 120), nil},

		"finding 5: a spike to 225":              {recordingOf(slices.Concat(level(60, 150), level(1, 225), level(60, 150))...), []int{60}},
		"finding 5: a spike to 260":              {recordingOf(slices.Concat(level(60, 150), level(2, 260), level(60, 150))...), []int{60, 61}},
		"finding 5: a run of 190 to 199":         {recordingOf(slices.Concat(level(120, 140), []float64{190, 192, 195, 199, 198, 196, 193, 191, 190, 192, 194, 190, 190, 197, 199}, level(120, 141))...), span(120, 135)},
		"finding 5: dips to 24":                  {recordingOf(slices.Concat(level(60, 90), []float64{24, 24, 24}, level(60, 90))...), span(60, 63)},
		"a dip to 40":                            {recordingOf(slices.Concat(level(60, 120), level(20, 40), level(60, 120))...), span(60, 80)},
		"nonsense at the start":                  {recordingOf(slices.Concat(level(15, 200), level(120, 90))...), span(0, 15)},
		"nonsense at the end":                    {recordingOf(slices.Concat(level(120, 150), level(10, 60))...), span(120, 130)},
		"spikes of several heights":              {recordingOf(slices.Concat(level(60, 85), level(5, 199), level(5, 160), level(5, 220), level(60, 87))...), span(60, 75)},
		"two spikes with a little sense between": {recordingOf(slices.Concat(level(60, 120), level(4, 200), level(3, 121), level(4, 200), level(60, 122))...), slices.Concat(span(60, 64), span(67, 71))},
		"a spike while sparse":                   {every(5, 120, 121, 122, 180, 123, 122, 121, 120), []int{15}},

		"a rise of 4 bpm/s stays":                   {recordingOf(ramp(60, 70, 4, 15, 60)...), nil},
		"a fall of 4 bpm/s stays":                   {recordingOf(ramp(60, 170, -4, 15, 60)...), nil},
		"rises in steps as some devices write stay": {recordingOf(slices.Concat(level(60, 110), level(4, 122), level(4, 133), level(60, 145))...), nil},
		"a fall of 20 within 5 s stays":             {every(5, 177, 177, 175, 170, 165, 158, 153, 150, 130, 118), nil},
		"6-s sampling of a hard start stays":        {every(6, 70, 80, 100, 124, 142, 150, 155, 157), nil},
		"a lasting leap stays":                      {recordingOf(slices.Concat(level(120, 90), level(120, 150))...), nil},
		"a leap over a long gap stays":              {readings(400, 0, 150, 1, 150, 2, 150, 300, 80, 301, 80, 302, 80), nil},
		"flat stays":                                {recordingOf(level(600, 120)...), nil},
		"a single reading stays":                    {recordingOf(120), nil},
	} {
		t.Run(name, func(t *testing.T) {
			s := heartrate.Clean(c.w)
			if got := rejectedOf(c.w, s); !slices.Equal(got, c.want) {
				t.Errorf("rejected seconds %v, want %v", got, c.want)
			}
			if s.Rejected != len(c.want) {
				t.Errorf("counts %d rejected seconds, want %d", s.Rejected, len(c.want))
			}
		})
	}
}

// ramp is flat, then moves by step for n seconds, then is flat again.
func ramp(flat int, from, step float64, n, after int) []float64 {
	out := level(flat, from)
	for range n {
		from += step
		out = append(out, from)
	}
	return append(out, level(after, from)...)
}

// exercise draws a heart rate as bodies make it: exponential rises and falls between levels, rounded
// to whole beats, with the small noise of a strap.
func exercise(t *rapid.T, n int) []float64 {
	out := make([]float64, 0, n)
	noise := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "noise"), 1))
	bpm := rapid.Float64Range(55, 100).Draw(t, "rest")
	for len(out) < n {
		target := rapid.Float64Range(70, 185).Draw(t, "target")
		tau := rapid.Float64Range(25, 120).Draw(t, "tau")
		for range rapid.IntRange(60, 300).Draw(t, "seconds") {
			bpm += (target - bpm) / tau
			out = append(out, math.Round(bpm+0.5*noise.NormFloat64()))
		}
	}
	return out[:n]
}

func TestCleanDataIsLeftAloneProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bpm := exercise(t, 900)
		s := heartrate.Clean(recordingOf(bpm...))
		if s.Rejected != 0 || !slices.Equal(s.BPM, bpm) {
			t.Fatalf("%d s rejected of a clean recording: %v", s.Rejected, s.Faults)
		}
	})
}

// A spike is found when it stands off from both its sides. (One that a real rise runs into is not a
// spike to anybody who was not there.)
func TestPlantedSpikeIsFoundProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bpm := exercise(t, 900)
		at := rapid.IntRange(60, 800).Draw(t, "at")
		long := rapid.IntRange(1, 25).Draw(t, "length")
		off := rapid.Float64Range(30, 100).Draw(t, "off")
		under := rapid.Bool().Draw(t, "under")
		planted := slices.Clone(bpm)
		for k := at; k < at+long; k++ {
			if under {
				planted[k] = math.Round(slices.Min(bpm[at-1:at+long+1]) - off)
			} else {
				planted[k] = math.Round(slices.Max(bpm[at-1:at+long+1]) + off)
			}
		}
		s := heartrate.Clean(recordingOf(planted...))
		for k := range planted {
			spike := k >= at && k < at+long
			if gone := s.Origin[k] != heartrate.Measured; gone != spike {
				t.Fatalf("second %d (spike %v) is %v; %v", k, spike, s.Origin[k], s.Faults)
			}
		}
	})
}

func TestRejectedValuesNeverMakeThePeak(t *testing.T) {
	s := heartrate.Clean(recordingOf(slices.Concat(level(60, 150), level(8, 199), level(60, 152))...))
	if peak, ok := s.Peak(); !ok || peak > 152 {
		t.Errorf("peak %v, want at most 152", peak)
	}
}

func TestBeatMessages(t *testing.T) {
	w := recordingOf(level(10, 120)...)
	w.Seconds = 30
	for k := 5; k < 30; k++ {
		w.BeatHeartRate.Add(float64(k)+0.5, 122)
	}
	s := heartrate.Clean(w)
	if s.BPM[7] != 120 || s.BPM[20] != 122 {
		t.Errorf("second 7 is %v and 20 is %v, want the record-like 120, then 122 from beat to beat", s.BPM[7], s.BPM[20])
	}
	if c, _ := s.Coverage(); c != 1 {
		t.Errorf("coverage %v, want 1", c)
	}

	w = readings(2, 0, 255, 1, 255)
	w.BeatHeartRate.Add(0, 130)
	if s := heartrate.Clean(w); s.BPM[0] != 130 || s.Rejected != 1 {
		t.Errorf("second 0 is %v with %d s rejected, want 130 and 1", s.BPM[0], s.Rejected)
	}
}

func TestRemarks(t *testing.T) {
	jitter := func(n int, size float64) []float64 {
		out := level(n, 120)
		for k := range out {
			if k/5%2 == 0 {
				out[k] += size
			}
		}
		return out
	}
	wave := func(n int) []float64 { return jitter(n, 1) }
	gap := func(n int) []float64 { return level(n, 0) }
	for name, c := range map[string]struct {
		bpm  []float64
		want []workout.Code
	}{
		"nothing odd":            {wave(300), nil},
		"a gap of 30 s is short": {slices.Concat(wave(100), gap(30), wave(100)), []workout.Code{"rejected"}},
		"a gap of 31 s":          {slices.Concat(wave(100), gap(31), wave(100)), []workout.Code{"rejected", "gap"}},
		"frozen for 61 s":        {slices.Concat(wave(100), level(61, 130), wave(100)), []workout.Code{"frozen"}},
		"not frozen for 60 s":    {slices.Concat(wave(100), level(60, 130), wave(100)), nil},
		"a lasting leap":         {slices.Concat(level(50, 90), level(50, 150)), []workout.Code{"leap"}},
		"a dry strap":            {slices.Concat(jitter(240, 10), wave(1200)), []workout.Code{"restless"}},
		"restless throughout":    {jitter(1440, 10), nil},
		"restless for 2 min":     {slices.Concat(jitter(120, 10), wave(1200)), nil},
		"255 throughout":         {level(100, 255), []workout.Code{"no-heart-rate"}},
	} {
		t.Run(name, func(t *testing.T) {
			var got []workout.Code
			for _, r := range heartrate.Clean(recordingOf(c.bpm...)).Remarks {
				got = append(got, r.Code)
			}
			if !slices.Equal(got, c.want) {
				t.Errorf("remarks %v, want %v", got, c.want)
			}
		})
	}
}

func TestRemarkArguments(t *testing.T) {
	w := workout.Workout{Seconds: 3700}
	for k := range 3700 {
		if k < 40 || k >= 730 && k < 773 || k >= 3650 {
			continue
		}
		w.HeartRate.Add(float64(k), 120+float64(k/30%2))
	}
	gap := func(args workout.Args) workout.Fact { return workout.Say(heartrate.Gap, args) }
	want := workout.Facts{gap(workout.Args{"where": "first", "seconds": 40}), gap(workout.Args{"where": "between", "seconds": 43, "at": 730}),
		gap(workout.Args{"where": "last", "seconds": 50})}
	if got := heartrate.Clean(w).Remarks; !slices.EqualFunc(got, want, workout.Fact.Equal) {
		t.Errorf("remarks %v, want %v", got, want)
	}

	w = workout.Workout{Seconds: 1200}
	for k := range 1200 {
		if k%120 < 60 {
			w.HeartRate.Add(float64(k), 120+float64(k/20%2))
		}
	}
	got := heartrate.Clean(w).Remarks
	if n := len(got); n != 6 || !got[n-1].Equal(gap(workout.Args{"where": "more", "times": 5, "seconds": 300})) {
		t.Errorf("remarks %v, want five gaps and the rest in one sentence", got)
	}
	if got := wording.Clock(4353); got != "1:12:33" {
		t.Errorf("4353 s reads %s, want 1:12:33", got)
	}
}
