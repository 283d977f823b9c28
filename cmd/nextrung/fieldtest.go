package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fieldtest"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

// fieldTest are the flags of a first assessment. What is not typed is read from the recording.
type fieldTest struct {
	Protocol   string  `help:"First assessment to read: step-test (3 min), walk-test (one mile) or talk-test (typed only)." enum:"step-test,walk-test,talk-test," default:"" placeholder:"P"`
	Bench      float64 `name:"bench-cm" help:"Step test: height of the bench in cm." placeholder:"N"`
	Stepped    string  `help:"Step test: time stepped." placeholder:"M:SS"`
	Count      float64 `help:"Step test: beats counted in the full minute from 5 s after the stop." placeholder:"N"`
	CountAfter float64 `name:"count-after" help:"Step test: seconds between the stop and the start of the count." placeholder:"N"`
	WalkTime   string  `name:"walk-time" help:"Walk test: time of the mile." placeholder:"M:SS"`
	Distance   float64 `name:"distance-m" help:"Walk test: distance in m." placeholder:"N"`
	EndBPM     float64 `name:"end-bpm" help:"Walk test: heart rate of the last quarter in bpm." placeholder:"N"`
	Stages     string  `help:"Talk test: heart rate and answer of each stage, e.g. 112=comfortable,136=hard,148=no." placeholder:"LIST"`
	Held       string  `help:"Talk test: how long each load was held before asking." placeholder:"M:SS"`
}

// ask turns the flags into what is asked of a recording, and, when all was typed, into its result.
func (f *fieldTest) ask(b physiology.Body, massKG float64) (coach.Asked, *fieldtest.Result, error) {
	asked := coach.Asked{MassKG: massKG}
	for _, flag := range []struct {
		name, of string
		given    bool
	}{
		{"--bench-cm", "step-test", f.Bench != 0}, {"--stepped", "step-test", f.Stepped != ""},
		{"--count", "step-test", f.Count != 0}, {"--count-after", "step-test", f.CountAfter != 0},
		{"--walk-time", "walk-test", f.WalkTime != ""}, {"--distance-m", "walk-test", f.Distance != 0},
		{"--end-bpm", "walk-test", f.EndBPM != 0},
		{"--stages", "talk-test", f.Stages != ""}, {"--held", "talk-test", f.Held != ""},
	} {
		if flag.given && f.Protocol != flag.of {
			return asked, nil, misuse("%s belongs to --protocol %s", flag.name, flag.of)
		}
	}
	for _, v := range []float64{f.Bench, f.Count, f.CountAfter, f.Distance, f.EndBPM, massKG} {
		if v < 0 {
			return asked, nil, misuse("%g: sizes, times, counts and heart rates are not negative", v)
		}
	}
	switch f.Protocol {
	case "step-test":
		stepped, odd, err := typedTime("--stepped", f.Stepped)
		if err != nil {
			return asked, nil, err
		}
		t := fieldtest.Step{BenchCM: f.Bench, Stepped: stepped, Count: f.Count, CountAfter: f.CountAfter, Remarks: odd}
		asked.Step = &t
		return asked, ifTyped(f.Count != 0, t.Result(b)), nil
	case "walk-test":
		time, odd, err := typedTime("--walk-time", f.WalkTime)
		if err != nil {
			return asked, nil, err
		}
		t := fieldtest.Walk{Seconds: time, Metres: f.Distance, EndBPM: f.EndBPM, MassKG: massKG, Remarks: odd}
		asked.Walk = &t
		return asked, ifTyped(f.WalkTime != "" || f.EndBPM != 0, t.Result(b)), nil
	case "talk-test":
		held, _, err := typedTime("--held", f.Held)
		if err != nil {
			return asked, nil, err
		}
		stages, err := talkStages(f.Stages, held)
		if err != nil {
			return asked, nil, err
		}
		return asked, ifTyped(true, fieldtest.Talk(stages, b)), nil
	}
	return asked, nil, nil
}

func ifTyped(typed bool, t fieldtest.Result) *fieldtest.Result {
	if !typed {
		return nil
	}
	return &t
}

// typedTime reads a time in seconds, 0 for none.
func typedTime(flag, text string) (float64, []workout.Remark, error) {
	if text == "" {
		return 0, nil, nil
	}
	v, odd, err := fieldtest.ClockTime(text)
	if err != nil {
		return 0, nil, misuse("%s: %v", flag, err)
	}
	return v, odd, nil
}

// talkStages reads 112=comfortable,136=hard,148=no.
func talkStages(text string, held float64) ([]fieldtest.Stage, error) {
	var out []fieldtest.Stage
	for _, pair := range words(text) {
		rate, answer, _ := strings.Cut(pair, "=")
		bpm, err := strconv.ParseFloat(rate, 64)
		if err != nil || answer != "comfortable" && answer != "hard" && answer != "no" {
			return nil, misuse("--stages %q: write pairs like 112=comfortable,136=hard,148=no", text)
		}
		out = append(out, fieldtest.Stage{BPM: bpm, Seconds: held, Answer: answer})
	}
	if len(out) == 0 {
		return nil, misuse("--stages is missing: write pairs like 112=comfortable,136=hard,148=no")
	}
	return out, nil
}

func printFieldTest(out io.Writer, indent string, t fieldtest.Result) {
	fmt.Fprintf(out, "%s%s\n", indent, t.Protocol)
	if !t.Enough {
		fmt.Fprintf(out, "%s  not assessable: %s\n", indent, t.Why)
	}
	for _, f := range t.Figures {
		digits := 0
		switch {
		case f.Unit == "s":
			fmt.Fprintf(out, "%s  %s: %s\n", indent, f.Name, clock(int(f.Value+0.5)))
			continue
		case f.Value < 10:
			digits = 2
		case strings.HasPrefix(f.Unit, "mL"):
			digits = 1
		}
		between := ""
		switch {
		case f.Low != nil && f.High != nil:
			between = fmt.Sprintf(", %.*f to %.*f", digits, *f.Low, digits, *f.High)
		case f.High != nil:
			between = fmt.Sprintf(", at most %.*f", digits, *f.High)
		}
		fmt.Fprintf(out, "%s  %s: %.*f %s%s", indent, f.Name, digits, f.Value, f.Unit, between)
		if f.Error != "" {
			fmt.Fprintf(out, " (%s)", f.Error)
		}
		fmt.Fprintln(out)
	}
	if t.Rating != "" {
		fmt.Fprintf(out, "%s  class: %s (%s)\n", indent, t.Rating, t.Norms)
	} else if t.Norms != "" {
		fmt.Fprintf(out, "%s  %s\n", indent, t.Norms)
	}
	for _, r := range t.Remarks {
		fmt.Fprintf(out, "%s  remark: %s\n", indent, r.Text)
	}
	for _, c := range t.Cautions {
		fmt.Fprintf(out, "%s  caution: %s\n", indent, c)
	}
}
