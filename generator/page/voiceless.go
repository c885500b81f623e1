package page

import (
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"text/template/parse"
	"unicode"

	"golang.org/x/net/html"
)

// framed are the pages whose text is the program's own.
var framed = []string{"condition.html", "listing.html"}

// voiceless refuses a theme that speaks: one that has a template of the name of
// one of the program's own, or whose frame around a report or a listing has words
// of its own in it. All that it says there comes from the catalog's keys for
// themes, which say nothing of any machine.
func voiceless(folder fs.FS, shared *template.Template) error {
	files, err := fs.Glob(folder, "*.html")
	if err != nil {
		return fmt.Errorf("the theme's folder: %w", err)
	}
	trees, where := map[string]*parse.Tree{}, map[string]string{}
	var wrong []error
	for _, file := range files {
		text, err := fs.ReadFile(folder, file)
		if err != nil {
			return fmt.Errorf("the theme's %s: %w", file, err)
		}
		tree := parse.New(file)
		tree.Mode = parse.SkipFuncCheck
		own := map[string]*parse.Tree{}
		if _, err := tree.Parse(string(text), "", "", own); err != nil {
			return fmt.Errorf("the theme cannot be read: %w", err)
		}
		for name, piece := range own {
			if shared.Lookup(name) != nil {
				wrong = append(wrong, fmt.Errorf("the theme's %s defines %q, which is the program's own; give yours another name", file, name))
			}
			trees[name], where[name] = piece, file
		}
	}
	for _, name := range reached(trees, framed) {
		for _, said := range wordsOf(trees[name]) {
			wrong = append(wrong, fmt.Errorf("the theme's %s says %q around what the report says (in %q); a theme has no words of its own there, only {{say}} with a key that begins with ui", where[name], said, name))
		}
	}
	slices.SortFunc(wrong, func(a, b error) int { return strings.Compare(a.Error(), b.Error()) })
	return errors.Join(wrong...)
}

// reached are the theme's own templates that some of them lead to.
func reached(trees map[string]*parse.Tree, from []string) []string {
	var all []string
	for len(from) > 0 {
		name := from[0]
		from = from[1:]
		if tree := trees[name]; tree != nil && !slices.Contains(all, name) {
			all = append(all, name)
			for _, n := range nodesOf(tree.Root) {
				if call, ok := n.(*parse.TemplateNode); ok {
					from = append(from, call.Name)
				}
			}
		}
	}
	return all
}

// nodesOf are all nodes of a template, in their order.
func nodesOf(list *parse.ListNode) []parse.Node {
	if list == nil {
		return nil
	}
	var all []parse.Node
	for _, n := range list.Nodes {
		all = append(all, n)
		var branch *parse.BranchNode
		switch n := n.(type) {
		case *parse.IfNode:
			branch = &n.BranchNode
		case *parse.RangeNode:
			branch = &n.BranchNode
		case *parse.WithNode:
			branch = &n.BranchNode
		}
		if branch != nil {
			all = append(all, nodesOf(branch.List)...)
			all = append(all, nodesOf(branch.ElseList)...)
		}
	}
	return all
}

// wordsOf are the words that a template says by itself: between its tags, in an
// attribute that is read to somebody, or in a text of an action.
func wordsOf(tree *parse.Tree) []string {
	var markup strings.Builder
	var all []string
	for _, n := range nodesOf(tree.Root) {
		switch n := n.(type) {
		case *parse.TextNode:
			markup.Write(n.Text)
		case *parse.ActionNode:
			markup.WriteString("_") // holds the place; says nothing
			all = append(all, textsIn(n.Pipe)...)
		case *parse.TemplateNode:
			all = append(all, textsIn(n.Pipe)...)
		case *parse.IfNode:
			all = append(all, textsIn(n.Pipe)...)
		case *parse.RangeNode:
			all = append(all, textsIn(n.Pipe)...)
		case *parse.WithNode:
			all = append(all, textsIn(n.Pipe)...)
		}
	}
	return append(all, read(markup.String())...)
}

// spoken are the attributes that a browser shows or reads out.
var spoken = []string{"alt", "title", "aria-label", "aria-description", "aria-roledescription", "aria-valuetext", "placeholder", "label", "summary", "value", "srcdoc"}

// hiding are the elements in which a browser does not show what stands there, or
// shows something else.
var hiding = []string{"datalist", "meter", "progress", "rp", "svg", "math", "frameset", "del", "s", "strike", "bdo", "base", "template", "noscript", "noembed", "noframes", "textarea", "select", "dialog", "details", "iframe", "object", "embed", "script", "audio", "video", "canvas", "plaintext", "xmp"}

// read are the words of some HTML that somebody gets to see or hear, and what in it
// would hide the words of the program.
func read(markup string) []string {
	var all []string
	z := html.NewTokenizer(strings.NewReader(markup))
	for {
		switch z.Next() {
		case html.ErrorToken:
			return all
		case html.TextToken:
			if text := strings.TrimSpace(string(z.Text())); says(text) {
				all = append(all, text)
			}
		case html.StartTagToken, html.SelfClosingTagToken:
			tag := z.Token()
			if slices.Contains(hiding, tag.Data) {
				all = append(all, "<"+tag.Data+">")
			}
			for _, attr := range tag.Attr {
				if silences(attr.Key) {
					all = append(all, attr.Key)
				}
				if slices.Contains(spoken, attr.Key) && says(attr.Val) {
					all = append(all, attr.Val)
				}
			}
		}
	}
}

// silences tells whether an attribute hides what the program says, leads away from it, or
// runs a program that could do both.
func silences(attribute string) bool {
	return attribute == "hidden" || attribute == "inert" || attribute == "popover" || attribute == "http-equiv" || strings.HasPrefix(attribute, "on")
}

// says tells whether a text says something: stars and marks out of ten do, too.
func says(s string) bool {
	return strings.ContainsFunc(s, func(r rune) bool { return unicode.In(r, unicode.L, unicode.N, unicode.So) })
}

// textsIn are the texts in an action that may come out of it: all but what is
// compared, and the key and the names that say is given.
func textsIn(pipe *parse.PipeNode) []string {
	if pipe == nil {
		return nil
	}
	var all []string
	for _, command := range pipe.Cmds {
		does := ""
		if name, ok := command.Args[0].(*parse.IdentifierNode); ok {
			does = name.Ident
		}
		for i, arg := range command.Args {
			switch arg := arg.(type) {
			case *parse.PipeNode:
				all = append(all, textsIn(arg)...)
			case *parse.StringNode:
				if does == "eq" || does == "ne" || does == "say" && (i == 1 && uiKey.MatchString(arg.Text) || i > 1 && i%2 == 0) {
					continue
				}
				all = append(all, arg.Text)
			case *parse.NumberNode:
				if i == 0 || strings.HasPrefix(does, "print") {
					all = append(all, arg.Text)
				}
			}
		}
	}
	return all
}

// uiKey is a key of the catalog that is for themes.
var uiKey = regexp.MustCompile(`^ui\.[a-z-]+$`)
