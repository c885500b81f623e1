package page

import (
	"bytes"
	"html/template"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// TestSettledSaysTheSame fills in one template as html/template would and as a theme
// does: wherever a sentence stands, it is escaped for that place.
func TestSettledSaysTheSame(t *testing.T) {
	words := &catalog.Catalog{Lang: "en", Sentences: map[string]string{"plain": "as left", "quoted": `the shop's "own" <b>`, "way": "a b.html"}}
	const page = `{{define "row"}}<td data-label="{{say "plain"}}">{{.}}{{say "quoted"}}</td>{{end -}}
<p>{{say "plain"}} and {{say "quoted"}}</p><p title="{{say "plain"}}" class={{say "plain"}}>
<a href="{{say "way"}}">{{say "plain"}}</a><textarea>{{say "plain"}}</textarea>
<script>var a = {{say "plain"}}</script><style>p { color: {{say "plain"}} }</style>
{{range .}}{{say "plain"}}{{if eq . "1"}}{{say "plain"}}{{else}}not {{say "plain"}}{{end}}{{template "row" .}}{{else}}{{say "plain"}}{{end}}
{{with .}}{{say "plain"}}{{end}}{{$x := say "plain"}}{{$x}}`
	theme := &Theme{budget: &budget{}}
	made := func(settled bool, data any) (string, int) {
		all := template.Must(template.New("page").Funcs(functions(words, theme.budget)).Parse(page))
		sayOnce(all, words)
		countSteps(all)
		if settled {
			settleAll(all, []string{"page"})
		}
		b := &bounded{budget: theme.budget}
		if err := all.ExecuteTemplate(b, "page", data); err != nil {
			t.Fatal(err)
		}
		return b.String(), b.steps
	}
	for _, data := range [][]string{{"1", "<2>"}, {}} {
		want, steps := made(false, data)
		got, gotSteps := made(true, data)
		if got != want || gotSteps != steps {
			t.Errorf("got %d steps and\n%s\nwant %d and\n%s", gotSteps, got, steps, want)
		}
	}
}

// TestSettledIsText holds that a row of a table is not made of more pieces than it has
// facts: each sentence between them is text.
func TestSettledIsText(t *testing.T) {
	theme, err := LoadTheme(built(t, "jobcard"), catalog.English)
	if err != nil {
		t.Fatal(err)
	}
	row := theme.templates.Lookup("values-table").Tree.Root.String()
	if label := catalog.English.Say("ui.value"); !strings.Contains(row, `data-label="`+label+`"`) {
		t.Errorf("%q is filled in anew in each row:\n%s", label, row)
	}
	if b := new(bytes.Buffer); theme.templates.ExecuteTemplate(b, "values-table", nil) != nil || !strings.Contains(b.String(), "</table>") {
		t.Errorf("a table without rows: %s", b)
	}
}
