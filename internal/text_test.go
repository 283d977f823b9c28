package internal_test

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/constant"
	"go/token"
	"go/types"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/tools/go/packages"
)

// readers are the packages that read what people and files write; every text there comes from outside.
var readers = []string{"internal/signs", "internal/answers", "internal/recording", "reports/bundle"}

// allowed are the places where a sentence may be compared or searched, each with its reason.
var allowed = map[string]string{
	"internal/policy/policy.go placed":        "the TOML reader gives its faults as text alone",
	"internal/policy/policy.go plainly":       "the TOML reader gives its faults as text alone",
	"internal/coach/drop.go sortRefused":      "earlier versions kept the client's name in a line of text",
	"internal/record/equipment.go phraseBook": "reads what a trainer wrote about equipment",
	"internal/record/equipment.go ":           "reads what a trainer wrote about equipment",
	"internal/record/equipment.go Understood": "reads what a trainer wrote about equipment",
	"internal/wording/figures.go Capital":     "writes the first letter large",
	"internal/wording/figures.go Sentence":    "ends a sentence that has no end yet",
	"cmd/nextrung/exit.go inWords":            "joins two sentences",
	"cmd/nextrung/licences.go withoutLicence": "the path of a module",
	"reports/licences.go kindOf":              "a licence comes from outside",
	"reports/rehearsal.go waysChart":          "breaks the label of a bar into lines",
}

// TestNoSentenceIsRead finds where a sentence for people is compared, cut or searched.
func TestNoSentenceIsRead(t *testing.T) {
	all := program(t)
	found := sentencesOf(slices.Collect(maps.Values(all)))
	seen := map[string]bool{}
	for folder, p := range all {
		if slices.Contains(readers, folder) {
			continue
		}
		for _, r := range found.readings(p) {
			name := folder + "/" + filepath.Base(r.at.Filename) + " " + r.in
			if _, ok := allowed[name]; ok {
				seen[name] = true
				continue
			}
			t.Errorf("%s: line %d: %s; decide by a code, an id or a field instead", name, r.at.Line, r.what)
		}
	}
	for name, reason := range allowed {
		if !seen[name] || reason == "" {
			t.Errorf("%s reads no sentence any more, or says no reason: take it from the list", name)
		}
	}
}

// TestTheCheckFindsEveryReading holds the check above against planted readings.
func TestTheCheckFindsEveryReading(t *testing.T) {
	program(t)
	p := load().planted
	got := map[int]string{}
	for _, r := range sentencesOf([]*packages.Package{p}).readings(p) {
		got[r.at.Line] = r.what
	}
	want := 0
	for _, f := range p.Syntax {
		for _, group := range f.Comments {
			for _, c := range group.List {
				line := p.Fset.Position(c.Pos()).Line
				if c.Text != "// want" {
					continue
				}
				want++
				if got[line] == "" {
					t.Errorf("line %d: nothing found", line)
				}
				delete(got, line)
			}
		}
	}
	for line, what := range got {
		t.Errorf("line %d: %s, where nothing is read", line, what)
	}
	if want < 12 {
		t.Errorf("only %d planted", want)
	}
}

// sentences are the variables, fields, parameters and functions that hold or give a sentence: whatever a
// literal of two words, an error's text or another sentence is put into, anywhere in the program. A value of a
// named string type with its own constants is a code however it is spelt.
type sentences map[types.Object]string // what was put into it

func sentencesOf(all []*packages.Package) sentences {
	s := sentences{}
	for before := -1; before != len(s); {
		before = len(s)
		for _, p := range all {
			for _, f := range p.Syntax {
				s.spread(p.TypesInfo, f)
			}
		}
	}
	return s
}

// spread marks what a file puts sentences into.
func (s sentences) spread(info *types.Info, f *ast.File) {
	ast.Inspect(f, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncDecl:
			if n.Body != nil {
				s.returns(info, info.Defs[n.Name].(*types.Func).Signature(), n.Body)
			}
		case *ast.FuncLit:
			s.returns(info, info.TypeOf(n).(*types.Signature), n.Body)
		case *ast.AssignStmt:
			for i, left := range n.Lhs {
				switch {
				case len(n.Rhs) == len(n.Lhs):
					s.put(info, left, n.Rhs[i])
				default:
					s.results(info, left, n.Rhs[0], i)
				}
			}
		case *ast.ValueSpec:
			for i, name := range n.Names {
				if i < len(n.Values) {
					s.put(info, name, n.Values[i])
				}
			}
		case *ast.RangeStmt:
			if n.Value != nil {
				s.put(info, n.Value, n.X)
			}
		case *ast.CompositeLit:
			s.fields(info, n)
		case *ast.CallExpr:
			s.arguments(info, n)
		}
		return true
	})
}

// put marks the place that a value goes to when it is a sentence.
func (s sentences) put(info *types.Info, place, value ast.Expr) {
	if s.of(info, value) == "" {
		return
	}
	if o := object(info, place); o != nil && texts(o.Type()) {
		s[o] = s.of(info, value)
	}
}

// results marks a place that result i of a call goes to.
func (s sentences) results(info *types.Info, place, value ast.Expr, i int) {
	call, ok := ast.Unparen(value).(*ast.CallExpr)
	if !ok {
		if i == 0 { // v, ok := m[k]
			s.put(info, place, value)
		}
		return
	}
	what := ""
	if sig, ok := signature(info, call); ok && i < sig.Results().Len() {
		what = s[sig.Results().At(i)]
	}
	if what == "" && throughs.MatchString(name(info, call.Fun)) { // strings.Cut
		what = s.of(info, call)
	}
	if o := object(info, place); what != "" && o != nil && texts(o.Type()) {
		s[o] = what
	}
}

// signature is that of a function as it was declared, so that its results are those that returns marks.
func signature(info *types.Info, call *ast.CallExpr) (*types.Signature, bool) {
	if f, ok := object(info, call.Fun).(*types.Func); ok {
		return f.Origin().Signature(), true
	}
	sig, ok := info.TypeOf(call.Fun).(*types.Signature)
	return sig, ok
}

// returns marks the results of a function that give back sentences.
func (s sentences) returns(info *types.Info, of *types.Signature, body *ast.BlockStmt) {
	ast.Inspect(body, func(n ast.Node) bool {
		if _, ok := n.(*ast.FuncLit); ok {
			return false
		}
		if r, ok := n.(*ast.ReturnStmt); ok {
			for i, x := range r.Results {
				if len(r.Results) == of.Results().Len() {
					if what := s.of(info, x); what != "" && texts(of.Results().At(i).Type()) {
						s[of.Results().At(i)] = what
					}
				}
			}
		}
		return true
	})
}

// fields marks the fields of a literal that hold sentences.
func (s sentences) fields(info *types.Info, lit *ast.CompositeLit) {
	t := info.TypeOf(lit)
	if t == nil {
		return
	}
	if p, ok := t.Underlying().(*types.Pointer); ok {
		t = p.Elem()
	}
	st, ok := t.Underlying().(*types.Struct)
	if !ok {
		return
	}
	for i, x := range lit.Elts {
		var field types.Object
		value := x
		if kv, ok := x.(*ast.KeyValueExpr); ok {
			field, value = object(info, kv.Key), kv.Value
		} else if i < st.NumFields() {
			field = st.Field(i)
		}
		if field != nil && texts(field.Type()) && s.of(info, value) != "" {
			s[field] = s.of(info, value)
		}
	}
}

// written marks what a call writes a sentence into: a strings.Builder, or what a template fills.
func (s sentences) written(info *types.Info, call *ast.CallExpr) {
	var into ast.Expr
	what := ""
	switch called := name(info, call.Fun); {
	case called == "strings.WriteString" && len(call.Args) == 1:
		into, what = call.Fun.(*ast.SelectorExpr).X, s.of(info, call.Args[0])
	case called == "template.Execute":
		into, what = call.Args[0], "what a template writes"
	case strings.HasPrefix(called, "fmt.Fprint"):
		into = call.Args[0]
		for _, arg := range call.Args[1:] {
			what = cmp.Or(what, s.of(info, arg))
		}
	}
	if u, ok := into.(*ast.UnaryExpr); ok {
		into = u.X
	}
	if what != "" {
		if o := object(info, into); o != nil {
			s[o] = what
		}
	}
}

// arguments marks the parameters that are given sentences.
func (s sentences) arguments(info *types.Info, call *ast.CallExpr) {
	s.written(info, call)
	sig, ok := signature(info, call)
	if !ok {
		return
	}
	params := sig.Params()
	for i, arg := range call.Args {
		if n := params.Len(); n > 0 && s.of(info, arg) != "" {
			if p := params.At(min(i, n-1)); texts(p.Type()) {
				s[p] = s.of(info, arg)
			}
		}
	}
}

// words are two or more beside each other.
var words = regexp.MustCompile(`[A-Za-z]{2,}[,;:.]? +[A-Za-z]{2,}`)

// throughs are functions of the libraries whose result is a sentence when an argument is one.
var throughs = regexp.MustCompile(`^(strings\.(To\w+|Trim\w*|Join|Replace\w*|Repeat|Fields\w*|Split\w*|Cut\w*)|fmt\.(Sprint\w*|Errorf|Append\w*)|slices\.\w+|maps\.\w+|errors\.New|cmp\.Or|append|string|new)$`)

// of names the sentence that an expression is, "" for none.
func (s sentences) of(info *types.Info, x ast.Expr) string {
	x = ast.Unparen(x)
	if tv, ok := info.Types[x]; ok {
		if !texts(tv.Type) {
			return ""
		}
		if tv.Value != nil && tv.Value.Kind() == constant.String {
			if text := constant.StringVal(tv.Value); words.MatchString(text) {
				return fmt.Sprintf("the words %q", text)
			}
			return ""
		}
	}
	switch x := x.(type) {
	case *ast.Ident, *ast.SelectorExpr:
		if o := object(info, x); o != nil && s[o] != "" {
			if _, isFunc := o.(*types.Func); !isFunc {
				return s[o]
			}
		}
	case *ast.IndexExpr:
		return s.of(info, x.X)
	case *ast.SliceExpr:
		return s.of(info, x.X)
	case *ast.StarExpr:
		return s.of(info, x.X)
	case *ast.UnaryExpr:
		return s.of(info, x.X)
	case *ast.BinaryExpr:
		if x.Op == token.ADD {
			if what := s.of(info, x.X); what != "" {
				return what
			}
			return s.of(info, x.Y)
		}
	case *ast.CompositeLit:
		if _, isStruct := info.TypeOf(x).Underlying().(*types.Struct); isStruct {
			return ""
		}
		for _, e := range x.Elts {
			if kv, ok := e.(*ast.KeyValueExpr); ok {
				e = kv.Value
			}
			if what := s.of(info, e); what != "" {
				return what
			}
		}
	case *ast.CallExpr:
		return s.called(info, x)
	}
	return ""
}

// called names the sentence that a call gives back.
func (s sentences) called(info *types.Info, call *ast.CallExpr) string {
	if tv, ok := info.Types[call.Fun]; ok && tv.IsType() { // a conversion
		return s.of(info, call.Args[0])
	}
	if f, ok := object(info, call.Fun).(*types.Func); ok {
		if f.Name() == "Error" && f.Signature().Params().Len() == 0 {
			return "an error's text"
		}
	}
	if sel, ok := call.Fun.(*ast.SelectorExpr); ok && sel.Sel.Name == "String" {
		if o := object(info, sel.X); o != nil && s[o] != "" { // a strings.Builder
			return s[o]
		}
	}
	if sig, ok := signature(info, call); ok && sig.Results().Len() > 0 {
		if what := s[sig.Results().At(0)]; what != "" {
			return what
		}
	}
	if throughs.MatchString(name(info, call.Fun)) {
		for _, arg := range call.Args {
			if what := s.of(info, arg); what != "" {
				return what
			}
		}
	}
	return ""
}

// reading is a place where a sentence is compared, cut or searched.
type reading struct {
	at       token.Position
	in, what string // the function around it, and how it reads which sentence
}

// searches are the functions that look for one text in another or cut it; white space at the ends is no matter.
var searches = regexp.MustCompile(`^(strings\.(Contains\w*|HasPrefix|HasSuffix|Index\w*|LastIndex\w*|Cut\w*|Trim\w*|EqualFold|Compare|Count|Replace\w*|Split\w*|Fields\w*)|bytes\.\w+|fmt\.Sscan\w*|regexp\.\w+|slices\.(Contains|Index))$`)

// cuts are those that look for a part.
var cuts = regexp.MustCompile(`^strings\.(Contains\w*|HasPrefix|HasSuffix|Index\w*|LastIndex\w*|Cut\w*|TrimPrefix|TrimSuffix|Split\w*)$`)

// readings lists where a package reads sentences.
func (s sentences) readings(p *packages.Package) (out []reading) {
	info := p.TypesInfo
	for _, f := range p.Syntax {
		for _, decl := range f.Decls {
			in := ""
			if f, ok := decl.(*ast.FuncDecl); ok {
				in = f.Name.Name
			}
			ast.Inspect(decl, func(n ast.Node) bool {
				if what := s.reads(info, n); what != "" {
					out = append(out, reading{p.Fset.Position(n.Pos()), in, what})
				}
				return true
			})
		}
	}
	return out
}

// reads says how a node reads a sentence, "" when it does not.
func (s sentences) reads(info *types.Info, n ast.Node) string {
	switch n := n.(type) {
	case *ast.CallExpr:
		called := name(info, n.Fun)
		if !searches.MatchString(called) || called == "strings.TrimSpace" {
			return ""
		}
		for _, arg := range n.Args {
			if cuts.MatchString(called) && spelt(info, arg) {
				return called + " of the code " + types.ExprString(arg)
			}
			if what := s.of(info, arg); what != "" {
				return called + " of " + types.ExprString(arg) + ": " + what
			}
		}
	case *ast.BinaryExpr:
		if n.Op != token.EQL && n.Op != token.NEQ {
			return ""
		}
		for _, pair := range [][2]ast.Expr{{n.X, n.Y}, {n.Y, n.X}} {
			if what := s.of(info, pair[0]); what != "" && !empty(info, pair[1]) {
				return types.ExprString(pair[0]) + " compared: " + what
			}
		}
	case *ast.SwitchStmt:
		if n.Tag != nil {
			if what := s.of(info, n.Tag); what != "" {
				return "switch on " + types.ExprString(n.Tag) + ": " + what
			}
		}
	case *ast.SliceExpr:
		if b, ok := info.TypeOf(n.X).Underlying().(*types.Basic); ok && b.Info()&types.IsString != 0 {
			if what := s.of(info, n.X); what != "" {
				return types.ExprString(n.X) + " cut: " + what
			}
		}
	case *ast.IndexExpr:
		if t := info.TypeOf(n.X); t != nil {
			if _, ok := t.Underlying().(*types.Map); ok {
				if what := s.of(info, n.Index); what != "" {
					return "looked up by " + types.ExprString(n.Index) + ": " + what
				}
			}
		}
	}
	return ""
}

// object is the variable, field or function that an expression names.
func object(info *types.Info, x ast.Expr) types.Object {
	switch x := ast.Unparen(x).(type) {
	case *ast.Ident:
		return info.ObjectOf(x)
	case *ast.SelectorExpr:
		o := info.ObjectOf(x.Sel)
		if v, ok := o.(*types.Var); ok {
			return v.Origin()
		}
		return o
	case *ast.IndexExpr: // an element, or a generic function
		return object(info, x.X)
	case *ast.StarExpr:
		return object(info, x.X)
	}
	return nil
}

// name is that of a function with its package or, for a method, that of its type: "strings.Contains",
// "regexp.MatchString".
func name(info *types.Info, fun ast.Expr) string {
	switch o := object(info, fun).(type) {
	case *types.Builtin:
		return o.Name()
	case *types.Func:
		if o.Pkg() != nil {
			return o.Pkg().Name() + "." + o.Name()
		}
	}
	return ""
}

// texts says that a place can hold a sentence: a string or several, of no type that is a code.
func texts(t types.Type) bool {
	switch u := t.(type) {
	case *types.Named, *types.Alias:
		if code(t) {
			return false
		}
		if b, ok := t.Underlying().(*types.Basic); ok {
			return b.Info()&types.IsString != 0
		}
		return false
	case *types.Basic:
		return u.Info()&types.IsString != 0
	case *types.Slice:
		return texts(u.Elem())
	case *types.Array:
		return texts(u.Elem())
	case *types.Map:
		return texts(u.Elem())
	case *types.Pointer:
		return texts(u.Elem())
	}
	return false
}

// code says that a type is a named string.
func code(t types.Type) bool {
	n, ok := types.Unalias(t).(*types.Named)
	if !ok {
		return false
	}
	b, ok := n.Underlying().(*types.Basic)
	return ok && b.Info()&types.IsString != 0
}

// spelt says that an expression is the spelling of a code, which is compared whole and never searched.
func spelt(info *types.Info, x ast.Expr) bool {
	if call, ok := ast.Unparen(x).(*ast.CallExpr); ok && info.Types[call.Fun].IsType() {
		x = call.Args[0]
	}
	tv := info.Types[x]
	return tv.Value == nil && tv.Type != nil && code(tv.Type)
}

// empty is the text that is not there.
func empty(info *types.Info, x ast.Expr) bool {
	tv := info.Types[x]
	return tv.IsNil() || tv.Value != nil && tv.Value.Kind() == constant.String && constant.StringVal(tv.Value) == ""
}
