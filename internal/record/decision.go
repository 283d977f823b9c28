package record

import "nextrung/internal/workout"

// Act is what the trainer decided.
type Act string

// The acts.
const (
	DoAdvance  Act = "advance"
	DoHold     Act = "hold"
	DoEase     Act = "ease"
	DoStepBack Act = "step-back"
	DoRefer    Act = "refer"
	DoMaintain Act = "maintain"
	DoPause    Act = "pause"
	DoResume   Act = "resume"
)

// Decision is what the trainer did, kept for good.
type Decision struct {
	Client  string       `json:"client"`
	Entered workout.Date `json:"entered"` // the day that it is for
	// Typed is the day on which it was entered by the clock, where that is a later one; 0 where it is not.
	Typed   workout.Date `json:"typed,omitzero"`
	Act     Act          `json:"act"`
	From    workout.Date `json:"from"`        // first day it holds
	To      workout.Date `json:"to,omitzero"` // last day, of a pause or a recovery phase
	Stage   int          `json:"stage"`       // the stage from then on
	Because string       `json:"because"`
	By      string       `json:"by"`
	// Verdict and Policy are what the assessment of that day said, and Files what it rested on.
	Verdict *Verdict         `json:"verdict"`
	Policy  string           `json:"policy"`
	Files   []workout.Digest `json:"files,omitempty"`
	// Before is the digest of the client's previous decision, so that a later change shows.
	Before workout.Digest `json:"before"`
	Digest workout.Digest `json:"digest"`
}

// Decided is the trainer's last decision on the day of an assessment; nil without any.
func (r Record) Decided(on workout.Date) *Decision {
	for i := len(r.Decisions) - 1; i >= 0; i-- {
		if d := &r.Decisions[i]; d.Entered >= on {
			return d
		}
	}
	return nil
}

// Referred says that the trainer sent the client to a doctor and that this still stands: no clearance from that day or
// later that was entered after it, and no hold that took it back.
func (r Record) Referred() bool {
	stands := false
	c := r.Client
	for i, d := range r.Decisions {
		after := d.Entered > c.Clearance || c.ClearedFrom > 0 && i+1 >= c.ClearedFrom
		stands = d.Act == DoRefer && after || stands && d.Act != DoHold
	}
	return stands
}

// Prescription is one week of sessions for one client; package prescription lays it over days.
type Prescription struct {
	Client  string       `json:"client"`
	From    workout.Date `json:"from"`
	To      workout.Date `json:"to"`
	Made    workout.Date `json:"made"`
	Stage   int          `json:"stage"`
	Verdict *Verdict     `json:"verdict"`
	// Sessions a week, each of Minutes including warm-up and cool-down.
	Sessions int      `json:"sessions"`
	Minutes  int      `json:"minutes"`
	Targets  []Target `json:"targets"` // one for each mode of the client
	// Intervals is nil in weeks of steady sessions only; Count of the Sessions are interval sessions.
	Intervals *Intervals `json:"intervals,omitempty"`
	// Check is the length in minutes of the one session that is to be a check session; 0 for none.
	Check int        `json:"check_min,omitempty"`
	Notes []PlanNote `json:"notes,omitempty"` // for the client
	// Reduced marks an eased or a return week; the next full week builds on the one before it.
	Reduced bool `json:"reduced,omitempty"`
	// Slower marks a week after one that was too hard, Beginner one of the first of a client who was inactive.
	Slower   bool `json:"slower,omitempty"`
	Beginner bool `json:"beginner,omitempty"`
	// Decisions is the number of the client's decisions that the plan knew of.
	Decisions int `json:"decisions,omitempty"`
}

// UpperOnly says that the client is shown upper beats alone: nobody is urged on who is to go slower or
// easier, or who begins. The targets stay whole for who has to aim.
func (p Prescription) UpperOnly() bool { return p.Slower || p.Reduced || p.Beginner }

// Target is the intensity of steady work in one mode. Low and High are bpm, 0 when beats must not lead.
type Target struct {
	Mode workout.Mode `json:"mode"`
	Low  float64      `json:"low_bpm,omitempty"`
	High float64      `json:"high_bpm,omitempty"`
	Feel workout.Feel `json:"feel"`
}

// Intervals is the set of work bouts of one interval session.
type Intervals struct {
	Count int          `json:"count"` // interval sessions in the week
	Bouts int          `json:"bouts"`
	Work  int          `json:"work_s"`
	Rest  int          `json:"rest_s"`
	Feel  workout.Feel `json:"feel"`
	// High is the upper bpm of a bout, 0 when beats must not lead; Low the lower, for bouts of at least 3 min.
	Low  float64 `json:"low_bpm,omitempty"`
	High float64 `json:"high_bpm,omitempty"`
	// Lowest is the lowest maximum that the published formulas give, in bpm, where it set High; 0 where it did not.
	Lowest float64 `json:"lowest_maximum_bpm,omitempty"`
	// Lowered is by how many bpm High is below what the zones give, because bouts felt too hard.
	Lowered float64 `json:"lowered_bpm,omitempty"`
}
