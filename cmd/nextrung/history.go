package main

import (
	"cmp"
	"strings"

	"nextrung/internal/hindsight"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// shownClient is what `client show --json` prints: the facts, and the way through the stages.
type shownClient struct {
	record.Client
	Stages    []hindsight.Stage `json:"stages"`
	Decisions []hindsight.Entry `json:"decisions"`
}

// showHistory prints the stages and every decision with what was known and what came of it.
func showHistory(s *surroundings, h hindsight.History) {
	var stages []string
	for _, x := range h.Stages {
		line := "stage " + string(rune('0'+x.Stage)) + " from " + x.From.Long()
		if x.To != 0 {
			line += " to " + x.To.Long()
		}
		stages = append(stages, line)
	}
	s.say("\nstages: %s", strings.Join(stages, ", "))
	if len(h.Decisions) == 0 {
		s.say("decisions: none yet")
		return
	}
	s.say("\ndecisions, each with what was known that day and what came of it:")
	for _, e := range h.Decisions {
		showEntry(s, e)
	}
	s.say("\nThe last decision is sealed %s; `nextrung verify` and the printed page show the same seal.", h.Decisions[len(h.Decisions)-1].Decision.Digest)
}

func showEntry(s *surroundings, e hindsight.Entry) {
	d := e.Decision
	until := ""
	if d.To != 0 {
		until = " to " + d.To.String()
	}
	entered := d.Entered.String()
	if d.Typed != 0 {
		entered += " (entered on " + d.Typed.String() + ")"
	}
	s.say("\n  %s  %s, stage %d from %s%s, by %s: %s", entered, d.Act, d.Stage, d.From, until, d.By, d.Because)
	s.say("    %s", wording.Sentence(e.Agreed()))
	s.say("    Known that day: %s", e.Assessed.Summary)
	for _, w := range e.Assessed.Reasons {
		if !w.Summed {
			s.say("      %s: %s", w.Rule, w.Text)
		}
	}
	s.say("    %s", e.Came())
	if e.Changed != nil {
		s.say("    %s", e.Changed.Text())
	}
	s.say("    sealed %s, policy %s, %s", d.Digest.Short(), cmp.Or(hindsight.ShortPolicy(d.Policy), "not kept"), wording.Count(len(d.Files), "recording"))
}
