package internal_test

import (
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"golang.org/x/tools/go/packages"
)

// loaded is the program, type-checked: every package of it without test files, by its folder.
type loaded struct {
	packages map[string]*packages.Package
	planted  *packages.Package // testdata/reading
	err      error
}

// load type-checks the program once for all tests of this package; libraries come compiled.
var load = sync.OnceValue(func() loaded {
	out := loaded{packages: map[string]*packages.Package{}}
	found, err := packages.Load(&packages.Config{
		Mode: packages.NeedName | packages.NeedFiles | packages.NeedCompiledGoFiles | packages.NeedImports | packages.NeedTypes | packages.NeedSyntax |
			packages.NeedTypesInfo | packages.NeedExportFile,
		Dir: "..",
	}, "./cmd/...", "./internal/...", "./reports/...", "./internal/testdata/reading")
	if err != nil {
		return loaded{err: err}
	}
	for _, p := range found {
		for _, e := range p.Errors {
			return loaded{err: e}
		}
		if folder := strings.TrimPrefix(p.PkgPath, "nextrung/"); folder == "internal/testdata/reading" {
			out.planted = p
		} else if len(p.Syntax) > 0 {
			out.packages[folder] = p
		}
	}
	return out
})

// program gives the loaded program. It also walks the folders itself: no file may escape the load, and the go
// command, which runs in another process, would let a cached result stand after a file has come or gone.
func program(t *testing.T) map[string]*packages.Package {
	t.Helper()
	l := load()
	if l.err != nil {
		t.Fatal(l.err)
	}
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
		folder := path.Dir(filepath.ToSlash(rel))
		if p := l.packages[folder]; p == nil || !slices.ContainsFunc(p.CompiledGoFiles, func(f string) bool { return filepath.Base(f) == d.Name() }) {
			t.Errorf("%s was not read", rel)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return l.packages
}
