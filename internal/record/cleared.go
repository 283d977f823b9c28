package record

import (
	"slices"
	"strconv"

	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Clear says what the pre-participation screening calls for.
type Clear string

// The outcomes of screening (Riebe 2015, in own words).
const (
	NotNecessary   Clear = "not necessary"
	BeforeAny      Clear = "before any session"
	BeforeVigorous Clear = "before vigorous work"
	StopFirst      Clear = "stop, clearance before resuming"
)

// Clearance says which medical clearance the answers call for. Signs are those of the first two
// tiers; the others call for an easier week, not for a doctor.
func (s Screening) Clearance() Clear {
	grave := false
	for _, x := range s.Signs {
		if t := x.Tier(); t == signs.Emergency || t == signs.Doctor {
			grave = true
		}
	}
	switch {
	case grave && s.Active:
		return StopFirst
	case grave || s.Diseased() && !s.Active:
		return BeforeAny
	case s.Diseased():
		return BeforeVigorous
	}
	return NotNecessary
}

// ClearanceNeeded is Clearance with the disease that follows from the client's conditions.
func (c Client) ClearanceNeeded() Clear {
	s := c.Screening
	s.Disease = c.Disease()
	return s.Clearance()
}

// Disease is the known disease: that of the screening, else the one that a condition on record is part of; "" for none.
// Insulin treats a metabolic disease; a pacemaker or an irregular rhythm is a heart condition (the handbook's
// questionnaire before participation, from memory).
func (c Client) Disease() string {
	switch {
	case c.Screening.Diseased():
		return c.Screening.Disease
	case c.Has(Pacemaker) || c.Has(Irregular):
		return "heart"
	case c.Has(Insulin):
		return "metabolic"
	}
	return ""
}

func (s Screening) Diseased() bool { return s.Disease != "" && s.Disease != "none" }

// Care is what calls for a doctor's clearance, by the name of its fact: a disease, the conditions other than asthma, a
// medicine that slows the heart.
func (c Client) Care() map[string][]string {
	out := map[string][]string{}
	if c.Screening.Diseased() {
		out["disease"] = []string{c.Screening.Disease}
	}
	if c.Medicine == Slows {
		out["medicine"] = []string{string(Slows)}
	}
	for _, x := range c.Conditions {
		if x != Asthma {
			out["conditions"] = append(out["conditions"], string(x))
		}
	}
	return out
}

// adult is the age in years from which stages are open (see the policy's rule on age).
const adult = 18

// Withdraws lists what held training back before and no longer does, without a day and a reason: what called for a
// clearance, a doctor's limit that was lifted or raised, a disease of somebody inactive who is now said to be active, a day
// that is moved to before the clearance, and an age below 18.
func (c Client) Withdraws(now Client, on workout.Date) []Withdrawal {
	var out []Withdrawal
	add := func(gone bool, fact, was string) {
		if gone {
			out = append(out, Withdrawal{Fact: fact, Was: was})
		}
	}
	care := now.Care()
	for _, fact := range []string{"disease", "medicine", "conditions"} {
		for _, was := range c.Care()[fact] {
			add(!slices.Contains(care[fact], was), fact, was)
		}
	}
	limit, limitNow := c.LimitOver(on, on+365), now.newestLimit()
	add(limit > 0 && (limitNow == 0 || limitNow > limit), "limit_bpm", strconv.FormatFloat(limit, 'f', -1, 64))
	add(c.Disease() != "" && c.Screening.On != 0 && !c.Screening.Active && now.Screening.Active, "active", "no")
	moved := c.Clearance != 0 && now.Clearance == c.Clearance && !c.Covered() && now.Covered()
	add(moved && len(out) == 0, "care", c.CareSince().String())
	add(c.Born != 0 && c.Born.YearsAt(on) < adult && now.Born.YearsAt(on) >= adult, "born", c.Born.String())
	return out
}

// newestLimit is the doctor's limit of the set that was entered last; 0 for none.
func (c Client) newestLimit() float64 {
	if n := len(c.Zones); n > 0 {
		return c.Zones[n-1].Limit
	}
	return 0
}

// CareSince is the first day of the newest fact that calls for a clearance, a changed dose of a slowing medicine
// among them; 0 where none is dated. A clearance from
// before it does not cover it.
func (c Client) CareSince() workout.Date {
	var since workout.Date
	for fact := range c.Care() {
		since = max(since, c.Dated[fact].From)
		if fact == "medicine" {
			since = max(since, c.DoseChange)
		}
	}
	return since
}

// Covered says that a clearance is on record that covers all that calls for one, however old it is.
func (c Client) Covered() bool {
	for fact := range c.Care() {
		if c.Dated[fact].After {
			return false
		}
	}
	return c.Clearance != 0 && c.Clearance >= c.CareSince()
}

// Cover says that the clearance is entered now: it covers what else was entered on its day, and knows of the notes and
// decisions on record.
func (c *Client) Cover(r Record) {
	c.ClearedTo, c.ClearedFrom = r.LastNote(), len(r.Decisions)+1
	for fact, d := range c.Dated {
		d.After = false
		c.Dated[fact] = d
	}
}

// DateCare dates what calls for a clearance and was not known before, so that one from before, or entered before on the
// same day, does not cover it. A day that is given now stands, and typing the same again changes no day.
func (c *Client) DateCare(before Client, today workout.Date) {
	for fact, now := range c.Care() {
		was := before.Care()[fact]
		added := slices.ContainsFunc(now, func(x string) bool { return !slices.Contains(was, x) })
		since, given := c.Dated[fact]
		switch {
		case given:
		case added:
			since = Dated{From: today, Entered: today}
		default:
			since = before.Dated[fact]
		}
		dosed := fact == "medicine" && c.DoseChange > before.DoseChange
		since.After = before.Dated[fact].After || (added || dosed) && c.Clearance != 0 && c.Clearance == max(since.From, c.DoseChange)
		if since == (Dated{}) {
			continue
		}
		if c.Dated == nil {
			c.Dated = map[string]Dated{}
		}
		c.Dated[fact] = since
	}
}
