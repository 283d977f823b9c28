package fieldtest_test

import (
	"encoding/json"
	"math"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/fieldtest"
	"nextrung/internal/heartrate"
	"nextrung/internal/outside"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// remarked says whether a remark of that code was made.
func remarked(t fieldtest.Result, code workout.Code) bool {
	for _, r := range t.Remarks {
		if r.Code == code {
			return true
		}
	}
	return false
}

// classed is the one class of a result, "" for none.
func classed(t fieldtest.Result) fieldtest.Class {
	if len(t.Classes) != 1 {
		return ""
	}
	return t.Classes[0]
}

func kept(count float64) fieldtest.Step {
	return fieldtest.Step{BenchCM: 30, Stepped: 180, Count: count}
}

// The rows are those of the handbook (Golding) that were seen in copies; the counts between two printed
// ranges belong to the next class. The third row for men of 36-45 years is a misprint, read as 92-98.
func TestStepNorms(t *testing.T) {
	man := func(age float64) physiology.Body { return physiology.Body{Age: age, Sex: physiology.Male} }
	woman := func(age float64) physiology.Body { return physiology.Body{Age: age, Sex: physiology.Female} }
	for name, c := range map[string]struct {
		body  physiology.Body
		count float64
		want  fieldtest.Class
	}{
		"man of 25, last excellent":             {man(25), 76, "excellent"},
		"man of 25, in the gap":                 {man(25), 77, "good"},
		"man of 25.9 is 25":                     {man(25.9), 84, "good"},
		"man of 26":                             {man(26), 85, "good"},
		"man of 26, first above average":        {man(26), 88, "above average"},
		"man of 35, average":                    {man(35), 102, "average"},
		"man of 40, the misprinted row":         {man(40), 98, "above average"},
		"man of 40, below average":              {man(40), 106, "below average"},
		"man of 50, poor":                       {man(50), 126, "poor"},
		"man of 60, very poor":                  {man(60), 129, "very poor"},
		"man of 66, excellent":                  {man(66), 81, "excellent"},
		"man, beyond the last bound":            {man(20), 190, "very poor"},
		"woman of 25, excellent":                {woman(25), 81, "excellent"},
		"woman of 30, good":                     {woman(30), 92, "good"},
		"woman of 40, last good":                {woman(40), 96, "good"},
		"woman of 40, from memory: not classed": {woman(40), 97, ""},
		"woman of 50, not classed":              {woman(50), 130, ""},
		"woman of 60, good":                     {woman(60), 103, "good"},
		"sex unknown":                           {physiology.Body{Age: 40}, 80, ""},
		"age unknown":                           {physiology.Body{Sex: physiology.Male}, 80, ""},
		"a child":                               {man(15), 80, ""},
		"slowed":                                {physiology.Body{Age: 40, Sex: physiology.Male, Slowed: true}, 80, ""},
	} {
		t.Run(name, func(t *testing.T) {
			got := kept(c.count).Result(c.body)
			if !got.Enough || classed(got) != c.want || got.Classed == "" || got.Figures[0].Value != c.count {
				t.Errorf("classed %q, want %q; norms %q, figures %v", got.Classes, c.want, got.Classed, got.Figures)
			}
		})
	}
	if got := kept(97).Result(woman(40)); got.Classed != fieldtest.NoRow {
		t.Errorf("norms %v", got.Classed)
	}
}

// What contradicts the protocol is said and classes nobody.
func TestStepProtocol(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*fieldtest.Step)
		code   string
		rated  bool
	}{
		"kept":                 {func(s *fieldtest.Step) {}, "", true},
		"12 in":                {func(s *fieldtest.Step) { s.BenchCM = 30.48 }, "", true},
		"inches typed":         {func(s *fieldtest.Step) { s.BenchCM = 12 }, "bench", false},
		"a higher bench":       {func(s *fieldtest.Step) { s.BenchCM = 40 }, "bench", false},
		"bench not given":      {func(s *fieldtest.Step) { s.BenchCM = 0 }, "bench", false},
		"two minutes":          {func(s *fieldtest.Step) { s.Stepped = 120 }, "duration", false},
		"five seconds short":   {func(s *fieldtest.Step) { s.Stepped = 175 }, "", true},
		"duration not given":   {func(s *fieldtest.Step) { s.Stepped = 0 }, "duration", false},
		"counted from 20 s on": {func(s *fieldtest.Step) { s.CountAfter = 20 }, "late", false},
		"counted from 4 s on":  {func(s *fieldtest.Step) { s.CountAfter = 4 }, "", true},
		"a 15-s count":         {func(s *fieldtest.Step) { s.Count = 26 }, "count", false},
		"no such count":        {func(s *fieldtest.Step) { s.Count = 300 }, "count", false},
	} {
		t.Run(name, func(t *testing.T) {
			s := kept(90)
			c.change(&s)
			got := s.Result(physiology.Body{Age: 40, Sex: physiology.Male})
			if (len(got.Classes) > 0) != c.rated || c.code != "" && !remarked(got, workout.Code(c.code)) || c.code == "" && len(got.Remarks) > 0 {
				t.Errorf("rating %q, remarks %v; want rated %v and a remark %q", got.Classes, got.Remarks, c.rated, c.code)
			}
		})
	}
	if got := kept(90).Result(physiology.Body{Age: 70, Sex: physiology.Male}); !remarked(got, fieldtest.TooOld) {
		t.Errorf("above 65 years: %v", got.Remarks)
	}
	if got := (fieldtest.Step{}).Result(physiology.Body{}); got.Enough || len(got.Why) == 0 || len(got.Figures) > 0 {
		t.Errorf("nothing said: %+v", got)
	}
}

// A higher count never classes better.
func TestStepRatingFallsWithTheCount(t *testing.T) {
	order := map[fieldtest.Class]int{"excellent": 1, "good": 2, "above average": 3, "average": 4, "below average": 5, "poor": 6, "very poor": 7, "": 8}
	rapid.Check(t, func(t *rapid.T) {
		b := physiology.Body{Age: rapid.Float64Range(18, 90).Draw(t, "age"), Sex: rapid.SampledFrom([]physiology.Sex{physiology.Female, physiology.Male}).Draw(t, "sex")}
		a, c := rapid.Float64Range(50, 220).Draw(t, "count"), rapid.Float64Range(0, 30).Draw(t, "more")
		low, high := classed(kept(a).Result(b)), classed(kept(min(a+c, 225)).Result(b))
		if order[low] > order[high] {
			t.Fatalf("%.1f is %q, %.1f is %q", a, low, a+c, high)
		}
	})
}

// stepped plays a step test: 40 s standing, stepping, then sitting.
func stepped(seed uint64, seconds, tail int, o simulate.Options) (heartrate.Series, workout.Workout, simulate.Truth) {
	o.Seed, o.Tail, o.Still = seed, tail, true
	body := simulate.Beginner(66, 182)
	w, truth := simulate.Play(workout.Plan{Mode: workout.OtherMode, Steps: []workout.Step{
		{Kind: workout.OtherPart, Seconds: 40, Low: 1, High: 1},
		{Kind: workout.Work, Seconds: seconds, Low: 145, High: 155},
	}}, body, o)
	return heartrate.Clean(w), w, truth
}

// trueBeats is the truth: the heart's own beats in 5-65 s after the stop.
func trueBeats(truth simulate.Truth, stop int) float64 {
	sum := 0.0
	for _, v := range truth.BPM[stop+5 : stop+65] {
		sum += v / 60
	}
	return sum
}

// Played tests on invented bodies and sensors: the count against the heartbeats that the heart truly made.
func TestStepTestOfPlayedRecordings(t *testing.T) {
	for name, c := range map[string]struct {
		o      simulate.Options
		within float64
		known  bool // how long the client stepped
	}{
		"laps, no cadence":          {simulate.Options{Laps: true, NoLoad: true}, 0.5, true},
		"cadence":                   {simulate.Options{}, 0.5, true},
		"heart rate alone":          {simulate.Options{NoLoad: true}, 3, false},
		"a lost half minute":        {simulate.Options{Faults: []simulate.Fault{{Kind: simulate.Dropout, Span: workout.Span{From: 100, To: 130}}}}, 0.5, true},
		"a reading every 5 s, laps": {simulate.Options{Every: 5, Laps: true}, 1, true},
	} {
		t.Run(name, func(t *testing.T) {
			worst, inside := 0.0, 0
			for seed := range uint64(40) {
				s, w, truth := stepped(seed, 180, 120, c.o)
				got := fieldtest.ReadStep(s, w, fieldtest.Step{BenchCM: 30}).Result(physiology.Body{Age: 40, Sex: physiology.Male})
				if !got.Enough {
					t.Fatalf("seed %d: %v", seed, got.Why)
				}
				f, want := got.Figures[0], trueBeats(truth, 220)
				worst = max(worst, math.Abs(f.Value-want))
				if *f.Low-0.7 <= want && want <= *f.High+0.7 {
					inside++
				}
				if (len(got.Classes) > 0) != c.known || remarked(got, "duration") == c.known || remarked(got, "moved") {
					t.Fatalf("seed %d: rating %q, remarks %v", seed, got.Classes, got.Remarks)
				}
			}
			t.Logf("at most %.2f beats from the truth, %d of 40 within the range", worst, inside)
			if worst > c.within || inside < 36 {
				t.Errorf("off by up to %.2f beats (want %.1f), the range holds the truth in %d of 40", worst, c.within, inside)
			}
		})
	}
}

// Who sits for a while and then walks off has not stepped for longer.
func TestStepTestThatIsWalkedAwayFrom(t *testing.T) {
	w, truth := simulate.Play(workout.Plan{Mode: workout.OtherMode, Steps: []workout.Step{
		{Kind: workout.OtherPart, Seconds: 40, Low: 1, High: 1},
		{Kind: workout.Work, Seconds: 180, Low: 145, High: 155},
		{Kind: workout.OtherPart, Seconds: 70, Low: 1, High: 1},
		{Kind: workout.CoolDown, Seconds: 90, Low: 125, High: 125},
	}}, simulate.Beginner(66, 182), simulate.Options{Seed: 3})
	got := fieldtest.ReadStep(heartrate.Clean(w), w, fieldtest.Step{BenchCM: 30})
	if want := trueBeats(truth, 220); math.Abs(got.Count-want) > 1 || math.Abs(got.Stepped-180) > 5 {
		t.Errorf("%.1f beats after %.0f s of steps, truth %.1f after 180 s", got.Count, got.Stepped, want)
	}
}

func TestStepTestOfRecordingsThatDoNotTell(t *testing.T) {
	body := physiology.Body{Age: 40, Sex: physiology.Male}
	read := func(seconds, tail int, o simulate.Options) fieldtest.Result {
		s, w, _ := stepped(1, seconds, tail, o)
		return fieldtest.ReadStep(s, w, fieldtest.Step{BenchCM: 30}).Result(body)
	}
	if got := read(180, 40, simulate.Options{}); got.Enough || got.Why[0].Code != fieldtest.EndsEarly {
		t.Errorf("ends 40 s after the stop: %+v", got)
	}
	lost := simulate.Options{Laps: true, Faults: []simulate.Fault{{Kind: simulate.Dropout, Span: workout.Span{From: 230, To: 260}}}}
	if got := read(180, 120, lost); got.Enough || got.Why[0].Code != heartrate.LittleHeart {
		t.Errorf("half of the count lost: %+v", got)
	}
	if got := read(120, 120, simulate.Options{}); len(got.Classes) > 0 || !remarked(got, "duration") {
		t.Errorf("two minutes of steps: %+v", got)
	}
	if got := read(180, 120, simulate.Options{Sensor: workout.Wrist}); !got.Enough || !remarked(got, "wrist") || len(got.Classes) > 0 {
		t.Errorf("wrist: %q, %v", got.Classes, got.Remarks)
	}
	o := simulate.Options{Seed: 1, Tail: 100} // walking easily instead of sitting
	w, _ := simulate.Play(workout.Plan{Mode: workout.OtherMode, Steps: []workout.Step{{Kind: workout.Work, Seconds: 180, Low: 145, High: 155}}}, simulate.Beginner(66, 182), o)
	w.Laps = []workout.Lap{{Span: workout.Span{To: 180}}}
	if got := fieldtest.ReadStep(heartrate.Clean(w), w, fieldtest.Step{BenchCM: 30}).Result(body); !remarked(got, "moved") || len(got.Classes) > 0 {
		t.Errorf("walking after the stop: %q, %v", got.Classes, got.Remarks)
	}
	s, w, _ := stepped(1, 180, 120, simulate.Options{})
	typed := fieldtest.ReadStep(s, w, kept(101))
	if typed.Count != 101 {
		t.Errorf("a typed count gave way to %v", typed.Count)
	}
	if got := fieldtest.ReadStep(heartrate.Series{}, workout.Workout{}, fieldtest.Step{}).Result(body); got.Enough || len(got.Why) == 0 {
		t.Errorf("an empty recording: %+v", got)
	}
}

// The test itself: none of the real recordings is a step test, so none can be compared; every stop of a
// real interval recording must still give a count between the lowest and the highest heart rate of its
// minute, and never one at 60 s alone.
func TestStepCountOnRealStops(t *testing.T) {
	n := 0
	for _, row := range outside.Table(t, "research/interval_reference.csv") {
		end, ok := outside.Cell(t, row["start_s"])
		length, ok2 := outside.Cell(t, row["duration_s"])
		want60, ok3 := outside.Cell(t, row["hr_60"])
		atEnd, ok4 := outside.Cell(t, row["hr_end"])
		if !ok || !ok2 || !ok3 || !ok4 {
			continue
		}
		s, w := outside.Recorded(t, row["file"])
		stop := int(end + length)
		w.Laps = []workout.Lap{{Span: workout.Span{From: stop - 180, To: stop}}}
		got := fieldtest.ReadStep(s, w, fieldtest.Step{})
		if got.Count == 0 {
			continue
		}
		n++
		if got.Count < min(want60, atEnd)-8 || got.Count > max(want60, atEnd)+12 {
			t.Errorf("%s at %d: count %.1f, heart rate %v at the stop and %v at 60 s", row["file"], stop, got.Count, atEnd, want60)
		}
	}
	t.Logf("%d stops; step tests among the real recordings: none found", n)
	if n < 10 {
		t.Errorf("only %d stops were read", n)
	}
}

// Beat by beat: a real recording holds each beat's interval beside the heart rate that the count is made
// from. Over every minute whose intervals show no lost beat (none 1.6 times another, together 60 s) the
// count is the number of beats that really came.
func TestStepCountAgainstRealBeats(t *testing.T) {
	s, w := outside.Recorded(t, "fit/ski-duplicate-timestamps-01.fit")
	n, sum, worst := 0, 0.0, 0.0
	for stop := 180; stop+65 < len(s.BPM); stop += 30 {
		came, span, low, high := 0.0, 0.0, math.Inf(1), 0.0
		for i, at := range w.Intervals.T {
			if v := w.Intervals.V[i]; at > float64(stop+5) && at <= float64(stop+65) {
				came, span, low, high = came+1, span+v, min(low, v), max(high, v)
			}
		}
		if math.Abs(span-60) > 1 || high > 1.6*low {
			continue
		}
		w.Laps = []workout.Lap{{Span: workout.Span{From: stop - 180, To: stop}}}
		if got := fieldtest.ReadStep(s, w, fieldtest.Step{}); got.Count > 0 {
			n, sum, worst = n+1, sum+got.Count-came, max(worst, math.Abs(got.Count-came))
		}
	}
	t.Logf("%d minutes: the count is off by %.2f beats on average, at most %.1f", n, sum/float64(n), worst)
	if n < 60 || math.Abs(sum/float64(n)) > 0.3 || worst > 2.5 {
		t.Errorf("%d minutes, off by %.2f on average and by up to %.1f", n, sum/float64(n), worst)
	}
}

// No recording at hand is a step test or a mile walked fast. Each must give a figure or a reason, never
// both or neither, and nothing that JSON cannot hold.
func TestFieldTestsOfRealRecordings(t *testing.T) {
	research(t, "reads some hundred files")
	body, found := physiology.Body{Sex: physiology.Female, Age: 40}, map[string]int{}
	all := 0
	outside.Workouts(t, outside.Data(t), 1, func(name string, w workout.Workout) {
		s := heartrate.Clean(w)
		all++
		for _, f := range []fieldtest.Result{
			fieldtest.ReadStep(s, w, fieldtest.Step{BenchCM: 30}).Result(body),
			fieldtest.ReadWalk(s, w, fieldtest.Walk{MassKG: 70}).Result(body),
		} {
			if f.Enough != (len(f.Why) == 0) || f.Enough != (len(f.Figures) > 0) {
				t.Errorf("%s: %+v", name, f)
			}
			if _, err := json.Marshal(f); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			if len(f.Classes) > 0 || f.Enough && f.Protocol == "walk-test" {
				found[f.Protocol]++
				t.Logf("%s, %s, taken for a %s in %.0f s at %.0f bpm: %v", name, w.Sport, f.Protocol, f.Figures[2].Value, f.Figures[3].Value, f.Remarks)
				if w.Sport == workout.Running && !remarked(f, "run") {
					t.Errorf("%s: a run is not called one", name)
				}
			}
		}
	})
	t.Logf("of %d workouts: %v", all, found)
	if all < 50 || found["step-test"] > 0 {
		t.Errorf("of %d workouts: %v", all, found)
	}
}
