package main

import (
	"bytes"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"reflect"
	"strconv"
	"testing"
	"time"

	"github.com/alecthomas/kong"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
)

// constants lists the values of the constants of a type in package fault, read from its source so that a
// new one cannot be left out.
func constants(t *testing.T, kind string) (out []string) {
	t.Helper()
	file, err := parser.ParseFile(token.NewFileSet(), "../../internal/fault/fault.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	ast.Inspect(file, func(n ast.Node) bool {
		if v, ok := n.(*ast.ValueSpec); ok {
			if id, ok := v.Type.(*ast.Ident); ok && id.Name == kind {
				text, _ := strconv.Unquote(v.Values[0].(*ast.BasicLit).Value)
				out = append(out, text)
			}
		}
		return true
	})
	if len(out) < 5 {
		t.Fatalf("only %d constants of %s found", len(out), kind)
	}
	return out
}

func TestEveryFaultHasAnExitCodeAndItsHelp(t *testing.T) {
	for _, kind := range constants(t, "Kind") {
		if _, ok := exitCodes[fault.Kind(kind)]; !ok {
			t.Errorf("%q has no exit code", kind)
		}
	}
	for _, help := range constants(t, "Help") {
		if toType(fault.Help(help), "Runa") == "" && help != "" {
			t.Errorf("%q is no command line", help)
		}
	}
}

// Every fact that can be entered has its flag, and every flag of facts enters one.
func TestEveryFactHasItsFlag(t *testing.T) {
	parser, err := kong.New(&commands{}, kong.TypeMapper(dateType, kong.MapperFunc(decodeDate)), kong.Bind(&surroundings{now: time.Now}))
	if err != nil {
		t.Fatal(err)
	}
	call, err := parser.Parse([]string{"client", "set", "Runa"})
	if err != nil {
		t.Fatal(err)
	}
	flags := map[string]bool{}
	for _, f := range call.Selected().Flags {
		flags["--"+f.Name] = true
	}
	fields := map[fault.Field]bool{}
	for _, f := range coach.FactFields() {
		fields[f] = true
		if !flags[flagOf(f)] {
			t.Errorf("%s has no flag %s", f, flagOf(f))
		}
	}
	for f := range (facts{}).typed() {
		if !fields[f] {
			t.Errorf("the flag %s enters nothing", flagOf(f))
		}
	}
}

func TestErrorsInWords(t *testing.T) {
	for _, x := range []struct {
		err  error
		code int
		says string
	}{
		{nil, done, ""},
		{errors.New("disk full"), failed, "nextrung: disk full\n"},
		{errSomeRefused, refused, ""},
		{errors.Join(fault.In("hr_max", 40, "is too low"), fault.In("name", "", "is empty")), misused, "nextrung: --hr-max 40 is too low; the name is empty; see `nextrung client set -h`\n"},
		{fmt.Errorf("Runa: %w", fault.New(fault.Refused, "a doctor comes first").Helped(fault.EnterClearance, "Runa")), failed,
			"nextrung: a doctor comes first; after the visit, enter the clearance: `nextrung client set \"Runa\" --clearance DATE`\n"},
	} {
		var out bytes.Buffer
		s := surroundings{err: &out}
		if code := s.fail("client set", x.err); code != x.code || out.String() != x.says {
			t.Errorf("%v: exit code %d, %s", x.err, code, &out)
		}
	}
	if reflect.TypeOf(facts{}).NumField() != len(facts{}.typed()) {
		t.Error("two flags enter one fact")
	}
}
