package catalog

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A saying is one place in the sources that names a key of the catalog, with the
// names that it can hand in there.
type saying struct {
	at     string
	places map[string]bool
}

// Every place in a sentence is filled by whoever says it: a place that is called
// otherwise in the catalog than in the sources would stand before the reader in
// braces. Where a call hands its pairs in beside the key, those count and what the
// function that is called adds; where the key is kept first and said later, the names
// that the package writes out count.
func TestEveryPlaceIsFilled(t *testing.T) {
	sayings := sourceSayings(t)
	checked := 0
	for key, text := range English.Sentences {
		if strings.HasPrefix(key, "month.") {
			continue
		}
		if plain := strings.TrimPrefix(key, "desk."); plain != key && English.Has(plain) {
			// The desk's own words for a fault get what the fault's get.
			for _, place := range placesOf(text) {
				checked++
				if !slices.Contains(placesOf(English.Sentences[plain]), place) {
					t.Errorf("%s: {%s} is not in %s", key, place, plain)
				}
			}
			continue
		}
		said := slices.Clone(sayings[key])
		for shorter := key; len(said) == 0 && English.base(shorter) != shorter; {
			shorter = English.base(shorter)
			said = slices.Clone(sayings[shorter])
		}
		for i := range key {
			if key[i] == '.' || key[i] == '-' {
				said = append(said, sayings[key[:i+1]+"+"]...)
			}
		}
		for _, place := range placesOf(text) {
			checked++
			for _, s := range said {
				if !s.places[place] {
					t.Errorf("%s: {%s} is not handed in at %s", key, place, s.at)
				}
			}
			if len(said) == 0 {
				t.Errorf("%s: {%s} is handed in nowhere", key, place)
			}
		}
	}
	if checked < 1000 {
		t.Fatalf("only %d places were looked at", checked)
	}
}

var placeForm = regexp.MustCompile(`\{([^{}:, ]+)\}`) // what has a colon in it is YAML to copy

func placesOf(text string) []string {
	var all []string
	for _, m := range placeForm.FindAllStringSubmatch(text, -1) {
		all = append(all, m[1])
	}
	return all
}

// sourceSayings are the sayings of each key in the program and the themes; a key that
// the sources put together from a beginning stands under it and a plus.
func sourceSayings(t *testing.T) map[string][]saying {
	t.Helper()
	files, set := map[string]*ast.File{}, token.NewFileSet()
	all := map[string][]saying{}
	for _, top := range []string{"../../generator", "../../cmd", "../../themes"} {
		err := filepath.WalkDir(top, func(name string, d fs.DirEntry, err error) error {
			name = filepath.ToSlash(name)
			switch {
			case err != nil || d.IsDir() || strings.HasSuffix(name, "_test.go") || strings.Contains(name, "catalog/en_"):
				return err
			case strings.HasSuffix(name, ".go"):
				files[name], err = parser.ParseFile(set, name, nil, parser.SkipObjectResolution)
			case strings.HasSuffix(name, ".html"):
				err = themeSayings(name, all)
			}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if len(files) < 100 {
		t.Fatalf("only %d files were read", len(files))
	}
	written, adds := map[string]map[string]bool{}, map[string]map[string]bool{} // by package, by name of function
	for name, file := range files {
		words := literals(file)
		mix(written, path.Dir(name), words)
		for _, d := range file.Decls {
			if f, ok := d.(*ast.FuncDecl); ok {
				mix(adds, f.Name.Name, literals(f))
			}
		}
	}
	for name, file := range files {
		beside := map[*ast.BasicLit]bool{} // keys whose pairs stand beside them
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				if key, s, ok := callSaying(n); ok {
					beside[key] = true
					maps.Copy(s, adds[callee(n)])
					all[literal(key)] = append(all[literal(key)], saying{set.Position(key.Pos()).String(), s})
				}
			case *ast.BinaryExpr:
				if lead := literal(n.X); n.Op == token.ADD && strings.ContainsAny(lead, ".-") {
					all[lead+"+"] = append(all[lead+"+"], saying{set.Position(n.Pos()).String(), written[path.Dir(name)]})
				}
			case *ast.BasicLit:
				if _, known := English.Sentences[literal(n)]; !beside[n] && (known || strings.Contains(literal(n), ".")) {
					all[literal(n)] = append(all[literal(n)], saying{set.Position(n.Pos()).String(), written[path.Dir(name)]})
				}
			}
			return true
		})
	}
	return all
}

// callSaying is the key of a call and the names of the pairs that follow it: a
// count may stand between. It is none where the pairs come from elsewhere.
func callSaying(c *ast.CallExpr) (key *ast.BasicLit, places map[string]bool, ok bool) {
	if c.Ellipsis.IsValid() {
		return nil, nil, false
	}
	for i, arg := range c.Args {
		lit, isText := arg.(*ast.BasicLit)
		if !isText || !strings.Contains(literal(lit), ".") {
			continue
		}
		rest, places := c.Args[i+1:], map[string]bool{}
		if len(rest) == 0 {
			return nil, nil, false // the key goes on without its pairs, or has none
		}
		if len(rest)%2 == 1 {
			if !strings.EqualFold(callee(c), "count") {
				return nil, nil, false
			}
			places["n"], rest = true, rest[1:]
		}
		for len(rest) > 0 {
			name := literal(rest[0])
			if name == "" || strings.Contains(name, ".") {
				return nil, nil, false
			}
			places[name], rest = true, rest[2:]
		}
		return lit, places, true
	}
	return nil, nil, false
}

// callee is the name of the function or method that is called.
func callee(c *ast.CallExpr) string {
	switch f := c.Fun.(type) {
	case *ast.Ident:
		return f.Name
	case *ast.SelectorExpr:
		return f.Sel.Name
	}
	return ""
}

func literal(n ast.Node) string {
	if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
		text, _ := strconv.Unquote(lit.Value) // the parser took it
		return text
	}
	return ""
}

func literals(n ast.Node) map[string]bool {
	all := map[string]bool{}
	ast.Inspect(n, func(n ast.Node) bool {
		if text := literal(n); text != "" {
			all[text] = true
		}
		return true
	})
	return all
}

func mix(all map[string]map[string]bool, name string, words map[string]bool) {
	if all[name] == nil {
		all[name] = map[string]bool{}
	}
	maps.Copy(all[name], words)
}

var (
	actionForm = regexp.MustCompile(`\{\{[^{}]*\}\}`)
	quotedForm = regexp.MustCompile(`"([^"]*)"`)
)

// themeSayings are those of a template: what is quoted in one action goes together.
func themeSayings(name string, all map[string][]saying) error {
	text, err := os.ReadFile(name)
	for _, action := range actionForm.FindAllString(string(text), -1) {
		words := map[string]bool{}
		for _, m := range quotedForm.FindAllStringSubmatch(action, -1) {
			words[m[1]] = true
		}
		for key := range words {
			if strings.Contains(key, ".") {
				all[key] = append(all[key], saying{name + ": " + action, words})
			}
		}
	}
	return err
}
