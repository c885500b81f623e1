package frontmatter

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"asleft/generator/frontmatter/yamlvalue"
)

// A yamlWriter writes new values.
type yamlWriter struct {
	always bool // in double quotes, for another way failed
	step   int  // columns by which the items of a list are indented
}

// New is a file from nothing with these fields and that story, as a person would
// write it.
func New(want Node, story string) []byte {
	w := yamlWriter{step: usualStep}
	var b strings.Builder
	b.WriteString("---\n")
	for _, f := range want.Fields {
		if f.Node.tells() {
			b.WriteString(w.field(f, 0) + "\n")
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
func (w yamlWriter) one(text string) string {
	if w.always {
		return yamlvalue.Quoted(text)
	}
	return yamlvalue.Written(text)
}

// field is a field on lines of its own, without the last line end.
func (w yamlWriter) field(f Field, column int) string {
	head, below := w.value(f.Node, column)
	return yamlvalue.Written(f.Name) + ":" + spaced(head) + below
}

// value is what stands behind the colon of a field, and on the lines below it.
func (w yamlWriter) value(n Node, column int) (head, below string) {
	switch n.Kind {
	case Text:
		return w.textOnLines(n.Text, column)
	case Fields:
		return w.inline(n), ""
	}
	for _, item := range n.Items {
		if item.tells() {
			in := column + w.step
			below += "\n" + strings.Repeat(" ", in) + "- " + w.item(item, in)
		}
	}
	return "", below
}

// item is an item behind its hyphen, which stands at a column.
func (w yamlWriter) item(n Node, column int) string {
	if n.Kind != Text {
		return w.inline(n)
	}
	head, below := w.textOnLines(n.Text, column)
	return head + below
}

// itemOnLines is an item with its hyphen and each of its fields on a line.
func (w yamlWriter) itemOnLines(n Node, column, gap int) string {
	in := column + 1 + gap
	var all []string
	for _, f := range n.Fields {
		if f.Node.tells() {
			all = append(all, w.field(f, in))
		}
	}
	return "-" + strings.Repeat(" ", gap) + strings.Join(all, "\n"+strings.Repeat(" ", in))
}

// inBrackets is a field or an item between brackets.
func (w yamlWriter) inBrackets(f Field) string {
	if f.Name == "" {
		return w.inline(f.Node)
	}
	return yamlvalue.Written(f.Name) + ": " + w.inline(f.Node)
}

// inline is a value on one line.
func (w yamlWriter) inline(n Node) string {
	var parts []string
	switch n.Kind {
	case Text:
		return w.one(n.Text)
	case Fields:
		for _, f := range n.Fields {
			if f.Node.tells() {
				parts = append(parts, w.inBrackets(f))
			}
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	for _, item := range n.Items {
		if item.tells() {
			parts = append(parts, w.inline(item))
		}
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

// textOnLines is a text behind a name or hyphen that stands at a column: one of
// several lines stands indented below it.
func (w yamlWriter) textOnLines(text string, column int) (head, below string) {
	text = meant(text)
	if strings.Contains(text, "\n") {
		if below, ok := w.linesBelow(text, yaml.LiteralStyle, column+usualStep); ok {
			return "|", below
		}
	}
	return w.one(text), ""
}

// linesBelow are the lines of a text that stands indented below its field, each
// with the line end before it. A line of three hyphens cannot, for it would look
// like the end of the fields.
func (w yamlWriter) linesBelow(text string, style yaml.Style, column int) (string, bool) {
	if w.always {
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
func (w yamlWriter) reworded(text string, old *value, flow bool, column int) (head, below string) {
	several := strings.Contains(text, "\n")
	switch {
	case w.always, old.quoted&yaml.DoubleQuotedStyle != 0:
		return yamlvalue.Quoted(text), ""
	case old.quoted&yaml.SingleQuotedStyle != 0:
		if several {
			return yamlvalue.Quoted(text), ""
		}
		return "'" + strings.ReplaceAll(text, "'", "''") + "'", ""
	case several && !flow:
		return w.textOnLines(text, column)
	case plainLike(text, meant(old.text), flow):
		return text, ""
	}
	return yamlvalue.Written(text), ""
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
	return yamlvalue.LikeText(text) || !yamlvalue.LikeText(old) && old != "" && (unicode.IsDigit(first) && unicode.IsDigit(before))
}
