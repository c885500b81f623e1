package frontmatter

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.yaml.in/yaml/v4"
)

// nasty are texts that are hard to write.
var nasty = []string{
	"x", "yes", "14.25", "2026-01-02", "a: b # c", `it's "so", [ok]`, "two\nlines", "---", "- a", "null",
	"漢 é", " around ", "#x", "a\n\n  b\n\tc", "---\n---", `\`, "'", "a:", "{a}", "~", "13:00", "0x10", "? a", "& b", "* c", "! d", "| e", "> f", "% g", "@ h", "` i",
	"true", "-5", ">= 12.4 V", "a,b", "a\r\nb", "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen", "x\n---\ny", "a \nb", "tab\there",
}

// A cut is one change: what is wanted, and the lines that it may touch.
type cut struct {
	name     string
	want     Node
	from, to int
}

// cuts are all changes of one value at a time: every text set, every field and
// item removed, every list added to, every mapping given a key.
// Keep tells by their number which of them are made; it is told of all.
func cuts(f *File, top *twig, texts func() []string, keep func(n int, rare bool) bool) []cut {
	var all []cut
	var walk func(n *Node, w *twig, path string, box, gone span)
	root := f.Fields()
	count := -1
	note := func(name string, from, to int) {
		if count++; keep(count, strings.Contains(name, " becomes ")) {
			all = append(all, cut{name, copied(root), from, to})
		}
	}
	walk = func(n *Node, w *twig, path string, box, gone span) {
		switch n.Kind {
		case Text:
			was := *n
			for _, text := range texts() {
				n.Text = text
				at := box
				if meant(text) == "" {
					at = gone
				}
				note(fmt.Sprintf("%s = %q", path, text), at.start, at.end)
			}
			*n = was
			for _, other := range []Node{{Kind: Fields, Fields: []Field{{"a", Node{Text: "b"}}}}, {Kind: List, Items: []Node{{Text: "c"}, {Text: "d e\nf"}}}} {
				other.From = n.From
				*n = other
				note(fmt.Sprintf("%s becomes %v", path, other), box.start, box.end)
			}
			*n = was
		case Fields:
			if path != "" {
				was := *n
				*n = Node{Text: "a text", From: n.From}
				note(path+" becomes a text", box.start, box.end)
				*n = was
			}
			last := box
			for i := range n.Fields {
				at := span{w.under[i].from, w.under[i].to}
				if w.flow {
					at = box
				}
				last = at
				name := n.Fields[i].Name
				was := n.Fields
				n.Fields = append(append([]Field{}, was[:i]...), was[i+1:]...)
				fromHere := at
				if i == 0 && i+1 < len(was) && !w.flow {
					fromHere.end = max(at.end, w.under[1].from+1) // the next may move up beside the hyphen
				}
				if len(was) == 1 && path != "" {
					fromHere = gone // nothing is left of the value
				}
				note(path+"."+name+" removed", fromHere.start, fromHere.end)
				n.Fields = was
				walk(&n.Fields[i].Node, w.under[i], path+"."+name, at, fromHere)
			}
			if w.flow {
				last = box
			}
			was := n.Fields
			for _, fresh := range []Node{{Text: "value: hard"}, {Kind: List, Items: []Node{{Text: "one"}, {Kind: Fields, Fields: []Field{{"two", Node{Text: "2"}}}}}}, {Text: "of\ntwo lines"}} {
				n.Fields = append(append([]Field{}, was...), Field{"new_one", fresh})
				note(path+".new_one added", last.start, last.end)
			}
			n.Fields = was
		case List:
			last := box
			for i := range n.Items {
				at := span{w.under[i].from, w.under[i].to}
				if w.flow {
					at = box
				}
				last = at
				was := n.Items
				n.Items = append(append([]Node{}, was[:i]...), was[i+1:]...)
				fromHere := at
				if i == 0 && i+1 < len(was) && !w.flow {
					fromHere.end = max(at.end, w.under[1].from+1)
				}
				if len(was) == 1 {
					fromHere = gone
				}
				note(fmt.Sprintf("%s[%d] removed", path, i), fromHere.start, fromHere.end)
				n.Items = was
				walk(&n.Items[i], w.under[i], fmt.Sprintf("%s[%d]", path, i), at, fromHere)
			}
			if w.flow {
				last = box
			}
			was := n.Items
			for _, fresh := range []Node{{Text: "an item"}, {Text: "an: item\nof two"}, {Kind: Fields, Fields: []Field{{"key", Node{Text: "a"}}, {"what", Node{Text: "b, c"}}}}, {Kind: List, Items: []Node{{Text: "in it"}}}} {
				n.Items = append(append([]Node{}, was...), fresh)
				note(path+" added to", last.start, last.end)
			}
			n.Items = was
		}
	}
	walk(&root, top, "", span{1, top.to}, span{1, top.to})
	return all
}

func copied(n Node) Node {
	c := n
	c.Fields, c.Items = nil, nil
	for _, f := range n.Fields {
		c.Fields = append(c.Fields, Field{f.Name, copied(f.Node)})
	}
	for _, i := range n.Items {
		c.Items = append(c.Items, copied(i))
	}
	return c
}

// tryCuts does each change by itself, and counts those that were done.
func tryCuts(t *testing.T, data []byte, texts func() []string, few bool, refused func(cut, error)) (done int) {
	t.Helper()
	f, err := Read(data)
	if err != nil {
		t.Fatalf("%v\n%s", err, data)
	}
	top, story, err := grown(data)
	if err != nil {
		t.Fatal(err)
	}
	if err := top.wants(f.Fields(), ""); err != nil {
		t.Fatalf("what was read: %v", err)
	}
	if top.kind != yaml.MappingNode {
		t.Fatal("these are no fields")
	}
	// Of changes to another kind of value one in seven stands for the rest where
	// there are thousands.
	for _, c := range cuts(f, top, texts, func(n int, rare bool) bool { return !few || !rare || n%7 == 0 }) {
		now, err := f.With(c.want, f.Story())
		if err != nil {
			refused(c, err)
			continue
		}
		holds(t, c.name, now, c.want, story)
		sameBut(t, c.name, data, now, c.from, c.to)
		done++
	}
	return done
}

func examples(t testing.TB) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	for _, pattern := range []string{"shop.md", "sheets/*.md", "machines/*/*.md"} {
		names, err := filepath.Glob(filepath.Join("../../content-example", pattern))
		if err != nil || len(names) == 0 {
			t.Fatalf("no files %s: %v", pattern, err)
		}
		for _, name := range names {
			data, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			all[name] = data
		}
	}
	return all
}

func TestEveryChangeOfTheExamples(t *testing.T) {
	next := 0
	some := func() []string {
		next++
		return []string{nasty[next%len(nasty)]}
	}
	total := 0
	for name, data := range examples(t) {
		t.Run(filepath.Base(filepath.Dir(name))+"/"+filepath.Base(name), func(t *testing.T) {
			total += tryCuts(t, data, some, true, func(c cut, err error) { t.Errorf("%s: %v", c.name, err) })
		})
	}
	if total < 4000 {
		t.Errorf("only %d changes were tried", total)
	}
	t.Log(total, "changes")
}
