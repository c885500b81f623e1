package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
)

// A mutant is one small change to one file. It is a change of text, so that all
// other lines stay as they are written, and where they are.
type mutant struct {
	file   string // as it is named to the reader
	line   int
	source string // the line, without the space around it
	change string // in which function, what was there, what stands there now

	from, to int // the bytes that are replaced
	text     string
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
		if fun, ok := n.Fun.(*ast.Ident); ok && (fun.Name == "min" || fun.Name == "max") {
			f.swap(n, fun.Pos(), fun.Name)
		}
	case *ast.IfStmt:
		f.condition("if", n.Cond)
	case *ast.ForStmt:
		f.condition("for", n.Cond)
	case *ast.SwitchStmt:
		f.cases(n)
	case *ast.BlockStmt:
		f.statements(n.List)
	case *ast.CaseClause:
		f.statements(n.Body)
	case *ast.CommClause:
		f.statements(n.Body)
	}
	return true
}

// cases are the conditions of a switch that has nothing to compare them with.
func (f *finder) cases(n *ast.SwitchStmt) {
	if n.Tag != nil {
		return
	}
	for _, s := range n.Body.List {
		for _, cond := range s.(*ast.CaseClause).List {
			f.condition("case", cond)
		}
	}
}

// condition makes a condition always true, and always false. It stays where it
// was, never to be asked, so that what it names counts as used.
func (f *finder) condition(word string, cond ast.Expr) {
	if cond == nil {
		return
	}
	was := string(f.src[f.offset(cond.Pos()):f.offset(cond.End())])
	change := word + " " + f.textOf(cond)
	f.add(cond, cond.Pos(), cond.End(), "true || ("+was+")", change+" -> true")
	f.add(cond, cond.Pos(), cond.End(), "false && ("+was+")", change+" -> false")
}

// statements takes out each statement of a list that is there for what it does.
func (f *finder) statements(list []ast.Stmt) {
	for _, s := range list {
		switch s := s.(type) {
		case *ast.ExprStmt:
		case *ast.AssignStmt:
			if s.Tok == token.DEFINE {
				continue
			}
		case *ast.BranchStmt:
			if s.Tok != token.CONTINUE && s.Tok != token.BREAK {
				continue
			}
		default:
			continue
		}
		was := string(f.src[f.offset(s.Pos()):f.offset(s.End())])
		f.add(s, s.Pos(), s.End(), "if false { "+was+" }", f.textOf(s)+" taken out")
	}
}

// swap puts another word in the place of one.
func (f *finder) swap(n ast.Node, at token.Pos, word string) {
	end := at + token.Pos(len(word))
	start, stop := f.offset(n.Pos()), f.offset(n.End())
	now := string(f.src[start:f.offset(at)]) + swaps[word] + string(f.src[f.offset(end):stop])
	f.add(n, at, end, swaps[word], f.textOf(n)+" -> "+oneLine(now))
}

func (f *finder) add(n ast.Node, from, to token.Pos, text, change string) {
	line := f.at.Line(n.Pos())
	f.found = append(f.found, mutant{
		file: f.file, line: line, source: strings.TrimSpace(f.lines[line-1]), change: f.function + ": " + change,
		from: f.offset(from), to: f.offset(to), text: text,
	})
}

func (f *finder) offset(p token.Pos) int { return f.at.Offset(p) }

func (f *finder) textOf(n ast.Node) string {
	return oneLine(string(f.src[f.offset(n.Pos()):f.offset(n.End())]))
}

func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }
