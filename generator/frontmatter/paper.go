package frontmatter

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"asleft/generator/yamltext"

	"go.yaml.in/yaml/v4"
)

// A paper is how new values are written.
type paper struct {
	always bool // in double quotes, for another way failed
	step   int  // columns by which the items of a list are indented
}

// New is a file from nothing with these fields and that story, as a person would
// write it.
func New(want Node, story string) []byte {
	p := paper{step: usualStep}
	var b strings.Builder
	b.WriteString("---\n")
	for _, f := range want.Fields {
		if f.Node.tells() {
			b.WriteString(p.field(f, 0) + "\n")
		}
	}
	b.WriteString("---\n")
	if text := storyOf(story); text != "" {
		b.WriteString("\n" + text + "\n")
	}
	return []byte(b.String())
}

const usualStep = 2

// one is a text on one line.
func (p paper) one(text string) string {
	if p.always {
		return yamltext.Quoted(text)
	}
	return yamltext.Written(text)
}

// field is a field on lines of its own, without the last line end.
func (p paper) field(f Field, column int) string {
	head, below := p.value(f.Node, column)
	return yamltext.Written(f.Name) + ":" + spaced(head) + below
}

// value is what stands behind the colon of a field, and on the lines below it.
func (p paper) value(n Node, column int) (head, below string) {
	switch n.Kind {
	case Text:
		return p.textOnLines(n.Text, column)
	case Fields:
		return p.inline(n), ""
	}
	for _, item := range n.Items {
		if item.tells() {
			in := column + p.step
			below += "\n" + strings.Repeat(" ", in) + "- " + p.item(item, in)
		}
	}
	return "", below
}

// item is an item behind its hyphen, which stands at a column.
func (p paper) item(n Node, column int) string {
	if n.Kind != Text {
		return p.inline(n)
	}
	head, below := p.textOnLines(n.Text, column)
	return head + below
}

// itemOnLines is an item with its hyphen and each of its fields on a line.
func (p paper) itemOnLines(n Node, column, gap int) string {
	in := column + 1 + gap
	var all []string
	for _, f := range n.Fields {
		if f.Node.tells() {
			all = append(all, p.field(f, in))
		}
	}
	return "-" + strings.Repeat(" ", gap) + strings.Join(all, "\n"+strings.Repeat(" ", in))
}

// inBrackets is a field or an item between brackets.
func (p paper) inBrackets(f Field) string {
	if f.Name == "" {
		return p.inline(f.Node)
	}
	return yamltext.Written(f.Name) + ": " + p.inline(f.Node)
}

// inline is a value on one line.
func (p paper) inline(n Node) string {
	var parts []string
	switch n.Kind {
	case Text:
		return p.one(n.Text)
	case Fields:
		for _, f := range n.Fields {
			if f.Node.tells() {
				parts = append(parts, p.inBrackets(f))
			}
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	for _, item := range n.Items {
		if item.tells() {
			parts = append(parts, p.inline(item))
		}
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// textOnLines is a text behind a name or hyphen that stands at a column: one of
// several lines stands indented below it.
func (p paper) textOnLines(text string, column int) (head, below string) {
	text = meant(text)
	if strings.Contains(text, "\n") {
		if below, ok := p.linesBelow(text, yaml.LiteralStyle, column+usualStep); ok {
			return "|", below
		}
	}
	return p.one(text), ""
}

// linesBelow are the lines of a text that stands indented below its field, each
// with the line end before it. A line of three hyphens cannot, for it would look
// like the end of the fields.
func (p paper) linesBelow(text string, style yaml.Style, column int) (string, bool) {
	if p.always {
		return "", false
	}
	if style&yaml.FoldedStyle != 0 {
		text = strings.ReplaceAll(text, "\n", "\n\n")
	}
	var b strings.Builder
	for line := range strings.SplitSeq(text, "\n") {
		if strings.TrimSpace(line) == "---" {
			return "", false
		}
		b.WriteByte('\n')
		if line != "" {
			b.WriteString(strings.Repeat(" ", column) + line)
		}
	}
	return b.String(), true
}

// reworded is a text in the quotes of the one whose place it takes, where it can
// stand in them.
func (p paper) reworded(text string, old *value, flow bool, column int) (head, below string) {
	several := strings.Contains(text, "\n")
	switch {
	case p.always, old.quoted&yaml.DoubleQuotedStyle != 0:
		return yamltext.Quoted(text), ""
	case old.quoted&yaml.SingleQuotedStyle != 0:
		if several {
			return yamltext.Quoted(text), ""
		}
		return "'" + strings.ReplaceAll(text, "'", "''") + "'", ""
	case several && !flow:
		return p.textOnLines(text, column)
	case plainLike(text, meant(old.text), flow):
		return text, ""
	}
	return yamltext.Written(text), ""
}

// plainLike tells whether a text can stand without quotes where another did: no
// mark in it means anything to YAML, and readers take it for a text, or both for
// the same other thing.
func plainLike(text, old string, flow bool) bool {
	first, _ := utf8.DecodeRuneInString(text)
	before, _ := utf8.DecodeRuneInString(old)
	switch {
	case !unicode.IsLetter(first) && !unicode.IsDigit(first) && first != before:
		return false
	case strings.ContainsAny(text, "\n\t") || strings.Contains(text, ": ") || strings.Contains(text, " #") || strings.HasSuffix(text, ":"):
		return false
	case flow && strings.ContainsAny(text, ",[]{}:"):
		return false
	}
	return yamltext.LikeText(text) || !yamltext.LikeText(old) && old != "" && (unicode.IsDigit(first) && unicode.IsDigit(before))
}
