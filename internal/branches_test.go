package internal_test

import (
	"go/ast"
	"go/token"
	"testing"
)

// mostBranches is the greatest cyclomatic complexity (McCabe 1976) of a function: one, and one more for each if,
// for, case, && and ||.
const mostBranches = 20

// branched are the functions above it, each with the reason why it is plainer in one piece.
var branched = map[string]string{
	"internal/prescription preferred":        "small orders over the same counts of sessions, which each part would have to be handed",
	"internal/progression Review.objections": "one list of exceptions, of which the first that fits decides",
}

// TestFunctionsHaveFewBranches counts the branches of every function outside of tests.
func TestFunctionsHaveFewBranches(t *testing.T) {
	counted, above := 0, map[string]bool{}
	for pkg, p := range program(t) {
		for _, parsed := range p.Syntax {
			for _, d := range parsed.Decls {
				f, ok := d.(*ast.FuncDecl)
				if !ok {
					continue
				}
				counted++
				if n := branches(f); n > mostBranches {
					name := pkg + " " + nameOf(f)
					above[name] = true
					if branched[name] == "" {
						t.Errorf("%s has %d branches, more than %d: take it apart, or give the reason here", name, n, mostBranches)
					}
				}
			}
		}
	}
	for name := range branched {
		if !above[name] {
			t.Errorf("%s has no more than %d branches and needs no reason", name, mostBranches)
		}
	}
	if counted < 1000 {
		t.Errorf("only %d functions were counted", counted)
	}
}

func branches(f *ast.FuncDecl) int {
	n := 1
	ast.Inspect(f, func(x ast.Node) bool {
		switch x := x.(type) {
		case *ast.IfStmt, *ast.ForStmt, *ast.RangeStmt:
			n++
		case *ast.CaseClause:
			if x.List != nil { // not default
				n++
			}
		case *ast.CommClause:
			if x.Comm != nil {
				n++
			}
		case *ast.BinaryExpr:
			if x.Op == token.LAND || x.Op == token.LOR {
				n++
			}
		}
		return true
	})
	return n
}

// nameOf is a function's name, with its receiver's type before it.
func nameOf(f *ast.FuncDecl) string {
	if f.Recv == nil {
		return f.Name.Name
	}
	of := f.Recv.List[0].Type
	if star, ok := of.(*ast.StarExpr); ok {
		of = star.X
	}
	if generic, ok := of.(*ast.IndexExpr); ok {
		of = generic.X
	}
	if name, ok := of.(*ast.Ident); ok {
		return name.Name + "." + f.Name.Name
	}
	return f.Name.Name
}
