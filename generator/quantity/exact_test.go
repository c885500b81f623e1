package quantity

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Values, conversions and verdicts never pass through floating point, and the
// package is a leaf. This reads the source to hold it to both.
func TestNoFloatingPointAndNoImports(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	read := 0
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		read++
		checkImports(t, name, file)
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok && f.Name.Name == "Float" {
				continue // for drawings only
			}
			checkFloats(t, name, d)
		}
	}
	if read == 0 {
		t.Fatal("no source file found")
	}
}

func checkImports(t *testing.T, name string, file *ast.File) {
	t.Helper()
	for _, spec := range file.Imports {
		path, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			t.Fatal(err)
		}
		if path == "math" || strings.Contains(path, ".") || strings.HasPrefix(path, "asleft") && path != "asleft/generator/spelling" {
			t.Errorf("%s imports %s", name, path)
		}
	}
}

func checkFloats(t *testing.T, name string, d ast.Decl) {
	t.Helper()
	ast.Inspect(d, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Ident:
			if strings.Contains(strings.ToLower(n.Name), "float") {
				t.Errorf("%s uses %s", name, n.Name)
			}
		case *ast.BasicLit:
			if n.Kind == token.FLOAT {
				t.Errorf("%s has the floating-point literal %s", name, n.Value)
			}
		}
		return true
	})
}
