package internal_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// readers are the packages that read what people and files write; every text there comes from outside.
var readers = []string{"internal/signs", "internal/answers", "internal/recording", "reports/bundle"}

// sentences are fields that hold what people read, wherever they are.
var sentences = []string{"Text", "Summary", "Needed", "Notes", "Why", "Because", "Remarks", "Cautions", "Lead", "Agreed", "Came", "Sentence", "Says"}

// searches are the functions that look for one text in another or cut it.
var searches = regexp.MustCompile(`^(strings\.(Contains\w*|HasPrefix|HasSuffix|Index\w*|LastIndex\w*|Cut\w*|Trim\w*|EqualFold|Replace\w*|Split\w*|Fields\w*)|fmt\.Sscan\w*|regexp\.\w+|slices\.(Contains|Index))$`)

// plain are searches that are no reading of a sentence: white space, and what is asked of a figure.
var plain = []string{"strings.TrimSpace"}

// allowed are the places where a sentence may be compared or searched, each with its reason.
var allowed = map[string]string{
	"cmd/nextrung/prescribe.go Run":      "Text is the flag --text",
	"internal/policy/policy.go plainly":  "the TOML reader gives its faults as text alone",
	"reports/licences.go WriteLicence":   "a licence comes from outside",
	"reports/workoutpage.go workoutWith": "the same remark of three sources is shown once",
}

// TestNoSentenceIsRead walks the program and finds where a sentence for people is compared, cut or
// searched. It knows a sentence by the name of its field, and by a literal of two words or more. It does
// not know the types: a sentence in a variable of another name escapes it.
func TestNoSentenceIsRead(t *testing.T) {
	seen := map[string]bool{}
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
		rel = filepath.ToSlash(rel)
		if slices.Contains(readers, path.Dir(rel)) {
			return nil
		}
		set := token.NewFileSet()
		parsed, err := parser.ParseFile(set, file, nil, 0)
		if err != nil {
			return err
		}
		for _, decl := range parsed.Decls {
			name := rel
			if f, ok := decl.(*ast.FuncDecl); ok {
				name += " " + f.Name.Name
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				what := read(n)
				if what == "" {
					return true
				}
				if _, ok := allowed[name]; ok {
					seen[name] = true
					return true
				}
				t.Errorf("%s: line %d: %s; decide by a code, an id or a field instead", name, set.Position(n.Pos()).Line, what)
				return true
			})
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for name, reason := range allowed {
		if !seen[name] || reason == "" {
			t.Errorf("%s reads no sentence any more, or says no reason: take it from the list", name)
		}
	}
}

// read says how a piece of code reads a sentence; "" when it does not.
func read(n ast.Node) string {
	switch n := n.(type) {
	case *ast.CallExpr:
		name := called(n.Fun)
		if !searches.MatchString(name) || slices.Contains(plain, name) {
			return ""
		}
		for _, arg := range n.Args {
			if what := sentence(arg); what != "" {
				return name + " of " + what
			}
		}
	case *ast.BinaryExpr:
		if n.Op != token.EQL && n.Op != token.NEQ {
			return ""
		}
		for _, pair := range [][2]ast.Expr{{n.X, n.Y}, {n.Y, n.X}} {
			if what := sentence(pair[0]); what != "" && !empty(pair[1]) {
				return fmt.Sprintf("%s compared", what)
			}
		}
	case *ast.SwitchStmt:
		if what := sentence(n.Tag); what != "" {
			return "switch on " + what
		}
	case *ast.CaseClause:
		for _, x := range n.List {
			if what := sentence(x); what != "" {
				return "case of " + what
			}
		}
	}
	return ""
}

// called names the function that is called: "strings.Contains".
func called(fun ast.Expr) string {
	if s, ok := fun.(*ast.SelectorExpr); ok {
		if x, ok := s.X.(*ast.Ident); ok {
			return x.Name + "." + s.Sel.Name
		}
	}
	return ""
}

// sentence names an expression that holds a sentence: a field or method of such a name, the text of a fact,
// or a literal of two words and more.
func sentence(x ast.Expr) string {
	switch x := x.(type) {
	case *ast.ParenExpr:
		return sentence(x.X)
	case *ast.IndexExpr:
		return sentence(x.X)
	case *ast.SelectorExpr:
		if slices.Contains(sentences, x.Sel.Name) {
			return "the field " + x.Sel.Name
		}
	case *ast.CallExpr:
		if name := called(x.Fun); strings.HasPrefix(name, "reasons.") && name != "reasons.Facts" {
			return "what " + name + " writes"
		}
		if s, ok := x.Fun.(*ast.SelectorExpr); ok && len(x.Args) == 0 && slices.Contains(sentences, s.Sel.Name) {
			return "the method " + s.Sel.Name
		}
		for _, arg := range x.Args { // strings.ToLower(x.Text)
			if strings.HasPrefix(called(x.Fun), "strings.") {
				if what := sentence(arg); what != "" {
					return what
				}
			}
		}
	case *ast.BasicLit:
		if text, err := strconv.Unquote(x.Value); err == nil && x.Kind == token.STRING && words.MatchString(text) {
			return "the words " + x.Value
		}
	}
	return ""
}

// words are two or more beside each other.
var words = regexp.MustCompile(`[A-Za-z]{2,}[,;:.]? +[A-Za-z]{2,}`)

func empty(x ast.Expr) bool {
	switch x := x.(type) {
	case *ast.BasicLit:
		return x.Value == `""`
	case *ast.Ident:
		return x.Name == "nil"
	}
	return false
}
