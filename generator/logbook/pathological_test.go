package logbook

import (
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark/text"
)

// pathological are the patterns that bring bad CommonMark parsers to a
// standstill: those of the CommonMark project's list of pathological inputs
// (from memory), and what our own search for slow ones found.
var pathological = []string{
	"a**b*c", "*a_", "a_ ", "_a ", "*a **a ", "a**b", "c* ", "[ a_", "[ (](", "![[]()", "**x [a*b**c*](d)", "[", "]", "[a](<b ", "[a](b ", "[a](b (", "[a](b 'c ", "![](a \"",
	"> ", "- ", "1. ", " - a\n\n", "`a", "``a`", "a`b``c```d", "<!-- a", "<a ", "<http:", "<a@b", "&a;", "&#60;", "\\*", "\\", "**a *a", "***a", "*a ** b _c __d", "*_*",
	"[a]: b\n\n", "[a]: b 'c\n", "[a][]\n\n", "[a]\n\n", "- a\n", "- a\n+ a\n", "> a\nb\n", "a\n=\n", "    a\n\n", "```\n", "~~~\n```\n", "a\\\n", "a  \n", "* * * *\n", "# a #\n", "\t", "_", "`", "x",
	// Tables, comments and images whose names have spaces.
	"|a", "|-|\n", "a|b\n-|-\n", "a|b\n-|-\n\n", "|a|\n|-|\n|`\\|`|\n\n", "`\\|", "|a|b|\n|-|-|\n|c|\n\n", ":-:|", "|:-:|\n", "<!-- a --> ", "<!-- a -->\n", "a <!-- b\n", "a <!-- b\n\n", "<!--\n", "-->", "<!-- ", "> <!--\n\n",
	"![a](b c", "![a](b c ", "![a](b c)", "![a](b c.jpg) ", "![a](b c \"", "![a](b c \")", "![a](b ))))", "![[a](b c)", "![a\n", "![\\]", "![a](b c))\n\n", "![a](b (c) d)\n\n",
	strings.Repeat("![", maxBrackets) + "\n\n", strings.Repeat("![", maxBrackets/2) + strings.Repeat("](b c))", maxBrackets/2) + "\n\n",
	// As much as a passage may have, passage after passage.
	strings.Repeat("*a_", maxStars/2) + "\n\n", strings.Repeat("[", maxBrackets) + "\n\n", strings.Repeat("*[_", maxStars/2) + "\n\n", strings.Repeat("> ", maxNesting) + "a\n",
}

// A body of the largest size is refused, or parsed in a time that lets no one
// wait: those that the bounds of sound are there for took minutes to hours.
func TestPathologicalMarkdown(t *testing.T) {
	const patience = time.Minute
	parsed, refused := 0, 0
	for _, pattern := range pathological {
		b := Body{Text: []byte(strings.Repeat(pattern, maxBody/len(pattern))), Line: 1}
		s := &source{rules: &rules{words: keysOnly}, path: "e.md"}
		if b = s.sound(b); b.Text == nil {
			refused++
			continue
		}
		parsed++
		done := make(chan struct{})
		go func() {
			Markdown().Parse(text.NewReader(b.Text))
			close(done)
		}()
		select {
		case <-done:
		case <-time.After(patience):
			t.Fatalf("%.40q, again and again, was not parsed after %s", pattern, patience)
		}
	}
	if parsed < 45 || refused < 25 {
		t.Errorf("%d parsed, %d refused", parsed, refused)
	}
}
