package internal_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// floors is the building: a package imports only from floors below its own.
var floors = map[string]int{
	"cmd/nextrung":          13,
	"internal/demo":         12,
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
// from floors below, and each outside library is imported by one package. It parses the files
// itself, since a test that asks the go command would stay cached after a forbidden import.
func TestFloors(t *testing.T) {
	user := map[string]string{}
	err := filepath.WalkDir("..", func(file string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && (d.Name() == "node_modules" || d.Name() == "testdata" || strings.HasPrefix(d.Name(), ".") && d.Name() != "..") {
			return fs.SkipDir
		}
		if !strings.HasSuffix(file, ".go") || strings.HasSuffix(file, "_test.go") {
			return nil
		}
		rel, _ := filepath.Rel("..", file)
		pkg := path.Dir(filepath.ToSlash(rel))
		floor, ok := floors[pkg]
		if !ok && !offFloor[pkg] {
			t.Errorf("%s: package %s is on no floor; give it one here and in DEVELOPERS.md", rel, pkg)
			return nil
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range parsed.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			if inner, ours := strings.CutPrefix(name, "nextrung/"); ours {
				below, known := floors[inner]
				if !known || !offFloor[pkg] && below >= floor {
					t.Errorf("%s (floor %d) imports %s (floor %d)", rel, floor, inner, below)
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
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(user) == 0 {
		t.Fatal("no outside library seen: the walk read nothing")
	}
}

// namesACommand are the packages whose sentences for people still name commands; none may join them.
var namesACommand = map[string]bool{"internal/answers": true, "internal/progression": true}

// TestOnlyTheCommandLineNamesCommands reads the texts in every package below the command line: what
// pages show too can name neither a command nor a flag.
func TestOnlyTheCommandLineNamesCommands(t *testing.T) {
	command := regexp.MustCompile(`nextrung (ask|assess|backup|client|decide|demo|export|inspect|note|policy|prescribe|receive|rehearse|report|serve|session|verify|week)\b|(^|[^-\w(])--[a-z]`)
	read := 0
	for pkg := range floors {
		if namesACommand[pkg] || pkg == "internal/outside" || strings.HasPrefix(pkg, "cmd/") { // outside calls other programs
			continue
		}
		for file, parsed := range sources(t, pkg) {
			ast.Inspect(parsed, func(n ast.Node) bool {
				if text, ok := n.(*ast.BasicLit); ok && text.Kind == token.STRING {
					read++
					if found := command.FindString(text.Value); found != "" {
						t.Errorf("%s: %q in %s", file, found, text.Value)
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

// sources parses the files of a package but for its tests, by their path.
func sources(t *testing.T, pkg string) map[string]*ast.File {
	t.Helper()
	files, err := filepath.Glob(filepath.Join("..", filepath.FromSlash(pkg), "*.go"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]*ast.File{}
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		if out[file], err = parser.ParseFile(token.NewFileSet(), file, nil, parser.SkipObjectResolution); err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// library shortens an import path to the library that it belongs to.
func library(name string) string {
	parts := strings.Split(name, "/")
	return strings.Join(parts[:min(3, len(parts))], "/")
}
