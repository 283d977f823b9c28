package main

import (
	"fmt"
	"io"
	"nextrung/internal/fieldtest"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
)

// fieldTest are the flags of a field test. What is not typed is read from the recording.
type fieldTest struct {
	Protocol   string  `help:"Field test to read: step-test (3 min), walk-test (one mile) or talk-test (typed only)." placeholder:"P"`
	Bench      float64 `name:"bench-cm" help:"Step test: height of the bench in cm." placeholder:"N"`
	Stepped    string  `help:"Step test: how long the client stepped." placeholder:"M:SS"`
	Count      float64 `help:"Step test: beats counted in the full minute from 5 s after the stop." placeholder:"N"`
	CountAfter float64 `name:"count-after" help:"Step test: seconds between the stop and the start of the count." placeholder:"N"`
	WalkTime   string  `name:"walk-time" help:"Walk test: time for the mile." placeholder:"M:SS"`
	Distance   float64 `name:"distance-m" help:"Walk test: distance in m." placeholder:"N"`
	EndBPM     float64 `name:"end-bpm" help:"Walk test: heart rate over the last quarter, in bpm." placeholder:"N"`
	Stages     string  `help:"Talk test: heart rate and answer at each stage, e.g. 112=comfortable,136=hard,148=no." placeholder:"LIST"`
	Held       string  `help:"Talk test: how long each load was held before you asked." placeholder:"M:SS"`
}

func printFieldTest(out io.Writer, indent string, t fieldtest.Result) {
	fmt.Fprintf(out, "%s%s\n", indent, t.Protocol)
	for _, line := range signs.StopShort() {
		fmt.Fprintf(out, "%s  %s\n", indent, line)
	}
	if !t.Enough {
		fmt.Fprintf(out, "%s  no result: %s\n", indent, t.Clause)
	}
	for _, f := range t.Figures {
		digits := 0
		switch {
		case f.Unit == "s":
			fmt.Fprintf(out, "%s  %s: %s\n", indent, f.Name, wording.Clock(int(f.Value+0.5)))
			continue
		case f.Value < 10:
			digits = 2
		case f.Unit == fieldtest.PerKG:
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
