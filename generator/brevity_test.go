package generator_test

import (
	"slices"
	"strings"
	"testing"
	"unicode"

	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/themes"
)

// A reportText is what a report's page says, for the measures of a report that is
// read in a minute.
type reportText struct {
	words    int      // in the page's main part, but for what is folded away
	numbers  int      // of them, in the short numbers of entries
	front    int      // of them, on the front sheet
	blocks   []string // the text of each piece that a reader takes as one
	sections []string // their ids, in their order
	nested   bool     // a section stands in another
}

// reportOf reads the page of a report.
func reportOf(t *testing.T, page string) reportText {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var r reportText
	var walk func(n *html.Node, inMain, inSection, inFront, inNumbers bool)
	walk = func(n *html.Node, inMain, inSection, inFront, inNumbers bool) {
		switch n.Data {
		case "main":
			inMain = true
		case "svg", "nav", "script", "style":
			return
		case "details":
			for c := n.FirstChild; c != nil; c = c.NextSibling {
				if c.Data == "summary" {
					walk(c, inMain, inSection, inFront, inNumbers)
				}
			}
			return
		case "section":
			r.nested = r.nested || inSection
			inSection = true
			r.sections = append(r.sections, attr(n, "id"))
			inFront = attr(n, "id") == "front"
		case "p", "li", "h2", "h3", "th":
			if inMain {
				r.blocks = append(r.blocks, ownText(n))
			}
		}
		inNumbers = inNumbers || attr(n, "class") == "numbers"
		if n.Type == html.TextNode && inMain {
			count := wordsIn(n.Data)
			r.words += count
			if inFront {
				r.front += count
			}
			if inNumbers {
				r.numbers += count
			}
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, inMain, inSection, inFront, inNumbers)
		}
	}
	walk(doc, false, false, false, false)
	return r
}

// wordsIn counts what has a letter or a figure in it.
func wordsIn(text string) int {
	count := 0
	for _, field := range strings.Fields(text) {
		if strings.ContainsFunc(field, func(c rune) bool { return unicode.IsLetter(c) || unicode.IsDigit(c) }) {
			count++
		}
	}
	return count
}

// ownText is the text of an element without its lists and the numbers of entries.
func ownText(n *html.Node) string {
	var b strings.Builder
	for c := n.FirstChild; c != nil; c = c.NextSibling {
		switch {
		case c.Type == html.TextNode:
			b.WriteString(c.Data)
		case c.Data == "ul" || c.Data == "p" || c.Data == "div" || c.Data == "details" || attr(c, "class") == "numbers":
		default:
			b.WriteString(ownText(c))
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

// TestReportIsShort holds the example's reports against the measures of a report
// that is read in a minute.
func TestReportIsShort(t *testing.T) {
	for _, theme := range []string{"jobcard", "drawing-office"} {
		files := made(t, "../content-example", generator.Options{Theme: themes.Named(theme)})
		for _, tc := range []struct {
			machine      string
			words, front int
		}{{"harrow", 1300, 310}, {"wick", 1300, 320}, {"gannet", 1400, 400}, {"lathe", 1640, 420}, {"heron", 1100, 360}, {"tern", 1100, 300}} {
			r := reportOf(t, files["machines/"+tc.machine+"/condition/index.html"])
			if r.words > tc.words || r.words < 500 {
				t.Errorf("%s, %s: the report has %d words, want %d at most", theme, tc.machine, r.words, tc.words)
			}
			if r.front > tc.front || r.front < 100 {
				t.Errorf("%s, %s: the front sheet has %d words, want %d at most", theme, tc.machine, r.front, tc.front)
			}
			if 100*r.numbers > 8*r.words {
				t.Errorf("%s, %s: %d of %d words are numbers of entries", theme, tc.machine, r.numbers, r.words)
			}
			if r.nested {
				t.Errorf("%s, %s: a section stands in another", theme, tc.machine)
			}
		}
	}
}

// TestReportSections holds the ids of the parts, in their order, in both themes. A
// machine that nobody is offered has no terms.
func TestReportSections(t *testing.T) {
	all := []string{"front", "safety", "wrong", "repaired", "changed", "measured", "in-order", "not-checked", "hours", "terms", "log"}
	for _, theme := range []string{"jobcard", "drawing-office"} {
		files := made(t, "../content-example", generator.Options{Theme: themes.Named(theme)})
		for machine, offered := range map[string]bool{"harrow": true, "wick": true, "gannet": false, "lathe": false, "heron": false, "tern": false} {
			want := slices.Clone(all)
			if !offered {
				want = slices.DeleteFunc(want, func(id string) bool { return id == "terms" })
			}
			if got := reportOf(t, files["machines/"+machine+"/condition/index.html"]).sections; !slices.Equal(got, want) {
				t.Errorf("%s, %s: the parts are %v, want %v", theme, machine, got, want)
			}
		}
	}
}

// TestNothingIsSaidTwice holds that no sentence of a report stands twice on its page.
func TestNothingIsSaidTwice(t *testing.T) {
	files := made(t, "../content-example", generator.Options{})
	for _, machine := range []string{"harrow", "wick", "gannet", "lathe", "heron", "tern"} {
		twice, sentences := saidTwice(t, files["machines/"+machine+"/condition/index.html"])
		for _, sentence := range twice {
			t.Errorf("%s says twice: %s", machine, sentence)
		}
		if sentences < 30 {
			t.Errorf("%s says only %d sentences", machine, sentences)
		}
	}
}

// saidTwice are the sentences that stand more than once in a report, and how many
// different ones it has.
func saidTwice(t *testing.T, page string) (twice []string, sentences int) {
	t.Helper()
	seen := map[string]bool{}
	for _, block := range reportOf(t, page).blocks {
		for _, sentence := range sentencesOf(block) {
			if len(strings.Fields(sentence)) < 4 || strings.HasSuffix(sentence, "since") || strings.HasPrefix(sentence, "As it should be on") {
				continue // one work can put several things out of date: each says by which, and when it was good
			}
			if seen[sentence] {
				twice = append(twice, sentence)
			}
			seen[sentence] = true
		}
	}
	return twice, len(seen)
}

// sentencesOf are the sentences of a text.
func sentencesOf(text string) []string {
	var all []string
	for _, s := range strings.Split(text, ". ") {
		if s = strings.Trim(s, ". "); s != "" {
			all = append(all, s)
		}
	}
	return all
}
