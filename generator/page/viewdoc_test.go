package page

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
	"testing"

	"asleft/generator/testenv"
)

// The page for makers of themes is made from views.go, so that no field of it
// can be missing there or described as it once was.
func TestThemeDataIsDocumented(t *testing.T) {
	testenv.Golden(t, "../../themes/DATA.md", viewDoc(t))
}

const viewDocHead = `# The data that a theme's templates get

A theme is a folder: ` + "`style.css`, `icon.svg` (may be left out) and templates (`*.html`, Go's html/template)" + `.
It has one template for each kind of page, and any others that these call:

| Template | gets |
| --- | --- |
| front.html | Front |
| story.html | Story |
| condition.html | Condition |
| listing.html | Listing |
| gone.html (may be left out) | Gone |
| verify.html (may be left out) | Verify |
| words.html | Words |
| lost.html | Lost |

What a report and a listing say is made by the program and comes as one piece: condition.html and
listing.html have ` + "`{{.Body}}`" + ` in them, once, and around it no words of their own but those of
` + "`say`" + ` with a key under ` + "`ui.`" + `. What all themes are made of (` + "`meta`, `evening`, `values-table`" + ` ...) is in
` + "`themes/shared`" + ` of the program: call it by name; a theme that defines the same name is refused.
The meta piece comes first in the head: it holds the policy by which a browser runs no program of a theme's.

Templates compute nothing. Besides Go's own, there is one function, ` + "`say KEY [NAME VALUE]...`" + `:
the program's own words from its catalog (keys under ` + "`ui.`" + ` are for themes). All else is in the data.
` + "`asleft theme copy NAME DIR`" + ` copies a built-in theme to begin from; ` + "`asleft writeup --theme DIR`" + ` uses it,
or ` + "`theme: NAME`" + ` in shop.md with the folder under the shop's ` + "`themes/`" + `.

This page is made from generator/page/views.go by a test (run with -update).
`

func viewDoc(t *testing.T) string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "views.go", nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	b.WriteString(viewDocHead)
	types := 0
	for _, d := range f.Decls {
		g, ok := d.(*ast.GenDecl)
		if !ok || g.Tok != token.TYPE {
			continue
		}
		for _, spec := range g.Specs {
			ts := spec.(*ast.TypeSpec)
			st, ok := ts.Type.(*ast.StructType)
			if !ok {
				continue
			}
			types++
			doc := g.Doc.Text()
			if doc == "" {
				t.Errorf("%s has no doc comment", ts.Name.Name)
			}
			fmt.Fprintf(&b, "\n## %s\n\n%s\n| Field | Type | What it is |\n| --- | --- | --- |\n", ts.Name.Name, doc)
			for _, field := range st.Fields.List {
				fieldDoc(&b, field)
			}
		}
	}
	if types < 15 {
		t.Fatalf("only %d views were found", types)
	}
	return b.String()
}

func fieldDoc(b *strings.Builder, f *ast.Field) {
	what := strings.TrimSpace(f.Doc.Text() + " " + f.Comment.Text())
	what = strings.ReplaceAll(strings.Join(strings.Fields(what), " "), "|", "\\|")
	if len(f.Names) == 0 {
		fmt.Fprintf(b, "| (all of %s) | | |\n", typeName(f.Type))
	}
	for _, n := range f.Names {
		fmt.Fprintf(b, "| .%s | %s | %s |\n", n.Name, typeName(f.Type), what)
	}
}

func typeName(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Ident:
		return map[string]string{"string": "text", "bool": "yes or no", "int": "number"}[e.Name] + map[bool]string{true: e.Name}[ast.IsExported(e.Name)]
	case *ast.ArrayType:
		return "list of " + typeName(e.Elt)
	case *ast.StarExpr:
		return typeName(e.X) + ", may be missing"
	case *ast.SelectorExpr:
		return "ready " + e.Sel.Name
	}
	return "?"
}
