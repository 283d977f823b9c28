package main

import (
	"fmt"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/internal/coach"
	"nextrung/internal/policy"
	"nextrung/internal/prescription"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// standingWord is the verdict, or the state of somebody who has none.
func standingWord(a record.Assessment) string {
	word := reasons.Standing(a)
	if a.Plan != nil {
		word += " (" + string(*a.Plan) + ")"
	}
	if a.To != nil {
		word += fmt.Sprintf(" to stage %d", *a.To)
	}
	return word
}

// printRoster prints one row for each client, with the decisions due first.
func printRoster(s *surroundings, on workout.Date, standings []coach.Standing) error {
	s.say("%s", signs.StopLine)
	rows := slices.Clone(standings)
	slices.SortStableFunc(rows, func(a, b coach.Standing) int { return urgency(a.Assessment) - urgency(b.Assessment) })
	printUnanswered(s, rows)
	s.say("Roster as of %s\n", on.Long())
	t := tabwriter.NewWriter(s.out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "CLIENT\tSTAGE\tWEEK\tVERDICT\tSESSIONS\tLAST RECORDING\tWHY")
	for _, st := range rows {
		a := st.Assessment
		week := st.Weeks[len(st.Weeks)-1]
		sessions := fmt.Sprint(len(week.Sessions))
		if week.Plan != nil {
			sessions += fmt.Sprintf(" of %d", week.Plan.Sessions)
		}
		why := reasons.Paragraph(a.Summary)
		if len(st.Peaks) > 0 && a.GraveSign() == nil && a.Doubt() == nil {
			why = wording.Sentence(st.Peaks[0].Short()) + " " + why
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%s\t%s\t%s\t%s\n", a.Client, a.Stage, a.Running, standingWord(a), sessions, lastRecording(st.Record), shorten(why, 90))
	}
	if err := t.Flush(); err != nil {
		return err
	}
	printProposed(s, rows)
	return nil
}

// urgency orders the roster: what cannot wait first, then decisions due.
func urgency(a record.Assessment) int {
	switch {
	case a.Doubt() != nil:
		return -2
	case a.GraveSign() != nil:
		return -1
	case a.Verdict == nil:
		return 9
	}
	return a.Verdict.Urgency()
}

// printUnanswered prints, before a roster, whom to ask and who has to see a doctor, the gravest first.
func printUnanswered(s *surroundings, rows []coach.Standing) {
	for _, grave := range []bool{true, false} {
		for _, st := range rows {
			for _, u := range reasons.First(st.Assessment) {
				if u.Grave == grave {
					printUrgent(s, st.Assessment.Client+": ", u)
				}
			}
		}
	}
}

// printUrgent prints one thing that cannot wait, with the command that enters the answer.
func printUrgent(s *surroundings, who string, u reasons.Urgent) {
	s.say("%s%s", who, strings.ToUpper(u.Head))
	for _, line := range u.Lines {
		s.say("  %s", oneLine(line))
	}
	if q := u.Asks; q != nil {
		how := howToAnswer(u.Client, q.On, q.Suspicion)
		if q.Confirm != "" {
			how = fmt.Sprintf("To correct it: nextrung client set %s; if what is on record is right: nextrung client set %[1]s --confirmed %s", wording.Quoted(u.Client), q.Confirm)
		}
		s.say("  %s", how)
	}
	s.say("")
}

func lastRecording(r record.Record) string {
	var last workout.Date
	for _, rec := range r.Recordings {
		last = max(last, rec.Date)
	}
	if last == 0 {
		return "none"
	}
	return last.String()
}

func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return strings.TrimRight(string(r[:n-1]), " ,;") + "…"
}

// printAssessment prints the verdict and the rules that are against a move; with all, every rule and
// every caution. What was held above the maximum comes first, since the zones rest on it.
func printAssessment(s *surroundings, a record.Assessment, peaks []proposal.Peak, everything bool) {
	all := reasons.First(a)
	for _, u := range all {
		printUrgent(s, a.Client+": ", u)
	}
	grave := len(all) > 0 && all[0].Grave
	s.say("%s, stage %d, as of %s: %s", a.Client, a.Stage, a.AsOf.Long(), strings.ToUpper(standingWord(a)))
	for _, text := range []string{reasons.Paragraph(a.Summary), reasons.Robustness(a.Robustness)} {
		if text != "" && !grave {
			s.say("%s", text)
		}
	}
	for _, p := range peaks {
		if !grave {
			s.say("%s", p.Text())
		}
	}
	printRules(s, a, grave, everything)
	needed := func(l record.Lack) string { return string(l.Rule) + ": " + reasons.Text(l.Needed) }
	s.list("What would change it", record.Map(a.Against, needed))
	if !grave {
		s.list("Needed", record.Map(a.Lacking, needed))
	}
	if !everything {
		s.say("\n%s\n%s\nAll rules and cautions: nextrung assess %q --as-of %s --all", signs.StopLine, signs.NoDevice, a.Client, a.AsOf)
		return
	}
	s.list("When to stop, as the client reads it", signs.StopSigns())
	s.list("Cautions", append(reasons.Texts(a.Cautions), signs.Cautions(signs.Trainer)...))
}

// printRules prints the rules by their kind. Nothing reassuring stands beside a grave sign.
func printRules(s *surroundings, a record.Assessment, grave, everything bool) {
	for _, k := range reasons.Kinds {
		var lines []string
		for _, r := range a.Reasons {
			if r.Kind == k && !(grave && (r.IsMet() || k != policy.Gate)) && (everything || !r.IsMet() && k != policy.Informative) {
				lines = append(lines, fmt.Sprintf("%-20s%-18s %s", reasons.Result(r.Met), r.Rule, reasons.Text(r.Says)))
			}
		}
		s.list(reasons.Kind(k), lines)
	}
}

// fileAddress writes a path as an address that a browser opens.
func fileAddress(path string) string {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed
	}
	return (&url.URL{Scheme: "file", Path: slashed}).String()
}

// printNext prints next week's sessions as they stand unless the trainer decides otherwise.
func printNext(s *surroundings, st coach.Standing) {
	p := st.Next
	s.say("\nNext week, %s to %s, unless you decide otherwise (stage %d)", p.From.Short(), p.To.Short(), p.Stage)
	if size := prescription.Lay(p, st.Record, st.Assessment).Size(); size != "" {
		s.say("  %s", size)
	}
	for _, t := range p.Targets {
		switch {
		case t.High > 0 && (t.Low == 0 || p.UpperOnly()):
			s.say("  %s: %s, at most %.0f bpm", t.Mode, t.Feel, t.High)
		case t.High > 0:
			s.say("  %s: %s, %.0f to %.0f bpm", t.Mode, t.Feel, t.Low, t.High)
		default:
			s.say("  %s: %s", t.Mode, t.Feel)
		}
	}
	if i := p.Intervals; i != nil {
		s.say("  %s of them %s %d × %s %s with %s comfortable in between", wording.Word(i.Count), wording.Verb(i.Count, "has", "have"), i.Bouts, wording.Clock(i.Work), i.Feel, wording.Clock(i.Rest))
	}
	if p.Check > 0 {
		s.say("  one of them is a check session of %d min: 25 min at one steady speed between warm-up and cool-down", p.Check)
	}
	if len(p.Notes) > 0 {
		s.say("  The client reads:")
	}
	for _, n := range p.Notes {
		s.say("    %s", prescription.Say(n))
	}
	s.say("  See the days: nextrung prescribe %q --as-of %s", p.Client, p.Made)
}
