package main

import (
	"context"

	"nextrung/internal/coach"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
)

type clientCommands struct {
	Add    clientAdd    `cmd:"" help:"Enter a new client."`
	Set    clientSet    `cmd:"" help:"Change a client's facts; the earlier ones are kept."`
	Show   clientShow   `cmd:"" help:"Show a client's facts, decisions and recordings."`
	List   clientList   `cmd:"" help:"List the clients."`
	Forget clientForget `cmd:"" help:"Remove a client and everything on record about them."`

	Proposals clientProposals `cmd:"" help:"Show the evidence for changing zones; accept or decline a suggestion."`
}

type clientAdd struct {
	Name string `arg:"" help:"First name, as shown on folders and pages."`
	facts
}

func (clientAdd) Help() string {
	return "Example: nextrung client add Runa --born 1984-03-12 --sex female --stage 1 --since 2026-07-06 --modes run,walk --screened 2026-07-04 --active no --disease none --signs none --medicine none"
}

func (c *clientAdd) Run(ctx context.Context, cli *commands, s *surroundings) error {
	dir, err := cli.bookFolder()
	if err != nil {
		return err
	}
	co, err := openInSight(ctx, dir)
	if err != nil {
		return err
	}
	defer co.Close()
	client, err := co.EnterClient(ctx, c.Name, c.typed(), s.today())
	if err != nil {
		return err
	}
	s.say("%s is in the book. Put exported workouts into %s, or use `nextrung receive --client %q FILE...`.", client.Name, co.DropFolder(client.Name), client.Name)
	if client.Screening.On == 0 {
		s.say("\nThe screening questions have not been answered yet, and no session is prescribed without them. Ask %s:", client.Name)
		for _, q := range signs.Screening() {
			s.say("  %s", q.Text)
		}
		s.say("  %s", signs.ToldNotToTrain.Question())
		s.say("and about exercise so far, known disease and medicines. Then enter the answers: `nextrung client set %q --screened DATE --active yes|no --disease ... --signs ... --medicine ...`.", client.Name)
	}
	return askAtOnce(ctx, co, s, client.Name)
}

// askAtOnce prints what the facts of a client leave to ask.
func askAtOnce(ctx context.Context, co *coach.Coach, s *surroundings, name string) error {
	a, err := co.Assess(ctx, name, s.today(), false)
	if err != nil {
		return err
	}
	for _, u := range reasons.First(a) {
		printUrgent(s, "\n"+name+": ", u)
	}
	return nil
}

type clientSet struct {
	ofClient
	facts
}

func (clientSet) Help() string {
	return "Example: nextrung client set Runa --hr-max-mode run=188 --from 2026-09-01"
}

func (c *clientSet) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	client, err := co.ChangeClient(ctx, c.Name, c.typed(), s.today())
	if err != nil {
		return err
	}
	if from, err := coach.Date(coach.From, c.From); err == nil && from != 0 {
		s.say("They hold from %s and are entered on %s.", from.Long(), s.today().Long())
	}
	s.say("The facts of %s are entered as of today. An assessment for an earlier day uses the facts entered by then, or the first ones if there were none yet.", client.Name)
	return askAtOnce(ctx, co, s, client.Name)
}

type clientList struct {
	JSON bool `name:"json" help:"The facts of all clients as JSON."`
}

func (clientList) Help() string { return "Example: nextrung client list" }

func (c *clientList) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	names, err := co.Clients(ctx)
	if err != nil {
		return err
	}
	all := []record.Client{}
	for _, n := range names {
		client, err := co.Client(ctx, n)
		if err != nil {
			return err
		}
		all = append(all, client)
	}
	if c.JSON {
		return s.printJSON(all)
	}
	for _, client := range all {
		s.say("%s", client.Name)
	}
	if len(all) == 0 {
		s.say("The book has no clients yet. Add one: `nextrung client add NAME --born DATE`.")
	}
	return nil
}

type clientForget struct {
	ofClient
	Yes  bool `help:"Really remove everything about this client; this cannot be undone."`
	Open bool `name:"although-open" help:"Remove the client even though a doctor still has to see or clear them."`
}

func (clientForget) Help() string { return "Example: nextrung client forget Runa --yes" }

func (c *clientForget) Run(ctx context.Context, co *coach.Coach, s *surroundings) error {
	if !c.Yes {
		return misuse("this removes every recording, note and decision of %s for good; add --yes if you mean it", c.Name)
	}
	if err := co.Forget(ctx, c.Name, s.today(), c.Open); err != nil {
		return err
	}
	s.say("Everything about %s has been removed. Backups, and any earlier book that a restore kept beside this one, still hold it.", c.Name)
	if c.Open {
		s.say("The book no longer holds what was open. Before %s trains with you again, ask the screening questions, and ask whether a doctor has cleared them.", c.Name)
	}
	return nil
}
