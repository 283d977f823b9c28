package coach

import (
	"context"
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/fieldtest"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// TypedTest is the typed part of a field test; the rest is read from the recording.
type TypedTest struct {
	Protocol   string  // step-test, walk-test or talk-test
	Bench      float64 // height in cm
	Stepped    string  // M:SS
	Count      float64 // beats in the full minute
	CountAfter float64 // s between the stop and the count
	WalkTime   string  // M:SS of the mile
	Distance   float64 // m
	EndBPM     float64 // of the last quarter
	Stages     string  // 112=comfortable,136=hard,148=no
	Held       string  // M:SS that each load was held
}

func (f *TypedTest) places(massKG *float64) map[fault.Field]place {
	return map[fault.Field]place{
		"protocol": {at: &f.Protocol}, "bench_cm": {at: &f.Bench}, "stepped": {at: &f.Stepped}, "count": {at: &f.Count}, "count_after": {at: &f.CountAfter},
		"walk_time": {at: &f.WalkTime}, "distance_m": {at: &f.Distance}, "end_bpm": {at: &f.EndBPM}, "stages": {at: &f.Stages}, "held": {at: &f.Held}, "mass_kg": {at: massKG},
	}
}

// Tested is a field test that was typed, or recorded in a file.
type Tested struct {
	Typed Facts // by the fields of TypedTest, see places
	Name  string
	File  []byte // nil for a test that was typed
}

// FieldTest reads a field test of a client with the facts that hold on a day, and keeps nothing.
func (c *Coach) FieldTest(ctx context.Context, client string, t Tested, on workout.Date) (fieldtest.Result, error) {
	facts, err := c.Client(ctx, client)
	if err != nil {
		return fieldtest.Result{}, err
	}
	typed, mass := TypedTest{}, facts.MassKG
	places, wrong := typed.places(&mass), []error(nil)
	for _, f := range slices.Sorted(maps.Keys(t.Typed)) {
		if text := strings.TrimSpace(t.Typed[f]); text != "" {
			wrong = append(wrong, places[f].read(f, text))
		}
	}
	if err := errors.Join(wrong...); err != nil {
		return fieldtest.Result{}, err
	}
	body := facts.Body(on)
	asked, result, err := typed.Read(body, mass)
	if err != nil || result != nil && t.File == nil {
		return deref(result), err
	}
	if t.File == nil {
		return fieldtest.Result{}, fault.New(fault.Wrong, "there is nothing to read: type what was measured, or choose the file")
	}
	for _, in := range asked.Inspect(t.Name, t.File, body) {
		for _, w := range in.Workouts {
			if w.FieldTest != nil {
				return *w.FieldTest, nil
			}
		}
		if in.Error != "" {
			return fieldtest.Result{}, fault.New(fault.Refused, "%s cannot be read: %s", in.File, in.Error)
		}
	}
	return fieldtest.Result{}, fault.New(fault.Refused, "%s holds no workout", t.Name)
}

func deref[T any](v *T) (out T) {
	if v != nil {
		out = *v
	}
	return out
}

// TestsBarred says why a client may do no field test on a day: every test goes beyond comfortable effort, so what bars
// training or anything harder than comfortable bars it, and so do an open question and an illness. Step holds what bars
// the step test besides.
func (c *Coach) TestsBarred(ctx context.Context, client string, on workout.Date) (why, step record.Facts, asks []record.Question, err error) {
	r, err := c.book.Record(ctx, client, on)
	if err != nil {
		return nil, nil, nil, err
	}
	all, harder := progression.NewReview(c.Policy, on, r).Bars()
	why = record.Map(slices.Concat(all, harder), func(x record.Reason) record.Fact { return x.Says })
	a := progression.Assess(c.Policy, on, r)
	if a.Unmet(policy.Illness) {
		why = append(why, a.Reason(policy.Illness).Says)
	}
	if r.Client.Born.YearsAt(on) > fieldtest.OldestToStep {
		step = append(step, workout.Say(fieldtest.TooOld, workout.Args{"age": fieldtest.OldestToStep}))
	}
	if d := r.Client.Disease(); d != "" {
		step = append(step, workout.Say(fieldtest.KnownDisease, workout.Args{"disease": d}))
	}
	return why, step, a.Unanswered, nil
}

// Read turns what was typed into what is asked of a recording, and, when all was typed, into its result.
func (f TypedTest) Read(b physiology.Body, massKG float64) (Asked, *fieldtest.Result, error) {
	asked := Asked{MassKG: massKG}
	for _, x := range []struct {
		field fault.Field
		of    string
		given bool
	}{
		{"bench_cm", "step-test", f.Bench != 0}, {"stepped", "step-test", f.Stepped != ""},
		{"count", "step-test", f.Count != 0}, {"count_after", "step-test", f.CountAfter != 0},
		{"walk_time", "walk-test", f.WalkTime != ""}, {"distance_m", "walk-test", f.Distance != 0},
		{"end_bpm", "walk-test", f.EndBPM != 0},
		{"stages", "talk-test", f.Stages != ""}, {"held", "talk-test", f.Held != ""},
	} {
		if x.given && f.Protocol != x.of {
			return asked, nil, fault.In(x.field, "", "is only for the %s", x.of)
		}
	}
	for _, x := range []struct {
		field fault.Field
		value float64
	}{
		{"bench_cm", f.Bench}, {"count", f.Count}, {"count_after", f.CountAfter}, {"distance_m", f.Distance}, {"end_bpm", f.EndBPM}, {"mass_kg", massKG},
	} {
		if x.value < 0 {
			return asked, nil, fault.In(x.field, x.value, "is negative")
		}
	}
	switch f.Protocol {
	case "step-test":
		stepped, odd, err := typedTime("stepped", f.Stepped)
		if err != nil {
			return asked, nil, err
		}
		t := fieldtest.Step{BenchCM: f.Bench, Stepped: stepped, Count: f.Count, CountAfter: f.CountAfter, Remarks: odd}
		asked.Step = &t
		return asked, ifTyped(f.Count != 0, t.Result(b)), nil
	case "walk-test":
		time, odd, err := typedTime("walk_time", f.WalkTime)
		if err != nil {
			return asked, nil, err
		}
		t := fieldtest.Walk{Seconds: time, Metres: f.Distance, EndBPM: f.EndBPM, MassKG: massKG, Remarks: odd}
		asked.Walk = &t
		return asked, ifTyped(f.WalkTime != "" || f.EndBPM != 0, t.Result(b)), nil
	case "talk-test":
		held, _, err := typedTime("held", f.Held)
		if err != nil {
			return asked, nil, err
		}
		stages, err := talkStages(f.Stages, held)
		if err != nil {
			return asked, nil, err
		}
		return asked, ifTyped(true, fieldtest.Talk(stages, b)), nil
	case "":
		return asked, nil, nil
	}
	return asked, nil, notOneOf("protocol", f.Protocol, "step-test", "walk-test", "talk-test")
}

func ifTyped(typed bool, t fieldtest.Result) *fieldtest.Result {
	if !typed {
		return nil
	}
	t = reasons.WriteTest(t)
	return &t
}

// typedTime reads a time in seconds, 0 for none.
func typedTime(f fault.Field, text string) (float64, []workout.Fact, error) {
	if text == "" {
		return 0, nil, nil
	}
	v, odd, ok := fieldtest.ClockTime(text)
	if !ok {
		return 0, nil, fault.In(f, text, "is not a time: write minutes:seconds, e.g. 15:12")
	}
	return v, odd, nil
}

// talkStages reads 112=comfortable,136=hard,148=no.
func talkStages(text string, held float64) ([]fieldtest.Stage, error) {
	var out []fieldtest.Stage
	for _, pair := range words(text) {
		rate, said, _ := strings.Cut(pair, "=")
		bpm, err := strconv.ParseFloat(rate, 64)
		answer, unknown := Word("stages", said, talks...)
		if err != nil || !(bpm >= physiology.Lowest && bpm <= physiology.Highest) || unknown != nil || answer == "" {
			return nil, fault.In("stages", pair, "is not a stage: write pairs like 112=comfortable,136=hard,148=no")
		}
		out = append(out, fieldtest.Stage{BPM: bpm, Seconds: held, Answer: string(answer)})
	}
	if len(out) == 0 {
		return nil, fault.In("stages", "", "is missing: write pairs like 112=comfortable,136=hard,148=no")
	}
	return out, nil
}
