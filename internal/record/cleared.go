package record

import "nextrung/internal/signs"

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
