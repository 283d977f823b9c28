package reports_test

import (
	"os"
	"testing"

	"nextrung/reports"
)

func TestLook(t *testing.T) {
	c := avelin()
	for _, x := range crew() {
		b, err := reports.Progress(x)
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/look/"+reports.FileName("progress", x.Record.Client.Name), b, 0o644)
		if b, err = reports.Decision(x); err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/look/"+reports.FileName("decision", x.Record.Client.Name), b, 0o644)
	}
	write := func(name string, b []byte, err error) {
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/look/"+name, b, 0o644)
	}
	name, js, err := reports.Runtime()
	write(name, js, err)
	b, err := reports.Progress(c)
	write("progress.html", b, err)
	b, err = reports.Decision(c)
	write("decision.html", b, err)
	b, err = reports.Roster(asOf, crew())
	write("roster.html", b, err)
	rec, s, w := ride()
	b, err = reports.Workout(rec, s, w, c)
	write("workout.html", b, err)
	write("progress.svg", reports.ProgressPicture(c), nil)
	write("progress.txt", []byte(reports.ProgressText(c)), nil)
}
