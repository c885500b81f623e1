package generator_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// house are the packages in the order of DEVELOPERS.md, the top first.
func house(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	var rooms []string
	for _, m := range regexp.MustCompile(`(?m)^    ((?:cmd|generator)[a-z/-]*) {2,}`).FindAllStringSubmatch(string(text), -1) {
		rooms = append(rooms, m[1])
	}
	if len(rooms) < 15 {
		t.Fatalf("DEVELOPERS.md lists only %q", rooms)
	}
	return rooms
}

// packages are the parsed files of each package, without its tests.
func packages(t *testing.T) map[string][]*ast.File {
	t.Helper()
	all := map[string][]*ast.File{}
	for _, top := range []string{"generator", "cmd"} {
		err := filepath.WalkDir("../"+top, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(name, ".go") || strings.HasSuffix(name, "_test.go") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ParseComments|parser.SkipObjectResolution)
			dir := strings.TrimPrefix(path.Dir(filepath.ToSlash(name)), "../")
			all[dir] = append(all[dir], file)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return all
}

// Each package stands in the list of DEVELOPERS.md, below all that imports it; a
// package inside another (handover/jcs) counts as that one.
func TestNoImportUpward(t *testing.T) {
	rooms, at := house(t), map[string]int{}
	for n, room := range rooms {
		at[room] = n
	}
	place := func(dir string) (string, bool) {
		for ; dir != "."; dir = path.Dir(dir) {
			if _, ok := at[dir]; ok {
				return dir, true
			}
		}
		return "", false
	}
	for dir, files := range packages(t) {
		room, ok := place(dir)
		if !ok || room == "generator" && dir != room {
			t.Errorf("%s is not in the list of DEVELOPERS.md", dir)
			continue
		}
		for _, file := range files {
			for _, spec := range file.Imports {
				to, _ := strconv.Unquote(spec.Path.Value) // the parser took it
				to, ours := strings.CutPrefix(to, "asleft/")
				if below, listed := place(to); ours && listed && below != room && at[below] <= at[room] {
					t.Errorf("%s imports %s, which stands above it in DEVELOPERS.md", dir, to)
				}
			}
		}
	}
}

// A stranger reads the package's doc first: it is there, and says more than a name.
func TestEveryPackageHasADoc(t *testing.T) {
	for dir, files := range packages(t) {
		doc := ""
		for _, file := range files {
			doc += file.Doc.Text()
		}
		if len(doc) < 80 && strings.Count(doc, ". ")+strings.Count(doc, ".\n") < 2 {
			t.Errorf("%s: the doc of the package says too little to a stranger: %q", dir, doc)
		}
	}
}

// No list of English words decides: outside the catalog and the tests no Go file may
// ask whether a text holds one of several words. A list of at least four words and a
// search in texts, in one function, is what such a decision looks like; what is a name
// in a file's form, as true or engine, is compared whole and passes. The functions in
// helps only choose what a mechanic is told about his own typing; nothing is judged by
// them.
func TestNoWordListDecides(t *testing.T) {
	helps := map[string]bool{"generator/quantity.remark": true, "generator/benchtest.SymptomNamed": true}
	word := regexp.MustCompile(`^[a-z]{3,}( [a-z]+)*$`)
	for dir, files := range packages(t) {
		if dir == "generator/catalog" || dir == "cmd/asleft-fill" {
			continue
		}
		lists := map[string]int{} // of the package, by name
		for _, file := range files {
			ast.Inspect(file, func(n ast.Node) bool {
				if v, ok := n.(*ast.ValueSpec); ok && len(v.Values) == 1 {
					lists[v.Names[0].Name] = longestList(v.Values[0], word)
				}
				return true
			})
		}
		for _, file := range files {
			for _, decl := range file.Decls {
				f, ok := decl.(*ast.FuncDecl)
				if !ok {
					continue
				}
				list, search := longestList(f, word), false
				ast.Inspect(f, func(n ast.Node) bool {
					switch n := n.(type) {
					case *ast.Ident:
						list = max(list, lists[n.Name])
					case *ast.SelectorExpr:
						if from, ok := n.X.(*ast.Ident); ok && from.Name == "strings" && (n.Sel.Name == "Contains" || n.Sel.Name == "Index" || n.Sel.Name == "HasPrefix") {
							search = true
						}
					}
					return true
				})
				if list >= 4 && search && !helps[dir+"."+f.Name.Name] {
					t.Errorf("%s: %s looks for words of a list of %d in a text", dir, f.Name.Name, list)
				}
			}
		}
	}
}

// longestList is how many words the longest list in a piece of source holds.
func longestList(n ast.Node, word *regexp.Regexp) int {
	most := 0
	ast.Inspect(n, func(n ast.Node) bool {
		list, ok := n.(*ast.CompositeLit)
		if !ok {
			return true
		}
		words := 0
		for _, e := range list.Elts {
			if pair, ok := e.(*ast.KeyValueExpr); ok {
				e = pair.Key
			}
			if lit, ok := e.(*ast.BasicLit); ok && lit.Kind == token.STRING {
				if text, _ := strconv.Unquote(lit.Value); word.MatchString(text) {
					words++
				}
			}
		}
		most = max(most, words)
		return true
	})
	return most
}
