package recording_test

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/google/go-cmp/cmp"
	"github.com/muktihari/fit/decoder"
	"github.com/muktihari/fit/profile/filedef"
	"github.com/muktihari/fit/profile/typedef"
	tormoder "github.com/tormoder/fit"
	"pgregory.net/rapid"

	"nextrung/internal/outside"
	"nextrung/internal/recording"
	"nextrung/internal/workout"
)

// readStep is a workout step as a reader of FIT gives it.
type readStep struct {
	Index             int
	Name, Notes       string
	Seconds           float64
	Open              bool
	Low, High         int // bpm
	Intensity         int // number in the FIT profile
	ByTime, Zone0Beat bool
}

type readPlan struct {
	Name  string
	Sport int
	Valid int
	Steps []readStep
}

// bpmOf undoes the offset: 0 to 100 would be per cent (FIT profile, workout_hr: bpm_offset = 100).
func bpmOf(v uint32) int {
	if v == math.MaxUint32 {
		return 0
	}
	return int(v) - 100
}

func byMuktihari(t require, b []byte) readPlan {
	t.Helper()
	// This decoder checks the checksum of header and data.
	f, err := decoder.New(bytes.NewReader(b)).Decode()
	if err != nil {
		t.Fatalf("muktihari/fit: %v", err)
	}
	w := filedef.NewWorkout(f.Messages...)
	if w.FileId.Type != typedef.FileWorkout || w.FileId.Manufacturer != typedef.ManufacturerDevelopment || w.FileId.SerialNumber == 0 {
		t.Fatalf("file id %+v", w.FileId)
	}
	out := readPlan{w.Workout.WktName, int(w.Workout.Sport), int(w.Workout.NumValidSteps), nil}
	for _, s := range w.WorkoutSteps {
		out.Steps = append(out.Steps, readStep{
			int(s.MessageIndex), s.WktStepName, s.Notes, float64(s.DurationValue) / 1000, s.TargetType == typedef.WktStepTargetOpen,
			bpmOf(s.CustomTargetValueLow), bpmOf(s.CustomTargetValueHigh), int(s.Intensity),
			s.DurationType == typedef.WktStepDurationTime, s.TargetType == typedef.WktStepTargetHeartRate && s.TargetValue == 0,
		})
	}
	return out
}

func byTormoder(t require, b []byte) readPlan {
	t.Helper()
	if err := tormoder.CheckIntegrity(bytes.NewReader(b), false); err != nil {
		t.Fatalf("tormoder/fit, checksum: %v", err)
	}
	f, err := tormoder.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("tormoder/fit: %v", err)
	}
	w, err := f.Workout()
	if err != nil {
		t.Fatalf("tormoder/fit: %v", err)
	}
	out := readPlan{w.Workout.WktName, int(w.Workout.Sport), int(w.Workout.NumValidSteps), nil}
	for _, s := range w.WorkoutSteps {
		seconds, _ := s.GetDurationValue().(float64)
		out.Steps = append(out.Steps, readStep{
			int(s.MessageIndex), s.WktStepName, s.Notes, seconds, s.TargetType == tormoder.WktStepTargetOpen,
			bpmOf(s.CustomTargetValueLow), bpmOf(s.CustomTargetValueHigh), int(s.Intensity),
			s.DurationType == tormoder.WktStepDurationTime, s.TargetType == tormoder.WktStepTargetHeartRate && s.TargetValue == 0,
		})
	}
	return out
}

// require is what *testing.T and *rapid.T share.
type require interface {
	Helper()
	Fatalf(format string, args ...any)
	Errorf(format string, args ...any)
}

// wantSteps is what a reader must find in a plan: numbers of the FIT profile, intensity: active 0,
// warmup 2, cooldown 3, recovery 4.
func wantSteps(p workout.Plan) []readStep {
	var out []readStep
	intensity := map[workout.StepKind]int{workout.WarmUp: 2, workout.CoolDown: 3, workout.Recovery: 4}
	for i, s := range p.Steps {
		w := readStep{Index: i, Seconds: float64(s.Seconds), Intensity: intensity[s.Kind], ByTime: true}
		if s.Low == 0 && s.High == 0 {
			w.Open = true
		} else {
			w.Zone0Beat, w.Low, w.High = true, 30, 230
			if s.Low > 0 {
				w.Low = int(math.Round(s.Low))
			}
			if s.High > 0 {
				w.High = int(math.Round(s.High))
			}
		}
		out = append(out, w)
	}
	return out
}

// checkPlan writes a plan and reads it with both readers.
func checkPlan(t require, p workout.Plan) readPlan {
	t.Helper()
	b, err := recording.EncodeWorkoutFIT(p)
	if err != nil {
		t.Fatalf("%v", err)
	}
	again, err := recording.EncodeWorkoutFIT(p)
	if err != nil || !bytes.Equal(b, again) {
		t.Fatalf("not the same bytes twice: %v", err)
	}
	one, two := byMuktihari(t, b), byTormoder(t, b)
	if d := cmp.Diff(one, two); d != "" {
		t.Fatalf("the readers differ: %s", d)
	}
	got := readPlan{Steps: append([]readStep(nil), one.Steps...)}
	for i, s := range got.Steps {
		if s.Name == "" || len(s.Name) > 15 {
			t.Fatalf("step %d is called %q", i, s.Name)
		}
		got.Steps[i].Name, got.Steps[i].Notes = "", ""
	}
	if d := cmp.Diff(wantSteps(p), got.Steps); d != "" {
		t.Fatalf("steps: %s", d)
	}
	if one.Valid != len(p.Steps) {
		t.Fatalf("%d valid steps said, %d written", one.Valid, len(p.Steps))
	}
	if one.Name == "" || !utf8.ValidString(one.Name) {
		t.Fatalf("name %q", one.Name)
	}
	for _, f := range recording.Decode("plan.fit", b) {
		if f.Err == nil || !strings.Contains(f.Err.Error(), "planned workout, not a recording") {
			t.Fatalf("our own reader: %v", f.Err)
		}
		if len(f.Remarks) > 0 {
			t.Fatalf("our own reader remarks %v", f.Remarks)
		}
	}
	return one
}

// bouts is a plan of an interval session with beats.
func bouts() workout.Plan {
	p := workout.Plan{Name: "Session 2 of 3: intervals", Mode: workout.Bike, Steps: []workout.Step{
		{Kind: workout.WarmUp, Seconds: 300, High: 112.4, Feel: workout.Comfortable},
		{Kind: workout.Steady, Seconds: 420, Low: 112.4, High: 134.5, Feel: workout.Comfortable},
	}}
	for n := range 2 {
		if n > 0 {
			p.Steps = append(p.Steps, workout.Step{Kind: workout.Recovery, Seconds: 180, High: 134.5})
		}
		p.Steps = append(p.Steps, workout.Step{Kind: workout.Work, Seconds: 60, Low: 134.5, High: 151, Feel: workout.Brisk})
	}
	return workout.Plan{Name: p.Name, Mode: p.Mode, Steps: append(p.Steps, workout.Step{Kind: workout.CoolDown, Seconds: 300})}
}

func TestPlannedWorkoutIsReadByOthers(t *testing.T) {
	got := checkPlan(t, bouts())
	want := readPlan{"Session 2 of 3: intervals", 2, 6, []readStep{ // FIT profile, sport: cycling 2
		{0, "Warm-up", "Comfortable: talking is easy", 300, false, 30, 112, 2, true, true},
		{1, "Steady", "Comfortable: talking is easy", 420, false, 112, 135, 0, true, true},
		{2, "Bout 1/2", "Brisk: sentences get short", 60, false, 135, 151, 0, true, true},
		{3, "Recovery", "", 180, false, 30, 135, 4, true, true},
		{4, "Bout 2/2", "Brisk: sentences get short", 60, false, 135, 151, 0, true, true},
		{5, "Cool-down", "", 300, true, 0, 0, 3, true, false},
	}}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// The values as they stand in the file: 112 bpm is stored as 212, a minute as 60000.
func TestBeatsAreStoredWithTheOffset(t *testing.T) {
	b, err := recording.EncodeWorkoutFIT(workout.Plan{Steps: []workout.Step{{Kind: workout.Work, Seconds: 60, Low: 112, High: 145}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := tormoder.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	w, err := f.Workout()
	if err != nil {
		t.Fatal(err)
	}
	if s := w.WorkoutSteps[0]; s.CustomTargetValueLow != 212 || s.CustomTargetValueHigh != 245 || s.DurationValue != 60000 {
		t.Errorf("low %d, high %d, duration %d", s.CustomTargetValueLow, s.CustomTargetValueHigh, s.DurationValue)
	}
}

func TestPlansOfEverySport(t *testing.T) {
	for mode, want := range map[workout.Mode]int{ // FIT profile, sport
		workout.Run: 1, workout.Walk: 11, workout.Bike: 2, workout.Row: 15, workout.Swim: 5, workout.OtherMode: 0, "": 0,
	} {
		p := bouts()
		p.Mode = mode
		if got := checkPlan(t, p); got.Sport != want {
			t.Errorf("%s: sport %d, want %d", mode, got.Sport, want)
		}
	}
}

func TestPlansAtTheirLimits(t *testing.T) {
	at := workout.Plan{Steps: []workout.Step{{Kind: workout.Steady, Seconds: 1, Low: 30, High: 30}, {Kind: workout.Steady, Seconds: 7 * 86400, Low: 230, High: 230}}}
	if got := checkPlan(t, at); got.Name != "Session" {
		t.Errorf("a plan without a name is called %q", got.Name)
	}
	long := workout.Plan{Name: "long"}
	for range 4095 {
		long.Steps = append(long.Steps, workout.Step{Kind: workout.Work, Seconds: 10, Low: 120, High: 130})
	}
	checkPlan(t, long)
	step := func(s workout.Step) workout.Plan { return workout.Plan{Steps: []workout.Step{s}} }
	for _, c := range []struct {
		name string
		p    workout.Plan
		want string
	}{
		{"no steps", workout.Plan{}, "0 steps"},
		{"too many steps", workout.Plan{Steps: append(long.Steps, long.Steps[0])}, "4096 steps"},
		{"no time", step(workout.Step{}), "0 s"},
		{"negative time", step(workout.Step{Seconds: -5}), "-5 s"},
		{"too long", step(workout.Step{Seconds: 7*86400 + 1}), "7 days"},
		{"too low", step(workout.Step{Seconds: 60, Low: 29, High: 100}), "cannot be a target"},
		{"too high", step(workout.Step{Seconds: 60, Low: 100, High: 231}), "cannot be a target"},
		{"wrong way round", step(workout.Step{Seconds: 60, Low: 140, High: 120}), "cannot be a target"},
		{"negative", step(workout.Step{Seconds: 60, Low: -60, High: 120}), "cannot be a target"},
		{"no number", step(workout.Step{Seconds: 60, Low: math.NaN(), High: 120}), "cannot be a target"},
	} {
		if _, err := recording.EncodeWorkoutFIT(c.p); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// Names are cut between runes, where the field ends: 255 bytes with the closing zero.
func TestLongNamesAreCutAtRunes(t *testing.T) {
	for name, want := range map[string]string{
		strings.Repeat("x", 254):              strings.Repeat("x", 254),
		strings.Repeat("x", 300):              strings.Repeat("x", 254),
		strings.Repeat("ø", 200):              strings.Repeat("ø", 127),
		"x" + strings.Repeat("🚣", 100):        "x" + strings.Repeat("🚣", 63),
		"Tuesday\x00 morning\r\n\xffby boat":  "Tuesday  morning  by boat",
		"   ":                                 "Session",
		strings.Repeat("é", 126) + "y" + "🚣🚣": strings.Repeat("é", 126) + "y",
	} {
		p := bouts()
		p.Name = name
		if got := checkPlan(t, p); got.Name != want {
			t.Errorf("%q became %q", name, got.Name)
		}
	}
}

// Any plan is read by both readers with the same steps, durations and targets.
func TestAnyPlanIsReadByOthers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := workout.Plan{Name: rapid.String().Draw(t, "name"), Mode: rapid.SampledFrom(append(workout.Modes(), "")).Draw(t, "mode")}
		for range rapid.IntRange(1, 80).Draw(t, "steps") {
			s := workout.Step{
				Kind:    rapid.SampledFrom([]workout.StepKind{workout.WarmUp, workout.Steady, workout.Work, workout.Recovery, workout.CoolDown, workout.OtherPart}).Draw(t, "kind"),
				Seconds: rapid.IntRange(1, 4*3600).Draw(t, "seconds"),
				Feel:    rapid.SampledFrom([]workout.Feel{"", workout.Comfortable, workout.Brisk, workout.Hard}).Draw(t, "feel"),
			}
			if rapid.Bool().Draw(t, "low") {
				s.Low = rapid.Float64Range(30, 230).Draw(t, "low bpm")
			}
			if rapid.Bool().Draw(t, "high") {
				s.High = rapid.Float64Range(max(30, s.Low), 230).Draw(t, "high bpm")
			}
			p.Steps = append(p.Steps, s)
		}
		checkPlan(t, p)
	})
}

// Planned workouts that others wrote (the test data of the FIT module, read in place) are refused as
// such. One of them stores 125 bpm as 225 and 50 and 60 per cent as they are, which shows the offset.
func TestPlannedWorkoutsOfOthersAreRefused(t *testing.T) {
	dir := filepath.Join(outside.Module(t, "github.com/muktihari/fit"), "testdata", "from_official_sdk")
	for _, name := range []string{"WorkoutCustomTargetValues", "WorkoutIndividualSteps", "WorkoutRepeatGreaterThanStep", "WorkoutRepeatSteps"} {
		b, err := os.ReadFile(filepath.Join(dir, name+".fit"))
		if err != nil {
			t.Fatal(err)
		}
		if why := refused(t, b); !strings.Contains(why, "planned workout, not a recording") {
			t.Errorf("%s: %s", name, why)
		}
		// Cut short it is still no recording.
		if why := refused(t, b[:len(b)-20]); !strings.Contains(why, "planned workout, not a recording") {
			t.Errorf("%s, cut short: %s", name, why)
		}
	}
}

// An activity chained behind its plan is read.
func TestActivityBehindItsPlan(t *testing.T) {
	plan, err := recording.EncodeWorkoutFIT(bouts())
	if err != nil {
		t.Fatal(err)
	}
	f := decode(t, "both.fit", append(plan, written(t, "fit")...))
	if w := only(t, f); w.Seconds != 20 {
		t.Errorf("%d s", w.Seconds)
	}
}
