package main

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
)

// A mutant is one small change to one file, as edits after which the code does as
// before until the mutant is asked for (see weave.go).
type mutant struct {
	name
	line   int
	number int // from 1, among those of its package
	edits  []edit
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
			f.swap(n, n.OpPos, op, f.operator(n, op)...)
		}
	case *ast.UnaryExpr:
		if n.Op == token.NOT {
			f.add(n, f.textOf(n)+" -> "+f.textOf(n.X), f.instead(n.Pos(), n.X.Pos(), "(("), f.after(n.X, ") == mutantOn(#))"))
		}
	case *ast.Ident:
		switch n.Name {
		case "true":
			f.swap(n, n.Pos(), n.Name, f.instead(n.Pos(), n.End(), "(!mutantOn(#))"))
		case "false":
			f.swap(n, n.Pos(), n.Name, f.instead(n.Pos(), n.End(), "mutantOn(#)"))
		}
	case *ast.CallExpr:
		if fun, ok := n.Fun.(*ast.Ident); ok && swaps[fun.Name] != "" {
			f.swap(n, fun.Pos(), fun.Name, f.instead(fun.Pos(), n.Lparen+1, helpers[fun.Name]+"(#, "))
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

// operator is a binary operator that can become the one that stands in for it.
func (f *finder) operator(n *ast.BinaryExpr, op string) []edit {
	after := n.OpPos + token.Pos(len(op))
	switch op {
	case "==", "!=":
		return []edit{f.before(n, "(("), f.after(n, ") != mutantOn(#))")}
	case "&&", "||":
		return []edit{f.before(n, helpers[op]+"(#, "), f.instead(n.OpPos, after, ", func() bool { return ("), f.after(n, ") })")}
	}
	return []edit{f.before(n, helpers[op]+"(#, "), f.instead(n.OpPos, after, ","), f.after(n, ")")}
}

// condition makes a condition always true, and always false.
func (f *finder) condition(word string, cond ast.Expr) {
	if cond == nil {
		return
	}
	change := word + " " + f.textOf(cond)
	f.add(cond, change+" -> true", f.before(cond, "(mutantOn(#) || ("), f.after(cond, "))"))
	f.add(cond, change+" -> false", f.before(cond, "(!mutantOn(#) && ("), f.after(cond, "))"))
}

// statements takes out each statement of a list that is there for what it does.
// One that panics stays: without it most functions are no Go any more.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		out := false
		switch s := s.(type) {
		case *ast.ExprStmt:
			call, ok := s.X.(*ast.CallExpr)
			out = !ok || f.textOf(call.Fun) != "panic"
		case *ast.AssignStmt:
			out = s.Tok != token.DEFINE
		case *ast.BranchStmt:
			out = s.Tok == token.CONTINUE || s.Tok == token.BREAK
		}
		if out {
			f.add(s, f.textOf(s)+" taken out", f.before(s, "if !mutantOn(#) { "), f.after(s, " }"))
		}
	}
}

// swap puts another word in the place of one.
func (f *finder) swap(n ast.Node, at token.Pos, word string, edits ...edit) {
	end := at + token.Pos(len(word))
	now := f.between(n.Pos(), at) + swaps[word] + f.between(end, n.End())
	f.add(n, f.textOf(n)+" -> "+oneLine(now), edits...)
}

func (f *finder) add(n ast.Node, change string, edits ...edit) {
	line := f.at.Line(n.Pos())
	f.found = append(f.found, mutant{
		name: name{f.file, strings.TrimSpace(f.lines[line-1]), f.function + ": " + change},
		line: line, edits: edits,
	})
}

func (f *finder) before(n ast.Node, text string) edit { return f.instead(n.Pos(), n.Pos(), text) }

func (f *finder) after(n ast.Node, text string) edit {
	e := f.instead(n.End(), n.End(), text)
	e.closes = true
	return e
}

func (f *finder) instead(from, to token.Pos, text string) edit {
	return edit{at: f.at.Offset(from), cut: int(to - from), text: text}
}

func (f *finder) between(from, to token.Pos) string {
	return string(f.src[f.at.Offset(from):f.at.Offset(to)])
}

func (f *finder) textOf(n ast.Node) string { return oneLine(f.between(n.Pos(), n.End())) }

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
