package frontmatter

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// A value is a value of the front matter and where it stands.
type value struct {
	span
	kind     Kind
	text     string
	quoted   yaml.Style // how a text is written; plain is 0
	absent   bool       // nothing is written: it would begin at start
	flow     bool       // stands in brackets, or is in brackets of its own
	bare     bool       // a pair in a list in brackets that has no brackets itself
	headEnd  int        // of a text below its field: where | or > and what follows end
	inner    int        // and by how much its lines are indented
	children []child
}

// A child is a field with its name, or an item of a list: with its hyphen where
// it has one.
type child struct {
	span
	name  string
	colon int  // behind the colon or hyphen; where there is none, behind the name or before the item
	lone  bool // a name without a colon
	value *value
}

// node is the value as a form shows it.
func (v *value) node() Node {
	n := Node{Kind: v.kind, Text: v.text}
	for i, c := range v.children {
		one := c.value.node()
		if v.kind == Fields {
			n.Fields = append(n.Fields, Field{c.name, one})
			continue
		}
		one.From = i + 1
		n.Items = append(n.Items, one)
	}
	return n
}

// A locator finds where the values of a document stand. The reader of YAML tells
// only where a value begins, so the locator goes along the text behind it; what
// it finds at another place than the reader it does not trust.
type locator struct {
	text  string // up to the end of the front matter
	first int    // line of the file that the front matter begins in
	begin int    // where the front matter begins
	at    int
}

// document finds the fields of the front matter that begins at start.
func (l *locator) document(root *yaml.Node, start int) (*value, error) {
	l.begin, l.at = start, start
	if root.Kind == 0 {
		return &value{kind: Fields, span: span{start, start}}, nil
	}
	top := root
	if root.Kind == yaml.DocumentNode && len(root.Content) == 1 {
		top = root.Content[0]
	}
	switch top.Kind {
	case yaml.MappingNode:
	case yaml.SequenceNode:
		return nil, hinders(l.line(top), "problem.not-fields", "read", "[...]")
	default:
		return nil, hinders(l.line(top), "problem.not-fields", "read", top.Value)
	}
	if err := l.plain(top, 0); err != nil {
		return nil, err
	}
	v, err := l.value(top, -1, false)
	if err != nil {
		return nil, err
	}
	if l.skip(""); l.at != len(l.text) {
		return nil, l.lost(top)
	}
	return v, nil
}

func (l *locator) line(n *yaml.Node) int { return l.first + max(n.Line, 1) - 1 }

func (l *locator) lost(n *yaml.Node) error { return hinders(l.line(n), "problem.unusual") }

// plain refuses what package logbook refuses too, and a field that stands twice.
func (l *locator) plain(n *yaml.Node, depth int) error {
	switch {
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		return hinders(l.line(n), "problem.alias")
	case n.Style&yaml.TaggedStyle != 0 || n.Tag == "!":
		return hinders(l.line(n), "problem.tag", "tag", n.Tag)
	case depth > maxDepth:
		return hinders(l.line(n), "problem.too-deep")
	}
	for _, r := range n.Value {
		if unseen(r) {
			return hinders(l.line(n), "problem.control-character", "code", fmt.Sprintf("U+%04X", r))
		}
	}
	names := map[string]bool{}
	for i, c := range n.Content {
		if err := l.plain(c, depth+1); err != nil {
			return err
		}
		if n.Kind != yaml.MappingNode || i%2 == 1 {
			continue
		}
		name := underscored(c.Value)
		switch {
		case c.Kind != yaml.ScalarNode || c.Tag == "!!null" || strings.TrimSpace(name) == "":
			return hinders(l.line(c), "problem.not-a-name")
		case names[name]:
			return hinders(l.line(c), "problem.twice")
		}
		names[name] = true
	}
	return nil
}

// value finds a value that stands behind l.at. Column is that of the fields or
// hyphens around it.
func (l *locator) value(n *yaml.Node, column int, flow bool) (*value, error) {
	if n.Kind == yaml.ScalarNode && n.Value == "" && n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0 {
		return &value{span: span{l.at, l.at}, absent: true, flow: flow}, nil
	}
	l.skip("")
	v := &value{span: span{l.at, l.at}, flow: flow || n.Style&yaml.FlowStyle != 0}
	var err error
	switch n.Kind {
	case yaml.ScalarNode:
		if n.Tag != "!!null" || n.Style != 0 {
			v.text = n.Value
		}
		v.quoted = n.Style
		if !l.scalar(n, v, column) {
			return nil, l.lost(n)
		}
	case yaml.MappingNode:
		v.kind = Fields
		v.bare = v.flow && l.next() != '{'
		err = l.children(n, v)
	case yaml.SequenceNode:
		v.kind = List
		err = l.children(n, v)
	default:
		return nil, l.lost(n)
	}
	v.end = l.at
	return v, err
}

func (l *locator) children(n *yaml.Node, v *value) error {
	brackets := v.flow && !v.bare
	if brackets {
		if c := l.next(); c != '{' && c != '[' {
			return l.lost(n)
		}
		l.at++
	}
	step := 1
	if v.kind == Fields {
		step = 2
	}
	for i := 0; i+step <= len(n.Content); i += step {
		before := ""
		if brackets {
			before = ","
		}
		l.skip(before)
		c := child{span: span{l.at, l.at}, colon: l.at}
		column := l.column()
		switch {
		case v.kind == Fields:
			if err := l.name(n.Content[i], &c, v.flow); err != nil {
				return err
			}
		case !v.flow:
			if l.next() != '-' {
				return l.lost(n)
			}
			l.at++
			c.colon = l.at
		}
		var err error
		if c.value, err = l.value(n.Content[i+step-1], column, v.flow); err != nil {
			return err
		}
		c.end = l.at
		v.children = append(v.children, c)
	}
	if brackets {
		l.skip(",")
		if c := l.next(); c != '}' && c != ']' {
			return l.lost(n)
		}
		l.at++
	}
	return nil
}

// name goes along the name of a field and its colon.
func (l *locator) name(n *yaml.Node, c *child, flow bool) error {
	key := &value{span: c.span}
	c.name = n.Value
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 || !l.scalar(n, key, 0) {
		return l.lost(n)
	}
	c.colon = l.at
	end := l.at
	if l.blanks(); flow {
		l.skip("")
	}
	if l.next() != ':' {
		if !flow {
			return l.lost(n)
		}
		l.at, c.lone = end, true
		return nil
	}
	l.at++
	c.colon = l.at
	return nil
}

// scalar goes along a text that begins at l.at.
func (l *locator) scalar(n *yaml.Node, v *value, column int) bool {
	if l.first+strings.Count(l.text[l.begin:l.at], "\n") != l.line(n) || l.runes() != n.Column-1 {
		return false
	}
	switch {
	case n.Style&yaml.DoubleQuotedStyle != 0:
		return l.quotes('"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		return l.quotes('\'')
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		return l.below(n, v, column)
	}
	return l.along(n.Value)
}

// quotes goes behind the mark that closes those here.
func (l *locator) quotes(mark byte) bool {
	if l.next() != mark {
		return false
	}
	for l.at++; l.at < len(l.text); l.at++ {
		switch c := l.text[l.at]; {
		case mark == '"' && c == '\\', mark == '\'' && strings.HasPrefix(l.text[l.at:], "''"):
			l.at++
		case c == mark:
			l.at++
			return true
		}
	}
	return false
}

// below goes behind a text that stands indented below its field: to the end of
// its last line that is not empty.
func (l *locator) below(n *yaml.Node, v *value, column int) bool {
	if c := l.next(); c != '|' && c != '>' {
		return false
	}
	inner := -1 // columns of the text, where the reader has to find that out
	for l.at++; strings.IndexByte("+-123456789", l.next()) >= 0; l.at++ {
		if c := l.next(); c > '0' {
			inner = max(column, 0) + int(c-'0')
		}
	}
	v.headEnd = l.at
	if strings.TrimSpace(n.Value) == "" {
		return true
	}
	for at := lineEnd(l.text, l.at) + 1; at < len(l.text); {
		line, _, _ := strings.Cut(l.text[at:], "\n")
		in := len(line) - len(strings.TrimLeft(line, " "))
		if in < len(line) {
			if inner < 0 {
				inner = in
			}
			if in < inner || in <= column {
				break
			}
			l.at, v.inner = at+len(line), inner
		}
		at += len(line) + 1
	}
	return true
}

// along goes along a plain text, which may run over several lines.
func (l *locator) along(text string) bool {
	for text != "" {
		gap := l.at + len(l.text[l.at:]) - len(strings.TrimLeft(l.text[l.at:], " \t\n"))
		switch {
		case strings.Contains(l.text[l.at:gap], "\n"):
			rest := strings.TrimLeft(text, " \n")
			if len(rest) == len(text) {
				return false
			}
			l.at, text = gap, rest
		case l.at == len(l.text) || l.text[l.at] != text[0]:
			return false
		default:
			l.at, text = l.at+1, text[1:]
		}
	}
	return true
}

// next is the character at l.at, 0 at the end.
func (l *locator) next() byte {
	if l.at >= len(l.text) {
		return 0
	}
	return l.text[l.at]
}

func (l *locator) blanks() {
	for c := l.next(); c == ' ' || c == '\t'; c = l.next() {
		l.at++
	}
}

// skip goes over white space, comments and those characters besides.
func (l *locator) skip(besides string) {
	for l.at < len(l.text) {
		switch c := l.text[l.at]; {
		case c == ' ', c == '\t', c == '\n', strings.IndexByte(besides, c) >= 0:
			l.at++
		case c == '#':
			l.at = lineEnd(l.text, l.at)
		default:
			return
		}
	}
}

func (l *locator) column() int { return l.at - lineStart(l.text, l.at) }

func (l *locator) runes() int {
	return utf8.RuneCountInString(l.text[lineStart(l.text, l.at):l.at])
}

// lineStart is where the line of a place begins.
func lineStart(text string, at int) int { return strings.LastIndexByte(text[:at], '\n') + 1 }

// lineEnd is where the line of a place ends, before the line end itself.
func lineEnd(text string, at int) int {
	if i := strings.IndexByte(text[at:], '\n'); i >= 0 {
		return at + i
	}
	return len(text)
}
