package main

import (
	"cmp"
	"context"
	"path/filepath"

	"nextrung/internal/coach"
	"nextrung/internal/hindsight"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

type weekCommand struct {
	asOf
	Drop string `help:"Where clients' exports are put from now on, with a folder for each client." placeholder:"DIR" type:"path"`
	JSON bool   `name:"json" help:"One assessment per line as JSON."`
}

func (weekCommand) Help() string {
	return "Example: nextrung week\n\nReceives the files in the drop folder, assesses every client, writes next week's sessions and the pages that changed, and prints the roster. Exit code 3: at least one file was refused."
}

func (c *weekCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	some := false
	if c.Drop != "" {
		if err := co.SetDrop(ctx, c.Drop); err != nil {
			return err
		}
	}
	if c.AsOf == s.today() {
		var err error
		if !c.JSON {
			s.say("Drop folder: %s (a folder for each client)", co.Drop)
		}
		if some, err = takeIn(ctx, co, s, c.JSON); err != nil {
			return err
		}
	} else if !c.JSON {
		s.say("The drop folder is left alone: --as-of only looks back.")
	}
	standings, err := co.Week(ctx, c.AsOf, s.bar("assessing"))
	if err != nil {
		return err
	}
	if c.JSON {
		for _, st := range standings {
			if err := s.printJSON(reasons.Write(st.Assessment)); err != nil {
				return err
			}
		}
	} else if err := printRoster(s, c.AsOf, standings); err != nil {
		return err
	}
	if err := writePages(ctx, co, s, standings, c.AsOf, pagesOf(co, s, c.AsOf), true, c.JSON); err != nil {
		return err
	}
	if some {
		return errSomeRefused
	}
	return nil
}

// takeIn receives the drop folder, and says whether anything was not entered.
func takeIn(ctx context.Context, co *coach.Coach, s *surroundings, quiet bool) (some bool, err error) {
	dropped, err := co.TakeIn(ctx, s.today(), s.bar("taking in"))
	for _, d := range dropped {
		if d.Waiting != "" {
			s.warn("%s was left in the drop folder: %s", d.File, withHelp(d.Waiting, d.Help))
		}
		for _, r := range d.Receipts {
			some = some || r.Status == coach.Refused
			if r.Status != coach.Waits && (r.Status == coach.Refused || !quiet) {
				r.Name = d.Client + "/" + r.Name
				printReceipt(s, r)
			}
		}
	}
	return some, err
}

// pagesOf is the folder of the pages as of a day: those of today are the ones that links mean.
func pagesOf(co *coach.Coach, s *surroundings, on workout.Date) string {
	if on == s.today() {
		return co.Pages()
	}
	return co.PagesOf(on)
}

// writePages writes the pages and says where they are; the roster only of all clients.
func writePages(ctx context.Context, co *coach.Coach, s *surroundings, standings []coach.Standing, on workout.Date, dir string, all, quiet bool) error {
	changed, err := co.Report(ctx, standings, on, dir, all)
	if err != nil || quiet {
		return err
	}
	s.say("\n%s written to %s", wording.Count(len(changed), "page"), dir)
	if all {
		s.say("Open the roster: %s", fileAddress(filepath.Join(dir, reports.FileName("roster", ""))))
		return nil
	}
	for _, st := range standings {
		s.say("%s", fileAddress(filepath.Join(dir, reports.FileName("decision", st.Record.Client.Name))))
	}
	return nil
}

// workoutPages writes the pages of the workouts of the last days days of some clients.
func workoutPages(ctx context.Context, co *coach.Coach, s *surroundings, standings []coach.Standing, days int, dir string) error {
	bar := s.bar("workout pages")
	for i, st := range standings {
		if err := co.WorkoutPages(ctx, st, days, dir); err != nil {
			return err
		}
		bar(i+1, len(standings))
	}
	return nil
}

type assessCommand struct {
	ofClient
	asOf
	Late bool `name:"including-late" help:"Also use recordings and notes that came in after that day."`
	All  bool `help:"Every rule and every caution, not only what stands against a move."`
	JSON bool `name:"json" help:"The assessment as JSON."`
}

func (assessCommand) Help() string { return "Example: nextrung assess Runa --as-of 2026-10-04" }

func (c *assessCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	a, err := co.Assess(ctx, c.Name, c.AsOf, c.Late)
	if err != nil {
		return err
	}
	changed, err := co.ChangedSince(ctx, c.Name, c.AsOf)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(lookedBackOn{reasons.Write(a), changed})
	}
	found, err := co.Proposals(ctx, c.Name, c.AsOf)
	if err != nil {
		return err
	}
	printAssessment(s, a, found.Peaks(), c.All)
	if c.Late {
		s.say("\nThis uses everything known now about the days up to %s, whenever it came in.", c.AsOf.Long())
	} else {
		standings, err := co.Standings(ctx, []string{c.Name}, c.AsOf)
		if err != nil {
			return err
		}
		stopped, err := co.StoppedSince(ctx, standings[0])
		if err != nil {
			return err
		}
		if stopped != nil {
			s.say("\nNo sessions: something entered since %s stops them. %s See nextrung assess %q", c.AsOf.Long(), wording.Capital(stopped.What), c.Name)
		} else if a.GraveSign() == nil && a.Doubt() == nil {
			printNext(s, standings[0])
		}
		late, err := co.LateComers(ctx, c.Name, c.AsOf)
		if err != nil {
			return err
		}
		if len(late) > 0 {
			s.say("\nNot used here: %s from days up to %s that came in later. To use them, add --including-late; receive old exports with --backlog.", wording.Count(len(late), "recording"), c.AsOf.Long())
		}
	}
	if changed != nil {
		s.say("\n%s", changed.Text())
	}
	return nil
}

// lookedBackOn is what `assess --json` prints: the assessment, and what changed after it.
type lookedBackOn struct {
	reasons.Written
	Changed *hindsight.Changed `json:"changed_afterwards,omitempty"`
}

type decideCommand struct {
	ofClient
	Act     string       `arg:"" help:"advance, hold, ease, step-back, refer, maintain, pause or resume." enum:"advance,hold,ease,step-back,refer,maintain,pause,resume"`
	On      workout.Date `help:"Day of the decision (default today)." placeholder:"D"`
	From    workout.Date `help:"First day it applies (default the next day)." placeholder:"D"`
	To      workout.Date `help:"Last day of a pause." placeholder:"D"`
	Because string       `required:"" help:"The reason." placeholder:"TEXT"`
	By      string       `help:"Who decided (default: as in nextrung settings)." placeholder:"WHO"`
	JSON    bool         `name:"json" help:"The decision as JSON."`
}

func (decideCommand) Help() string {
	return "Example: nextrung decide Runa advance --because 'five steady weeks, talks easily' --by Ketil\n\nDecisions are kept for good; to undo a move, enter a hold from the same day (--from). With --on, an earlier day: both days are kept, and no decision is entered for a day before the last one. A move up is refused while the client needs to see a doctor first."
}

func (c *decideCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	on := s.orToday(c.On)
	if err := coach.NotAhead("on", on, s.today()); err != nil {
		return err
	}
	d, err := co.Decide(ctx, record.Decision{Client: c.Name, Entered: on, Typed: s.today(), Act: record.Act(c.Act), From: c.From, To: c.To, Because: c.Because, By: c.By})
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(d)
	}
	verdict := "no verdict"
	if d.Verdict != nil {
		verdict = reasons.Verdict(*d.Verdict)
	}
	if d.Act == record.DoAdvance && (d.Verdict == nil || *d.Verdict != record.Advance) {
		s.warn("moved up although the policy does not recommend it (%s); see the reasons with `nextrung assess %q --as-of %s`, or undo it with `nextrung decide %q hold` from the same day", verdict, c.Name, d.Entered, c.Name)
	}
	all, harder, err := co.HeldBack(ctx, c.Name, on)
	switch {
	case err != nil:
		return err
	case len(all) > 0:
		s.warn("no sessions are planned for %s, whatever is decided: %s", c.Name, reasons.Paragraph(all))
	case len(harder) > 0:
		s.warn("only comfortable sessions are planned for %s, whatever is decided: %s", c.Name, reasons.Paragraph(harder))
	}
	s.say("%s", signs.StopLine)
	s.say("decided for %s: %s, stage %d from %s (the assessment of %s says: %s), sealed %s", c.Name, d.Act, d.Stage, d.From.Long(), d.Entered.Long(), verdict, d.Digest.Short())
	if d.Typed != 0 {
		s.say("The decision is for %s; that it was entered on %s stays on record.", d.Entered.Long(), d.Typed.Long())
	}
	return nil
}

type reportCommand struct {
	Names []string `arg:"" optional:"" name:"name" help:"Clients."`
	All   bool     `help:"Every client."`
	asOf
	Out      string `help:"Folder for the pages (default: pages in the book's folder)." placeholder:"DIR" type:"path"`
	Workouts int    `help:"Also write the pages of the workouts of the last N days." placeholder:"N"`
	Workout  string `help:"Write the page of one recording." placeholder:"ID"`
	Doctor   bool   `help:"Also write the page for the doctor. It is written without asking when a doctor has to come first."`
	PDF      bool   `name:"pdf" help:"Also print the pages to PDF files, by a browser on this computer."`
	Browser  string `help:"The browser that prints (default: the first that is found)." placeholder:"FILE"`
}

func (reportCommand) Help() string {
	return "Examples:\n  nextrung report --all\n  nextrung report Runa --workouts 28\n  nextrung report Runa --doctor\n  nextrung report Runa --pdf\n  nextrung report --workout 1a2b3c4d#0"
}

func (c *reportCommand) who() (names []*string) {
	for i := range c.Names {
		names = append(names, &c.Names[i])
	}
	return names
}

func (c *reportCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	if len(c.Names) == 0 && !c.All && c.Workout == "" {
		return misuse("name the clients, or add --all or --workout ID")
	}
	dir := cmp.Or(c.Out, pagesOf(co, s, c.AsOf))
	if c.Workout != "" {
		path, err := co.ReportWorkout(ctx, c.Workout, c.AsOf, dir)
		return tell(s, err, "%s", fileAddress(path))
	}
	if c.All {
		c.Names = nil
	}
	standings, err := co.Standings(ctx, c.Names, c.AsOf)
	if err != nil {
		return err
	}
	if c.Workouts > 0 {
		if err := workoutPages(ctx, co, s, standings, c.Workouts, dir); err != nil {
			return err
		}
	}
	if err := writePages(ctx, co, s, standings, c.AsOf, dir, c.All, false); err != nil {
		return err
	}
	for _, st := range standings {
		if !c.Doctor {
			break
		}
		path, err := co.ReportDoctor(ctx, st, dir)
		if err := tell(s, err, "%s", fileAddress(path)); err != nil {
			return err
		}
	}
	if !c.PDF {
		return nil
	}
	names := record.Map(standings, func(st coach.Standing) string { return st.Record.Client.Name })
	files, err := co.Paper(ctx, c.Browser, dir, names, c.All)
	for _, f := range files {
		s.say("%s", fileAddress(f))
	}
	return err
}
