// Package proposal finds in a client's record what speaks for other zones than those that hold: an
// observed peak above the maximum, a resting heart rate that was measured, a top of zone 1 that talk and
// effort contradict. It only proposes. Zones change by the trainer's act alone, and what the trainer took
// or declined is not proposed again on the same evidence.
//
// Heart rates are in bpm. Everything here is pure; the day is always an argument. A top of zone 1 that is
// too low and a maximum that is too high are never proposed: no heart rate alone shows them.
package proposal

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// Kind is what a proposal would change.
type Kind string

// The kinds of proposals.
const (
	Maximum    Kind = "maximum"       // of one mode, from an observed peak
	Resting    Kind = "resting"       // the resting heart rate, and with the first one the scale
	TopOfZone1 Kind = "top-of-zone-1" // lower, from talk and effort
)

// Proposal is one change of zones that the trainer may take or decline.
type Proposal struct {
	// ID follows from what is proposed and the evidence, so that it is the same on every day.
	ID    string       `json:"id"`
	Kind  Kind         `json:"kind"`
	Mode  workout.Mode `json:"mode,omitempty"` // "" for the resting heart rate, which is of every mode
	Was   *float64     `json:"was_bpm"`        // null when there was none
	Value float64      `json:"value_bpm"`      // proposed, in whole beats
	Text  string       `json:"text"`           // for the trainer
	// Evidence is what the proposal rests on, oldest first. Once answered, it counts no more.
	Evidence []Evidence `json:"evidence"`
	// Beside is what is shown with it and stays to be used again.
	Beside   []Evidence `json:"beside,omitempty"`
	Edges    []Change   `json:"edges"`
	Cautions []string   `json:"cautions"`
	// Zones are the facts as they would be; the trainer's act gives them their first day.
	Zones record.ZoneSet `json:"zones"`
}

// Evidence is one session or one morning behind a proposal.
type Evidence struct {
	Date       workout.Date   `json:"date"`
	Recordings []string       `json:"recordings,omitempty"`
	Note       string         `json:"note,omitempty"`
	BPM        float64        `json:"bpm"`
	Sensor     workout.Sensor `json:"sensor,omitempty"`
	RPE        *workout.RPE   `json:"rpe,omitempty"`
	Talk       record.Talk    `json:"talk,omitempty"`
	Text       string         `json:"text"` // a clause without a full stop
}

// ids names what an answer uses up.
func (e Evidence) ids() []string {
	if e.Note != "" {
		return []string{e.Note}
	}
	return e.Recordings
}

// Change is what a proposal does to the zones of one mode; an edge is nil where facts lack.
type Change struct {
	Mode   workout.Mode      `json:"mode"`
	Before *physiology.Edges `json:"before"`
	After  *physiology.Edges `json:"after"`
}

// Answer is what the trainer did with a proposal, kept for good.
type Answer struct {
	Entered  workout.Date `json:"entered"`
	Taken    bool         `json:"taken"`
	From     workout.Date `json:"from,omitzero"` // first day of the new zones
	By       string       `json:"by,omitempty"`
	Because  string       `json:"because,omitempty"`
	Proposal Proposal     `json:"proposal"`
}

// Findings are the open proposals of one day, and what nearly made one: sentences that say what is
// missing.
type Findings struct {
	Open   []Proposal `json:"proposals"`
	Untold []string   `json:"untold"`
}

// Find gives what a record speaks for on a day, without what was answered by then. There is nothing
// where heart rate must not lead (a medicine that slows the heart and the like), under 18 years, for a
// finished client, and without an age.
func Find(r record.Record, on workout.Date, answers []Answer) Findings {
	out := Findings{Open: []Proposal{}, Untold: []string{}}
	c := r.Client
	if c.ByEffort() || c.Born.YearsAt(on) < physiology.Adult || r.StateOn(on) == record.Finished {
		return out
	}
	s := search{record: r.Until(on), on: on, spent: map[Kind]map[string]bool{}, lowered: map[float64]bool{}, out: &out}
	for _, a := range answers {
		if a.Entered > on {
			continue
		}
		k := a.Proposal.Kind
		if s.spent[k] == nil {
			s.spent[k] = map[string]bool{}
		}
		if a.Taken && k == TopOfZone1 {
			s.lowered[a.Proposal.Zones.T2] = true
		}
		for _, e := range a.Proposal.Evidence {
			for _, id := range e.ids() {
				s.spent[k][id] = true
			}
		}
	}
	if n := len(c.Zones); n > 0 {
		s.set = c.Zones[n-1]
	}
	s.sessions = s.record.Sessions()
	s.maxima()
	s.resting()
	s.tops()
	return out
}

// search is one look through a record.
type search struct {
	record   record.Record
	on       workout.Date
	set      record.ZoneSet // the newest facts, also those that begin on a later day
	sessions []record.Session
	spent    map[Kind]map[string]bool
	lowered  map[float64]bool // tops of zone 2 that came down with zone 1 and were not measured
	out      *Findings
}

func (s *search) used(k Kind, ids ...string) bool {
	return slices.ContainsFunc(ids, func(id string) bool { return s.spent[k][id] })
}

func (s *search) untold(format string, args ...any) {
	s.out.Untold = append(s.out.Untold, fmt.Sprintf(format, args...))
}

// tired is for how many days a noted sign of tiredness or illness explains what the heart does, as in the
// policy's rule on such signs (common practice, no source).
const tired = 7

// unwell says that a sign was noted on a day or within a week before it.
func (s *search) unwell(on workout.Date) bool {
	return slices.ContainsFunc(s.record.Notes, func(n record.Note) bool {
		return n.Date <= on && n.Date > on-tired && len(n.Symptoms) > 0
	})
}

// body is the client's with a set of facts.
func (s *search) body(set record.ZoneSet) physiology.Body {
	c := s.record.Client
	c.Zones = []record.ZoneSet{set}
	return c.Body(s.on)
}

// modes are those that the client trains or has recorded, in the order of pages.
func (s *search) modes() []workout.Mode {
	var out []workout.Mode
	for _, m := range workout.Modes() {
		recorded := func(x record.Session) bool { return x.Mode == m && !x.Reported }
		if slices.Contains(s.record.Client.Modes, m) || slices.ContainsFunc(s.sessions, recorded) {
			out = append(out, m)
		}
	}
	return out
}

// changes gives the zones before and after for every mode in which they differ, and for mode m anyway.
func (s *search) changes(after record.ZoneSet, m workout.Mode) []Change {
	out := []Change{}
	for _, x := range s.modes() {
		c := Change{x, s.body(s.set).Edges(x), s.body(after).Edges(x)}
		same := c.Before == nil && c.After == nil || c.Before != nil && c.After != nil && c.Before.BPM == c.After.BPM
		if !same || x == m {
			out = append(out, c)
		}
	}
	return out
}

// propose enters a proposal with its id.
func (s *search) propose(p Proposal) {
	p.Zones.From = 0
	p.Edges = s.changes(p.Zones, p.Mode)
	p.ID = p.identity()
	s.out.Open = append(s.out.Open, p)
}

// identity names a proposal by its content: what, in which mode, how many beats, on which evidence.
func (p Proposal) identity() string {
	var ids []string
	for _, e := range p.Evidence {
		ids = append(ids, e.ids()...)
	}
	slices.Sort(ids)
	b, err := json.Marshal([]any{p.Kind, p.Mode, p.Value, ids})
	if err != nil {
		panic(err) // plain data always has JSON
	}
	return workout.DigestOf(b).Short()
}

// Take gives the client with the proposed zones from a day on; the sets before stay. It is an error
// when zones begin on that day or later already.
func (p Proposal) Take(c record.Client, from workout.Date) (record.Client, error) {
	c.Zones = slices.Clone(c.Zones)
	if len(c.Zones) == 0 {
		// The first set covers all days before, which the new zones must not.
		c.Zones = append(c.Zones, record.ZoneSet{})
	}
	if newest := c.Zones[len(c.Zones)-1].From; from <= newest {
		return c, fault.In("from", from, "is not after %s, when the newest zones begin", newest).Of(fault.Conflict)
	}
	set := p.Zones
	set.From = from
	c.Zones = append(c.Zones, set)
	return c, nil
}

// doing names a mode as a thing that people do.
func doing(m workout.Mode) string {
	if m == workout.OtherMode {
		return "other training"
	}
	return string(m.Sport())
}

// answered writes effort and talk as they were answered: "effort 19 on the 6-20 scale, talking not possible".
func answered(x record.Session) string {
	var out []string
	if x.RPE != nil {
		out = append(out, effort(*x.RPE))
	}
	switch x.Talk {
	case record.TalkComfortable:
		out = append(out, "talking comfortable")
	case record.TalkHard:
		out = append(out, "talking hard")
	case record.TalkNo:
		out = append(out, "talking not possible")
	}
	return strings.Join(out, ", ")
}

func effort(e workout.RPE) string {
	scale := "6-20"
	if e.Scale == 10 {
		scale = "0-10"
	}
	return fmt.Sprintf("effort %g on the %s scale", e.Value, scale)
}

// reaches says that an effort is at least so hard on its own scale; none was answered when it is nil.
func reaches(e *workout.RPE, on20, on10 float64) bool {
	if e == nil {
		return false
	}
	if e.Scale == 10 {
		return e.Value >= on10
	}
	return e.Value >= on20
}

// whole is a heart rate in whole beats, never more than was observed.
func whole(bpm float64) float64 { return math.Floor(bpm + 1e-9) }
