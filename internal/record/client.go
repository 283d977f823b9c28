// Package record holds what the book keeps of a client: the facts about the person, recordings,
// reports and notes, the sessions and weeks they make up, assessments, decisions and prescriptions.
// Everything here is plain data and what follows from it alone; the date is always an argument. What
// a rule makes of it belongs to package progression.
//
// Dates are civil days in the client's own time zone; a week is the seven days up to and including
// the day asked about. Stages are 1 to 3, 0 for none.
package record

import (
	"nextrung/internal/physiology"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Client is one person of the programme: the facts as known on the day they were entered.
type Client struct {
	Name     string         `json:"name"`
	Born     workout.Date   `json:"born"`
	Sex      physiology.Sex `json:"sex"`
	HeightCM float64        `json:"height_cm,omitempty"`
	MassKG   float64        `json:"mass_kg,omitempty"`
	TimeZone string         `json:"time_zone,omitempty"` // IANA name; "" is UTC
	Modes    []workout.Mode `json:"modes,omitempty"`     // modes trained; empty means all but walking
	Sensor   workout.Sensor `json:"sensor,omitempty"`    // what the client wears, when files do not say

	// Zones are the facts that zones rest on, oldest first. The first set also covers what came before.
	Zones []ZoneSet `json:"zones,omitempty"`

	Screening  Screening    `json:"screening"`
	Medicine   Medicine     `json:"medicine,omitempty"`
	DoseChange workout.Date `json:"dose_change,omitzero"`
	Clearance  workout.Date `json:"clearance,omitzero"`   // day of a doctor's dated clearance
	ClearedTo  string       `json:"cleared_to,omitempty"` // ID of the last note on record when it was entered, n0 for none; "" in older books
	// ClearedFrom is the number, from 1, of the first decision that came after it; 0 in older books.
	ClearedFrom int         `json:"cleared_from,omitempty"`
	Conditions  []Condition `json:"conditions,omitempty"`
	Confirmed   []Checked   `json:"confirmed,omitempty"` // facts that look wrong and are right

	// Stage is where the client started with this trainer, on Since; decisions move it from there.
	Stage int          `json:"stage"`
	Since workout.Date `json:"since"`

	// State is what was entered; pauses and later changes come as decisions.
	State     State        `json:"state"`
	StateEnds workout.Date `json:"state_ends,omitzero"`

	// Dated are the facts of which it was said from which day they hold, by the name of the fact.
	Dated map[string]Dated `json:"dated,omitempty"`

	// Withdrawn are the facts that held training back and no longer stand, oldest first.
	Withdrawn []Withdrawal `json:"withdrawn,omitempty"`

	Goal      string `json:"goal,omitempty"`
	Days      int    `json:"days,omitempty"`    // days a week available
	Minutes   int    `json:"minutes,omitempty"` // minutes a session available
	Equipment []Said `json:"equipment,omitempty"`
	Enjoys    []Said `json:"enjoys,omitempty"`
	// Resistance are the days of the week with resistance work, Tight the muscles that the trainer found tight.
	Resistance []workout.Weekday `json:"resistance_days,omitempty"`
	Tight      []string          `json:"tight,omitempty"`
}

// Dated says since when a fact holds and when that was entered.
type Dated struct {
	From    workout.Date `json:"from"`
	Entered workout.Date `json:"entered"`
	After   bool         `json:"after,omitempty"` // the clearance of that very day, which does not cover it
}

// Withdrawal is a fact that was taken off the record, with who said so.
type Withdrawal struct {
	Fact    string       `json:"fact"` // its name: disease, medicine, conditions, limit_bpm, active, care (the day of what calls for a clearance), born, or signs of an undone note
	Was     string       `json:"was"`
	On      workout.Date `json:"on"`
	Because string       `json:"because"`
}

// ZoneSet is one set of facts for zones with its start date; it changes only by the trainer's act.
type ZoneSet struct {
	From   workout.Date                `json:"from,omitzero"`
	HRMax  map[workout.Mode]float64    `json:"hr_max,omitempty"` // measured, by mode; key "" holds for every mode
	HRRest float64                     `json:"hr_rest,omitempty"`
	T1     float64                     `json:"t1,omitempty"`
	T2     float64                     `json:"t2,omitempty"`
	Limit  float64                     `json:"limit_bpm,omitempty"`
	Edges  map[workout.Mode][4]float64 `json:"edges,omitempty"`
}

// Medicine is the effect of the client's medicines on heart rate.
type Medicine string

// The effects of medicines. NoMedicine is also what "not asked" looks like until the screening is dated.
const (
	NoMedicine Medicine = ""
	Slows      Medicine = "slows"
	Raises     Medicine = "raises"
)

// Screening holds the answers to the pre-participation questions. A zero On means it was not answered.
type Screening struct {
	On      workout.Date `json:"on,omitzero"`
	Active  bool         `json:"active"` // planned exercise, 30 min moderate, 3 days a week, for 3 months
	Disease string       `json:"disease,omitempty"`
	Signs   []signs.Sign `json:"signs,omitempty"`
}

// Condition is a state of health that limits what may be concluded.
type Condition string

// The conditions with an effect of their own.
const (
	Pregnant  Condition = "pregnant"
	Pacemaker Condition = "pacemaker"
	Irregular Condition = "irregular-rhythm"
	Insulin   Condition = "insulin"
	Asthma    Condition = "asthma"
)

// Checked is a fact that contradicts another, and that somebody has asked about and found right.
type Checked string

// The facts that can be confirmed.
const (
	CheckedRest     Checked = "hr-rest"
	CheckedMaximum  Checked = "hr-max"
	CheckedBirth    Checked = "born"
	CheckedDisease  Checked = "disease"
	CheckedPregnant Checked = "pregnant"
	CheckedActive   Checked = "active"
)

// Confirmable lists the facts that can be confirmed.
func Confirmable() []Checked {
	return []Checked{CheckedRest, CheckedMaximum, CheckedBirth, CheckedDisease, CheckedPregnant, CheckedActive}
}

// State is the state of a client in the programme.
type State string

// The states.
const (
	Active      State = "active"
	PausedState State = "paused"
	Maintaining State = "maintaining"
	RecoveryOf  State = "recovery"
	Finished    State = "finished"
)
