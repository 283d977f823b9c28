// Package proposal finds in a client's record the evidence for changing zones: an
// observed peak above the maximum, a resting heart rate that was measured, a top of zone 1 that talk and
// effort contradict. It only suggests. Only the trainer changes zones, and what the trainer accepted
// or declined is not suggested again on the same evidence.
//
// Heart rates are in bpm. Everything here is pure; the day is always an argument. A maximum that is too high is
// never suggested: no heart rate alone shows it.
package proposal

import (
	"encoding/json"
	"slices"

	"nextrung/internal/fault"
	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Kind is what a proposal would change.
type Kind string

// The kinds of proposals.
const (
	Maximum    Kind = "maximum"       // of one mode, from an observed peak
	Resting    Kind = "resting"       // the resting heart rate, and with the first one the scale
	TopOfZone1 Kind = "top-of-zone-1" // from talk and effort
)

// Proposal is one change of zones that the trainer may accept or decline.
type Proposal struct {
	// ID follows from what is proposed and the evidence, so that it is the same on every day.
	ID    string       `json:"id"`
	Kind  Kind         `json:"kind"`
	Mode  workout.Mode `json:"mode,omitempty"` // "" for the resting heart rate, which holds for every mode
	Was   *float64     `json:"was_bpm"`        // null when there was none
	Value float64      `json:"value_bpm"`      // proposed, in whole beats
	// SEE is the standard error in bpm of the maximum that the zones rest on; 0 where it was entered.
	SEE float64 `json:"see_bpm,omitempty"`
	// Upper is the top of zone 2 that moves with that of zone 1; nil where it stays.
	Upper *Moved `json:"top_of_zone_2,omitempty"`
	// Evidence is what the suggestion is based on, oldest first. Once answered, it no longer counts.
	Evidence []Evidence `json:"evidence"`
	// Beside is what is shown with it and can be used again.
	Beside   []Evidence `json:"beside,omitempty"`
	Edges    []Change   `json:"edges"`
	Cautions []Caution  `json:"cautions"`
	// Zones are the facts as they would be; accepting them sets their first day.
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
}

// Moved is a heart rate that goes from one value to another, in bpm.
type Moved struct {
	From float64 `json:"from_bpm"`
	To   float64 `json:"to_bpm"`
}

// Caution is what to consider before accepting a suggestion.
type Caution struct {
	Code CautionCode  `json:"code,omitempty"`
	Mode workout.Mode `json:"mode,omitempty"`
	N    int          `json:"n,omitempty"`    // sessions
	Text string       `json:"text,omitempty"` // alone in books of an earlier version
}

// CautionCode names a caution.
type CautionCode string

// The cautions.
const (
	HigherIsHarder  CautionCode = "higher-is-harder"
	AtMostMaximum   CautionCode = "at-most-maximum"
	EdgesStay       CautionCode = "edges-stay"
	AnotherScale    CautionCode = "another-scale"
	RisenRest       CautionCode = "risen-rest"
	FallenRest      CautionCode = "fallen-rest"
	HigherWasEasy   CautionCode = "higher-was-easy"
	NotAllFromStrap CautionCode = "not-all-from-strap"
	BecomesEasier   CautionCode = "becomes-easier"
	BecomesHarder   CautionCode = "becomes-harder"
	CheckWithStrap  CautionCode = "check-with-strap"
)

// UnmarshalJSON also takes the bare sentence, which is how books of an earlier version hold it.
func (c *Caution) UnmarshalJSON(b []byte) error {
	type plain Caution
	if json.Unmarshal(b, &c.Text) == nil {
		return nil
	}
	return json.Unmarshal(b, (*plain)(c))
}

// Near is what was seen but is not enough to propose anything.
type Near struct {
	Code      NearCode     `json:"code"`
	Mode      workout.Mode `json:"mode,omitempty"`
	N         int          `json:"n,omitempty"` // sessions, recordings or mornings
	BPM       float64      `json:"bpm,omitempty"`
	Was       float64      `json:"was_bpm,omitempty"`   // the maximum or top of zone 1 that holds
	Estimated bool         `json:"estimated,omitempty"` // the maximum is an estimate from age
	Date      workout.Date `json:"date,omitzero"`
	Recording string       `json:"recording,omitempty"`
	RPE       *workout.RPE `json:"rpe,omitempty"`
	Talk      record.Talk  `json:"talk,omitempty"`
	// Why it is not a peak, as it was measured; Clause is that in words, for JSON and from earlier versions.
	Why    workout.Facts `json:"why_facts,omitempty"`
	Clause string        `json:"why,omitempty"`
}

// NearCode says what is missing.
type NearCode string

// What can be missing.
const (
	MeasuredBefore NearCode = "measured-before" // by a version of the program that did not know peaks
	PeakInDoubt    NearCode = "peak-in-doubt"
	PeakNotAsked   NearCode = "peak-not-asked"
	PeakTooEasy    NearCode = "peak-too-easy"
	FewMornings    NearCode = "few-mornings"
	StrangeRest    NearCode = "strange-rest"
	HardDays       NearCode = "hard-days" // warmth, tiredness or illness explain it
	NothingEasy    NearCode = "nothing-easy"
)

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

// Answer is what the trainer did with a suggestion, kept for good.
type Answer struct {
	Entered  workout.Date `json:"entered"`
	Taken    bool         `json:"taken"`
	From     workout.Date `json:"from,omitzero"` // first day of the new zones
	By       string       `json:"by,omitempty"`
	Because  string       `json:"because,omitempty"`
	Proposal Proposal     `json:"proposal"`
}

// Zones is what an assessment must know of an answer; without recordings unless a higher top of zone 1 was suggested.
func (a Answer) Zones() record.Answered {
	out := record.Answered{Entered: a.Entered, Taken: a.Taken}
	if a.Proposal.Raises() {
		sessions := a.Proposal.Evidence
		if a.Taken {
			sessions = slices.Concat(sessions, a.Proposal.Beside)
		}
		for _, e := range sessions {
			out.Recordings = append(out.Recordings, e.Recordings...)
		}
	}
	return out
}

// Raises says that a higher top of zone 1 is suggested.
func (p Proposal) Raises() bool { return p.Kind == TopOfZone1 && p.Was != nil && p.Value > *p.Was }

// Findings are the open proposals of one day, and what nearly made one.
type Findings struct {
	Open []Proposal `json:"proposals"`
	Near []Near     `json:"nearly"`
}

// Find gives the proposals that a record is evidence for on a day, without what was answered by then. There is nothing
// where heart rate must not lead (a medicine that slows the heart and the like), under 18 years, for a
// finished client, and without an age.
func Find(r record.Record, on workout.Date, answers []Answer) Findings {
	out := Findings{Open: []Proposal{}, Near: []Near{}}
	c := r.Client
	if c.ByEffort() || c.Born.YearsAt(on) < physiology.Adult || r.StateOn(on) == record.Finished {
		return out
	}
	s := search{record: r.Until(on), on: on, moved: map[float64]bool{}, out: &out}
	s.answered = record.Keep(answers, func(a Answer) bool { return a.Entered <= on })
	for _, a := range s.answered {
		if a.Taken && a.Proposal.Kind == TopOfZone1 {
			s.moved[a.Proposal.Zones.T2] = true
		}
	}
	if n := len(c.Zones); n > 0 {
		s.set = c.Zones[n-1]
	}
	s.record.Answered = record.Map(s.answered, Answer.Zones)
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
	answered []Answer         // by the day
	moved    map[float64]bool // tops of zone 2 that moved with zone 1 and were not measured
	out      *Findings
}

// used says that an answer to a proposal of a kind has used up one of the ids.
func (s *search) used(k Kind, ids ...string) bool {
	return slices.ContainsFunc(s.answered, func(a Answer) bool {
		return a.Proposal.Kind == k && slices.ContainsFunc(a.Proposal.Evidence, func(e Evidence) bool {
			return slices.ContainsFunc(e.ids(), func(id string) bool { return slices.Contains(ids, id) })
		})
	})
}

func (s *search) near(n Near) { s.out.Near = append(s.out.Near, n) }

// body is the client's with a set of facts.
func (s *search) body(set record.ZoneSet) physiology.Body {
	c := s.record.Client
	c.Zones = []record.ZoneSet{set}
	return c.Body(s.on)
}

// modes are those that the client trains or has recorded, in the order of pages.
func (s *search) modes() []workout.Mode {
	return record.Keep(workout.Modes(), func(m workout.Mode) bool {
		recorded := func(x record.Session) bool { return x.Mode == m && !x.Reported }
		return slices.Contains(s.record.Client.Modes, m) || slices.ContainsFunc(s.sessions, recorded)
	})
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
// when newer zones already begin on that day or later.
func (p Proposal) Take(c record.Client, from workout.Date) (record.Client, error) {
	c.Zones = slices.Clone(c.Zones)
	if len(c.Zones) == 0 {
		// The first set covers all days before, which the new zones must not.
		c.Zones = append(c.Zones, record.ZoneSet{})
	}
	if newest := c.Zones[len(c.Zones)-1].From; from <= newest {
		return c, fault.In("from", from, "must be after %s, the first day of the newest zones", newest).Of(fault.Conflict)
	}
	set := p.Zones
	set.From = from
	c.Zones = append(c.Zones, set)
	return c, nil
}

// whole is a heart rate in whole beats, never more than was observed.
func whole(bpm float64) float64 {
	_, last := wording.Beats(bpm, bpm)
	return last
}
