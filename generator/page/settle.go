package page

import (
	"html/template"
	"io"
	"strings"
	"text/template/parse"
)

// settle makes plain text of what the templates say the same way each time: to hand
// a sentence that is known to a function that escapes it costs far more than to write
// it. A template is escaped when it is first filled in, so each page is begun once, onto
// nothing; only then it is known how a sentence is escaped where it stands.
func (t *Theme) settle() {
	settleAll(t.shared, []string{"condition-body", "listing-body"})
	settleAll(t.templates, append([]string{"verify.html", "gone.html"}, views...))
}

func settleAll(all *template.Template, pages []string) {
	for _, name := range pages {
		_ = all.ExecuteTemplate(nowhere{}, name, nil) // what is wrong with it shows when it is filled in for a page
	}
	for _, piece := range all.Templates() {
		if piece.Tree != nil {
			settleIn(piece.Tree.Root)
		}
	}
}

// nowhere ends a page at its first step, before a theme of somebody's has done anything.
type nowhere struct{}

func (nowhere) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func settleIn(list *parse.ListNode) {
	if list == nil {
		return
	}
	var settled []parse.Node
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.RangeNode:
			settleIn(n.List)
			settleIn(n.ElseList)
		case *parse.IfNode:
			settleIn(n.List)
			settleIn(n.ElseList)
		case *parse.WithNode:
			settleIn(n.List)
			settleIn(n.ElseList)
		}
		text := asText(n)
		if text == nil {
			settled = append(settled, n)
			continue
		}
		if last := len(settled) - 1; last >= 0 {
			if before := asText(settled[last]); before != nil {
				text = &parse.TextNode{NodeType: parse.NodeText, Pos: before.Pos, Text: append(before.Text, text.Text...)}
				settled = settled[:last]
			}
		}
		settled = append(settled, text)
	}
	list.Nodes = settled
}

// asText is the text that a node always writes; nil where it has none, or may write
// another. An empty text is a step that is counted, and stays.
func asText(n parse.Node) *parse.TextNode {
	switch n := n.(type) {
	case *parse.TextNode:
		if len(n.Text) > 0 {
			return &parse.TextNode{NodeType: parse.NodeText, Pos: n.Pos, Text: append([]byte(nil), n.Text...)}
		}
	case *parse.ActionNode:
		if cmds := n.Pipe.Cmds; len(n.Pipe.Decl) == 0 && len(cmds) == 2 && len(cmds[0].Args) == 1 && len(cmds[1].Args) == 1 {
			said, isText := cmds[0].Args[0].(*parse.StringNode)
			escaper, isName := cmds[1].Args[0].(*parse.IdentifierNode)
			if isText && isName && markup[escaper.Ident] && said.Text != "" && !strings.ContainsAny(said.Text, "\x00\"&'+<>`=") {
				return &parse.TextNode{NodeType: parse.NodeText, Pos: n.Pos, Text: []byte(said.Text)}
			}
		}
	}
	return nil
}

// markup are the functions of html/template that change nothing but the signs of HTML.
var markup = map[string]bool{"_html_template_htmlescaper": true, "_html_template_attrescaper": true}
