package physiology_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

func TestEdges(t *testing.T) {
	type body = physiology.Body
	fixed := func(m workout.Mode) map[workout.Mode][4]float64 {
		return map[workout.Mode][4]float64{m: {100, 120, 140, 160}}
	}
	for name, c := range map[string]struct {
		body  body
		want  [4]float64
		basis string
		guess bool
	}{
		// Shares of the maximum: Garber 2011 for 64, 77 and 96 %.
		"maximum 190": {body{HRMaxAny: 190}, [4]float64{121.6, 146.3, 164.35, 182.4}, "maximum", false},
		"from age 40": {body{Age: 40}, [4]float64{118.656, 142.758, 160.371, 177.984}, "maximum", true},
		// Karvonen 1957: maximum 180 and rest 60 give 40 % 108, 60 % 132, 90 % 168.
		"reserve 180, 60": {body{HRMaxAny: 180, HRRest: 60}, [4]float64{108, 132, 150, 168}, "reserve", false},
		// Maximum 165, rest 62: 60 % is 123.8 (worked).
		"reserve 165, 62":      {body{HRMaxAny: 165, HRRest: 62}, [4]float64{103.2, 123.8, 139.25, 154.7}, "reserve", false},
		"reserve from age":     {body{Age: 40, HRRest: 60}, [4]float64{110.16, 135.24, 154.05, 172.86}, "reserve", true},
		"rest above maximum":   {body{HRMaxAny: 100, HRRest: 120}, [4]float64{64, 77, 86.5, 96}, "maximum", false},
		"thresholds":           {body{HRMaxAny: 190, T1: 140, T2: 165}, [4]float64{121.6, 140, 165, 182.4}, "thresholds", false},
		"thresholds, reserve":  {body{HRMaxAny: 180, HRRest: 60, T1: 130, T2: 155}, [4]float64{108, 130, 155, 168}, "thresholds", false},
		"first threshold only": {body{HRMaxAny: 190, T1: 140}, [4]float64{121.6, 140, 164.35, 182.4}, "thresholds", false},
		"second only":          {body{HRMaxAny: 190, T2: 170}, [4]float64{121.6, 146.3, 170, 182.4}, "thresholds", false},
		"thresholds from age":  {body{Age: 40, T1: 140, T2: 160}, [4]float64{118.656, 140, 160, 177.984}, "thresholds", true},
		"low first threshold":  {body{HRMaxAny: 180, HRRest: 60, T1: 105, T2: 140}, [4]float64{90, 105, 140, 168}, "thresholds", false},
		"high second":          {body{HRMaxAny: 180, T1: 140, T2: 178}, [4]float64{115.2, 140, 178, 178}, "thresholds", false},
		"first above second":   {body{HRMaxAny: 190, T1: 170}, [4]float64{121.6, 170, 170, 182.4}, "thresholds", false},
		"explicit":             {body{HRMaxAny: 190, HRRest: 60, T1: 150, Fixed: fixed("")}, [4]float64{100, 120, 140, 160}, "explicit", false},
		"explicit for run":     {body{Fixed: fixed(workout.Run)}, [4]float64{100, 120, 140, 160}, "explicit", false},
		"limit":                {body{HRMaxAny: 180, HRRest: 60, Limit: 125}, [4]float64{108, 125, 125, 125}, "reserve", false},
		"limit on explicit":    {body{Fixed: fixed(""), Limit: 150}, [4]float64{100, 120, 140, 150}, "explicit", false},
		"limit under zone 1":   {body{HRMaxAny: 180, HRRest: 60, Limit: 90}, [4]float64{90, 90, 90, 90}, "reserve", false},
		"limit above all":      {body{HRMaxAny: 180, HRRest: 60, Limit: 170}, [4]float64{108, 132, 150, 168}, "reserve", false},
		"limit at the top":     {body{HRMaxAny: 180, HRRest: 60, Limit: 168}, [4]float64{108, 132, 150, 168}, "reserve", false},
	} {
		t.Run(name, func(t *testing.T) {
			e := c.body.Edges(workout.Run)
			if e == nil {
				t.Fatal("no edges")
			}
			for i := range e.BPM {
				if !within(e.BPM[i], c.want[i], 1e-9) {
					t.Errorf("edges %v, want %v", e.BPM, c.want)
					break
				}
			}
			if limited := slices.Contains([]string{"limit", "limit on explicit", "limit under zone 1"}, name); e.Limited != limited {
				t.Errorf("limited %v, want %v", e.Limited, limited)
			}
			if e.Basis != c.basis || e.Estimated != c.guess {
				t.Errorf("basis %q, estimated %v, want %q, %v", e.Basis, e.Estimated, c.basis, c.guess)
			}
		})
	}
}

func TestNoEdges(t *testing.T) {
	for name, b := range map[string]physiology.Body{
		"nothing known":        {},
		"rest only":            {HRRest: 60},
		"thresholds only":      {T1: 130, T2: 150},
		"a child's age":        {Age: 16, HRRest: 60},
		"slowed by a medicine": {HRMaxAny: 190, HRRest: 60, Slowed: true},
		"slowed, explicit":     {Fixed: map[workout.Mode][4]float64{"": {1, 2, 3, 4}}, Slowed: true},
		"explicit for rowing":  {Fixed: map[workout.Mode][4]float64{workout.Row: {1, 2, 3, 4}}},
	} {
		if e := b.Edges(workout.Run); e != nil {
			t.Errorf("%s: edges %+v", name, e)
		}
	}
}

func TestBikeEdgesAreLower(t *testing.T) {
	b := physiology.Body{Age: 40, HRRest: 60}
	run, bike := b.Edges(workout.Run), b.Edges(workout.Bike)
	for i, f := range [4]float64{0.4, 0.6, 0.75, 0.9} {
		if !within(run.BPM[i]-bike.BPM[i], 8*f, 1e-9) {
			t.Errorf("edge %d: run %v, bike %v, want %v apart", i, run.BPM[i], bike.BPM[i], 8*f)
		}
	}
}

func TestZone(t *testing.T) {
	e := physiology.Edges{BPM: [4]float64{118.4, 142.5, 160, 177.6}}
	for bpm, want := range map[float64]int{
		60: 0, 118: 0, 118.39: 0, 118.4: 1, 119: 1, 142.49: 1, 142.5: 2, 143: 2, 159.999: 2, 160: 3, 177.5: 3, 177.6: 4, 230: 4,
	} {
		if got := e.Zone(bpm); got != want {
			t.Errorf("%v bpm is in zone %d, want %d", bpm, got, want)
		}
	}
}

// oneASecond is a workout with a reading each second.
func oneASecond(bpm []float64) workout.Workout {
	w := workout.Workout{Seconds: len(bpm), Sport: workout.Running}
	for k, v := range bpm {
		w.HeartRate.Add(float64(k), v)
	}
	return w
}

// A heart rate that rises by one beat every ten seconds spends ten times the width of each zone in
// it.
func TestTimeInZoneOnARamp(t *testing.T) {
	var bpm []float64
	for v := 100; v < 190; v++ {
		for range 10 {
			bpm = append(bpm, float64(v))
		}
	}
	w := oneASecond(bpm)
	w.Pauses = []workout.Span{{From: 0, To: 15}}
	got := physiology.TimeInZone(heartrate.Clean(w), physiology.Edges{BPM: [4]float64{115.2, 138.6, 155.7, 172.8}})
	want := physiology.ZoneTime{Under: 145, Zone1: 230, Zone2: 170, Zone3: 170, Over: 170, Paused: 15}
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got.Sum() != w.Seconds {
		t.Errorf("sum %d s of %d s", got.Sum(), w.Seconds)
	}
}

// Straight lines are unrounded: 11 s from 140 to 143 cross an edge at 142.5 after 9.17 s.
func TestTimeInZoneIsUnrounded(t *testing.T) {
	e := physiology.Edges{BPM: [4]float64{100, 142.5, 160, 180}}
	sparse := workout.Workout{Seconds: 23}
	sparse.HeartRate.Add(0, 140)
	sparse.HeartRate.Add(11, 143)
	sparse.HeartRate.Add(22, 140)
	// 140 + 3k/11 reaches 142.5 for k = 10 and 11, and the same on the way down.
	if got, want := physiology.TimeInZone(heartrate.Clean(sparse), e), (physiology.ZoneTime{Zone1: 20, Zone2: 3}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// drawn is a recording with gaps and pauses.
func drawn(t *rapid.T) workout.Workout {
	n := rapid.IntRange(0, 500).Draw(t, "seconds")
	w := workout.Workout{Seconds: n, Sport: workout.Running}
	bpm := 110.0
	for k := 0; k < n; k += rapid.IntRange(1, 12).Draw(t, "step") {
		bpm = math.Min(190, math.Max(50, bpm+rapid.Float64Range(-5, 5).Draw(t, "change")))
		w.HeartRate.Add(float64(k), bpm)
	}
	if n > 100 {
		w.Pauses = []workout.Span{{From: 40, To: 40 + rapid.IntRange(1, 50).Draw(t, "pause")}}
	}
	return w
}

func TestZonesAddUpProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawn(t)
		s := heartrate.Clean(w)
		e := physiology.Body{
			Age:    rapid.Float64Range(18, 90).Draw(t, "age"),
			HRRest: rapid.SampledFrom([]float64{0, 45, 70}).Draw(t, "rest"),
			T1:     rapid.SampledFrom([]float64{0, 90, 130, 175}).Draw(t, "T1"),
			T2:     rapid.SampledFrom([]float64{0, 120, 160, 200}).Draw(t, "T2"),
			Limit:  rapid.SampledFrom([]float64{0, 80, 140}).Draw(t, "limit"),
		}.Edges(workout.Run)
		for i := 1; i < 4; i++ {
			if e.BPM[i] < e.BPM[i-1] {
				t.Fatalf("edges fall: %v", e.BPM)
			}
		}
		z := physiology.TimeInZone(s, *e)
		if z.Sum() != w.Seconds {
			t.Fatalf("zones add up to %d s of %d s", z.Sum(), w.Seconds)
		}
		h := physiology.Count(s, workout.Span{To: w.Seconds})
		if h.Total() != z.Sum()-z.Paused-z.NotRecorded {
			t.Fatalf("%d s by beat, %d s in zones", h.Total(), z.Sum()-z.Paused-z.NotRecorded)
		}
		if twice := z.Plus(z); twice.Sum() != 2*z.Sum() {
			t.Fatalf("twice %+v is %+v", z, twice)
		}
	})
}

// Each edge names the fact that it comes from.
func TestOriginsOfEdges(t *testing.T) {
	type body = physiology.Body
	const reserve, maximum, talk, limit, room, entered = physiology.OfReserve, physiology.OfMaximum, physiology.Threshold, physiology.ByLimit, physiology.MadeRoom, physiology.Entered
	for name, c := range map[string]struct {
		body body
		want [4]physiology.Origin
	}{
		"reserve":            {body{HRMaxAny: 180, HRRest: 60}, [4]physiology.Origin{reserve, reserve, reserve, reserve}},
		"maximum":            {body{HRMaxAny: 190}, [4]physiology.Origin{maximum, maximum, maximum, maximum}},
		"talk":               {body{HRMaxAny: 180, HRRest: 60, T1: 130, T2: 155}, [4]physiology.Origin{reserve, talk, talk, reserve}},
		"a low threshold":    {body{HRMaxAny: 180, HRRest: 60, T1: 105, T2: 140}, [4]physiology.Origin{room, talk, talk, reserve}},
		"a high threshold":   {body{HRMaxAny: 180, HRRest: 60, T2: 172}, [4]physiology.Origin{reserve, reserve, talk, room}},
		"a limit":            {body{HRMaxAny: 180, HRRest: 60, Limit: 140}, [4]physiology.Origin{reserve, reserve, limit, limit}},
		"a limit over talk":  {body{HRMaxAny: 180, HRRest: 60, T1: 130, Limit: 120}, [4]physiology.Origin{reserve, limit, limit, limit}},
		"explicit":           {body{Fixed: map[workout.Mode][4]float64{workout.Run: {100, 120, 140, 160}}, Limit: 150}, [4]physiology.Origin{entered, entered, entered, limit}},
		"a medicine slows":   {body{HRMaxAny: 180, Slowed: true}, [4]physiology.Origin{}},
		"nothing to go from": {body{}, [4]physiology.Origin{}},
	} {
		for i, o := range c.body.Origins(workout.Run) {
			if o.Origin != c.want[i] {
				t.Errorf("%s: edge %d comes from %q", name, i, o.Origin)
			}
			if (o.Share > 0) != (o.Origin == reserve || o.Origin == maximum) {
				t.Errorf("%s: edge %d has a share of %g", name, i, o.Share)
			}
		}
	}
}
