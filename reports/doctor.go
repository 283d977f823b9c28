package reports

import (
	"fmt"
	"slices"

	weekly "nextrung/internal/answers"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// doctorFirst says that the client has to see a doctor before going on, by the rules or because the
// trainer decided so. No decision takes back what the rules say here: only a clearance does.
func doctorFirst(c Client) bool {
	d := c.Record.Decided(c.Assessment.AsOf)
	return is(c.Assessment, record.Refer) || d != nil && d.Act == record.DoRefer || c.Record.Referred()
}

// alarm is what stands first on a client's page while nobody may train as before: what to do, then why.
type alarm struct {
	Head   string
	Lines  []string
	Recall bool // of the sessions that were handed out before
}

// alarmOf is the alarm of a client: a grave sign on record, a question about one, or a doctor who comes
// first for another reason; nil for none. It stands above a pause and the end of the programme.
func alarmOf(c Client) *alarm {
	a := c.Assessment
	var out alarm
	switch sign, days := reasons.OnRecord(a); {
	case sign != "":
		out = alarm{sign.Urgent(signs.Client, days), []string{signs.StopLine, sign.NoTraining(signs.Client) + ". Then tell your trainer the date of the clearance.", "You told us: " + sign.Words() + "."}, true}
	case a.Doubt() != nil:
		out = alarm{"Don't train. Answer your trainer today", []string{signs.StopLine}, true}
	case doctorFirst(c) && c.Next != nil && c.Next.Sessions > 0:
		return &alarm{Head: "Comfortable sessions only until a doctor has cleared you", Lines: []string{signs.StopLine, explained}}
	case doctorFirst(c):
		return &alarm{uncleared, []string{signs.StopLine, signs.AfterReferral, explained}, true}
	default:
		return nil
	}
	for _, q := range a.Unanswered {
		if q.Grave() {
			out.Lines = append(out.Lines, weekly.Wrote("you", q)+" "+q.Asks())
		}
	}
	out.Lines = slices.Insert(out.Lines, 1, signs.AfterReferral)
	return &out
}

const (
	uncleared = "Don't train until a doctor has cleared you"
	explained = "Your trainer will explain why and help you with it."
)

// openSigns are the days of what is, or may be, a sign that needs a doctor and is newer than the last clearance.
func openSigns(c Client) []workout.Date {
	var out []workout.Date
	add := func(on workout.Date) {
		if on <= c.Assessment.AsOf {
			out = append(out, on)
		}
	}
	for _, s := range c.Record.OpenSigns() {
		add(s.On)
	}
	for _, q := range c.Assessment.Unanswered {
		if q.Grave() {
			add(q.On)
		}
	}
	return out
}

// trainedAfter lists for the trainer the sessions since the first of them; "" if there are none.
func trainedAfter(c Client) string {
	open := openSigns(c)
	if len(open) == 0 || !is(c.Assessment, record.Refer) && c.Assessment.Doubt() == nil {
		return ""
	}
	first := slices.Min(open)
	var after []string
	same := false
	var last workout.Date
	for _, s := range c.Record.Sessions() {
		switch {
		case s.Date == first:
			same = true
		case s.Date > first && s.Date <= c.Assessment.AsOf && s.Date != last:
			after, last = append(after, s.Date.Short()), s.Date
		}
	}
	if n := len(after); n > 4 {
		after = []string{after[0], fmt.Sprintf("%d more days", n-2), after[n-1]}
	}
	days := wording.List(after)
	switch {
	case len(after) > 0 && same:
		return fmt.Sprintf("Trained on the day it was noted (%s), and again on %s.", first.Long(), days)
	case len(after) > 0:
		return fmt.Sprintf("Trained on %s, after it was noted (%s).", days, first.Long())
	case same:
		return fmt.Sprintf("Trained on the day it was noted (%s).", first.Long())
	}
	return ""
}
