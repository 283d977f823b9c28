package physiology_test

import (
	"encoding/json"
	"math"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// hour is an hour at one speed: 5 min at half of it, 50 min, and 5 min standing. Heart rate
// follows with a time constant of 50 s and rises by 2 bpm in 10 min of the main part.
func hour() workout.Workout {
	w := workout.Workout{Sport: workout.Running, Seconds: 3600}
	bpm := 75.0
	for k := range 3600 {
		speed, target := 3.0, 135+2*float64(k-300)/600
		switch {
		case k < 300:
			speed, target = 1.5, 105
		case k >= 3300:
			speed, target = 0, 80
		}
		bpm += (target - bpm) / 50
		w.HeartRate.Add(float64(k), math.Round(bpm))
		w.Speed.Add(float64(k), speed+0.05*math.Sin(float64(k)))
	}
	return w
}

func knownBody() physiology.Body {
	return physiology.Body{Age: 40, Sex: physiology.Female, HRRest: 62}
}

func TestMeasureAssembles(t *testing.T) {
	w := hour()
	s := heartrate.Clean(w)
	m := physiology.Measure(s, w, knownBody(), false)

	if h := m.HeartRate; !h.Usable || h.Elapsed != 3600 || h.Coverage == nil || *h.Coverage != 1 || h.Paused != 0 {
		t.Errorf("summary %+v", h)
	}
	if m.Edges == nil || m.Edges.Basis != "reserve" || !m.Edges.Estimated {
		t.Errorf("edges %+v", m.Edges)
	}
	if m.Zones == nil || m.Zones.Sum() != 3600 || *m.Zones != physiology.TimeInZone(s, *m.Edges) {
		t.Errorf("zones %+v", m.Zones)
	}
	if m.PerBPM.Total() != 3600 {
		t.Errorf("%d s by beat", m.PerBPM.Total())
	}
	if m.Main.PerBPM.Total() != m.Main.Seconds() || m.Main.Seconds() < 2900 || m.Main.Seconds() > 3400 {
		t.Errorf("main part %+v with %d s", m.Main.Span, m.Main.PerBPM.Total())
	}
	at := 0
	for _, p := range m.Phases {
		if p.From != at {
			t.Errorf("phases leave a gap at %d s: %+v", at, m.Phases)
		}
		at = p.To
	}
	if at != 3600 {
		t.Errorf("phases end at %d s", at)
	}
	if !m.Drift.Enough || m.Drift.Low > 2 || m.Drift.High < 2 {
		t.Errorf("drift %+v, want 2 bpm in 10 min within its interval", m.Drift)
	}
	if len(m.Recoveries) != 1 || m.Recoveries[0].Drop60 == nil {
		t.Errorf("recoveries %+v, want one with a drop in 60 s", m.Recoveries)
	}
	if m.Load.Banister == nil || m.Load.Lucia == nil || m.Effort != "speed" {
		t.Errorf("load %+v, effort %q", m.Load, m.Effort)
	}
}

// Every field that lacks its facts is nil, never 0.
func TestMeasureWithoutFacts(t *testing.T) {
	w := hour()
	s := heartrate.Clean(w)
	for name, c := range map[string]struct {
		body                   physiology.Body
		zones, banister, lucia bool
	}{
		"nothing known":      {physiology.Body{}, false, false, false},
		"a maximum":          {physiology.Body{HRMaxAny: 185}, true, false, true},
		"all but sex":        {physiology.Body{HRMaxAny: 185, HRRest: 60}, true, false, true},
		"explicit zones":     {physiology.Body{Fixed: map[workout.Mode][4]float64{"": {100, 120, 140, 160}}}, true, false, true},
		"all":                {knownBody(), true, true, true},
		"slowed by medicine": {physiology.Body{Age: 40, Sex: physiology.Male, HRRest: 60, Slowed: true}, false, false, false},
	} {
		m := physiology.Measure(s, w, c.body, false)
		if (m.Zones != nil) != c.zones || (m.Edges != nil) != c.zones || (m.Load.Banister != nil) != c.banister || (m.Load.Lucia != nil) != c.lucia {
			t.Errorf("%s: zones %v, load %+v", name, m.Zones, m.Load)
		}
	}
}

func TestMeasureOfNothing(t *testing.T) {
	for name, w := range map[string]workout.Workout{
		"no second":         {},
		"no heart rate":     {Seconds: 1800, Sport: workout.Cycling},
		"nothing but pause": {Seconds: 100, Pauses: []workout.Span{{From: 0, To: 100}}},
		"one second":        oneASecond([]float64{120}),
	} {
		m := physiology.Measure(heartrate.Clean(w), w, knownBody(), true)
		if w.HeartRate.Len() == 0 && (m.HeartRate.Usable || m.HeartRate.Mean != nil || m.HeartRate.Min != nil || m.HeartRate.Peak != nil || m.Load.Lucia != nil || m.Load.Banister != nil) {
			t.Errorf("%s: %+v, load %+v", name, m.HeartRate, m.Load)
		}
		if m.Drift.Enough || len(m.Drift.Why) == 0 {
			t.Errorf("%s: drift %+v, want a reason", name, m.Drift)
		}
		if m.Zones.Sum() != w.Seconds {
			t.Errorf("%s: zones %+v", name, m.Zones)
		}
	}
}

func TestMeasureIsPureProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawn(t)
		s := heartrate.Clean(w)
		a := physiology.Measure(s, w, knownBody(), true)
		w.Start = w.Start.Add(time.Duration(rapid.IntRange(1, 1e6).Draw(t, "later")) * time.Second)
		b := physiology.Measure(heartrate.Clean(w), w, knownBody(), true)
		if !reflect.DeepEqual(a, b) {
			t.Fatal("another start changes the measurements")
		}
		text, err := json.Marshal(a)
		if err != nil {
			t.Fatal(err)
		}
		var back physiology.Measurements
		if err := json.Unmarshal(text, &back); err != nil {
			t.Fatal(err)
		}
		again, err := json.Marshal(back)
		if err != nil || string(again) != string(text) {
			t.Fatalf("measurements change in JSON: %v", err)
		}
	})
}

func BenchmarkMeasureHour(b *testing.B) {
	w := hour()
	s := heartrate.Clean(w)
	body := knownBody()
	for b.Loop() {
		physiology.Measure(s, w, body, false)
	}
}
