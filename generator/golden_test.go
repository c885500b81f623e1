package generator_test

import (
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/generator/testenv"
)

// The pages of a small shop, word for word: the golden files hold the text that
// a reader sees, so that a change of style alone does not touch them.
func TestGoldenSite(t *testing.T) {
	files := made(t, "../testdata/golden/shop", generator.Options{})
	pages := 0
	for name, data := range files {
		switch filepath.Ext(name) {
		case ".html":
			if name == "words/index.html" {
				continue // the glossary is its own record
			}
			pages++
			testenv.Golden(t, "../testdata/golden/site/"+strings.TrimSuffix(name, ".html")+".txt", visible(t, data))
		case ".json", ".xml", ".txt":
			if name != "record.schema.json" {
				testenv.Golden(t, "../testdata/golden/site/"+name, data)
			}
		}
	}
	if pages < 6 {
		t.Fatalf("only %d pages", pages)
	}
}

// visible is the text of a page, a line for each block, with the addresses of
// its links.
func visible(t *testing.T, page string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	var walk func(*html.Node)
	walk = func(n *html.Node) {
		if n.Type == html.TextNode {
			if text := strings.Join(strings.Fields(n.Data), " "); text != "" {
				b.WriteString(text + " ")
			}
		}
		if n.Type == html.ElementNode && (n.Data == "style" || n.Data == "script" && attr(n, "type") == "") {
			return
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
		if n.Type != html.ElementNode {
			return
		}
		switch n.Data {
		case "a":
			b.WriteString("<" + attr(n, "href") + "> ")
		case "title", "p", "li", "h1", "h2", "h3", "h4", "h5", "h6", "dt", "dd", "tr", "div", "figcaption", "section", "header", "nav", "script", "pre", "text":
			b.WriteString("\n")
		}
	}
	walk(doc)
	var lines []string
	for line := range strings.Lines(b.String()) {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	return strings.Join(lines, "\n") + "\n"
}
