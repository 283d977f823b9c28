// Package fault owns the reasons why something was not done: the kind of obstacle, the
// input at fault, its value, what would be right and what would help. It names no command, flag
// or page. The code that shows a fault gives the input its name there, and turns the kind into an
// exit code or a status and the help into a command line or a button.
package fault

import (
	"errors"
	"fmt"
	"strings"
	"unicode"
)

// Kind is the kind of an obstacle.
type Kind string

// The kinds.
const (
	Wrong       Kind = "wrong input"
	Refused     Kind = "refused"              // understood, and must not be done as things are
	DoctorFirst Kind = "a doctor comes first" // or the answer to a question about a grave sign
	NotFound    Kind = "not found"
	Needs       Kind = "needs something first"
	Conflict    Kind = "conflict"               // contradicts what the book holds
	SomeRefused Kind = "some input was refused" // the rest is done; each refusal has already been named
)

// Field names an input, in lower case with underscores: "hr_rest".
type Field string

// Help is what would remove the obstacle.
type Help string

// What can help. Client and Field of the error say for whom and where.
const (
	NoHelp         Help = ""
	AddClient      Help = "add-client"
	ChangeFacts    Help = "change-facts"
	EnterClearance Help = "enter-clearance"  // a doctor's, with its date
	EnterScreening Help = "enter-screening"  // the answers to the screening questions
	EnterSigns     Help = "enter-signs"      // the answer to a question about a sign, or that there was none
	NameDay        Help = "name-day"         // on which an undated file was recorded
	CountAsBacklog Help = "count-as-backlog" // that old recordings count from the days they were recorded
	SayAgain       Help = "say-again"        // that the same thing was done a second time
	ForgetOpen     Help = "forget-open"      // that a client is removed in spite of what is open
	SetBy          Help = "set-by"           // who decides, once for the whole book
	SeeProposals   Help = "see-proposals"
	SeePast        Help = "see-past" // a client's notes, sessions and recordings with their IDs
	CheckBook      Help = "check-book"
)

// Error is one obstacle.
type Error struct {
	Kind  Kind
	Field Field  // "" when it lies in no single input
	Value string // as it was given, "" when it is missing
	// What goes on after field and value: "is outside 30 to 110 bpm". Without a field it stands alone.
	What   string
	Help   Help
	Client string // whom it is about, "" for nobody in particular
}

// New makes an error about no single input.
func New(kind Kind, what string, args ...any) *Error {
	return &Error{Kind: kind, What: fmt.Sprintf(what, args...)}
}

// Exists refuses to write over a file that is there.
func Exists(file string) *Error {
	return New(Conflict, "%s already exists; give the name of a new file", file)
}

// In makes a wrong input: the field, its value ("" when missing), and what is wrong with it.
func In(field Field, value any, what string, args ...any) *Error {
	return &Error{Kind: Wrong, Field: field, Value: fmt.Sprint(value), What: fmt.Sprintf(what, args...)}
}

// Of changes the kind of the error.
func (e *Error) Of(kind Kind) *Error { e.Kind = kind; return e }

// Helped adds what would help, and which client it is about.
func (e *Error) Helped(h Help, client string) *Error { e.Help, e.Client = h, client; return e }

// Error says what is wrong in plain words.
func (e *Error) Error() string { return e.Say(strings.ReplaceAll(string(e.Field), "_", " ")) }

// Say says what is wrong, with the field called by label.
func (e *Error) Say(label string) string {
	if e.Field == "" {
		return e.What
	}
	if e.Value == "" {
		return label + " " + e.What
	}
	if strings.ContainsFunc(e.Value, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsSpace(r) || unicode.IsControl(r) }) {
		return fmt.Sprintf("%s %q %s", label, e.Value, e.What)
	}
	return label + " " + e.Value + " " + e.What
}

// Is says that two errors are of one kind, so that a fault with nothing but a kind stands for all of it.
func (e *Error) Is(other error) bool {
	o, ok := other.(*Error)
	return ok && (o == e || *o == Error{Kind: e.Kind})
}

// All gives every fault in an error that several were joined to, in their order.
func All(err error) []*Error {
	if e, ok := err.(*Error); ok {
		return []*Error{e}
	}
	var out []*Error
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		for _, one := range many.Unwrap() {
			out = append(out, All(one)...)
		}
	} else if one := errors.Unwrap(err); one != nil {
		return All(one)
	}
	return out
}
