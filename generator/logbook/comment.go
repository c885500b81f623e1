package logbook

import (
	"bytes"
	"slices"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// A comment is what stands between <!-- and --> outside code. It is the one
// piece of HTML that is ours: mechanics hide notes to themselves in it, so it is
// published nowhere: when the text has been parsed it is taken out of the tree. One
// that is never closed is to be told of, and shows nothing either.
type comment struct {
	ast.BaseBlock
	open bool
}

// An inlineComment is a comment inside a paragraph.
type inlineComment struct {
	ast.BaseInline
	open bool
}

var (
	commentKind       = ast.NewNodeKind("Comment")
	inlineCommentKind = ast.NewNodeKind("InlineComment")
	commentsKey       = parser.NewContextKey()

	commentOpens  = []byte("<!--")
	commentCloses = []byte("-->")
)

func (*comment) Kind() ast.NodeKind                    { return commentKind }
func (*comment) IsRaw() bool                           { return true }
func (c *comment) Dump(source []byte, level int)       { ast.DumpHelper(c, source, level, nil, nil) }
func (*inlineComment) Kind() ast.NodeKind              { return inlineCommentKind }
func (c *inlineComment) Dump(source []byte, level int) { ast.DumpHelper(c, source, level, nil, nil) }
func noteComment(pc parser.Context, n ast.Node)        { pc.Set(commentsKey, append(commentsOf(pc), n)) }
func commentsOf(pc parser.Context) (all []ast.Node) {
	all, _ = pc.Get(commentsKey).([]ast.Node)
	return all
}

// isOpen tells whether a node is a comment that is never closed.
func isOpen(n ast.Node) bool {
	switch c := n.(type) {
	case *comment:
		return c.open
	case *inlineComment:
		return c.open
	}
	return false
}

// closing is where in a line that begins with <!-- the comment is over; -1 where
// it goes on. <!--> and <!---> are comments too (CommonMark 0.31.2, 6.6).
func closing(line []byte) int {
	const hyphens = 2 // of <!-- may belong to -->
	at := bytes.Index(line[hyphens:], commentCloses)
	if at < 0 {
		return -1
	}
	return hyphens + at + len(commentCloses)
}

// withoutComments is a text that is no Markdown, such as a title, with the
// comments in it left out.
func withoutComments(written []byte) []byte {
	if !bytes.Contains(written, commentOpens) {
		return written
	}
	var kept []byte
	for {
		at := bytes.Index(written, commentOpens)
		if at < 0 {
			return append(kept, written...)
		}
		kept, written = append(kept, written[:at]...), written[at:]
		end := closing(written)
		if end < 0 {
			return kept
		}
		written = written[end:]
	}
}

// blockComments reads comments that begin on a line of their own. Empty lines and
// marks of Markdown inside them mean nothing.
type blockComments struct{}

func (blockComments) Trigger() []byte             { return []byte{'<'} }
func (blockComments) CanInterruptParagraph() bool { return true }
func (blockComments) CanAcceptIndentedLine() bool { return false }
func (blockComments) Close(ast.Node, text.Reader, parser.Context) {
}

func (blockComments) Open(_ ast.Node, reader text.Reader, pc parser.Context) (ast.Node, parser.State) {
	line, _ := reader.PeekLine()
	at := pc.BlockOffset()
	if at < 0 || !bytes.HasPrefix(line[at:], commentOpens) {
		return nil, parser.NoChildren
	}
	c := &comment{}
	for line = line[at:]; len(line) > 0; line = bytes.TrimSpace(line) {
		if !bytes.HasPrefix(line, commentOpens) {
			return nil, parser.NoChildren // text follows on the line: it is a paragraph with a comment in it
		}
		end := closing(line)
		if c.open = end < 0; c.open {
			break
		}
		line = line[end:]
	}
	noteComment(pc, c)
	reader.AdvanceToEOL()
	return c, parser.NoChildren
}

// Continue leaves what follows the end of a comment on its line to others.
func (blockComments) Continue(n ast.Node, reader text.Reader, _ parser.Context) parser.State {
	c := n.(*comment)
	if !c.open {
		return parser.Close
	}
	line, _ := reader.PeekLine()
	at := bytes.Index(line, commentCloses)
	if at < 0 {
		reader.AdvanceToEOL()
		return parser.Continue | parser.NoChildren
	}
	c.open = false
	at += len(commentCloses)
	for at < len(line) && (line[at] == ' ' || line[at] == '\t') {
		at++
	}
	reader.Advance(at)
	return parser.Close
}

// inlineComments reads comments inside paragraphs, which may run over the ends of
// lines. One that is not closed takes the rest of its paragraph along: it is told
// of, and until then it is better hidden than shown.
type inlineComments struct{}

func (inlineComments) Trigger() []byte { return []byte{'<'} }

func (inlineComments) Parse(_ ast.Node, block text.Reader, pc parser.Context) ast.Node {
	line, _ := block.PeekLine()
	if !bytes.HasPrefix(line, commentOpens) {
		return nil
	}
	c := &inlineComment{}
	noteComment(pc, c)
	if end := closing(line); end >= 0 {
		block.Advance(end)
		return c
	}
	for {
		block.AdvanceLine()
		line, _ = block.PeekLine()
		if line == nil {
			c.open = true
			return c
		}
		if at := bytes.Index(line, commentCloses); at >= 0 {
			block.Advance(at + len(commentCloses))
			return c
		}
	}
}

// takeComments takes the comments out of the tree, and what is empty without them.
type takeComments struct{}

func (takeComments) Transform(_ *ast.Document, reader text.Reader, pc parser.Context) {
	for _, n := range slices.Backward(commentsOf(pc)) {
		parent := n.Parent()
		if parent == nil {
			continue
		}
		parent.RemoveChild(parent, n)
		if n.Type() != ast.TypeInline {
			continue
		}
		for _, edge := range []ast.Node{parent.FirstChild(), parent.LastChild()} {
			if t, is := edge.(*ast.Text); is && t.Parent() == parent && util.IsBlank(t.Value(reader.Source())) {
				parent.RemoveChild(parent, t)
			}
		}
		if above := parent.Parent(); parent.ChildCount() == 0 && parent.Kind() == ast.KindParagraph && above != nil {
			above.RemoveChild(above, parent)
		}
	}
}
