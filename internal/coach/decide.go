package coach

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/logbook"
	"nextrung/internal/prescription"
	"nextrung/internal/progression"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Decide enters what the trainer decided on a day, with the assessment of that day beside it. A
// decision holds from its From day, the next day if none is given, so that the day of the decision
// itself is still judged in the old stage; next week's prescription follows it at once.
func (c *Coach) Decide(ctx context.Context, d record.Decision) (record.Decision, error) {
	var err error
	if d.By, err = c.orUsual(ctx, d.By); err != nil {
		return d, err
	}
	if err := errors.Join(given("because", d.Because, "every decision needs a reason", fault.NoHelp),
		given("by", d.By, "every decision needs the name of the person who made it", fault.SetBy)); err != nil {
		return d, err
	}
	r, err := c.book.Record(ctx, d.Client, d.Entered)
	if err != nil {
		return d, err
	}
	if d, err = c.placed(ctx, d); err != nil {
		return d, err
	}
	if d.Act != record.DoRefer { // which stops the client itself
		if err := heard(r, "reason", d.Because, d.Entered); err != nil {
			return d, err
		}
	}
	a := progression.Assess(c.Policy, d.Entered, r)
	d.Verdict, d.Policy = a.Verdict, a.Policy
	if err := opens(d.Act, a, progression.NewReview(c.Policy, d.Entered, r)); err != nil {
		return d, err
	}
	if d.Stage, err = stageAfter(d.Act, a); err != nil {
		return d, err
	}
	for _, r := range r.Recordings {
		if r.Counts() {
			d.Files = append(d.Files, r.File)
		}
	}
	if d.Act == record.DoAdvance || d.Act == record.DoResume {
		if err := c.enteredSince(ctx, d.Entered, r); err != nil {
			return d, err
		}
	}
	if err := c.book.AddDecision(logbook.By(ctx, d.By), d.Client, d); err != nil {
		return d, err
	}
	s, err := c.WeekOf(ctx, d.Client, d.Entered)
	if n := len(s.Record.Decisions); n > 0 {
		d = s.Record.Decisions[n-1] // as it was sealed
	}
	return d, err
}

// placed puts a decision into its days: from the next one unless another is given, and not before any other decision.
func (c *Coach) placed(ctx context.Context, d record.Decision) (record.Decision, error) {
	if d.From == 0 {
		d.From = d.Entered + 1
	}
	if d.To != 0 && d.To < d.From {
		return d, fault.In("to", d.To, "is before %s, the first day of the decision", d.From)
	}
	if d.Typed <= d.Entered {
		d.Typed = 0
	}
	known, err := c.book.Record(ctx, d.Client, endOfTime)
	if err != nil {
		return d, err
	}
	return d, inOrder(known, d)
}

// spokenOf is for how many days a reason may speak of a sign that was entered or cleared (common practice, no source).
const spokenOf = 7

// heard refuses a reason, a goal or the like that speaks of a grave sign of which no note says, open or of these days, that
// it was so, or of today that it was not: such a text stops nobody. Signs of which it may speak all the same are excepted.
func heard(r record.Record, what, text string, on workout.Date, except ...signs.Sign) error {
	for _, m := range signs.Read(text) {
		if m.Said != signs.Denied && m.Sign.Grave() && !slices.Contains(except, m.Sign) && !known(r, m.Sign, on) {
			return doctorFirst(fault.EnterSigns, r.Client.Name, "the %s reads like “%s”, which no note of these days mentions; nothing was entered", what, m.Sign.Words())
		}
	}
	return nil
}

// known says that a record speaks of a sign so that a reason of a day may.
func known(r record.Record, sign signs.Sign, on workout.Date) bool {
	var last workout.Date
	if slices.Contains(r.Client.Screening.Signs, sign) {
		last = r.Client.Screening.On
	}
	for _, n := range r.Notes {
		if slices.Contains(n.Symptoms, sign) || slices.Contains(n.Suspected, record.Suspicion{Sign: sign}) {
			last = max(last, n.Entered)
		}
		if n.NoSign && n.Entered == on {
			return true
		}
	}
	open := slices.ContainsFunc(r.OpenSigns(), func(s record.OpenSign) bool { return s.Sign == sign }) ||
		slices.ContainsFunc(r.Unanswered(), func(q record.Question) bool { return q.Sign == sign })
	return open || last != 0 && max(last, r.Client.Clearance) > on-spokenOf
}

// inOrder refuses a decision that would rewrite the time before the last one or before the client began, or that is for a
// day before the last one's. One from the same day as the last replaces it from then on; both stay on record.
func inOrder(r record.Record, d record.Decision) error {
	if since := r.Client.Since; d.Entered < since || d.From < since {
		return fault.New(fault.Conflict, "%s began on %s; a decision cannot be made or start before that day", d.Client, since)
	}
	if n := len(r.Decisions); n > 0 && d.Entered < r.Decisions[n-1].Entered {
		last := r.Decisions[n-1]
		return fault.New(fault.Conflict, "a decision (%s) is already on record for %s; one for %s cannot be entered any more: decide for that day or a later one", last.Act, last.Entered, d.Entered)
	}
	if n := len(r.Decisions); n > 0 && d.From < r.Decisions[n-1].From {
		last := r.Decisions[n-1]
		return fault.In(From, d.From, "is before %s, the first day of the last decision (%s, entered on %s): give that day or a later one",
			last.From, last.Act, last.Entered).Of(fault.Conflict)
	}
	return nil
}

func stageAfter(act record.Act, a record.Assessment) (int, error) {
	switch act {
	case record.DoAdvance:
		if a.Stage >= 3 {
			return 0, fault.New(fault.Refused, "%s is in stage 3; there is no stage above it", a.Client)
		}
		return a.Stage + 1, nil
	case record.DoStepBack:
		if a.Stage <= 1 {
			return 0, fault.New(fault.Refused, "%s is in stage %d; there is no stage below it: ease or pause instead", a.Client, a.Stage)
		}
		return a.Stage - 1, nil
	case record.DoHold, record.DoEase, record.DoRefer, record.DoMaintain, record.DoPause, record.DoResume:
		return a.Stage, nil
	}
	return 0, notOneOf("act", string(act), "advance", "hold", "ease", "step-back", "refer", "maintain", "pause", "resume")
}

// given refuses a text that is missing, and says what would help.
func given(f fault.Field, text, why string, help fault.Help) error {
	if strings.TrimSpace(text) == "" {
		return fault.In(f, "", "is missing: %s", why).Helped(help, "")
	}
	return nil
}

// Standing is one client's assessment with what the roster and pages show beside it.
type Standing struct {
	Record     record.Record
	Assessment record.Assessment
	Weeks      []record.Week
	Next       record.Prescription // the plan that stands
	Known      record.Record       // on the day on which it was made
	fresh      bool                // Next has not been kept
	Proposed   []proposal.Proposal // other zones, for the trainer to accept or decline
	Peaks      []proposal.Peak     // above the maximum that the zones rest on
}

// standing assesses a client and finds the plan that stands, without storing anything.
func (c *Coach) standing(ctx context.Context, name string, on workout.Date) (Standing, error) {
	record, err := c.book.Record(ctx, name, on)
	if err != nil {
		return Standing{}, err
	}
	s := Standing{Record: record, Assessment: progression.AssessOften(c.Policy, on, record)}
	s.Next, s.fresh = prescription.Standing(c.Policy, on, record, s.Assessment)
	if err := c.recall(ctx, &s); err != nil {
		return Standing{}, err
	}
	s.Weeks = record.Weeks(on, weeksSince(record, on))
	found, err := c.proposals(ctx, record, on)
	s.Proposed, s.Peaks = found.Open, found.Peaks()
	return s, err
}

// Standings gives the standing of some clients, all if none is named, without storing anything.
func (c *Coach) Standings(ctx context.Context, names []string, on workout.Date) ([]Standing, error) {
	all := len(names) == 0
	if all {
		var err error
		if names, err = c.book.Clients(ctx); err != nil {
			return nil, err
		}
	}
	var out []Standing
	for _, n := range names {
		s, err := c.standing(ctx, n, on)
		if err != nil {
			return nil, err
		}
		if !all || began(s.Record, on) {
			out = append(out, s)
		}
	}
	return out, nil
}

// Begun says whether the client had begun by the day of the assessment.
func (s Standing) Begun() bool { return began(s.Record, s.Assessment.AsOf) }

// weeksSince counts the weeks before a day that pages show: from the first thing known of the client, but a year
// at most.
func weeksSince(r record.Record, on workout.Date) int {
	first := r.Client.Since
	for _, rec := range r.Recordings {
		if first == 0 || rec.Date < first {
			first = rec.Date
		}
	}
	for _, rep := range r.Reports {
		if first == 0 || rep.Date < first {
			first = rep.Date
		}
	}
	if first == 0 || first > on {
		return 1
	}
	return min(52, (int(on-first)+7)/7) // whole weeks back from on, the first one perhaps in part
}

// Week does the weekly job for every client as of a day: an assessment and next week's
// prescription, both kept.
func (c *Coach) Week(ctx context.Context, on workout.Date, progress func(done, all int)) ([]Standing, error) {
	names, err := c.book.Clients(ctx)
	if err != nil {
		return nil, err
	}
	var out []Standing
	for i, name := range names {
		s, err := c.WeekOf(ctx, name, on)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		if began(s.Record, on) {
			out = append(out, s)
		}
		if progress != nil {
			progress(i+1, len(names))
		}
	}
	return out, nil
}

// began says whether a client had begun by a day; one added later had not.
func began(r record.Record, on workout.Date) bool {
	return r.Client.Since <= on || len(r.Recordings)+len(r.Reports) > 0
}

// WeekOf does the weekly job for one client; nothing is kept of one who had not begun by then.
func (c *Coach) WeekOf(ctx context.Context, name string, on workout.Date) (Standing, error) {
	s, err := c.standing(ctx, name, on)
	if err != nil {
		return s, err
	}
	if !began(s.Record, on) {
		return s, nil
	}
	if err := c.book.AddAssessment(ctx, name, s.Assessment); err != nil {
		return s, err
	}
	err = c.send(ctx, &s)
	return s, err
}
