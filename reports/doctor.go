package reports

import (
	"fmt"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// doctorFirst says that the client has to see a doctor before going on, by the rules or because the
// trainer decided so. No decision takes back what the rules say here: only a clearance does.
func doctorFirst(c Client) bool {
	d := decided(c.Record, c.Assessment)
	return is(c.Assessment, record.Refer) || d != nil && d.Act == record.DoRefer
}

// wrong says that a sign, or what may be one, stands in the way: the stop signs come first then.
func wrong(c Client) bool { return doctorFirst(c) || c.Next.Says(record.CallHelp) }

// doctorText is what a client reads who has to see a doctor; "" for anybody else.
func doctorText(c Client) string {
	switch {
	case !doctorFirst(c):
		return ""
	case c.Next != nil && c.Next.Sessions > 0:
		return "Before anything harder please talk to a doctor. Comfortable sessions may go on until then. Your trainer will explain why and help you with it."
	}
	return "Before the next session please talk to a doctor. Your trainer will explain why and help you with it."
}

// openSigns are the days of the signs that need a doctor and are newer than the last clearance.
func openSigns(c Client) []workout.Date {
	var out []workout.Date
	add := func(on workout.Date, all []signs.Sign) {
		for _, s := range all {
			t := s.Tier()
			if (t == signs.Emergency || t == signs.Doctor) && on > c.Record.Client.Clearance && on <= c.Assessment.AsOf {
				out = append(out, on)
			}
		}
	}
	add(c.Record.Client.Screening.On, c.Record.Client.Screening.Signs)
	for _, n := range c.Record.Notes {
		add(n.Date, n.Symptoms)
	}
	return out
}

// trainedAfter tells the trainer of sessions since the first sign that needs a doctor; "" if there
// are none.
func trainedAfter(c Client) string {
	signs := openSigns(c)
	if len(signs) == 0 || !is(c.Assessment, record.Refer) {
		return ""
	}
	first := signs[0]
	for _, d := range signs {
		first = min(first, d)
	}
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
	switch {
	case len(after) > 0 && same:
		return fmt.Sprintf("Trained on %s after the sign was noted (%s), and on the day of the sign itself.", wording.List(after), first.Long())
	case len(after) > 0:
		return fmt.Sprintf("Trained on %s after the sign was noted (%s).", wording.List(after), first.Long())
	case same:
		return fmt.Sprintf("Trained on the day of the sign itself (%s).", first.Long())
	}
	return ""
}
