package logbook

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
	nethtml "golang.org/x/net/html"

	"asleft/generator/testenv"
)

// An example of the CommonMark specification, version 0.31.2.
type example struct {
	Markdown string `json:"markdown"`
	HTML     string `json:"html"`
	Number   int    `json:"example"`
	Section  string `json:"section"`
}

// examples are those that ship with the Markdown library, as published.
func examples(t *testing.T) []example {
	t.Helper()
	testenv.NeedsGo(t)
	dir, err := exec.Command("go", "list", "-m", "-f", "{{.Dir}}", "github.com/yuin/goldmark").Output()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(strings.TrimSpace(string(dir)), "_test", "spec.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []example
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	if len(all) != 652 { // as many as the document has
		t.Fatalf("%d examples", len(all))
	}
	return all
}

var xhtml = renderer.NewRenderer(renderer.WithNodeRenderers(util.Prioritized(html.NewRenderer(html.WithXHTML()), 1000), util.Prioritized(extension.NewTableHTMLRenderer(), 500)))

func rendered(t testing.TB, p parser.Parser, source string) (string, ast.Node) {
	t.Helper()
	doc := p.Parse(text.NewReader([]byte(source)))
	var b bytes.Buffer
	if err := xhtml.Render(&b, []byte(source), doc); err != nil {
		t.Fatal(err)
	}
	return b.String(), doc
}

// rawHTML are the pieces of a document that CommonMark takes for HTML: its
// comments, and the rest.
func rawHTML(doc ast.Node, source string) (comments, rest []text.Segment) {
	add := func(pieces ...text.Segment) {
		if len(pieces) > 0 && strings.HasPrefix(strings.TrimSpace(string(pieces[0].Value([]byte(source)))), "<!--") {
			comments = append(comments, pieces...)
		} else {
			rest = append(rest, pieces...)
		}
	}
	_ = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		switch n := n.(type) {
		case *ast.RawHTML:
			if entering {
				add(n.Segments.Sliced(0, n.Segments.Len())...)
			}
		case *ast.HTMLBlock:
			if entering {
				all := n.Lines().Sliced(0, n.Lines().Len())
				if n.HasClosure() {
					all = append(all, n.ClosureLine)
				}
				add(all...)
			}
		}
		return ast.WalkContinue, nil
	})
	return comments, rest
}

// Every example of the CommonMark specification 0.31.2 comes out as published,
// but for those that hold raw HTML.
func TestCommonMark(t *testing.T) {
	excepted := map[string]int{}
	standard := goldmark.DefaultParser()
	for _, e := range examples(t) {
		got, doc := rendered(t, Markdown(), e.Markdown)
		if hidden, shown := rawHTML(doc, e.Markdown); len(hidden)+len(shown) > 0 {
			t.Errorf("example %d: HTML got through", e.Number)
		}
		if got == e.HTML {
			continue
		}
		_, usual := rendered(t, standard, e.Markdown)
		comments, raw := rawHTML(usual, e.Markdown)
		if len(raw)+len(comments) == 0 {
			t.Errorf("example %d (%s): got\n%s\nwant\n%s", e.Number, e.Section, got, e.HTML)
			continue
		}
		excepted[e.Section]++
		for _, c := range comments {
			if hidden := strings.TrimSpace(string(c.Value([]byte(e.Markdown)))); hidden != "" && strings.Count(got, nethtml.EscapeString(hidden)) >= strings.Count(e.Markdown, hidden) { // it may stand in code too
				t.Errorf("example %d (%s): the comment %q is shown in\n%s", e.Number, e.Section, hidden, got)
			}
		}
		shownAsText(t, e, got, raw)
	}
	// 72 in all. The other seven of the section on raw HTML show what is not.
	want := map[string]int{
		"HTML blocks": 44, "Raw HTML": 13, "Links": 4, "Emphasis and strong emphasis": 3, "Hard line breaks": 2, "Lists": 2,
		"Backslash escapes": 1, "Code spans": 1, "Entity and numeric character references": 1, "Link reference definitions": 1,
	}
	if diff := cmp.Diff(want, excepted); diff != "" {
		t.Errorf("excepted (-want, +got):\n%s", diff)
	}
}

// madeByMarkdown are the tags that Markdown itself has.
var madeByMarkdown = strings.Fields("p h1 h2 h3 h4 h5 h6 hr br em strong code pre ul ol li blockquote a img")

// shownAsText proves that no tag of the output came from the raw HTML of the
// input: all of them are Markdown's own, and they stay the same when every
// piece of HTML in the input gets another name (<b> becomes <xb>).
func shownAsText(t *testing.T, e example, got string, raw []text.Segment) {
	t.Helper()
	source := []byte(e.Markdown)
	for _, s := range slices.Backward(raw) {
		renamed := bytes.ReplaceAll(source[s.Start:s.Stop], []byte("<"), []byte("<x"))
		source = slices.Concat(source[:s.Start], renamed, source[s.Stop:])
	}
	other, _ := rendered(t, Markdown(), string(source))
	if diff := cmp.Diff(tags(got), tags(other)); diff != "" {
		t.Errorf("example %d (%s): the tags depend on the HTML of the input (-as it is, +renamed):\n%s", e.Number, e.Section, diff)
	}
	for _, tag := range tags(got) {
		name, _, _ := strings.Cut(strings.Trim(tag, "/"), " ")
		if !slices.Contains(madeByMarkdown, name) {
			t.Errorf("example %d (%s): a tag %s in\n%s", e.Number, e.Section, tag, got)
		}
	}
}

// tags are the tags of a page with the names of their attributes; a comment or
// the like counts as one.
func tags(page string) []string {
	var all []string
	for z := nethtml.NewTokenizer(strings.NewReader(page)); z.Next() != nethtml.ErrorToken; {
		token := z.Token()
		switch token.Type {
		case nethtml.TextToken:
			continue
		case nethtml.EndTagToken:
			token.Data = "/" + token.Data
		case nethtml.StartTagToken, nethtml.SelfClosingTagToken:
		default:
			token.Data = "neither text nor tag"
		}
		for _, a := range token.Attr {
			token.Data += " " + a.Key
		}
		all = append(all, token.Data)
	}
	return all
}

func TestPlainText(t *testing.T) {
	for read, want := range map[string]string{
		"a *b* **c** `d` [e](f) ![g](h)": "a b c d e g",
		"a\nb":                           "a b",
		"a  \nb":                         "a b",
		`50 \% \& \\ \a`:                 `50 % & \ \a`,
		"&amp; &copy; &#65; &nope;":      "& © A &nope;",
		`\&amp; &amp;amp;`:               "&amp; &amp;",
		"`\\* &amp;`":                    `\* &amp;`,
		"<http://a.example/>":            "http://a.example/",
		"<b>bold</b> 3 < 4":              "<b>bold</b> 3 < 4",
	} {
		doc := Markdown().Parse(text.NewReader([]byte(read)))
		if got := PlainText(doc, []byte(read)); got != want {
			t.Errorf("%s: got %q, want %q", read, got, want)
		}
	}
}
