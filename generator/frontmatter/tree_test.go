package frontmatter

import (
	"bytes"
	"fmt"
	"sort"
	"strings"

	"go.yaml.in/yaml/v4"
)

// A twig is a value as another reader than ours has it: the nodes of YAML and
// their lines, and nothing of where a value ends but that the next one begins.
type twig struct {
	kind     yaml.Kind
	text     string
	names    []string
	under    []*twig
	from, to int // lines of the front matter, counted from 1, the last one not of it
	flow     bool
}

// grown reads the front matter of a file and gives the text below it. It knows
// nothing of Read.
func grown(data []byte) (*twig, string, error) {
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(strings.ReplaceAll(text, "\r\n", "\n"), "\r", "\n")
	all := strings.Split(text, "\n")
	for len(all) > 1 && strings.TrimSpace(all[0]) == "" {
		all = all[1:]
	}
	end := 1
	for end < len(all) && strings.TrimSpace(all[end]) != "---" {
		end++
	}
	if end >= len(all) {
		return nil, "", fmt.Errorf("the fields have no end")
	}
	var root yaml.Node
	if err := yaml.Load([]byte(strings.Join(all[1:end], "\n")+"\n"), &root); err != nil && root.Kind != 0 {
		return nil, "", err
	}
	top := &twig{kind: yaml.MappingNode, to: end}
	if root.Kind == yaml.DocumentNode {
		top = twigOf(root.Content[0], end, all[:end])
	}
	return top, strings.Join(all[end+1:], "\n"), nil
}

// twigOf is a node whose lines end before another; lines begin with the first of
// the hyphens, so that they are counted as those of the nodes.
func twigOf(n *yaml.Node, to int, lines []string) *twig {
	w := &twig{kind: n.Kind, text: n.Value, from: n.Line, to: to, flow: n.Style&yaml.FlowStyle != 0}
	if n.Tag == "!!null" {
		w.text = ""
	}
	step := 1
	if n.Kind == yaml.MappingNode {
		step = 2
	}
	for i := 0; i+step <= len(n.Content); i += step {
		next := to
		if i+step < len(n.Content) {
			next = n.Content[i+step].Line
			if w.flow || next == n.Content[i].Line {
				next++
			}
		}
		one := twigOf(n.Content[i+step-1], next, lines)
		one.from = n.Content[i].Line
		for n.Kind == yaml.SequenceNode && !w.flow && !strings.HasPrefix(strings.ReplaceAll(strings.TrimSpace(lines[one.from])+" ", "\t", " "), "- ") {
			one.from-- // its hyphen stands above
		}
		w.under = append(w.under, one)
		if step == 2 {
			w.names = append(w.names, strings.ReplaceAll(n.Content[i].Value, " ", "_"))
		}
	}
	return w
}

// wants tells what is not as wanted. Items stand in order, fields in any; what is
// empty counts as not there.
func (w *twig) wants(n Node, path string) error {
	if w == nil {
		w = &twig{kind: yaml.ScalarNode}
	}
	if w.empty() && emptyNode(n) {
		return nil
	}
	kinds := map[Kind]yaml.Kind{Text: yaml.ScalarNode, Fields: yaml.MappingNode, List: yaml.SequenceNode}
	if w.kind != kinds[n.Kind] {
		return fmt.Errorf("%s is of kind %v, want %v", path, w.kind, n.Kind)
	}
	switch n.Kind {
	case Text:
		if strings.TrimSpace(w.text) != trimmed(n.Text) {
			return fmt.Errorf("%s is %q, want %q", path, w.text, n.Text)
		}
	case Fields:
		has := map[string]*twig{}
		for i, name := range w.names {
			if has[name] != nil {
				return fmt.Errorf("%s has %s twice", path, name)
			}
			has[name] = w.under[i]
		}
		for _, f := range n.Fields {
			name := strings.ReplaceAll(f.Name, " ", "_")
			if err := has[name].wants(f.Node, path+"."+name); err != nil {
				return err
			}
			delete(has, name)
		}
		for name := range has {
			return fmt.Errorf("%s has %s, which is not wanted", path, name)
		}
	case List:
		var have []*twig
		for _, u := range w.under {
			if !u.empty() {
				have = append(have, u)
			}
		}
		var need []Node
		for _, item := range n.Items {
			if item.From > 0 && !emptyNode(item) {
				need = append(need, item)
			}
		}
		sort.Slice(need, func(a, b int) bool { return need[a].From < need[b].From })
		for _, item := range n.Items {
			if item.From == 0 && !emptyNode(item) {
				need = append(need, item)
			}
		}
		if len(have) != len(need) {
			return fmt.Errorf("%s has %d items, want %d", path, len(have), len(need))
		}
		for i := range have {
			if err := have[i].wants(need[i], fmt.Sprintf("%s[%d]", path, i)); err != nil {
				return err
			}
		}
	}
	return nil
}

func (w *twig) empty() bool {
	for _, u := range w.under {
		if !u.empty() {
			return false
		}
	}
	return strings.TrimSpace(w.text) == ""
}

func emptyNode(n Node) bool {
	for _, f := range n.Fields {
		if !emptyNode(f.Node) {
			return false
		}
	}
	for _, i := range n.Items {
		if !emptyNode(i) {
			return false
		}
	}
	return n.Kind != Text || trimmed(n.Text) == ""
}

func trimmed(s string) string { return strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n")) }

// holds asserts that a file says what is wanted, as the other reader sees it.
func holds(t fatal, name string, data []byte, want Node, story string) {
	t.Helper()
	top, body, err := grown(data)
	if err != nil {
		t.Fatalf("%s: what was written cannot be read: %v\n%s", name, err, data)
	}
	if err := top.wants(want, ""); err != nil {
		t.Fatalf("%s: %v\n%s", name, err, data)
	}
	if got := strings.TrimSpace(body); got != trimmed(story) {
		t.Fatalf("%s: the story is %q, want %q", name, got, story)
	}
}

// sameBut asserts that all lines are the same bytes, but for those of the front
// matter between from and to, as counted by the twigs.
func sameBut(t fatal, name string, old, now []byte, from, to int) {
	t.Helper()
	was, is := rawLines(old), rawLines(now)
	above := 0
	for strings.TrimSpace(strings.TrimPrefix(was[above], "\ufeff")) != "---" {
		above++
	}
	above++ // lines before the first of the front matter
	head, tail := above+from-1, len(was)-(above+to-1)
	for i := range head {
		if i >= len(is) || was[i] != is[i] {
			t.Fatalf("%s: line %d was %q and is another in\n%s\nwas\n%s", name, i+1, was[i], now, old)
		}
	}
	for i := range tail {
		if w, n := len(was)-1-i, len(is)-1-i; n < head || was[w] != is[n] {
			t.Fatalf("%s: line %d was %q and is another in\n%s\nwas\n%s", name, w+1, was[w], now, old)
		}
	}
}

func rawLines(data []byte) []string {
	var all []string
	for len(data) > 0 {
		i := bytes.IndexAny(data, "\r\n")
		switch {
		case i < 0:
			i = len(data)
		case bytes.HasPrefix(data[i:], []byte("\r\n")):
			i += 2
		default:
			i++
		}
		all = append(all, string(data[:i]))
		data = data[i:]
	}
	return all
}

// fatal is what tests of Go and those by chance have in common.
type fatal interface {
	Helper()
	Fatalf(format string, args ...any)
}
