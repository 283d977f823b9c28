package main

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/hindsight"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type clientShow struct {
	ofClient
	asOf
	All  bool `help:"Everything, not only the last four weeks and the last decision."`
	JSON bool `name:"json" help:"The facts and the history as JSON."`
}

func (clientShow) Help() string {
	return "Example: nextrung client show Runa\n\nShows the facts, the stages and every decision: what was known that day, what came of it in the six weeks after, and whether anything behind it has changed since."
}

func (c *clientShow) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	r, err := co.Record(ctx, c.Name, c.AsOf, false)
	if err != nil {
		return err
	}
	h, err := co.History(ctx, c.Name, c.AsOf)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(shownClient{r.Client, h.Stages, h.Decisions})
	}
	return showClient(s, r, h, c.All)
}

// shownDays is the number of days whose notes and recordings are shown without --all.
const shownDays = 28

func showClient(s *surroundings, r record.Record, h hindsight.History, all bool) error {
	c, today := r.Client, h.On
	stage, since := r.StageOn(today)
	s.say("%s, born %s, %s; %s", c.Name, c.Born.Long(), cmp.Or(string(c.Sex), "sex not given"), r.StateOn(today))
	s.say("stage %d since %s", stage, since.Long())
	if c.Screening.On == 0 {
		s.say("screening: not answered")
	} else {
		s.say("screening of %s: %s; known disease: %s", c.Screening.On.Long(), map[bool]string{true: "exercised regularly before", false: "did not exercise regularly before"}[c.Screening.Active], cmp.Or(c.Screening.Disease, "none"))
	}
	body := c.Body(today)
	modes := c.Modes
	if len(modes) == 0 {
		modes = workout.Modes()
	}
	estimated := false
	for _, m := range modes {
		if e := body.Unlimited().Edges(m); e != nil {
			s.say("zones for %s: %s", m, edgesText(e))
			estimated = estimated || e.Estimated
		}
	}
	if body.Limit > 0 {
		s.say("limit set by a doctor: %s bpm; alarms sound at %s", wording.Number(body.Limit), wording.Number(body.Ceiling()))
	}
	if estimated {
		showSpread(s, body)
	}
	showHealth(s, c)
	older := 0
	if n := len(h.Decisions); n > 1 && !all {
		h.Decisions, older = h.Decisions[n-1:], n-1
	}
	showHistory(s, h)
	recent := func(d workout.Date) bool {
		if !all && d <= today-shownDays {
			older++
			return false
		}
		return true
	}
	showNotes(s, r, recent)
	showRecordings(s, r, recent)
	if older > 0 {
		s.say("\n%s from earlier; to see everything: nextrung client show %q --all", wording.Plural(older, "entry", "entries"), c.Name)
	}
	return nil
}

// showNotes lists notes and reported sessions of some days.
func showNotes(s *surroundings, r record.Record, recent func(workout.Date) bool) {
	if len(r.Notes)+len(r.Reports) == 0 {
		return
	}
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	defer t.Flush()
	s.say("\nnotes and reported sessions (undo one with --undo ID):")
	for i, n := range r.Notes {
		if recent(n.Date) {
			fmt.Fprintf(t, "  %s\t%s\t%s\n", n.Date, n.ID, reasons.Note(n, r.TakenBack(i)))
		}
	}
	for _, x := range r.Reports {
		if recent(x.Date) {
			fmt.Fprintf(t, "  %s\t%s\t%s\n", x.Date, x.ID, reasons.Report(x))
		}
	}
}

// showRecordings lists the recordings of some days, and what does not count.
func showRecordings(s *surroundings, r record.Record, recent func(workout.Date) bool) {
	if len(r.Recordings) == 0 {
		s.say("\nno recordings yet")
	} else {
		s.say("\nrecordings (%d, counted as %d sessions: parts less than 30 min apart on the same day count as one):", len(r.Recordings), recordedSessions(r))
	}
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	for _, rec := range r.Recordings {
		if recent(rec.Date) {
			fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\n", rec.Date, rec.ID, rec.Workout.Sport, wording.Clock(rec.Workout.Seconds), rec.Name, reasons.Text(rec.Aside))
		}
	}
	t.Flush()
	for _, x := range r.Done() {
		if x.Uncounted != "" && recent(x.Date) {
			s.say("  %s, %s session, does not count: %s", x.Date, x.Sport, reasons.NotCounted(x.Uncounted))
		}
	}
}

// showSpread says how far published formulas differ, where zones rest on one.
func showSpread(s *surroundings, body physiology.Body) {
	all := physiology.Spread(body.Age, body.Sex)
	if len(all) == 0 {
		return
	}
	byBPM := func(a, b physiology.Estimate) int { return cmp.Compare(a.BPM, b.BPM) }
	low, high := slices.MinFunc(all, byBPM), slices.MaxFunc(all, byBPM)
	s.say("the maximal heart rate behind these zones is an estimate from age; for one person in three it is more than 11 bpm off. Published formulas give %.0f (%s) to %.0f bpm (%s)",
		low.BPM, low.Author, high.BPM, high.Author)
}

func recordedSessions(r record.Record) int {
	return len(record.Keep(r.Sessions(), func(x record.Session) bool { return !x.Reported }))
}

// showHealth says what limits training or the use of heart rate, and what the client trains with and for.
func showHealth(s *surroundings, c record.Client) {
	for _, fact := range slices.Sorted(maps.Keys(c.Dated)) {
		s.say("%s: since %s, entered on %s", strings.ReplaceAll(fact, "_", " "), c.Dated[fact].From.Long(), c.Dated[fact].Entered.Long())
	}
	for _, w := range c.Withdrawn {
		s.say("%s", reasons.TakenOff(w))
	}
	cleared := ""
	if c.Clearance != 0 {
		cleared = c.Clearance.Long()
	}
	for _, x := range []struct{ form, value string }{
		{"signs at screening: %s", joined(c.Screening.Signs)}, {"medicine that %s the heart", string(c.Medicine)},
		{"conditions: %s", joined(c.Conditions)}, {"cleared by a doctor on %s", cleared},
		{"trains: %s", joined(c.Modes)}, {"equipment: %s", saidWords(c.Equipment, " (nothing to train on)")}, {"enjoys: %s", saidWords(c.Enjoys, "")},
		{"strength training on: %s", joined(c.Resistance)}, {"tight: %s", joined(c.Tight)}, {"goal: %s", c.Goal},
	} {
		if x.value != "" {
			s.say(x.form, x.value)
		}
	}
}

// saidWords are the client's words; mark stands with those that decide nothing.
func saidWords(all []record.Said, mark string) string {
	var out []string
	for _, s := range all {
		if len(s.Equipment)+len(s.Modes) == 0 {
			s.Words += mark
		}
		out = append(out, s.Words)
	}
	return strings.Join(out, ", ")
}

func joined[T ~string](list []T) string {
	return strings.Join(record.Map(list, func(x T) string { return string(x) }), ", ")
}
