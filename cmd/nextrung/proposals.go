package main

import (
	"context"
	"fmt"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

type clientProposals struct {
	ofClient
	Take    string       `help:"Accept the suggestion with this number or ID: new zones from --from on." placeholder:"N" xor:"answer"`
	Decline string       `help:"Decline it: the same evidence won't bring it up again." placeholder:"N" xor:"answer"`
	From    workout.Date `help:"First day of the new zones (default the next day)." placeholder:"D"`
	By      string       `help:"Who decided." placeholder:"WHO"`
	Because string       `help:"The reason." placeholder:"TEXT"`
	asOf
	JSON bool `name:"json" help:"The suggestions, or the answer, as JSON."`
}

func (clientProposals) Help() string {
	return "Examples:\n  nextrung client proposals Runa\n  nextrung client proposals Runa --take 1 --by Ketil\n  nextrung client proposals Runa --decline 1 --because 'the strap had slipped'\n\nShows where recordings and answers point to other zones, with the evidence. Zones change only when you accept a suggestion; the earlier zones stay for the days before."
}

func (c *clientProposals) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	which, taken := c.Take, true
	if which == "" {
		which, taken = c.Decline, false
	}
	switch {
	case which == "" && (c.By != "" || c.Because != "" || c.From != 0):
		return misuse("--from, --by and --because need --take or --decline")
	case !taken && c.From != 0:
		return misuse("--from needs --take")
	}
	if which == "" {
		return c.list(ctx, co, s, c.AsOf)
	}
	a, err := co.Answer(ctx, c.Name, which, proposal.Answer{Entered: c.AsOf, Taken: taken, From: c.From, By: c.By, Because: c.Because})
	if err != nil {
		return err
	}
	switch {
	case c.JSON:
		return s.printJSON(a)
	case taken:
		s.say("accepted for %s: %s; the new zones apply from %s, and earlier days keep theirs.", c.Name, a.Proposal.Change(), a.From.Long())
	default:
		s.say("declined for %s: %s; the same evidence won't bring it up again.", c.Name, a.Proposal.Change())
	}
	return nil
}

func (c *clientProposals) list(ctx context.Context, co *coach.Coach, s *surroundings, on workout.Date) error {
	found, err := co.Proposals(ctx, c.Name, on)
	if err != nil {
		return err
	}
	answers, err := co.Answers(ctx, c.Name, on)
	if err != nil {
		return err
	}
	if c.JSON {
		return s.printJSON(struct {
			Client string       `json:"client"`
			AsOf   workout.Date `json:"as_of"`
			proposal.Findings
			Answered []proposal.Answer `json:"answered"`
		}{c.Name, on, found, append([]proposal.Answer{}, answers...)})
	}
	if len(found.Open) == 0 {
		s.say("No change suggested to %s's zones as of %s.", c.Name, on.Long())
	} else {
		s.say("Suggested for %s's zones as of %s", c.Name, on.Long())
	}
	for i, p := range found.Open {
		printProposal(s, i+1, p)
	}
	s.list("Seen, but not enough for a suggestion", record.Map(found.Near, proposal.Near.Words))
	s.list("Answered", record.Map(answers, answeredLine))
	if len(found.Open) > 0 {
		s.say("\nZones stay as they are until you accept a suggestion: nextrung client proposals %q --take N, or --decline N", c.Name)
	}
	return nil
}

func printProposal(s *surroundings, n int, p proposal.Proposal) {
	s.say("\n%d. %s  [%s]", n, p.Change(), p.ID)
	s.say("   %s", p.Text())
	for _, e := range p.Evidence {
		s.say("   evidence  %s%s", p.Shows(e), called(e))
	}
	for _, e := range p.Beside {
		s.say("   also      %s%s", p.Shows(e), called(e))
	}
	for _, c := range p.Edges {
		s.say("   zones     %s: %s, would be %s", c.Mode, edgesText(c.Before), edgesText(c.After))
	}
	for _, c := range p.Cautions {
		s.say("   caution   %s", c.Words())
	}
}

// answeredLine writes an answer: "4 October 2026, accepted from 5 October 2026: ..., by Ketil: reason".
func answeredLine(a proposal.Answer) string {
	line := a.Entered.Long() + ", declined"
	if a.Taken {
		line = a.Entered.Long() + ", accepted from " + a.From.Long()
	}
	line += ": " + a.Proposal.Change()
	if a.By != "" {
		line += ", by " + a.By
	}
	if a.Because != "" {
		line += ": " + a.Because
	}
	return line
}

func called(e proposal.Evidence) string {
	if e.Note != "" {
		return " (" + e.Note + ")"
	}
	return " (" + strings.Join(e.Recordings, ", ") + ")"
}

func edgesText(e *physiology.Edges) string {
	if e == nil {
		return "none"
	}
	return fmt.Sprintf("%s, %s, %s bpm from %s", wording.Band(e.BPM[0], e.BPM[1]), wording.Band(e.BPM[1], e.BPM[2]), wording.Band(e.BPM[2], e.BPM[3]), reasons.ZonesFrom(e.Basis))
}

// printProposed lists, below the roster, the clients with open suggestions for their zones.
func printProposed(s *surroundings, standings []coach.Standing) {
	var who []string
	for _, st := range standings {
		if n := len(st.Proposed); n > 0 {
			who = append(who, fmt.Sprintf("%s (%d)", st.Record.Client.Name, n))
		}
	}
	if len(who) > 0 {
		s.say("\nOther zones are suggested for %s: see `nextrung client proposals NAME`.", strings.Join(who, ", "))
	}
}
