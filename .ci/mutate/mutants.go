package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
)

// A mutant is one small change to one file. It is a change of text, so that all
// other lines stay as they are written, and where they are.
type mutant struct {
	name
	line     int
	from, to int // the bytes that are replaced
	text     string
}

// A name is what a mutant is known by, which stays when lines move.
type name struct {
	file   string
	source string // the line, without the space around it
	change string // in which function, what was there, what stands there now
}

func (m mutant) String() string {
	return fmt.Sprintf("%s:%d\n\t%s\n\t%s", m.file, m.line, m.change, m.source)
}

// apply is the source with the change made.
func (m mutant) apply(src []byte) []byte {
	out := append([]byte{}, src[:m.from]...)
	return append(append(out, m.text...), src[m.to:]...)
}

// swaps are the operators and the functions that stand in for one another.
var swaps = map[string]string{
	"==": "!=", "!=": "==", "<": "<=", "<=": "<", ">": ">=", ">=": ">",
	"&&": "||", "||": "&&", "min": "max", "max": "min", "true": "false", "false": "true",
}

// mutants are all single changes to the conditions and the statements of a file.
func mutants(file string, src []byte) ([]mutant, error) {
	fset := token.NewFileSet()
	tree, err := parser.ParseFile(fset, file, src, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	f := &finder{file: file, src: src, lines: strings.Split(string(src), "\n"), at: fset.File(tree.FileStart)}
	for _, d := range tree.Decls {
		f.function = "the package"
		if fn, ok := d.(*ast.FuncDecl); ok {
			f.function = fn.Name.Name
		}
		ast.Inspect(d, f.visit)
	}
	return f.found, nil
}

// A finder goes through a file and gathers its mutants.
type finder struct {
	file     string
	src      []byte
	lines    []string
	at       *token.File
	function string // the one that it is in
	found    []mutant
}

// visit finds the mutants of one node; those of the nodes in it are found when
// they are visited.
func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		if op := n.Op.String(); swaps[op] != "" {
			f.swap(n, n.OpPos, op)
		}
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			f.add(n, n.Pos(), n.X.Pos(), "", f.textOf(n)+" -> "+f.textOf(n.X))
		}
	case *ast.Ident:
		if n.Name == "true" || n.Name == "false" {
			f.swap(n, n.Pos(), n.Name)
		}
	case *ast.CallExpr:
		if fun, ok := n.Fun.(*ast.Ident); ok && swaps[fun.Name] != "" {
			f.swap(n, fun.Pos(), fun.Name)
		}
	case *ast.IfStmt:
		f.condition("if", n.Cond)
	case *ast.ForStmt:
		f.condition("for", n.Cond)
	case *ast.SwitchStmt:
		for _, s := range n.Body.List {
			for _, cond := range s.(*ast.CaseClause).List {
				if n.Tag == nil {
					f.condition("case", cond)
				}
			}
		}
	case *ast.BlockStmt:
		f.statements(n.List)
	case *ast.CaseClause:
		f.statements(n.Body)
	case *ast.CommClause:
		f.statements(n.Body)
	}
	return true
}

// condition makes a condition always true, and always false. It stays where it
// was, never to be asked, so that what it names counts as used.
func (f *finder) condition(word string, cond ast.Expr) {
	if cond == nil {
		return
	}
	was := f.between(cond.Pos(), cond.End())
	change := word + " " + f.textOf(cond)
	f.add(cond, cond.Pos(), cond.End(), "true || ("+was+")", change+" -> true")
	f.add(cond, cond.Pos(), cond.End(), "false && ("+was+")", change+" -> false")
}

// statements takes out each statement of a list that is there for what it does.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		out := false
		switch s := s.(type) {
		case *ast.ExprStmt:
			out = true
		case *ast.AssignStmt:
			out = s.Tok != token.DEFINE
		case *ast.BranchStmt:
			out = s.Tok == token.CONTINUE || s.Tok == token.BREAK
		}
		if out {
			f.add(s, s.Pos(), s.End(), "if false { "+f.between(s.Pos(), s.End())+" }", f.textOf(s)+" taken out")
		}
	}
}

// swap puts another word in the place of one.
func (f *finder) swap(n ast.Node, at token.Pos, word string) {
	end := at + token.Pos(len(word))
	now := f.between(n.Pos(), at) + swaps[word] + f.between(end, n.End())
	f.add(n, at, end, swaps[word], f.textOf(n)+" -> "+oneLine(now))
}

func (f *finder) add(n ast.Node, from, to token.Pos, text, change string) {
	line := f.at.Line(n.Pos())
	f.found = append(f.found, mutant{
		name: name{f.file, strings.TrimSpace(f.lines[line-1]), f.function + ": " + change},
		line: line, from: f.at.Offset(from), to: f.at.Offset(to), text: text,
	})
}

func (f *finder) between(from, to token.Pos) string {
	return string(f.src[f.at.Offset(from):f.at.Offset(to)])
}

func (f *finder) textOf(n ast.Node) string { return oneLine(f.between(n.Pos(), n.End())) }

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
