package reports

import (
	"cmp"
	"fmt"
	"nextrung/internal/policy"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"strings"
)

// where says in which week the client is.
func where(c Client) string {
	a := c.Assessment
	state := map[record.State]string{
		record.PausedState: "You are on a break.", record.Finished: "You have finished the programme.",
		record.Maintaining: "You are keeping what you have built.", record.RecoveryOf: "You are in an easy phase.",
	}[a.State]
	n := a.Running
	switch {
	case a.State == record.PausedState && c.Next != nil && c.Next.Sessions > 0:
		return "Your break is over."
	case state != "":
		return state
	case (a.Stage == 0 || a.Unmet(policy.Adult)) && len(known(c.Weeks)) > 0:
		return "Here is what you have done."
	case a.Stage == 0 || n == 0 || a.Unmet(policy.Adult):
		return "You are about to begin."
	case a.Stage > 1 && a.Week == 0:
		return fmt.Sprintf("This is your first week of stage %d.", a.Stage)
	}
	if a.Stage == 1 {
		return fmt.Sprintf("You are in week %d.", n)
	}
	return fmt.Sprintf("You are in week %d of stage %d.", n, a.Stage)
}

// lead says what comes next. A move, a step back or an easier week is announced only after the trainer
// has decided it. It is not shown while there is an alarm.
func lead(c Client) string {
	a := c.Assessment
	if c.Stopped != "" {
		return "Something has come up since then. Don't train until you have spoken to your trainer."
	}
	if d := c.Record.Decided(a.AsOf); d != nil {
		return decidedLead(c, *d)
	}
	if a.Verdict == nil {
		return ""
	}
	if a.Unmet(policy.Illness) {
		return "Get well first: rest until you have had no fever and no other symptoms for 48 hours."
	}
	switch *a.Verdict {
	case record.Advance, record.Ease, record.StepBack:
		return "Your trainer is looking at your last few weeks."
	case record.NotAssessable:
		return openLead(c)
	}
	return heldLead(c)
}

// openLead says what is missing.
func openLead(c Client) string {
	switch {
	case c.Assessment.Unmet(policy.Adult):
		return ""
	case c.Next != nil && c.Next.Sessions == 0:
		return "Your trainer has a few questions for you first."
	}
	return "We can't say yet. See below for what to record."
}

// heldLead says what another week in the same stage is about.
func heldLead(c Client) string {
	a := c.Assessment
	switch n := newIn(c); {
	case a.Plan != nil && *a.Plan == record.Return && len(c.Weeks) > 0 && len(c.Weeks[len(c.Weeks)-1].Sessions) == 0:
		return "When you are back, the first sessions are easy ones."
	case a.Plan != nil && *a.Plan == record.Return:
		return "Welcome back. The first sessions are easy ones."
	case n != "":
		return n
	case muchTooHard(c) && planned(c.Weeks[len(c.Weeks)-1]) == nil:
		return "One more week, and slower: for much of the last one, your pulse was above your comfortable range."
	case muchTooHard(c):
		return "One more week, and slower: much of the last one was harder than planned."
	case c.Next.Says(record.FeltTooHard):
		return "One more week, and easier: the last one felt harder than it should have."
	}
	return compared(c)
}

// compared says how the minutes planned for next week compare with those of the last one; "" where nothing is.
func compared(c Client) string {
	if c.Next == nil || c.Next.Sessions == 0 {
		return ""
	}
	var last *record.Prescription
	if n := len(c.Weeks); n > 0 && planned(c.Weeks[n-1]) != nil {
		last = c.Weeks[n-1].Plan
	}
	next := c.Next.Total()
	switch {
	case last == nil:
		return "Your plan for next week is below."
	case next != last.Total():
		return fmt.Sprintf("%s next week: %d min planned, after %d.", map[bool]string{true: "More", false: "Less"}[next > last.Total()], next, last.Total())
	case c.Next.Intervals == nil && last.Intervals != nil:
		return "Next week has the same minutes, without faster parts."
	case boutsOf(*c.Next) != boutsOf(*last):
		return "Next week has the same minutes, but different faster parts."
	}
	return "Next week is planned like the last one."
}

// boutsOf are the faster parts of a plan, without their heart rates.
func boutsOf(p record.Prescription) record.Intervals {
	if p.Intervals == nil {
		return record.Intervals{}
	}
	i := *p.Intervals
	i.Low, i.High, i.Lowest = 0, 0, 0
	return i
}

// decidedLead says what the trainer decided.
func decidedLead(c Client, d record.Decision) string {
	begins := ""
	if d.From > c.Assessment.AsOf {
		begins = fmt.Sprintf(" Stage %d begins on %s.", d.Stage, d.From.Long())
	}
	switch d.Act {
	case record.DoAdvance:
		return strings.TrimSpace("Your trainer has moved you up." + begins + " " + newIn(c))
	case record.DoStepBack:
		return fmt.Sprintf("Your trainer has moved you to stage %d, so that what you have built can settle.", d.Stage) + begins
	case record.DoPause:
		if d.To != 0 {
			return "You are on a break until " + d.To.Long() + "."
		}
	}
	return cmp.Or(decidedLeads[d.Act], compared(c))
}

var decidedLeads = map[record.Act]string{
	record.DoEase:     "Your trainer has planned an easier week. That is part of training.",
	record.DoMaintain: "You stay where you are, by choice. That is a fine place to be.",
	record.DoPause:    "You are on a break. Come back when you are ready.",
	record.DoResume:   "Welcome back. The first sessions are easy ones.",
}

// newIn names the interval sessions that the plan calls new; "" when it calls none so.
func newIn(c Client) string {
	n := c.Next
	if n == nil || n.Intervals == nil || !n.Says(record.NewParts) {
		return ""
	}
	length := ""
	if n.Intervals.Work <= 60 {
		length = "short "
	}
	return fmt.Sprintf("New: %s with %s%s parts.", wording.Plural(n.Intervals.Count, "session", "sessions"), length, n.Intervals.Feel)
}

// muchTooHard says that a quarter or more of the last week's known time was harder than planned, or above the zones
// of the stage where nothing was.
func muchTooHard(c Client) bool {
	if len(c.Weeks) == 0 || !beatsLead(c) {
		return false
	}
	w := c.Weeks[len(c.Weeks)-1]
	b := againstPlan(w)
	known, above := b.total()-b.None, b.Harder
	if planned(w) == nil {
		above = aboveStage(w)
	}
	return known > 0 && 4*above >= known
}

// feltHard says that by the client's own answers the sessions were too hard.
func feltHard(c Client) bool {
	return c.Next.Says(record.FeltTooHard) || c.Assessment.Unmet(policy.Effort, policy.BoutEffort)
}
