// Package answers owns the words that pass between trainer and client each week: the message that
// asks what no sensor knows (Ask), and the reading of the answer as people write it (Parse).
//
// It reads English only, and it never guesses. The way of a message:
//
//	lines      its lines; those of the weekly message itself and quoted ones are kept aside
//	hear       what signs reads in all of it
//	items      what the forms, the lists, the days and the words on talking claim in a line, each stretch once
//	clauses    a line split at its separators and its days, and giveDays: the day of each
//	gather     what each number and word may answer, by what stands beside it
//	assign     the reading of a part with the most points; a question where another one is as good
//	judge      the pieces of a clause, or one question about all of it where something makes it doubtful
//	settle     the days of the answers, two unlike answers, what the book holds: the notes
//
// What may mean two things, or is not known at all, comes back as a question or as text and is kept as a
// remark; words such as "very hard" never become a number, but stars are counted.
// Efforts are on the 6-20 or the 0-10 scale and never converted, temperatures become °C, heart rates
// are bpm. Entering what was read is left to others.
package answers

import (
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// MaxText is the length in bytes up to which a text is taken for a message.
const MaxText = 16 << 10

// Setting is what a message is read against.
type Setting struct {
	On       workout.Date      // the day on which it was written
	Sessions []record.Session  // those known by then, oldest first
	Scale    int               // of an effort that names none: 20 or 10
	Client   string            // the name, which messengers put before a message
	Open     []record.Question // what nobody has answered yet, which the weekly message may have asked
}

// Kind says what became of a piece of a message.
type Kind string

// The kinds of pieces.
const (
	Understood Kind = "understood"     // a value, a day, or a word that carries nothing
	Remark     Kind = "remark"         // understood, but nothing that is counted; kept as text
	Question   Kind = "question"       // may be an answer, but not for certain; kept as text
	Left       Kind = "not understood" // kept as text
)

// About is what a question is about.
type About string

// The matters of questions.
const (
	AboutDay       About = "day"
	AboutEffort    About = "effort"
	AboutTalk      About = "talk"
	AboutEnjoyment About = "enjoyment"
	AboutPulse     About = "resting heart rate"
	AboutHeat      About = "heat"
)

// rank is the place of a question in the weekly message, from 1; 0 for what it does not ask of every session.
func (a About) rank() int {
	return 1 + slices.Index([]About{AboutEffort, AboutTalk, AboutEnjoyment}, a)
}

// Piece is a stretch of the message. Together the pieces hold every letter, digit and emoji of it,
// each once.
type Piece struct {
	Line int    `json:"line"` // from 1
	From int    `json:"from"` // first byte in the message
	To   int    `json:"to"`   // byte after the last
	Text string `json:"text"`
	Kind Kind   `json:"kind"`
	// Day is the day that the piece is about, or for which it is kept.
	Day workout.Date `json:"day"`
	// JustDay says that the piece names its day and nothing else.
	JustDay bool `json:"-"`
	// Means says what was understood; "" for filler words.
	Means    string `json:"means,omitempty"`
	Question string `json:"question,omitempty"`
	// About is what a question is about, and Choices are the answers that it may have: each is the note
	// to enter if the client chooses it. Without choices the answer is free.
	About   About         `json:"about,omitempty"`
	Choices []record.Note `json:"choices,omitempty"`
	// Signs are those that the piece plainly names, which its note enters; Suspected is what it may mean
	// beyond them, which its note keeps as a question.
	Signs     []signs.Sign       `json:"signs,omitempty"`
	Suspected []record.Suspicion `json:"suspected,omitempty"`
}

// Reading is a message as it was read: the notes to enter, one for each day and without ID and day
// of entry, and the pieces they come from.
type Reading struct {
	Notes  []record.Note `json:"notes"`
	Pieces []Piece       `json:"pieces"`
}

// Whole says that nothing was left over and nothing has to be asked.
func (r Reading) Whole() bool {
	return !slices.ContainsFunc(r.Pieces, func(p Piece) bool { return p.Kind == Question || p.Kind == Left })
}

// Grave lists the pieces that mention signs that need emergency help or a doctor, the gravest
// first, whether they are entered or have to be asked about.
func (r Reading) Grave() []Piece {
	emergency := func(p Piece) bool { return p.speaksOf(signs.Emergency) }
	doctor := func(p Piece) bool { return p.speaksOf(signs.Doctor) && !emergency(p) }
	return append(record.Keep(r.Pieces, emergency), record.Keep(r.Pieces, doctor)...)
}

func (p Piece) speaksOf(t signs.Tier) bool {
	return slices.ContainsFunc(p.Signs, func(s signs.Sign) bool { return s.Tier() == t }) ||
		slices.ContainsFunc(p.Suspected, func(s record.Suspicion) bool { return s.Sign.Tier() == t })
}

// unsure marks what may belong to several days.
const unsure workout.Date = -1

// parser reads one message. The mask is the message with what was claimed already blanked out, so
// that no stretch is read twice.
type parser struct {
	Setting
	text     string
	mask     []byte
	number   int          // of the line
	heading  workout.Date // of a line that is a day and nothing else
	fresh    bool         // a new part of the message begins
	carrying struct {     // the question named before the days of a line
		about About
		line  int
	}
	moved    bool            // a line says that what stands above it was on another day
	elsewhen bool            // the message was sent on another day than it is read for
	named    []workout.Date  // all days that the message names
	rated    []workout.Date  // those whose effort an earlier part gives
	heard    []signs.Mention // what the message says of signs and topics
	pieces   []Piece
	says     [][]signs.Mention // what each piece does
	entries  []entry
}

// entry is a piece with what it would enter.
type entry struct {
	piece int
	day   workout.Date
	note  record.Note
	soft  what // a word that is a question only while its number is missing
	same  bool // all that the message says of the day named in sameAs, or of the one before
	as    workout.Date
}

// Parse reads a client's message, which is meant to be no longer than MaxText.
func Parse(text string, s Setting) Reading {
	p := parser{Setting: s, text: text, mask: []byte(text)}
	lines := p.lines()
	p.hear(lines)
	var clauses []clause
	for _, l := range lines {
		clauses = append(clauses, p.line(l)...)
	}
	p.settleParts(clauses)
	for _, c := range clauses {
		p.judge(c)
	}
	return p.settle()
}

// add appends a piece without the spaces around it and gives its index.
func (p *parser) add(from, to int, kind Kind, day workout.Date, means, question string) int {
	const spaces = " \t\v\f\u00a0\u202f"
	text := strings.TrimRight(p.text[from:to], spaces)
	to = from + len(text)
	from = to - len(strings.TrimLeft(text, spaces))
	p.pieces = append(p.pieces, Piece{
		Line: p.number, From: from, To: to, Text: p.text[from:to], Kind: kind, Day: day, Means: means, Question: question,
	})
	p.says = append(p.says, nil)
	return len(p.pieces) - 1
}

// justDay marks a piece that names its day and nothing else.
func (p *parser) justDay(i int) int {
	p.pieces[i].JustDay = true
	return i
}

// say gives a piece what it says of signs and topics.
func (p *parser) say(i int, says []signs.Mention) {
	if len(says) == 0 {
		return
	}
	p.says[i] = append(p.says[i], says...)
	n := heardOf(p.says[i])
	p.pieces[i].Signs, p.pieces[i].Suspected = n.Symptoms, n.Suspected
}

// ask turns a piece into a question.
func (p *parser) ask(i int, about About, question string, choices ...record.Note) {
	x := &p.pieces[i]
	x.Kind, x.Question, x.Means, x.About, x.Choices = Question, question, "", about, choices
}
