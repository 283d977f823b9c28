package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type inspectCommand struct {
	Files    []string `arg:"" optional:"" name:"file" help:"Files or folders; archives and .gz are opened. A field test can also be typed in without a file."`
	HRMax    float64  `name:"hr-max" help:"Measured maximal heart rate in bpm." placeholder:"N"`
	Age      float64  `help:"Age in years, for an estimate of the maximal heart rate (±11 bpm)." placeholder:"N"`
	HRRest   float64  `name:"hr-rest" help:"Resting heart rate in bpm; zones then follow the heart-rate reserve." placeholder:"N"`
	Sex      string   `help:"female or male, for published formulas." placeholder:"S"`
	Edges    string   `help:"Four zone edges in bpm, e.g. 118,142.5,160,178." placeholder:"A,B,C,D"`
	Medicine string   `help:"slows: a medicine slows the heart; zones, field tests by heart rate and energy are then left out." placeholder:"S"`
	Mass     float64  `name:"mass-kg" help:"Mass in kg, for --energy and the walk test." placeholder:"N"`
	Energy   bool     `help:"Energy as a range in kcal, where it can be estimated (ages 18 to 45)."`
	JSON     bool     `name:"json" help:"One JSON object per file on one line."`
	Page     string   `help:"Draw the workout into this file, a page that needs no book and no network; it must not exist yet." placeholder:"FILE" type:"path"`
	fieldTest
}

func (inspectCommand) Help() string {
	return "Example: nextrung inspect --hr-max 185 --hr-rest 60 --sex female run.fit\n\n" +
		"Example: nextrung inspect --protocol step-test --bench-cm 30 --age 41 --sex male step.fit\n\n" +
		"Example: nextrung inspect --protocol walk-test --walk-time 15:12 --end-bpm 128 --age 30 --sex female --mass-kg 68\n\n" +
		"Example: nextrung inspect --protocol talk-test --stages 112=comfortable,124=comfortable,136=hard,148=no --held 3:00\n\n" +
		"Example: nextrung inspect --hr-max 185 --page run.html run.fit\n\n" +
		"Reads FIT, TCX, GPX and CSV, each also inside .gz and .zip. Zones need --hr-max, --age or --edges. Exit code 3: at least one file was refused; the reason is shown."
}

// AfterApply takes words in any of their forms.
func (c *inspectCommand) AfterApply() (err error) {
	if c.Sex, err = coach.Word("sex", c.Sex, "female", "male"); err == nil {
		c.Medicine, err = coach.Word("medicine", c.Medicine, "slows", "none")
	}
	return err
}

func (c *inspectCommand) body() (physiology.Body, error) {
	b := physiology.Body{Age: c.Age, Sex: physiology.Sex(c.Sex), HRRest: c.HRRest, HRMaxAny: c.HRMax, Slowed: c.Medicine == "slows"}
	if err := coach.CheckHeartRates(c.HRRest, c.HRMax); err != nil {
		return b, err
	}
	if c.Edges != "" {
		e, err := coach.Numbers(coach.Edges, c.Edges, 4)
		if err != nil {
			return b, err
		}
		b.Fixed = map[workout.Mode][4]float64{"": [4]float64(e)}
		return b, coach.CheckEdges([4]float64(e), "")
	}
	return b, nil
}

func (c *inspectCommand) Run(ctx context.Context, s *surroundings) error {
	body, err := c.body()
	if err != nil {
		return err
	}
	asked, typed, err := coach.TypedTest(c.fieldTest).Read(body, c.Mass)
	if err != nil {
		return err
	}
	asked.Energy = c.Energy
	if len(c.Files) == 0 {
		if typed == nil {
			return misuse("name a file, or give the figures of a field test: --protocol with --count, --walk-time or --stages")
		}
		if c.JSON {
			return s.printJSON(map[string]any{"field_test": typed})
		}
		printFieldTest(s.out, "", *typed)
		return nil
	}
	if c.Protocol == "talk-test" {
		return misuse("--protocol talk-test reads no files: type its stages with --stages")
	}
	files, err := expand(c.Files)
	if err != nil {
		return err
	}
	if c.Page != "" {
		return c.drawPage(ctx, s, files, body)
	}
	return eachFile(ctx, s, files, func(path string) (some bool, err error) {
		err = asked.InspectFile(ctx, path, body, func(in coach.Inspection) error {
			some = some || in.Error != ""
			if c.JSON {
				return s.printJSON(in)
			}
			printInspection(s.out, in)
			return nil
		})
		return some, err
	})
}

// drawPage draws the only workout of the only file.
func (c *inspectCommand) drawPage(ctx context.Context, s *surroundings, files []string, body physiology.Body) error {
	if c.JSON || c.Energy || c.Protocol != "" {
		return misuse("--page draws the workout only: leave out --json, --energy and --protocol")
	}
	if len(files) != 1 {
		return misuse("--page draws one workout, and these are %d files: name one of them", len(files))
	}
	if err := coach.InspectPage(ctx, files[0], body, c.Page); err != nil {
		return err
	}
	s.say("The page is in %s", c.Page)
	return nil
}

// eachFile takes files one by one. One that cannot be read is named and skipped, and counts as
// refused, as do those that take reports as refused.
func eachFile(ctx context.Context, s *surroundings, files []string, take func(path string) (some bool, err error)) error {
	refused := false
	for _, file := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		some, err := take(file)
		if trouble := new(*coach.FileTrouble); errors.As(err, trouble) {
			s.warn("cannot read %s: %v", file, (*trouble).Err)
			some = true
		} else if err != nil {
			return err
		}
		refused = refused || some
	}
	if refused {
		return errSomeRefused
	}
	return nil
}

// expand lists files, and for a folder the files in it and below, in order of their names.
func expand(names []string) ([]string, error) {
	var out []string
	for _, name := range names {
		info, err := os.Stat(name)
		if err != nil {
			return nil, fmt.Errorf("cannot read %s: %w", name, errors.Unwrap(err))
		}
		if !info.IsDir() {
			out = append(out, name)
			continue
		}
		err = filepath.WalkDir(name, func(path string, d fs.DirEntry, err error) error {
			if err == nil && d.Type().IsRegular() && !strings.HasPrefix(d.Name(), ".") {
				out = append(out, path)
			}
			return err
		})
		if err != nil {
			return nil, fmt.Errorf("cannot read the folder: %w", err)
		}
	}
	return out, nil
}

func printInspection(out io.Writer, in coach.Inspection) {
	fmt.Fprintf(out, "%s  (%s, %s)\n", in.File, cmp.Or(strings.ToUpper(in.Format), "unknown format"), in.SHA256.Short())
	if in.Error != "" {
		fmt.Fprintf(out, "  refused: %s\n", in.Error)
	}
	for _, r := range in.Remarks {
		fmt.Fprintf(out, "  remark: %s\n", r)
	}
	for _, w := range in.Workouts {
		printWorkout(out, w)
	}
	fmt.Fprintln(out)
}

func printWorkout(out io.Writer, w coach.Inspected) {
	start := "undated"
	if w.Start != nil {
		start = w.Start.Format("2006-01-02 15:04:05 UTC")
	}
	fmt.Fprintf(out, "  %s, %s, %s", w.Sport, start, wording.Clock(w.Elapsed))
	if w.Paused > 0 {
		fmt.Fprintf(out, " of which %s paused", wording.Clock(w.Paused))
	}
	fmt.Fprintln(out)
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	h := w.HeartRate
	if h.Usable {
		fmt.Fprintf(t, "    heart rate\tmean %s, lowest %s, peak %s; %s sensor; recorded %s of the time, longest gap %d s, rejected %d s\n",
			bpm(h.Mean), bpm(h.Min), bpm(h.Peak), h.Source, percent(h.Coverage), h.Gap, h.Rejected)
	} else {
		fmt.Fprintf(t, "    heart rate\tnot recorded\n")
	}
	if z := w.Zones; z != nil {
		fmt.Fprintf(t, "    zones\tunder %s, zone 1 %s, zone 2 %s, zone 3 %s, over %s, not recorded %s\n",
			wording.Clock(z.Under), wording.Clock(z.Zone1), wording.Clock(z.Zone2), wording.Clock(z.Zone3), wording.Clock(z.Over), wording.Clock(z.NotRecorded))
		fmt.Fprintf(t, "    zone edges\t%s, %s, %s bpm\n", wording.Band(z.Edges[0], z.Edges[1]), wording.Band(z.Edges[1], z.Edges[2]), wording.Band(z.Edges[2], z.Edges[3]))
	} else {
		fmt.Fprintf(t, "    zones\tnot assessable: give --hr-max, --age or --edges\n")
	}
	for _, p := range w.Phases {
		fmt.Fprintf(t, "    %s\t%s to %s, mean %s\n", p.Kind, wording.Clock(p.From), wording.Clock(p.To), bpm(p.Mean))
	}
	for _, r := range w.Recoveries {
		if r.Drop60 == nil {
			fmt.Fprintf(t, "    stop at %s\trecovery was not recorded for 60 s\n", wording.Clock(r.Stop))
			continue
		}
		fmt.Fprintf(t, "    stop at %s\tfrom %s, after 60 s %s (drop of %s), after 120 s %s; %s\n",
			wording.Clock(r.Stop), bpm(r.End), bpm(r.At60), bpm(r.Drop60), bpm(r.At120), activity(string(r.Activity)))
	}
	printSteadiness(t, w)
	if w.Load.Banister != nil {
		fmt.Fprintf(t, "    Banister impulse\t%.0f\n", *w.Load.Banister)
	}
	if w.Load.Lucia != nil {
		fmt.Fprintf(t, "    Lucia weighting\t%.0f min\n", *w.Load.Lucia)
	}
	if e := w.Energy; e != nil && e.Low != nil {
		fmt.Fprintf(t, "    energy\t%.0f to %.0f kcal (%s)\n", *e.Low, *e.High, e.Basis)
	} else if e != nil {
		fmt.Fprintf(t, "    energy\t%s\n", e.Basis)
	}
	t.Flush()
	if w.FieldTest != nil {
		printFieldTest(out, "    ", *w.FieldTest)
	}
	for _, r := range w.Remarks {
		fmt.Fprintf(out, "    remark: %s\n", r)
	}
}

// printSteadiness prints how level the heart rate stayed, and what it was at a load that can be compared.
func printSteadiness(t io.Writer, w coach.Inspected) {
	if d := w.Drift; d.Assessable {
		fmt.Fprintf(t, "    drift\t%+.1f bpm per 10 min (%.1f to %.1f), from %s to %s\n", *d.Slope, *d.Low, *d.High, wording.Clock(*d.From), wording.Clock(*d.To))
	} else {
		fmt.Fprintf(t, "    drift\tnot assessable: %s\n", d.Why)
	}
	if c := w.Check; c != nil && c.Assessable {
		fmt.Fprintf(t, "    check session\tthe last 5 min are %s minutes 8 to 12%s\n", wording.Above(*c.Rise), atLoad(&c.Load, c.Unit))
	} else if c != nil {
		fmt.Fprintf(t, "    check session\tnot assessable: %s\n", c.Why)
	}
	if e := w.SameEffort; e != nil && e.Assessable {
		fmt.Fprintf(t, "    same effort\tmean of %s in minutes 5 to 15%s\n", bpm(e.Mean), atLoad(e.Load, e.Unit))
	} else if e != nil {
		fmt.Fprintf(t, "    same effort\tnot assessable: %s\n", e.Why)
	}
}

// atLoad gives the load at which a heart rate was read, "" when only the trainer knows it.
func atLoad(v *float64, unit string) string {
	switch unit {
	case "W":
		return fmt.Sprintf(", at %.0f W", *v)
	case "m/s":
		return fmt.Sprintf(", at %.1f km/h", 3.6**v)
	}
	return ""
}

func activity(a string) string {
	if a == "unknown" {
		return "not known whether still or moving"
	}
	return a
}

func bpm(v *float64) string {
	if v == nil {
		return "not recorded"
	}
	return fmt.Sprintf("%.0f bpm", *v)
}

func percent(v *float64) string {
	if v == nil {
		return "none"
	}
	return fmt.Sprintf("%.0f %%", 100**v)
}
