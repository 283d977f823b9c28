package record

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Suspicion is what the words of a note may mean: a sign or a topic, one of which is set.
type Suspicion struct {
	Sign  signs.Sign  `json:"sign,omitempty"`
	Topic signs.Topic `json:"topic,omitempty"`
}

// Asks is the question itself, as it is put to the client.
func (s Suspicion) Asks() string {
	if s.Topic != "" {
		return s.Topic.Question()
	}
	return s.Sign.Question()
}

// Question is a suspicion that nobody has answered yet.
type Question struct {
	Note string       `json:"note"` // the note's ID
	On   workout.Date `json:"on"`
	Suspicion
	Words string `json:"words"` // the client's own
	// Clash is what contradicts each other on record, and Confirm the fact that can be confirmed; then there are no note and no
	// words.
	Clash   Fact    `json:"clash,omitzero"`
	Confirm Checked `json:"confirm,omitempty"`
}

// Grave says that nobody may train before it is answered.
func (q Question) Grave() bool { return q.Sign.Grave() }

// Read gives the note with what its text, and further words given as symptoms, say of signs and topics.
// What is plainly named is entered, what may be meant is suspected, and both are kept from then on
// with the version of the reader: a later reader changes nothing.
func (n Note) Read(symptoms ...string) Note { return n.read(append(symptoms, n.Text), true) }

// Suspect is Read for a note from before notes were read: what it says is asked about, and nothing is
// entered in hindsight.
func (n Note) Suspect() Note { return n.read([]string{n.Text}, false) }

func (n Note) read(texts []string, enter bool) Note {
	var all []signs.Mention
	for _, text := range texts {
		all = append(all, signs.Read(text)...)
	}
	return n.heard(all, enter)
}

// Heard is Read for a note that holds a part of a text which was read as a whole: the mentions are those
// of that part.
func (n Note) Heard(all []signs.Mention) Note { return n.heard(all, true) }

func (n Note) heard(all []signs.Mention, enter bool) Note {
	n.Reader = signs.Reader
	n.Symptoms, n.Suspected = slices.Clone(n.Symptoms), slices.Clone(n.Suspected)
	for _, m := range all {
		s := Suspicion{m.Sign, m.Topic}
		switch {
		case m.Said == signs.Denied, n.NoSign && m.Sign != "", slices.Contains(n.NotSo, m.Topic): // asked and answered
		case slices.Contains(n.Symptoms, m.Sign), slices.Contains(n.Suspected, s): // known already
		case enter && m.Said == signs.Stated && m.Sign != "":
			n.Symptoms = append(n.Symptoms, m.Sign)
		default:
			n.Suspected = append(n.Suspected, s)
		}
	}
	n.Suspected = slices.DeleteFunc(n.Suspected, func(s Suspicion) bool { return slices.Contains(n.Symptoms, s.Sign) })
	return n
}

// TakenBack says that the signs of note i are no longer held to be so: somebody asked about that very day
// later on, and there was no sign. That a client is well on a later day takes nothing back.
func (r Record) TakenBack(i int) bool {
	n := r.Notes[i]
	for j, x := range r.Notes {
		if x.NoSign && x.Date == n.Date && (x.Entered > n.Entered || x.Entered == n.Entered && j > i) {
			return true
		}
	}
	return false
}

// Unanswered lists what notes may mean and nobody has asked about: the most urgent signs first, then the
// topics, each the latest first. A mild sign needs no answer.
func (r Record) Unanswered() []Question {
	var out []Question
	for _, n := range r.Notes {
		for _, s := range n.Suspected {
			if s.Sign.Tier() != signs.AskAgain && !r.answered(n, s) {
				out = append(out, Question{Note: n.ID, On: n.Date, Suspicion: s, Words: n.Text})
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Question) int {
		return cmp.Or(int(a.Sign.Urgency()-b.Sign.Urgency()), int(b.On-a.On))
	})
	return out
}

// answered says that somebody asked about a suspicion: the answer was entered no earlier than the note,
// for its day or a later one, or a fact of the client settles it. That a client is well on a later day answers nothing
// about a grave sign.
func (r Record) answered(n Note, s Suspicion) bool {
	c := r.Client
	switch s.Topic {
	case signs.Medicine:
		if c.Medicine == Slows || c.DoseChange >= n.Date {
			return true
		}
	case signs.Pregnancy:
		if c.Has(Pregnant) {
			return true
		}
	}
	if s.Sign.Grave() && r.ends(n) {
		return true
	}
	return slices.ContainsFunc(r.Notes, func(x Note) bool {
		if x.Date < n.Date || x.Entered < n.Entered {
			return false
		}
		if s.Sign != "" {
			return x.NoSign && (x.Date == n.Date || !s.Sign.Grave()) || slices.Contains(x.Symptoms, s.Sign)
		}
		return slices.Contains(x.NotSo, s.Topic)
	})
}

// ends says that the client's clearance ends the signs of a note: it is no older, and the note was on record when it was
// entered, so that the doctor could know of it.
func (r Record) ends(n Note) bool {
	c := r.Client
	return c.Clearance >= n.Date && (c.ClearedTo == "" || numberOf(n.ID) <= numberOf(c.ClearedTo))
}

// numberOf is the number in the ID of a note: those entered later have higher ones.
func numberOf(id string) int {
	i, _ := strconv.Atoi(strings.TrimPrefix(id, "n"))
	return i
}

// LastNote is the ID of the note that was entered last, n0 for none.
func (r Record) LastNote() string {
	last := 0
	for _, n := range r.Notes {
		last = max(last, numberOf(n.ID))
	}
	return "n" + strconv.Itoa(last)
}

// OpenSign is a grave sign that no clearance has ended and nobody has taken back, on the day it was noted.
type OpenSign struct {
	On   workout.Date
	Sign signs.Sign
}

// GraveIn lists the grave signs that would leave the record if a note were undone: those that it holds, and those that
// its words may mean and nobody has asked about.
func (r Record) GraveIn(note string) []OpenSign {
	rest := r
	rest.Notes = Keep(r.Notes, func(n Note) bool { return n.ID != note })
	left := rest.grave()
	return Keep(r.grave(), func(s OpenSign) bool { return !slices.Contains(left, s) })
}

// grave are the open signs, and those of unanswered questions.
func (r Record) grave() []OpenSign {
	out := r.OpenSigns()
	for _, q := range r.Unanswered() {
		if q.Grave() {
			out = append(out, OpenSign{q.On, q.Sign})
		}
	}
	return out
}

// OpenSigns lists the open signs of screening and notes, oldest first.
func (r Record) OpenSigns() []OpenSign {
	var out []OpenSign
	add := func(on workout.Date, all []signs.Sign) {
		for _, s := range all {
			if s.Grave() {
				out = append(out, OpenSign{on, s})
			}
		}
	}
	if s := r.Client.Screening; s.On > r.Client.Clearance {
		add(s.On, s.Signs)
	}
	for i, n := range r.Notes {
		if !r.TakenBack(i) && !r.ends(n) {
			add(n.Date, n.Symptoms)
		}
	}
	slices.SortStableFunc(out, func(a, b OpenSign) int { return int(a.On - b.On) })
	return out
}
