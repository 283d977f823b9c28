package coach

import (
	"context"
	"slices"

	"nextrung/internal/fault"
	"nextrung/internal/policy"
	"nextrung/internal/progression"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// ErrRefer means that a client would be moved up or sent to train although the policy sends them to a doctor, or
// although a question about a grave sign is still open. Errors of this kind are *fault.Error.
var ErrRefer = &fault.Error{Kind: fault.DoctorFirst}

// doctorFirst refuses for the sake of a sign or an illness.
func doctorFirst(h fault.Help, client, what string, args ...any) error {
	return fault.New(fault.DoctorFirst, what, args...).Helped(h, client)
}

// shut refuses what a gate would hold back whatever is decided, with what would open it.
func shut(client string, gate record.Reason) error {
	says := reasons.Text(gate.Says)
	switch {
	case gate.Rule == "":
		return fault.New(fault.Needs, "ask first: %s", says).Helped(fault.ChangeFacts, client)
	case gate.Rule == policy.Screening:
		return fault.New(fault.Needs, "the screening comes first: %s", says).Helped(fault.EnterScreening, client)
	case gate.Rule == policy.Adult && gate.Met == nil:
		return fault.New(fault.Needs, "%s", says).Helped(fault.ChangeFacts, client)
	case gate.Rule == policy.Adult:
		return fault.New(fault.Refused, "%s", says)
	case gate.Met == nil && gate.Rule != policy.Clearance:
		return doctorFirst(fault.EnterSigns, client, "a doctor comes first: %s", says)
	}
	return doctorFirst(fault.EnterClearance, client, "a doctor comes first: %s", says)
}

// opens refuses a decision to move up, or to train again, that a gate would hold back: it needs a fact, not a reason.
func opens(act record.Act, a record.Assessment, v progression.Review) error {
	if act != record.DoAdvance && act != record.DoResume {
		return nil
	}
	all, harder := v.Bars()
	switch above := v.AboveLimit(v.Stage + 1); {
	case a.Verdict != nil && *a.Verdict == record.Refer:
		return doctorFirst(fault.EnterClearance, a.Client, "the decision was not entered. %s", reasons.Paragraph(a.Summary))
	case len(a.Unanswered) > 0 && a.Unanswered[0].Clash.Code == "":
		return doctorFirst(fault.EnterSigns, a.Client, "the decision was not entered. %s", reasons.Paragraph(a.Summary))
	case len(all) > 0:
		return shut(a.Client, all[0])
	case v.Record.Referred():
		return referred(a.Client)
	case act == record.DoResume:
		return nil
	case len(harder) > 0:
		return shut(a.Client, harder[0])
	case above != nil:
		return fault.New(fault.Refused, "%s", reasons.Text(*above)).Helped(fault.ChangeFacts, a.Client)
	}
	return well(v)
}

// referred refuses for the sake of a referral that no clearance has answered and no hold has taken back.
func referred(client string) error {
	return doctorFirst(fault.EnterClearance, client, "%s was sent to a doctor, and no clearance from that day or later is on record; a hold takes the referral back", client)
}

// well refuses to move a client up on the days of a fever or a chest illness and before the normal weeks after it.
func well(v progression.Review) error {
	if says := v.Illness(); says != nil {
		return fault.New(fault.Refused, "%s", reasons.Text(*says))
	}
	return nil
}

// HeldBack is what gates hold back on a day whatever was decided: all training, and what is harder than comfortable
// where the client's stage has any of that.
func (c *Coach) HeldBack(ctx context.Context, client string, on workout.Date) (all, harder record.Facts, err error) {
	r, err := c.book.Record(ctx, client, on)
	if err != nil {
		return nil, nil, err
	}
	v := progression.NewReview(c.Policy, on, r)
	says := func(x record.Reason) record.Fact { return x.Says }
	a, h := v.Bars()
	all = record.Map(a, says)
	if stage, _ := r.StageOn(on + 1); stage > 1 {
		harder = record.Map(h, says)
		if above := v.AboveLimit(stage); above != nil {
			harder = append(harder, *above)
		}
	}
	return all, harder, nil
}

// waitsForDoctor says what of a client waits for a doctor: the gates that a clearance opens, and a referral that none has
// answered.
func waitsForDoctor(v progression.Review) record.Facts {
	all, harder := v.Bars()
	out := record.Facts{}
	for _, gate := range append(all, harder...) {
		if gate.Rule != "" && gate.Rule != policy.Screening && gate.Rule != policy.Adult && gate.Says.Code != progression.EmergencyFirst {
			out = append(out, gate.Says)
		}
	}
	if len(out) == 0 && v.Record.Referred() {
		out = append(out, record.Fact{Code: progression.DoctorFirst})
	}
	return out
}

// enteredSince refuses to send somebody to train as of an earlier day when something has been entered since that
// holds training back: a grave sign, a note that may be one, an illness, a referral, a fact that shuts a gate, a doctor's
// limit, or a fact by which the heart rate no longer leads. It was not known then but is known now. Where nobody was sent
// to train then, nothing goes out that could be wrong now.
func (c *Coach) enteredSince(ctx context.Context, on workout.Date, r record.Record) error {
	then := progression.NewReview(c.Policy, on, r)
	if !then.MayTrain() {
		return nil
	}
	now, err := c.book.Record(ctx, r.Client.Name, endOfTime)
	if err != nil {
		return err
	}
	last := on
	for _, n := range now.Notes {
		last = max(last, n.Date, n.Entered)
	}
	if last > on {
		a := progression.Assess(c.Policy, last, now)
		if a.Doubt() != nil || a.GraveSign() != nil {
			return doctorFirst(fault.NoHelp, r.Client.Name, "entered since %s: %s", on.Long(), reasons.Paragraph(a.Summary))
		}
		if v := progression.NewReview(c.Policy, last, now); v.Ill() {
			return well(v)
		}
	}
	if now.Referred() && !r.Referred() {
		return referred(r.Client.Name)
	}
	what := easedSince(on, now, r)
	r.Client = now.Client
	v := progression.NewReview(c.Policy, on, r)
	all, harder := v.Bars()
	_, before := then.Bars()
	known := func(gate record.Reason) bool {
		return slices.ContainsFunc(before, func(x record.Reason) bool { return x.Rule == gate.Rule && x.Says.Code == gate.Says.Code })
	}
	switch at := slices.IndexFunc(harder, func(gate record.Reason) bool { return !known(gate) }); {
	case len(all) > 0:
		return shut(r.Client.Name, all[len(all)-1])
	case at >= 0:
		return shut(r.Client.Name, harder[at])
	case what != "":
		return fault.New(fault.Refused, "entered since %s: %s; prescribe as of today", on.Long(), what)
	}
	return nil
}

// easedSince names what was entered after a day and leaves less of the week after it than was known then; "" for nothing.
func easedSince(on workout.Date, now, was record.Record) string {
	limit, limitWas := now.Client.LimitOver(on+1, on+7), was.Client.LimitOver(on+1, on+7)
	switch {
	case limit > 0 && (limitWas == 0 || limit < limitWas):
		return "a doctor's limit of " + wording.Number(limit) + " bpm"
	case now.Client.ByEffort() && !was.Client.ByEffort():
		return "a fact by which the client trains by effort and not by heart rate"
	}
	for d := on + 1; d <= on+7; d++ {
		if now.Paused(d) && !was.Paused(d) {
			return "a pause"
		}
	}
	for _, d := range now.Decisions {
		if d.Entered > on && d.Entered <= on+7 && (d.Act == record.DoEase || d.Act == record.DoStepBack) {
			return "a decision for less"
		}
	}
	for _, q := range now.Unanswered() {
		if q.Topic != "" && q.On <= on+7 && !slices.ContainsFunc(was.Notes, func(n record.Note) bool { return n.ID == q.Note }) {
			return "words that nobody has asked about, on which the question is: " + q.Asks()
		}
	}
	return ""
}
