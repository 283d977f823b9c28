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

func (s Screening) Diseased() bool { return s.Disease != "" && s.Disease != "none" }
