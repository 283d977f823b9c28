package internal_test

import (
	"go/ast"
	"go/token"
	"regexp"
	"strings"
	"testing"
)

// floors is the building: a package imports only from floors below its own.
var floors = map[string]int{
	"cmd/nextrung":          13,
	"internal/demo":         12,
	"internal/web":          12,
	"internal/coach":        11,
	"reports":               10,
	"internal/logbook":      9,
	"internal/rehearsal":    9,
	"internal/hindsight":    8,
	"internal/proposal":     8,
	"internal/prescription": 8,
	"internal/reasons":      7,
	"internal/story":        6,
	"internal/progression":  6,
	"internal/answers":      6,
	"internal/record":       4,
	"internal/fieldtest":    4,
	"internal/policy":       1,
	"internal/physiology":   3,
	"internal/simulate":     3,
	"internal/outside":      3,
	"internal/heartrate":    2,
	"internal/recording":    2,
	"internal/signs":        1,
	"internal/fault":        0,
	"internal/wording":      0,
	"internal/workout":      0,
}

// offFloor holds tools that are run by hand or by go generate and are no part of the program.
var offFloor = map[string]bool{"reports/bundle": true}

// TestFloors reads the imports of every non-test file: each package is on a floor, imports only
// from floors below, and each outside library is imported by one package.
func TestFloors(t *testing.T) {
	user := map[string]string{}
	for pkg, p := range program(t) {
		floor, ok := floors[pkg]
		if !ok && !offFloor[pkg] {
			t.Errorf("package %s is on no floor; give it one here and in DEVELOPERS.md", pkg)
			continue
		}
		for name := range p.Imports {
			if inner, ours := strings.CutPrefix(name, "nextrung/"); ours {
				below, known := floors[inner]
				if !known || !offFloor[pkg] && below >= floor {
					t.Errorf("%s (floor %d) imports %s (floor %d)", pkg, floor, inner, below)
				}
				continue
			}
			if first, _, _ := strings.Cut(name, "/"); !strings.Contains(first, ".") {
				continue
			}
			lib := library(name)
			if other, taken := user[lib]; taken && other != pkg {
				t.Errorf("%s is imported by %s and by %s; one package owns it", lib, other, pkg)
			}
			user[lib] = pkg
		}
	}
	if len(user) == 0 {
		t.Fatal("no outside library seen: nothing was read")
	}
}

// namesACommand are the packages whose sentences for people still name commands; none may join them.
var namesACommand = map[string]bool{"internal/answers": true, "internal/progression": true}

// TestOnlyTheCommandLineNamesCommands reads the texts in every package below the command line: what
// pages show too can name neither a command nor a flag.
func TestOnlyTheCommandLineNamesCommands(t *testing.T) {
	command := regexp.MustCompile(`nextrung (ask|assess|backup|client|decide|demo|export|inspect|note|policy|prescribe|receive|rehearse|report|serve|session|verify|week)\b|(^|[^-\w(])--[a-z]`)
	read := 0
	for pkg, p := range program(t) {
		if namesACommand[pkg] || offFloor[pkg] || pkg == "internal/outside" || strings.HasPrefix(pkg, "cmd/") { // outside calls other programs
			continue
		}
		for _, file := range p.Syntax {
			ast.Inspect(file, func(n ast.Node) bool {
				if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING {
					read++
					if found := command.FindString(text.Value); found != "" {
						t.Errorf("%s: %q in %s", p.Fset.Position(n.Pos()), found, text.Value)
					}
				}
				return true
			})
		}
	}
	if read < 1000 {
		t.Errorf("only %d texts read", read)
	}
}

// library shortens an import path to the library that it belongs to.
func library(name string) string {
	parts := strings.Split(name, "/")
	return strings.Join(parts[:min(3, len(parts))], "/")
}
