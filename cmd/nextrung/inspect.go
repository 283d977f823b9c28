package main

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/workout"
)

type inspectCommand struct {
	Files  []string `arg:"" name:"file" help:"Files or folders; archives and .gz are opened."`
	HRMax  float64  `name:"hr-max" help:"Measured maximal heart rate in bpm." placeholder:"N"`
	Age    float64  `help:"Age in years, for an estimate of the maximal heart rate (±11 bpm)." placeholder:"N"`
	HRRest float64  `name:"hr-rest" help:"Resting heart rate in bpm; zones then follow the heart-rate reserve." placeholder:"N"`
	Sex    string   `help:"female or male, for the Banister impulse." enum:"female,male," default:"" placeholder:"S"`
	Edges  string   `help:"Four zone edges in bpm, e.g. 118,142.5,160,178." placeholder:"A,B,C,D"`
	JSON   bool     `name:"json" help:"One JSON object per file on one line."`
}

func (inspectCommand) Help() string {
	return "Example: nextrung inspect --hr-max 185 --hr-rest 60 --sex female run.fit\n\n" +
		"Reads FIT, TCX, GPX and CSV, each also in .gz and .zip. Zones need --hr-max, --age or --edges. Exit code 3: some file was refused, with its reason."
}

func (c *inspectCommand) body() (physiology.Body, error) {
	b := physiology.Body{Age: c.Age, Sex: physiology.Sex(c.Sex), HRRest: c.HRRest, HRMaxAny: c.HRMax}
	if c.HRMax != 0 && (c.HRMax < 100 || c.HRMax > 230) {
		return b, misuse("--hr-max %g is outside 100 to 230 bpm", c.HRMax)
	}
	if c.HRRest != 0 && (c.HRRest < 30 || c.HRRest > 110) {
		return b, misuse("--hr-rest %g is outside 30 to 110 bpm", c.HRRest)
	}
	if c.Edges != "" {
		e, err := numbers("--edges", c.Edges, 4)
		if err != nil {
			return b, err
		}
		for i := range 3 {
			if e[i] >= e[i+1] {
				return b, misuse("--edges %s: the four edges must rise", c.Edges)
			}
		}
		b.Fixed = map[workout.Mode][4]float64{"": {e[0], e[1], e[2], e[3]}}
	}
	return b, nil
}

func (c *inspectCommand) Run(ctx context.Context, s *surroundings) error {
	body, err := c.body()
	if err != nil {
		return err
	}
	files, err := expand(c.Files)
	if err != nil {
		return err
	}
	some := false
	for _, file := range files {
		if err := ctx.Err(); err != nil {
			return err
		}
		b, err := os.ReadFile(file)
		if err != nil {
			s.warn("read: %v", err)
			some = true
			continue
		}
		for _, in := range coach.Inspect(filepath.Base(file), b, body) {
			some = some || in.Error != ""
			if c.JSON {
				if err := s.printJSON(in); err != nil {
					return err
				}
				continue
			}
			printInspection(s.out, in)
		}
	}
	if some {
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
			return nil, fmt.Errorf("open: %w", err)
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
			return nil, fmt.Errorf("read folder: %w", err)
		}
	}
	return out, nil
}

func printInspection(out io.Writer, in coach.Inspection) {
	fmt.Fprintf(out, "%s  (%s, %s)\n", in.File, orDash(strings.ToUpper(in.Format)), in.SHA256.Short())
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
	fmt.Fprintf(out, "  %s, %s, %s", w.Sport, start, clock(w.Elapsed))
	if w.Paused > 0 {
		fmt.Fprintf(out, " of which %s paused", clock(w.Paused))
	}
	fmt.Fprintln(out)
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	h := w.HeartRate
	if h.Usable {
		fmt.Fprintf(t, "    heart rate\tmean %s, lowest %s, peak %s bpm; %s sensor; recorded %s of the time, longest gap %d s, rejected %d s\n",
			bpm(h.Mean), bpm(h.Min), bpm(h.Peak), h.Source, percent(h.Coverage), h.Gap, h.Rejected)
	} else {
		fmt.Fprintf(t, "    heart rate\tnot recorded\n")
	}
	if z := w.Zones; z != nil {
		fmt.Fprintf(t, "    zones\tunder %s, zone 1 %s, zone 2 %s, zone 3 %s, over %s, not recorded %s\n",
			clock(z.Under), clock(z.Zone1), clock(z.Zone2), clock(z.Zone3), clock(z.Over), clock(z.NotRecorded))
		fmt.Fprintf(t, "    zone edges\t%.1f, %.1f, %.1f, %.1f bpm\n", z.Edges[0], z.Edges[1], z.Edges[2], z.Edges[3])
	} else {
		fmt.Fprintf(t, "    zones\tnot assessable: give --hr-max, --age or --edges\n")
	}
	for _, p := range w.Phases {
		fmt.Fprintf(t, "    %s\t%s to %s, mean %s bpm\n", p.Kind, clock(p.From), clock(p.To), bpm(p.Mean))
	}
	for _, r := range w.Recoveries {
		if r.Drop60 == nil {
			fmt.Fprintf(t, "    stop at %s\tthe fall after 60 s was not recorded\n", clock(r.Stop))
			continue
		}
		fmt.Fprintf(t, "    stop at %s\tfrom %s bpm, after 60 s %s (fell %s), after 120 s %s; %s\n",
			clock(r.Stop), bpm(r.End), bpm(r.At60), bpm(r.Drop60), bpm(r.At120), activity(string(r.Activity)))
	}
	if d := w.Drift; d.Assessable {
		fmt.Fprintf(t, "    drift\t%+.1f bpm per 10 min (%.1f to %.1f), from %s to %s\n", *d.Slope, *d.Low, *d.High, clock(*d.From), clock(*d.To))
	} else {
		fmt.Fprintf(t, "    drift\tnot assessable: %s\n", d.Why)
	}
	if w.Load.Banister != nil {
		fmt.Fprintf(t, "    Banister impulse\t%.0f\n", *w.Load.Banister)
	}
	if w.Load.Lucia != nil {
		fmt.Fprintf(t, "    Lucia weighting\t%.0f min\n", *w.Load.Lucia)
	}
	t.Flush()
	for _, r := range w.Remarks {
		fmt.Fprintf(out, "    remark: %s\n", r)
	}
}

func activity(a string) string {
	if a == "unknown" {
		return "not known whether still or moving"
	}
	return a
}

func clock(s int) string {
	if s >= 3600 {
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	}
	return fmt.Sprintf("%d:%02d", s/60, s%60)
}

func bpm(v *float64) string {
	if v == nil {
		return "not recorded"
	}
	return fmt.Sprintf("%.0f", *v)
}

func percent(v *float64) string {
	if v == nil {
		return "none"
	}
	return fmt.Sprintf("%.0f %%", 100**v)
}

func orDash(s string) string {
	if s == "" {
		return "unknown format"
	}
	return s
}
