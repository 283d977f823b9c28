package prescription_test

import (
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"nextrung/internal/heartrate"
	"nextrung/internal/physiology"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/simulate"
	"nextrung/internal/workout"
)

var update = flag.Bool("update", false, "write the texts of testdata anew")

// TestModes: what the client enjoys among what they can do, else what they do.
func TestModes(t *testing.T) {
	walk, run, bike, row := workout.Walk, workout.Run, workout.Bike, workout.Row
	for _, c := range []struct {
		name              string
		modes             []workout.Mode
		enjoys, equipment []string
		done              []workout.Sport
		want              string // the modes of three sessions and of the check session
	}{
		{"as entered", []workout.Mode{walk, bike}, nil, nil, nil, "walk walk walk, check walk"},
		{"as done lately", []workout.Mode{run, walk}, nil, nil, []workout.Sport{workout.Walking, workout.Walking, workout.Running}, "walk walk walk, check walk"},
		{"beginners walk, whatever they like", []workout.Mode{run, walk}, []string{"running"}, nil, nil, "walk walk walk, check walk"},
		{"and take turns, but do not run yet", []workout.Mode{run, bike, walk}, []string{"running", "cycling", "walking"}, nil, nil, "walk bike walk, check walk"},
		{"strength is no mode to go by", []workout.Mode{run, workout.OtherMode}, nil, nil, []workout.Sport{workout.Strength, workout.Strength}, "run run run, check run"},
		{"as enjoyed", []workout.Mode{run, walk, bike}, []string{"riding to the lighthouse"}, nil, []workout.Sport{workout.Running}, "bike bike bike, check bike"},
		{"several take turns", []workout.Mode{run, walk, bike}, []string{"Rides", "Walking the dog"}, nil, nil, "walk bike walk, check walk"},
		{"parts of words mean nothing", []workout.Mode{run, row}, []string{"brown trout", "arrows", "the grown-ups"}, nil, nil, "run run run, check run"},
		{"not without the equipment", []workout.Mode{run, row}, []string{"rowing"}, []string{"running shoes"}, nil, "run run run, check run"},
		{"with the equipment", []workout.Mode{run, row}, []string{"rowing"}, []string{"rowing machine"}, nil, "row row row, check row"},
		{"equipment that was not told is there", []workout.Mode{run, row}, []string{"rowing"}, nil, nil, "row row row, check row"},
		{"a check session on the machine", []workout.Mode{walk, bike}, []string{"walking"}, []string{"exercise bike"}, nil, "walk walk walk, check bike"},
		{"a gym has machines", []workout.Mode{bike, workout.Swim}, nil, []string{"gym"}, nil, "bike bike bike, check bike"},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := record.Record{Client: deckhand()}
			r.Client.Modes, r.Client.Enjoys, r.Client.Equipment = c.modes, record.AllUnderstood(c.enjoys...), record.AllUnderstood(c.equipment...)
			for i, s := range c.done {
				did(&r, 7+i, s, 0)
			}
			p := steadyWeek(3, c.modes...)
			var got []string
			for _, s := range lay(p, r).Sessions {
				got = append(got, string(s.Plan.Mode))
			}
			p.Check = 36
			for _, s := range lay(p, r).Sessions {
				if s.Kind == prescription.Check {
					got = append(got, "check "+string(s.Plan.Mode))
				}
			}
			if text := strings.Replace(strings.Join(got, " "), " check", ", check", 1); text != c.want {
				t.Errorf("%s, want %s", text, c.want)
			}
		})
	}
}

// TestModeAfterARest: what was done before a break counts while nothing is recent; who was active
// before, or has done a session, is no beginner.
func TestModeAfterARest(t *testing.T) {
	modes := []workout.Mode{workout.Run, workout.Walk}
	for _, c := range []struct {
		name   string
		active bool
		sport  workout.Sport
		before []int // days before the prescription
		recent []int // the same, of runs
		want   workout.Mode
	}{
		{"a walker after a break", true, workout.Walking, []int{40, 42, 45}, nil, workout.Walk},
		{"the same, inactive before", false, workout.Walking, []int{40, 42, 45}, nil, workout.Walk},
		{"a runner after a break", false, workout.Running, []int{40, 42, 45}, nil, workout.Run},
		{"what is recent counts more", true, workout.Walking, []int{40, 42, 45}, []int{3}, workout.Run},
		{"active before and nothing done yet", true, workout.Walking, nil, nil, workout.Run},
		{"inactive before and nothing done yet", false, workout.Walking, nil, nil, workout.Walk},
		{"resistance work is no session to go by", false, workout.Strength, []int{3, 5}, nil, workout.Walk},
	} {
		r := record.Record{Client: deckhand()}
		r.Client.Modes, r.Client.Screening.Active = modes, c.active
		for _, d := range c.before {
			did(&r, d, c.sport, 0)
		}
		for _, d := range c.recent {
			did(&r, d, workout.Running, 0)
		}
		for _, s := range lay(steadyWeek(3, modes...), r).Sessions {
			if s.Plan.Mode != c.want {
				t.Errorf("%s: %s, want %s", c.name, s.Plan.Mode, c.want)
			}
		}
	}
}

// TestBeatsOfTheMode: each session has the alarms of its own mode.
func TestBeatsOfTheMode(t *testing.T) {
	p := steadyWeek(2, workout.Walk, workout.Bike)
	p.Targets[1].Low, p.Targets[1].High = 113, 135
	r := record.Record{Client: deckhand()}
	r.Client.Modes, r.Client.Enjoys = []workout.Mode{workout.Walk, workout.Bike}, record.AllUnderstood("walking", "cycling")
	for i, s := range lay(p, r).Sessions {
		if want := p.Targets[i]; s.Plan.Mode != want.Mode || s.Low != want.Low || s.High != want.High || s.Plan.Steps[1].High != want.High {
			t.Errorf("%s: %.0f to %.0f, steps %+v", s.Plan.Mode, s.Low, s.High, s.Plan.Steps)
		}
	}
}

// TestAtHome: who has no machine gets something to do without one.
func TestAtHome(t *testing.T) {
	for _, c := range []struct {
		equipment []string
		want      bool
	}{
		{nil, true}, {[]string{"running shoes"}, true}, {[]string{"a skipping rope", "dumb-bells"}, true},
		{[]string{"no gym near me"}, true}, {[]string{"treadmill"}, false}, {[]string{"Exercise bike"}, false}, {[]string{"shoes", "the gym in the harbour"}, false}, {[]string{"rowing machine"}, false},
	} {
		r := record.Record{Client: deckhand()}
		r.Client.Equipment = record.AllUnderstood(c.equipment...)
		w := lay(steadyWeek(3), r)
		if (len(w.Home) > 0) != c.want || strings.Contains(w.Text(), "At home") != c.want {
			t.Errorf("with %q: %q", c.equipment, w.Home)
		}
		if got := strings.Join(lay(intervalWeek(3, 1), r).Home, " "); c.want && !strings.Contains(got, "For the brisk parts") {
			t.Errorf("nothing for the bouts: %q", got)
		}
	}
}

// TestFlexibility: before the warm-up, not after it; static stretching for muscles found tight, moving
// stretches for clients used to training (common practice, no source).
func TestFlexibility(t *testing.T) {
	for _, c := range []struct {
		name         string
		tight        []string
		active       bool
		static, move bool
	}{
		{"neither", nil, false, false, false},
		{"tight muscles", []string{"the calves", "the hips"}, false, true, false},
		{"used to training", nil, true, false, true},
		{"both", []string{"the calves"}, true, true, true},
	} {
		r := record.Record{Client: deckhand()}
		r.Client.Tight, r.Client.Screening.Active = c.tight, c.active
		got := lay(steadyWeek(3), r).Before
		if strings.Contains(got, "without bouncing") != c.static || strings.Contains(got, "moving stretches") != c.move {
			t.Errorf("%s: %q", c.name, got)
		}
		if !strings.Contains(got, "not after it") {
			t.Errorf("%s: no order in %q", c.name, got)
		}
		for _, m := range c.tight {
			if !strings.Contains(got, m) {
				t.Errorf("%s: %s is missing from %q", c.name, m, got)
			}
		}
	}
}

// TestNoBeatsByEffort: where the heart rate must not lead there are none, whatever the prescription
// says: not in plans, alarms or any text.
func TestNoBeatsByEffort(t *testing.T) {
	number := regexp.MustCompile(`\b(119|142|160)\b|your pulse (below|between)|bpm|alarm`)
	for name, change := range map[string]func(*record.Client){
		"a medicine": func(c *record.Client) { c.Medicine = record.Slows },
		"pregnant":   func(c *record.Client) { c.Conditions = []record.Condition{record.Pregnant} },
	} {
		r := record.Record{Client: deckhand()}
		inStage2(&r)
		change(&r.Client)
		p := intervalWeek(3, 1)
		p.Check = 36
		w := lay(p, r)
		for _, s := range w.Sessions {
			for _, step := range s.Plan.Steps {
				if step.Low != 0 || step.High != 0 {
					t.Errorf("%s: beats in %s: %+v", name, s.Kind, step)
				}
			}
			if s.Low != 0 || s.High != 0 {
				t.Errorf("%s: alarms in %s", name, s.Kind)
			}
		}
		for _, text := range []string{w.Text(), strings.ReplaceAll(w.Trainer(), "no beats", "")} {
			if m := number.FindString(text); m != "" {
				t.Errorf("%s: %q in\n%s", name, m, text)
			}
		}
		if p.Targets[0].High != 142 || p.Intervals.High != 160 {
			t.Error("the prescription itself was changed")
		}
	}
}

// TestNoLowBeatsAfterAHardWeek: who is told to go slower is driven on by no lower limit, in no plan,
// alarm or text; the upper ones stay, and so does the prescription itself.
func TestNoLowBeatsAfterAHardWeek(t *testing.T) {
	r := record.Record{Client: deckhand()}
	inStage2(&r)
	p := intervalWeek(3, 1)
	p.Intervals.Work, p.Intervals.Rest, p.Intervals.Low = 180, 180, 143
	p.Minutes, p.Check = 45, 45
	for _, slower := range []bool{false, true} {
		p.Slower = slower
		w := lay(p, r)
		lower := 0
		for _, s := range w.Sessions {
			if s.High == 0 || s.Plan.Steps[0].High != 119 {
				t.Errorf("slower %v: an upper limit is gone from the %s: %+v", slower, s.Kind, s)
			}
			if s.Low > 0 {
				lower++
			}
			for _, step := range s.Plan.Steps {
				if step.Low > 0 {
					lower++
				}
				if step.High == 0 {
					t.Errorf("slower %v: no upper limit: %+v", slower, step)
				}
			}
		}
		for _, x := range w.Targets {
			if x.Low != "" {
				lower++
			}
			if x.High == "" {
				t.Errorf("slower %v: no high alarm: %+v", slower, x)
			}
		}
		told := regexp.MustCompile(`\b(119|143)\b|alarms?: low`)
		for form, text := range map[string]string{"text": w.Text(), "trainer's form": w.Trainer()} {
			if told.MatchString(text) == slower {
				t.Errorf("slower %v: the %s says\n%s", slower, form, text)
			}
			if strings.Contains(text, "no lower limit this week") != slower || !strings.Contains(text, "142") {
				t.Errorf("slower %v: the %s says\n%s", slower, form, text)
			}
		}
		if (lower == 0) != slower {
			t.Errorf("slower %v: %d lower limits", slower, lower)
		}
	}
	if p.Targets[0].Low != 119 || p.Intervals.Low != 143 {
		t.Error("the prescription itself was changed")
	}
}

// TestCheckSessionIsOne: played as written on a machine it is measured as a check session, in short
// weeks and in long ones.
func TestCheckSessionIsOne(t *testing.T) {
	for _, minutes := range []int{35, 36, 40, 45} {
		p := steadyWeek(3)
		p.Minutes, p.Check = minutes, minutes
		r := record.Record{Client: deckhand()}
		for _, s := range lay(p, r).Sessions {
			if s.Kind != prescription.Check {
				continue
			}
			if s.Plan.Seconds() != 60*minutes {
				t.Errorf("%d s, want %d min", s.Plan.Seconds(), minutes)
			}
			w, _ := simulate.Play(s.Plan, simulate.Beginner(65, 185), simulate.Options{Seed: 7, Start: s.Day.Time(), Place: workout.Indoor, Sensor: workout.Strap, Laps: true})
			m := physiology.Measure(heartrate.Clean(w), w, r.Client.Body(s.Day), false)
			if m.Check == nil || !m.Check.Enough {
				t.Errorf("in sessions of %d min: %+v", minutes, m.Check)
			}
		}
	}
}

// TestNobodyTrains: a week without sessions says to the client what to do and to the trainer why, and
// stop signs and cautions stand all the same.
func TestNobodyTrains(t *testing.T) {
	policy := policy.Default()
	for name, c := range map[string]struct {
		change func(*record.Record)
		client string
		why    string
	}{
		"a sign": {func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: made - 2, Entered: made - 2, Symptoms: []signs.Sign{signs.Chest}})
		}, "until a doctor has cleared you", "See a doctor first"},
		"advice not to train": {func(r *record.Record) {
			r.Notes = append(r.Notes, record.Note{Date: made - 2, Entered: made - 2, Symptoms: []signs.Sign{signs.ToldNotToTrain}})
		}, "until the doctor who advised against it agrees", "medical advice not to train"},
		"not screened": {func(r *record.Record) { r.Client.Screening = record.Screening{} }, "a few questions for you first", "screening"},
		"away": {func(r *record.Record) {
			r.Decisions = append(r.Decisions, record.Decision{Entered: made, From: made - 1, Act: record.DoPause, Stage: 1})
		}, "No sessions this week", "paused"},
	} {
		r := record.Record{Client: deckhand()}
		c.change(&r)
		a := progression.Assess(policy, made, r)
		w := prescription.Lay(prescription.Prescribe(policy, made, r, a), r, a)
		if len(w.Sessions) != 0 || len(w.Targets) != 0 {
			t.Errorf("%s: %s", name, named(w))
		}
		if text := w.Text(); !strings.Contains(text, c.client) || strings.Contains(text, "warm-up") || strings.Contains(text, "ession of") {
			t.Errorf("%s: the client reads %q", name, text)
		}
		if text := w.Trainer(); !strings.Contains(text, "No session is prescribed.") || !strings.Contains(strings.ToLower(text), strings.ToLower(c.why)) {
			t.Errorf("%s: the trainer reads %q", name, text)
		}
		cared(t, name, w)
	}
}

// cared holds that cautions and stop signs stand with every form of a week.
func cared(t *testing.T, name string, w prescription.Week) {
	t.Helper()
	to := map[string]signs.Addressee{"trainer's form": signs.Trainer}
	for form, text := range map[string]string{"text": w.Text(), "trainer's form": w.Trainer()} {
		for _, s := range append(signs.Cautions(to[form]), signs.StopSigns()...) {
			if !strings.Contains(text, s) {
				t.Errorf("%s: the %s lacks %q", name, form, s)
			}
		}
	}
}

// TestTexts holds the forms of three weeks: comfortable with a check session, with intervals, and by
// effort.
func TestTexts(t *testing.T) {
	check := steadyWeek(3)
	check.Minutes, check.Check = 28, 35
	check.Notes = []record.PlanNote{{Code: record.ByTalk}, {Code: record.ByHeartRate}}
	weeks := map[string]prescription.Week{}
	r := record.Record{Client: deckhand()}
	r.Client.Equipment, r.Client.Enjoys, r.Client.Tight = record.AllUnderstood("treadmill"), record.AllUnderstood("walking to the radio"), []string{"the calves"}
	weeks["check"] = lay(check, r)
	r = record.Record{Client: deckhand()}
	inStage2(&r)
	r.Client.Resistance, r.Client.Screening.Active = []workout.Weekday{"mon", "wed", "fri"}, true
	weeks["intervals"] = lay(intervalWeek(5, 2), r)
	r = record.Record{Client: deckhand()}
	r.Client.Medicine = record.Slows
	weeks["by-effort"] = lay(steadyWeek(2), r)
	verdicts := regexp.MustCompile(`(?i)advance|\bhold\b|step[ -]back|refer\b|assessable|zone 1`)
	for name, w := range weeks {
		cared(t, name, w)
		if m := verdicts.FindString(w.Text()); m != "" {
			t.Errorf("%s: the client reads %q", name, m)
		}
		file := filepath.Join("testdata", name+".txt")
		got := w.Text() + "\n=== for the trainer\n\n" + w.Trainer()
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(string(want), got); diff != "" {
			t.Errorf("%s has changed (- before, + now); read it, then accept it with -update:\n%s", file, diff)
		}
	}
}
