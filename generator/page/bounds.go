package page

import (
	"errors"
	"fmt"
	"html/template"
	"reflect"
	"regexp"
	"text/template/parse"

	"asleft/generator/catalog"
)

// A theme of the shop's own is a program, and a slip in one must not hang this
// one nor fill the memory. text/template itself ends what goes too deep, and
// maxPage what writes too much; maxSteps ends what goes on and on and writes
// nothing, and maxText a text that is made of itself over and over.
const (
	maxSteps = 300_000   // of one page, and one more for each 16 bytes that it wrote
	maxText  = 256 << 10 // bytes that a theme's function takes or gives; a file has 64 kB of fields
)

var (
	errMaxSteps = errors.New("the page is not done after 300,000 steps that write next to nothing; the template repeats itself")
	errMaxText  = fmt.Errorf("the text grew past %d kB; the template repeats itself", maxText>>10)
	errWidth    = errors.New("a width in a format may have three digits at most, and no *")
)

// countSteps has each turn of a range, and each use of a piece, write an empty
// text, which the page's buffer counts as a step.
func countSteps(t *template.Template) {
	for _, piece := range t.Templates() {
		if piece.Tree != nil {
			countIn(piece.Tree.Root)
			stepAt(piece.Tree.Root)
		}
	}
}

func countIn(list *parse.ListNode) {
	if list == nil {
		return
	}
	for _, n := range list.Nodes {
		switch n := n.(type) {
		case *parse.RangeNode:
			countIn(n.List)
			countIn(n.ElseList)
			stepAt(n.List)
		case *parse.IfNode:
			countIn(n.List)
			countIn(n.ElseList)
		case *parse.WithNode:
			countIn(n.List)
			countIn(n.ElseList)
		}
	}
}

func stepAt(list *parse.ListNode) {
	step := &parse.TextNode{NodeType: parse.NodeText, Pos: list.Pos}
	list.Nodes = append([]parse.Node{step}, list.Nodes...)
}

// functions are what a theme may call: sentences, and those of text/template
// that make texts, none of which may grow without end.
func functions(words *catalog.Catalog) template.FuncMap {
	return template.FuncMap{
		"say": func(key string, pairs ...any) (string, error) {
			return within(func(pairs ...any) string { return words.Say(key, pairs...) }, pairs)
		},
		"printf": func(format string, values ...any) (string, error) {
			if wide.MatchString(format) || len(format) > maxText {
				return "", errWidth
			}
			return within(func(values ...any) string { return fmt.Sprintf(format, values...) }, values)
		},
		"print":    func(values ...any) (string, error) { return within(fmt.Sprint, values) },
		"println":  func(values ...any) (string, error) { return within(fmt.Sprintln, values) },
		"html":     func(values ...any) (string, error) { return within(template.HTMLEscaper, values) },
		"js":       func(values ...any) (string, error) { return within(template.JSEscaper, values) },
		"urlquery": func(values ...any) (string, error) { return within(template.URLQueryEscaper, values) },
	}
}

var wide = regexp.MustCompile(`[0-9]{4}|\*`)

// within calls a function that makes a text of values, unless they or it are
// too long.
func within(do func(...any) string, values []any) (string, error) {
	long := 0
	for _, v := range values {
		if r := reflect.ValueOf(v); r.Kind() == reflect.String {
			long += r.Len()
		}
	}
	if long > maxText {
		return "", errMaxText
	}
	made := do(values...)
	if len(made) > maxText {
		return "", errMaxText
	}
	return made, nil
}
