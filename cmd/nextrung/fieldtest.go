package main

import (
	"fmt"
	"io"

	"nextrung/internal/fieldtest"
	"nextrung/internal/reasons"
	"nextrung/internal/signs"
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
		fmt.Fprintf(out, "%s  %s\n", indent, reasons.Figure(f))
	}
	if class := reasons.Class(t); class != "" {
		fmt.Fprintf(out, "%s  %s\n", indent, class)
	}
	for _, r := range t.Remarks {
		fmt.Fprintf(out, "%s  remark: %s\n", indent, r.Text)
	}
	for _, c := range t.Cautions {
		fmt.Fprintf(out, "%s  caution: %s\n", indent, c)
	}
}
