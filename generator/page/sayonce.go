package page

import (
	"html/template"
	"strconv"
	"text/template/parse"

	"asleft/generator/catalog"
)

// sayOnce puts each sentence of a template that is the same on every page in
// the place of the call that says it: {{say "key"}} becomes {{"the sentence"}}.
// html/template escapes the one as it would the other.
func sayOnce(t *template.Template, words *catalog.Catalog) {
	for _, piece := range t.Templates() {
		if piece.Tree != nil {
			sayIn(piece.Tree.Root, words)
		}
	}
}

func sayIn(list *parse.ListNode, words *catalog.Catalog) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.ActionNode:
			sayInPipe(n.Pipe, words)
		case *parse.TemplateNode:
			sayInPipe(n.Pipe, words)
		case *parse.RangeNode:
			sayInBranch(n.BranchNode, words)
		case *parse.IfNode:
			sayInBranch(n.BranchNode, words)
		case *parse.WithNode:
			sayInBranch(n.BranchNode, words)
		}
	}
}

func sayInBranch(n parse.BranchNode, words *catalog.Catalog) {
	sayInPipe(n.Pipe, words)
	sayIn(n.List, words)
	sayIn(n.ElseList, words)
}

func sayInPipe(pipe *parse.PipeNode, words *catalog.Catalog) {
	if pipe == nil {
		return
	}
	for at, command := range pipe.Cmds {
		for _, arg := range command.Args {
			if inner, ok := arg.(*parse.PipeNode); ok {
				sayInPipe(inner, words)
			}
		}
		if at > 0 {
			continue // it is given what the command before it made
		}
		if key, ok := saysOnly(command); ok {
			text := words.Say(key)
			command.Args = []parse.Node{&parse.StringNode{NodeType: parse.NodeString, Pos: command.Pos, Quoted: strconv.Quote(text), Text: text}}
		}
	}
}

// saysOnly is the key of a sentence that is said without anything to fill in.
func saysOnly(command *parse.CommandNode) (key string, ok bool) {
	if len(command.Args) != 2 {
		return "", false
	}
	name, isName := command.Args[0].(*parse.IdentifierNode)
	text, isText := command.Args[1].(*parse.StringNode)
	if !isName || !isText || name.Ident != "say" {
		return "", false
	}
	return text.Text, true
}
