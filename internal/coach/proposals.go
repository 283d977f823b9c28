package coach

import (
	"context"
	"strconv"

	"nextrung/internal/fault"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Proposals gives the changes of zones that a client's record supports on a day, without those the trainer
// had answered by then.
func (c *Coach) Proposals(ctx context.Context, client string, on workout.Date) (proposal.Findings, error) {
	record, err := c.book.Record(ctx, client, on)
	if err != nil {
		return proposal.Findings{}, err
	}
	return c.proposals(ctx, record, on)
}

func (c *Coach) proposals(ctx context.Context, r record.Record, on workout.Date) (proposal.Findings, error) {
	answers, err := c.book.Answers(ctx, r.Client.Name, on)
	if err != nil {
		return proposal.Findings{}, err
	}
	return proposal.Find(r, on, answers), nil
}

// Answers gives what the trainer had answered to a client's proposals by the end of a day.
func (c *Coach) Answers(ctx context.Context, client string, on workout.Date) ([]proposal.Answer, error) {
	return c.book.Answers(ctx, client, on)
}

// Answer enters the trainer's answer to one open proposal, called by its number in the list or its id.
// Accepting it changes the client's zones from a.From on, the day after the answer if none is given; the
// sets before stay, workouts of the new days are measured again, and next week's sessions are written again.
func (c *Coach) Answer(ctx context.Context, client, which string, a proposal.Answer) (proposal.Answer, error) {
	open, err := c.Proposals(ctx, client, a.Entered)
	if err != nil {
		return a, err
	}
	if a.Proposal, err = openProposal(open.Open, client, which); err != nil {
		return a, err
	}
	if !a.Taken {
		r, err := c.book.Record(ctx, client, endOfTime)
		if err != nil {
			return a, err
		}
		if err := heard(r, "reason", a.Because, a.Entered); err != nil {
			return a, err
		}
		a.From = 0
		return a, c.book.AddAnswer(ctx, client, a, nil)
	}
	if a.From == 0 {
		a.From = a.Entered + 1
	}
	facts, err := c.Client(ctx, client)
	if err != nil {
		return a, err
	}
	if facts, err = a.Proposal.Take(facts, a.From); err != nil {
		return a, err
	}
	if err := checkClient(facts, a.Entered); err != nil {
		return a, err
	}
	if err := c.book.AddAnswer(ctx, client, a, &facts); err != nil {
		return a, err
	}
	if err := c.Reassess(ctx, client); err != nil {
		return a, err
	}
	_, err = c.WeekOf(ctx, client, a.Entered)
	return a, err
}

// openProposal finds an open proposal by its number or id.
func openProposal(open []proposal.Proposal, client, which string) (proposal.Proposal, error) {
	for i, p := range open {
		if which == p.ID || which == strconv.Itoa(i+1) {
			return p, nil
		}
	}
	if len(open) == 0 {
		return proposal.Proposal{}, fault.New(fault.NotFound, "no change to %s's zones is suggested on that day, so there is no suggestion %q to accept or decline", client, which)
	}
	return proposal.Proposal{}, fault.New(fault.NotFound, "%s has no open suggestion %q; the last one is %d", client, which, len(open)).Helped(fault.SeeProposals, client)
}
