package main

import (
	"context"
	"strconv"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
)

type prescribeCommand struct {
	ofClient
	asOf
	ICS  string `name:"ics" help:"Write the sessions as a calendar into this file." placeholder:"FILE" type:"path"`
	FIT  string `name:"fit" help:"Write each session as a FIT workout for a watch into this folder." placeholder:"DIR" type:"path"`
	Text bool   `help:"Print the week as a message for the client, and nothing else." xor:"form"`
	JSON bool   `name:"json" help:"The week as JSON." xor:"form"`
	Anew bool   `help:"Write a new version, even though the week has been sent; the client is told what to delete."`
}

func (prescribeCommand) Help() string {
	return "Examples:\n  nextrung prescribe Runa\n  nextrung prescribe Runa --text\n  nextrung prescribe Runa --as-of 2026-10-04 --ics runa.ics --fit watch/\n\nThe week starts tomorrow, or the day after --as-of. Once sent, it stays as it is, whichever command sent it: run it a day later and you get the same week. A sign, an illness, a decision, less time or changed zones lead to a new version, which says why and what to delete; --anew makes one at any time. A client who must not train gets no sessions and no files. A client who trains by effort gets no heart rates, not even in the files."
}

func (c *prescribeCommand) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	prescribe := co.Prescribe
	if c.Anew {
		prescribe = co.PrescribeAnew
	}
	w, a, err := prescribe(ctx, c.Name, c.AsOf)
	if err != nil {
		return err
	}
	// Files come first: reading only the top of the output, as with head, ends the program.
	if err := c.writeFiles(s, w); err != nil {
		return err
	}
	switch {
	case c.JSON:
		return s.printJSON(w)
	case c.Text:
		s.say("%s", w.Text())
	default:
		printWeek(s, w, a)
	}
	return nil
}

// writeFiles writes the files that were named and reports on them on standard error, so that standard
// output holds only the week.
func (c *prescribeCommand) writeFiles(s *surroundings, w prescription.Week) error {
	if c.ICS == "" && c.FIT == "" {
		return nil
	}
	if len(w.Sessions) == 0 {
		s.warn("no file was written: no session is prescribed for %s; delete the sessions of any earlier prescription from the calendar and the watch", w.Client)
		return nil
	}
	if c.ICS != "" {
		f, err := coach.WriteCalendar(w, s.now(), c.ICS)
		if err != nil {
			return err
		}
		s.warn("%s: %s", f.Path, f.Was)
	}
	if c.FIT == "" {
		return nil
	}
	all, older, err := coach.WriteWorkouts(w, c.FIT)
	for _, f := range all {
		s.warn("%s: %s", f.Path, f.Was)
	}
	for _, path := range older {
		s.warn("%s: from an earlier prescription of this week; delete it here and on the watch", path)
	}
	return err
}

// printWeek prints the week for the trainer, under what was recommended and decided.
func printWeek(s *surroundings, w prescription.Week, a record.Assessment) {
	s.say("%s", signs.StopLine)
	for _, u := range reasons.First(a) {
		printUrgent(s, a.Client+": ", u)
	}
	s.say("As of %s: %s", w.Made.Long(), standingWord(a))
	if w.Decided != "" {
		s.say("Decided: %s", w.Decided)
	} else if a.To != nil {
		s.say("You have not decided yet. This is the week unless you decide otherwise with `nextrung decide %q ...`.", w.Client)
	}
	s.say("\n%s", w.Trainer())
	if len(w.Sessions) == 0 {
		s.say("%s", toDo(w, a))
		return
	}
	s.say("As a message for the client: nextrung prescribe %q --as-of %s --text", w.Client, w.Made)
}

// toDo says what has to happen before a client without sessions gets some.
func toDo(w prescription.Week, a record.Assessment) string {
	name := strconv.Quote(w.Client)
	switch {
	case a.GraveSign() == nil && a.Doubt() != nil:
		return "Enter the answer, then prescribe again."
	case a.Verdict != nil && *a.Verdict == record.Refer:
		return "After the visit to the doctor, enter the date of the clearance: nextrung client set " + name + " --clearance DATE"
	case w.Decided == record.DoRefer:
		return "After the visit to the doctor, enter the date of the clearance: nextrung client set " + name + " --clearance DATE. To take the referral back: nextrung decide " + name + " hold --because TEXT --by WHO"
	case a.State == record.Finished:
		return "To continue: nextrung client set " + name + " --state active"
	case a.Verdict == nil || w.Decided == record.DoPause:
		return "When the client is back: nextrung decide " + name + " resume --because TEXT --by WHO"
	case a.Unmet(policy.Adult):
		return "There are no plans for under-18s: a licensed professional decides how they train."
	case a.Stage == 0:
		return "Set the client's first stage: nextrung client set " + name + " --stage 1 --since DATE"
	case a.Lacks(policy.Screening):
		return "Enter the answers: nextrung client set " + name + " --screened DATE --active yes|no --disease none|... --signs none|... --medicine none|..."
	}
	return "See the reasons: nextrung assess " + name + " --as-of " + w.Made.String()
}
