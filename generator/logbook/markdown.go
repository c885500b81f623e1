package logbook

import (
	"bufio"
	"bytes"
	stdhtml "html"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"
)

// Markdown is the parser of every body: CommonMark with tables between pipes
// and images whose names have spaces, except that raw HTML is no syntax of ours,
// so that what looks like a tag stays the text that the mechanic typed and is
// shown as such. Comments alone are taken for what they are, and left out.
func Markdown() parser.Parser { return markdown }

var markdown = parser.NewParser(
	parser.WithBlockParsers(
		util.Prioritized(parser.NewSetextHeadingParser(), 100),
		util.Prioritized(parser.NewThematicBreakParser(), 200),
		util.Prioritized(parser.NewListParser(), 300),
		util.Prioritized(parser.NewListItemParser(), 400),
		util.Prioritized(parser.NewCodeBlockParser(), 500),
		util.Prioritized(parser.NewATXHeadingParser(), 600),
		util.Prioritized(parser.NewFencedCodeBlockParser(), 700),
		util.Prioritized(parser.NewBlockquoteParser(), 800),
		util.Prioritized(blockComments{}, 900),
		util.Prioritized(parser.NewParagraphParser(), 1000),
	),
	parser.WithInlineParsers(
		util.Prioritized(parser.NewCodeSpanParser(), 100),
		util.Prioritized(spacedImages{}, 190),
		util.Prioritized(parser.NewLinkParser(), 200),
		util.Prioritized(inlineComments{}, 290),
		util.Prioritized(parser.NewAutoLinkParser(), 300),
		util.Prioritized(parser.NewEmphasisParser(), 500),
	),
	parser.WithParagraphTransformers(
		util.Prioritized(parser.LinkReferenceParagraphTransformer, 100),
		util.Prioritized(extension.NewTableParagraphTransformer(), 200),
	),
	parser.WithASTTransformers(
		util.Prioritized(takeComments{}, 0),
		util.Prioritized(extension.NewTableASTTransformer(), 100),
	),
)

// PlainText is the text of a node without its marks, as an alt text or a
// description wants it.
func PlainText(n ast.Node, source []byte) string {
	var b strings.Builder
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch t := c.(type) {
		case *ast.Text:
			if t.IsRaw() { // in code, where nothing stands for anything else
				b.Write(t.Value(source))
			} else {
				b.WriteString(plain(t.Value(source)))
			}
			if t.SoftLineBreak() || t.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.AutoLink:
			b.Write(t.Label(source))
		case *ast.String:
			b.Write(t.Value)
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}

// plain is running text as it is read: backslashes before punctuation and
// character references are undone, by the very code that does so on a page.
func plain(written []byte) string {
	if !bytes.ContainsAny(written, `\&`) {
		return string(written)
	}
	var b bytes.Buffer
	w := bufio.NewWriter(&b)
	html.DefaultWriter.Write(w, written)
	_ = w.Flush() // into memory: it cannot fail
	return stdhtml.UnescapeString(b.String())
}
