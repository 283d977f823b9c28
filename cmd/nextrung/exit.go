package main

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"nextrung/internal/fault"
)

// The exit codes.
const (
	done    = 0
	failed  = 1
	misused = 2
	refused = 3 // done, but some input was refused
)

// exitCodes gives the exit code of each kind of fault. Any other error counts as failed.
var exitCodes = map[fault.Kind]int{
	fault.Wrong:       misused,
	fault.Refused:     failed,
	fault.DoctorFirst: failed,
	fault.NotFound:    failed,
	fault.Needs:       failed,
	fault.Conflict:    failed,
	fault.SomeRefused: refused,
}

// labels names the inputs that are not flags, or whose flag is not spelt like the field.
var labels = map[fault.Field]string{
	"name": "the name", "act": "the decision", "id": "the ID", "answer": "the answer",
}

// helps turns what would help into what to type, helpsOf what would help about a client, who is %[1]q.
var (
	helps = map[fault.Help]string{
		fault.AddClient:      "enter the first client with `nextrung client add NAME --born DATE`",
		fault.NameDay:        "use `nextrung receive --client NAME --day DATE`",
		fault.CountAsBacklog: "if so, receive it with --backlog; if the programme began earlier, `nextrung client set NAME --since DATE`",
		fault.SayAgain:       "if the client did it twice, add --again",
		fault.SetBy:          "or set it once with `nextrung settings --by WHO`",
		fault.SeePast:        "`nextrung client show NAME` lists the IDs",
		fault.CheckBook:      "run `nextrung verify`",
	}
	helpsOf = map[fault.Help]string{
		fault.ChangeFacts:    "change facts with `nextrung client set %[1]q`",
		fault.EnterClearance: "after the visit, enter the clearance: `nextrung client set %[1]q --clearance DATE`",
		fault.EnterScreening: "ask, and enter the answers: `nextrung client set %[1]q --screened DATE --active yes|no --disease none|... --signs none|... --medicine none|...`",
		fault.EnterSigns:     "ask, and enter the answer: `nextrung note --client %[1]q --date DATE --symptoms SIGN`, or `--symptoms none`",
		fault.ForgetOpen:     "enter what came of it, or remove the client all the same: `nextrung client forget %[1]q --yes --although-open`",
		fault.SeeProposals:   "see `nextrung client proposals %[1]q`",
	}
)

// errSomeRefused means that the command did its work but refused some input, which it has already named.
var errSomeRefused = &fault.Error{Kind: fault.SomeRefused}

// misuse reports that the command line itself was used wrongly.
func misuse(format string, args ...any) error { return fault.New(fault.Wrong, format, args...) }

// flagOf is how the command line spells a field.
func flagOf(f fault.Field) string {
	if label, ok := labels[f]; ok {
		return label
	}
	return "--" + strings.ReplaceAll(string(f), "_", "-")
}

// inWords writes an error with its inputs named as on the command line, and says what to type next.
func inWords(err error) string {
	all := fault.All(err)
	if len(all) == 0 {
		return err.Error()
	}
	var out []string
	for _, e := range all {
		text := e.Say(flagOf(e.Field))
		if help := toType(e.Help, e.Client); help != "" {
			text = strings.TrimSuffix(text, ".") + "; " + help
		}
		out = append(out, text)
	}
	return strings.Join(out, "; ")
}

// toType is what to type about a client; "" where nothing helps.
func toType(h fault.Help, client string) string {
	if form, ok := helpsOf[h]; ok {
		return fmt.Sprintf(form, client)
	}
	return helps[h]
}

// fail prints an error of a command and returns the exit code.
func (s *surroundings) fail(command string, err error) int {
	if err == nil {
		return done
	}
	code := failed
	if all := fault.All(err); len(all) > 0 {
		code = exitCodes[all[0].Kind]
	}
	switch {
	case code == refused: // each was named already
	case code == misused:
		s.warn("%s; see `nextrung %s-h`", inWords(err), strings.TrimLeft(command+" ", " "))
	case errors.Is(err, context.Canceled):
		s.warn("interrupted; what was entered so far is kept")
	default:
		s.warn("%s", inWords(err))
	}
	return code
}
