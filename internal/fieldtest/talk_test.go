package fieldtest_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"nextrung/internal/fieldtest"
	"nextrung/internal/physiology"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

// talked makes stages of 3 min from answers at rising heart rates 110, 118, ...: c, h or n.
func talked(answers string) []fieldtest.Stage {
	word := map[rune]string{'c': "comfortable", 'h': "hard", 'n': "no", '?': "so-so"}
	var out []fieldtest.Stage
	for i, a := range answers {
		out = append(out, fieldtest.Stage{BPM: float64(110 + 8*i), Seconds: 180, Answer: word[a]})
	}
	return out
}

// thresholds reads T1 and T2 off a result, 0 when it has none.
func thresholds(f fieldtest.Result) (t1, t2 float64) {
	for _, g := range f.Figures {
		switch g.Code {
		case fieldtest.T1:
			t1 = g.Value
		case fieldtest.T2:
			t2 = g.Value
		}
	}
	return t1, t2
}

// T1 is the last comfortable stage, T2 the first at which talk is hardly possible (the talk test as
// Foster and others describe it: comfortable at or below the first threshold, not comfortable near the second).
func TestTalkTest(t *testing.T) {
	early := talked("ccchn")
	early[2].Seconds = 60
	earlyHard := talked("cchhn")
	earlyHard[2].Seconds = 60
	fell := talked("cchn")
	fell[0], fell[1] = fell[1], fell[0]
	untold := talked("cchn")
	untold[1].Seconds = 0
	steps := talked("cchn")
	steps[2].BPM, steps[3].BPM = 140, 155
	for name, c := range map[string]struct {
		stages []fieldtest.Stage
		t1, t2 float64
		code   string
	}{
		"as it should be":           {talked("ccchhn"), 126, 150, ""},
		"straight to no":            {talked("ccn"), 118, 126, ""},
		"never hardly possible":     {talked("cch"), 118, 0, "no-t2"},
		"never hard":                {talked("ccc"), 0, 0, "no-t2"},
		"nothing comfortable":       {talked("hhn"), 0, 126, ""},
		"comfortable again above":   {talked("chchn"), 110, 142, "contradiction"},
		"hard above no":             {talked("cchnh"), 118, 134, "contradiction"},
		"a comfortable asked early": {early, 118, 142, "early"},
		"a hard asked early counts": {earlyHard, 118, 142, "early"},
		"heart rate fell":           {fell, 118, 134, "order"},
		"time at load not given":    {untold, 118, 134, "untold"},
		"stages far apart":          {steps, 118, 155, "apart"},
		"an unknown answer":         {talked("cc?hn"), 118, 142, "answer"},
		"no such heart rate":        {append(talked("cchn"), fieldtest.Stage{BPM: 300, Seconds: 180, Answer: "no"}), 118, 134, "bpm"},
		"two answers at one rate":   {append(talked("cc"), fieldtest.Stage{BPM: 118, Seconds: 180, Answer: "hard"}), 110, 0, "contradiction"},
		"nothing was asked":         {nil, 0, 0, "no-t2"},
	} {
		t.Run(name, func(t *testing.T) {
			got := fieldtest.Talk(c.stages, physiology.Body{})
			t1, t2 := thresholds(got)
			if t1 != c.t1 || t2 != c.t2 || got.Enough != (c.t1 > 0) || got.Enough != (len(got.Why) == 0) {
				t.Errorf("T1 %v, T2 %v, why %v; want %v, %v", t1, t2, got.Why, c.t1, c.t2)
			}
			if c.code != "" && !remarked(got, workout.Code(c.code)) || c.code == "" && len(got.Remarks) > 0 {
				t.Errorf("remarks %v, want %q", got.Remarks, c.code)
			}
		})
	}
	if got := fieldtest.Talk(talked("cchn"), physiology.Body{Slowed: true}); !remarked(got, "slowed") {
		t.Error("a medicine that slows the heart is not mentioned")
	}
}

// Whatever was answered: T1 was comfortable, nothing at or below it was not, and T2 lies above it.
func TestTalkThresholdsNeverContradictTheAnswers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stages := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) fieldtest.Stage {
			return fieldtest.Stage{BPM: float64(rapid.IntRange(80, 190).Draw(t, "bpm")), Seconds: 180,
				Answer: rapid.SampledFrom([]string{"comfortable", "hard", "no"}).Draw(t, "answer")}
		}), 0, 9).Draw(t, "stages")
		t1, t2 := thresholds(fieldtest.Talk(stages, physiology.Body{}))
		seen := t1 == 0
		for _, s := range stages {
			seen = seen || s.BPM == t1 && s.Answer == "comfortable"
			if s.Answer != "comfortable" && s.BPM <= t1 {
				t.Fatalf("T1 %v, but %q at %v", t1, s.Answer, s.BPM)
			}
			if s.Answer == "no" && (t2 == 0 || s.BPM < t2) {
				t.Fatalf("T2 %v, but no talk at %v", t2, s.BPM)
			}
		}
		if !seen || t1 > 0 && t2 > 0 && t2 <= t1 {
			t.Fatalf("T1 %v, T2 %v of %v", t1, t2, stages)
		}
	})
}

// An invented client with known talking thresholds, asked at the end of 4-min stages: the thresholds lie
// within the step between two stages.
func TestTalkTestOfAPlayedClient(t *testing.T) {
	body := simulate.Beginner(62, 184)
	body.DayToDay = 0
	want1, want2 := body.At(body.Talk1), body.At(body.Talk2)
	var stages []fieldtest.Stage
	for bpm := 105.0; bpm < 175; bpm += 6 {
		_, truth := simulate.Play(workout.Plan{Mode: workout.Walk, Steps: []workout.Step{{Kind: workout.Steady, Seconds: 240, Low: bpm, High: bpm}}}, body, simulate.Options{Seed: uint64(bpm)})
		stages = append(stages, fieldtest.Stage{BPM: truth.BPM[239], Seconds: 240, Answer: truth.Talk})
	}
	t1, t2 := thresholds(fieldtest.Talk(stages, physiology.Body{}))
	if said := fmt.Sprintf("T1 %.1f, truly %.1f; T2 %.1f, truly %.1f", t1, want1, t2, want2); t1 < want1-9 || t1 > want1+3 || t2 < want2-3 || t2 > want2+9 {
		t.Error(said)
	} else {
		t.Log(said)
	}
}
