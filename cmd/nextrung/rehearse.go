package main

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/rehearsal"
	"nextrung/reports"
)

type rehearseCommand struct {
	Clients   int    `help:"Invented clients." default:"300" placeholder:"N"`
	Weeks     int    `help:"Weeks for each client." default:"16" placeholder:"N"`
	Seed      uint64 `help:"The same seed gives the same clients and the same luck." default:"1" placeholder:"N"`
	Policy    string `help:"Policy to try (default: that of a new book)." placeholder:"FILE" type:"path"`
	World     string `help:"What the invented clients are like (an unknown name lists the worlds)." default:"usual" placeholder:"WORLD"`
	Tidy      bool   `help:"Try it on clients who do every session, record all of it and answer."`
	Vary      string `help:"Instead, rehearse the policy once for each of these thresholds of one rule." placeholder:"RULE=V,V..."`
	KeepZones bool   `name:"keep-zones" help:"The trainer declines every suggestion to lower zone 1."`
	Curves    bool   `help:"Also print what other thresholds of each rule would have done in the same weeks."`
	Page      string `help:"Also write a page with charts, curves included." placeholder:"FILE" type:"path"`
	JSON      bool   `help:"Print the counts as JSON." name:"json"`
}

func (rehearseCommand) Help() string {
	return "Example: nextrung rehearse --clients 2000 --policy my-policy.toml --page rehearsal.html\n\nTries a policy on invented clients, for whom the right moment to move up is known: how often somebody moves up too early, how long those who are ready wait, and what two simpler ways of deciding would have done with the same clients. An invented world proves nothing about safety."
}

// most limits a rehearsal to what fits into memory and finishes within a day.
const most = 100000

func (c *rehearseCommand) Run(ctx context.Context, s *surroundings) error {
	// Played weeks are dropped as soon as they are measured: collecting them less often saves a quarter of the time.
	defer debug.SetGCPercent(debug.SetGCPercent(400))
	if c.Clients < 1 || c.Clients > most {
		return misuse("--clients %d: give 1 to %d", c.Clients, most)
	}
	if c.Weeks < 6 || c.Weeks > 104 {
		return misuse("--weeks %d: give 6 to 104", c.Weeks)
	}
	rules := policy.Default()
	if c.Policy != "" {
		var err error
		if rules, err = readPolicyFile(c.Policy); err != nil {
			return err
		}
	}
	world, err := rehearsal.WorldOf(c.World)
	if err != nil {
		return misuse("--world: %s", err)
	}
	o := rehearsal.Options{Policy: rules, World: world, Clients: c.Clients, Weeks: c.Weeks, Seed: c.Seed, Tidy: c.Tidy, KeepZones: c.KeepZones, Workers: runtime.GOMAXPROCS(0)}
	if c.Vary != "" {
		return c.vary(ctx, s, o)
	}
	if err := c.canWrite(); err != nil {
		return err
	}
	r, err := rehearsal.Run(ctx, o, s.bar("rehearsing"))
	if err != nil {
		return err
	}
	var curves []rehearsal.Curve
	if c.Curves || c.Page != "" {
		if curves, err = rehearsal.Curves(ctx, o, s.bar("other thresholds")); err != nil {
			return err
		}
	}
	if err := c.writePage(r, curves); err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(struct {
			rehearsal.Result
			Curves []rehearsal.Curve `json:"curves,omitempty"`
		}{r, curves})
	}
	if err := printRehearsal(s, r); err != nil {
		return err
	}
	if c.Curves {
		if err := printCurves(s, curves); err != nil {
			return err
		}
	}
	if c.Page != "" {
		s.say("\nThe page is in %s", c.Page)
	}
	return nil
}

// canWrite checks, before the long work, that the page can be written after it.
func (c *rehearseCommand) canWrite() error {
	if c.Page == "" {
		return nil
	}
	if _, _, err := reports.Runtime(); err != nil {
		return err
	}
	if _, err := os.Stat(filepath.Dir(c.Page)); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	return nil
}

func (c *rehearseCommand) writePage(r rehearsal.Result, curves []rehearsal.Curve) error {
	if c.Page == "" {
		return nil
	}
	page, err := reports.Rehearsal(r, curves)
	if err != nil {
		return err
	}
	if err := os.WriteFile(c.Page, page, 0o644); err != nil {
		return fmt.Errorf("cannot write the page: %w", err)
	}
	return nil
}

// printCurves prints a line for each threshold.
func printCurves(s *surroundings, curves []rehearsal.Curve) error {
	s.say("\nOther thresholds, tried on the same weeks of clients who stay in the stage")
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "stage\trule\tthreshold\tmoved up\tnot ready\tready in 3 wk")
	for _, c := range curves {
		for _, p := range c.Points {
			mark := ""
			if p.Threshold == c.Now {
				mark = " (now)"
			}
			fmt.Fprintf(t, "%d\t%s\t%s%s\t%d\t%s\t%s\n", c.Stage, c.Rule, number(p.Threshold), mark, p.Moved, shareOf(p.Unready, p.Moved), shareOf(p.InTime, p.Ready))
		}
	}
	return t.Flush()
}

// vary prints one line for each threshold of a rule.
func (c *rehearseCommand) vary(ctx context.Context, s *surroundings, o rehearsal.Options) error {
	rule, list, ok := strings.Cut(c.Vary, "=")
	if !ok || !slices.Contains(policy.RuleIDs(), policy.ID(rule)) {
		return misuse("--vary %q: write a rule and its thresholds, like effort=12,13,14; rules are %s", c.Vary, policy.Listed(policy.RuleIDs()))
	}
	values, err := coach.Numbers("vary", list, 1+strings.Count(list, ","))
	if err != nil {
		return err
	}
	all, err := rehearsal.Vary(ctx, o, policy.ID(rule), values, s.bar("rehearsing"))
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(all)
	}
	s.say("%d invented clients, %d weeks, seed %d: the policy with other thresholds of %s (now %g)\n", o.Clients, o.Weeks, o.Seed, rule, *o.Policy.Rule(policy.ID(rule)).Threshold)
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "threshold"+columns)
	for _, v := range all {
		printGroup(t, number(v.Value), v.Group)
	}
	if err := t.Flush(); err != nil {
		return err
	}
	printColumns(s)
	s.say("\n%s\n%s", rehearsal.Definition, rehearsal.Assumed(o)[0])
	return nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// printRehearsal prints the table with what it means and what it rests on.
func printRehearsal(s *surroundings, r rehearsal.Result) error {
	s.say("%d invented clients, %d weeks, seed %d, world %s, policy %.14s", r.Clients, r.Weeks, r.Seed, r.World, r.Policy)
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', tabwriter.AlignRight)
	for _, w := range r.Ways {
		fmt.Fprintf(t, "\nDeciding by %s\n", w.Way)
		fmt.Fprintln(t, columns)
		for _, g := range w.Groups {
			printGroup(t, g.Name, g)
		}
	}
	if err := t.Flush(); err != nil {
		return err
	}
	printColumns(s)
	s.say("\n%s", r.Definition)
	printKept(s, r.Ways[0].Groups[0].Counts)
	s.list("Aims", record.Map(r.Aims, aimed))
	s.list("What the heart-rate rules add", r.Compared)
	s.list("Assumed", r.Assumed)
	return nil
}

// columns are the heads of printGroup's line after the first.
const columns = "\tclients\tmoves up\tnot ready\tas done\thard after\tunready moved\tready in 3 wk\tand trained\tmedian wait\tease\tstep back\tunclear wk 6\theart unclear\t"

func printGroup(w io.Writer, name string, g rehearsal.Group) {
	wait := "-"
	if g.MedianWait != nil {
		wait = fmt.Sprintf("%d wk", *g.MedianWait)
	}
	fmt.Fprintf(w, "%s\t%d\t%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", name, g.Clients, g.Advanced, shareOf(g.AdvancedUnready, g.Advanced),
		shareOf(g.AdvancedUnable, g.Advanced), shareOf(g.HardAfter, g.Followed),
		shareOf(g.UnreadyWhenDueAdvanced, g.UnreadyWhenDue), shareOf(g.ReadyInTime, g.Ready), shareOf(g.TrainedInTime, g.Trained), wait,
		shareOf(g.Ease, g.Weeks), shareOf(g.StepBack, g.Weeks), shareOf(g.NotAssessableSix, g.AtSix), shareOf(g.HeartUntoldSix, g.AtSix))
}

func printColumns(s *surroundings) {
	s.say("\nColumns: moves up; of these, the client was not ready; could not do the session as they do their sessions; of the moves followed by at least two interval sessions within 4 weeks, half or more of these were too hard; of those not ready when the minimum weeks were over, moved up while still not ready;")
	s.say("of those ready, moved up within 3 weeks of being ready with the minimum weeks over; the same for those who were ready and had done the")
	s.say("sessions and minutes needed, from then on; the median wait of those ready (-: the median client was not moved up);")
	s.say("of all weeks, those with an easier week or a step back advised; of the clients, those without enough data for a verdict at week 6,")
	s.say("and those without enough data for the heart-rate rules as a whole, whatever the verdict.")
}

// printKept says what kept ready clients from moving up, and which limits the others were not ready for.
func printKept(s *surroundings, c rehearsal.Counts) {
	if c.DueUnready > 0 {
		s.say("\nIn %d of the weeks in which a move was due, the client was not ready: in %s because of effort, in %s because of talk, in %s because of the heart rate between bouts.", c.DueUnready,
			shareOf(c.ForEffort, c.DueUnready), shareOf(c.ForTalk, c.DueUnready), shareOf(c.ForRecovery, c.DueUnready))
	}
	if c.Kept == 0 {
		return
	}
	rules := slices.SortedFunc(maps.Keys(c.By), func(a, b policy.ID) int { return cmp.Or(c.By[b]-c.By[a], cmp.Compare(a, b)) })
	var parts []string
	for _, rule := range rules {
		parts = append(parts, fmt.Sprintf("%s %s (on its own %s)", rule, shareOf(c.By[rule], c.Kept), shareOf(c.ByOnly[rule], c.Kept)))
	}
	s.say("In %d of the weeks in which a move was due, the policy held back a ready client; these rules were not met or lacked data: %s.", c.Kept, strings.Join(parts, ", "))
}

// aimed says whether an aim is reached.
func aimed(a rehearsal.Aim) string {
	if a.Met == nil {
		return "not known: " + a.Text + " (no cases)"
	}
	return fmt.Sprintf("%s: %s (%.1f %%, 95 %% interval %.1f to %.1f)", map[bool]string{true: "met", false: "NOT met"}[*a.Met], a.Text, *a.Value, a.Low, a.High)
}

// shareOf writes a share in percent, or - without a case.
func shareOf(part, whole int) string {
	v, ok := rehearsal.Share(part, whole)
	if !ok {
		return "-"
	}
	return fmt.Sprintf("%.1f %%", v)
}
