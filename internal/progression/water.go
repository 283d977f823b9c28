package progression

import (
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Water hides the pulse from wrist sensors, and keeps a strap from sending it: of two swims and more with a heart rate for less
// than half of the time, half of all swims, nothing is expected of heart rate in swims (common practice, no source).
const (
	lostSwims = 2
	swimDays  = 28
)

// seen says that a recording has a heart rate for at least half of its time.
func seen(x record.Recording) bool {
	h := x.Measured.HeartRate
	return h.Usable && (h.Coverage == nil || *h.Coverage >= 0.5)
}

// UnderWater says that the heart rate is lost in the client's swims.
func (v Review) UnderWater() bool {
	lost, swims, _ := v.swims()
	return lost >= lostSwims && 2*lost >= swims
}

// heartLeads says that rules on heart rate are applied: no medicine or condition speaks against them, and it is not lost
// under water in half of the sessions.
func (v Review) heartLeads() bool {
	lost, _, all := v.swims()
	return !v.Record.Client.ByEffort() && !(v.UnderWater() && 2*lost >= all)
}

// swims counts the recorded sessions of the last weeks, the swims among them, and those of these without a heart rate.
func (v Review) swims() (lost, swims, all int) {
	for _, s := range v.recent(swimDays) {
		if len(s.Recordings) == 0 {
			continue
		}
		all++
		if s.Mode != workout.Swim {
			continue
		}
		swims++
		if len(record.Keep(s.Recordings, seen)) == 0 {
			lost++
		}
	}
	return lost, swims, all
}
