package frontmatter

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// files are the corpus and the examples, in an order that stays.
func files(t testing.TB) [][]byte {
	all := examples(t)
	for name, text := range corpus {
		all[name] = []byte(text)
	}
	var names []string
	for name := range all {
		names = append(names, name)
	}
	sort.Strings(names)
	var sorted [][]byte
	for _, name := range names {
		sorted = append(sorted, all[name])
	}
	return sorted
}

var anyText = rapid.OneOf(rapid.SampledFrom(nasty), rapid.StringOf(rapid.SampledFrom([]rune("ab 1:#-'\"\\\n\t,[]{}|>?&*!%@`~.é漢=<"))), rapid.String())

func TestManyChangesOneAfterTheOther(t *testing.T) {
	all := files(t)
	rapid.Check(t, func(r *rapid.T) {
		data := rapid.SampledFrom(all).Draw(r, "file")
		for range rapid.IntRange(1, 6).Draw(r, "changes") {
			f, err := Read(data)
			if err != nil {
				r.Fatalf("what was written cannot be read: %v\n%s", err, data)
			}
			top, story, err := grown(data)
			if err != nil {
				r.Fatal(err)
			}
			text := anyText.Draw(r, "text")
			one := func() []string { return []string{text} }
			possible := 0
			cuts(f, top, one, func(int, bool) bool { possible++; return false })
			which := rapid.IntRange(0, possible-1).Draw(r, "change")
			c := cuts(f, top, one, func(n int, _ bool) bool { return n == which })[0]
			now, err := f.With(c.want, f.Story())
			if err != nil {
				if !errors.Is(err, ErrCannot) || now != nil {
					r.Fatalf("%s: %v", c.name, err)
				}
				continue
			}
			holds(r, c.name, now, tidied(c.want), story)
			sameBut(r, c.name, data, now, c.from, c.to)
			data = now
		}
	})
}

// A leaf is a text of the fields, and the lines that it stands on.
type leaf struct {
	node *Node
	box  span
}

func leaves(n *Node, w *twig, box span) []leaf {
	if n.Kind == Text {
		return []leaf{{n, box}}
	}
	var all []leaf
	for i := range w.under {
		at := span{w.under[i].from, w.under[i].to}
		if w.flow {
			at = box
		}
		one := (*Node)(nil)
		if n.Kind == Fields {
			one = &n.Fields[i].Node
		} else {
			one = &n.Items[i]
		}
		all = append(all, leaves(one, w.under[i], at)...)
	}
	return all
}

// Several texts at once, and lines of the story: every line that is not of one of
// them is still there, byte for byte and in order.
func TestManyChangesAtOnce(t *testing.T) {
	all := files(t)
	rapid.Check(t, func(r *rapid.T) {
		data := rapid.SampledFrom(all).Draw(r, "file")
		f, err := Read(data)
		if err != nil {
			r.Fatal(err)
		}
		top, _, err := grown(data)
		if err != nil {
			r.Fatal(err)
		}
		lines := rawLines(data)
		front := 0
		for strings.TrimSpace(strings.TrimPrefix(lines[front], "\ufeff")) != "---" {
			front++
		}
		touched := map[int]bool{}
		want := f.Fields()
		for _, l := range leaves(&want, top, span{1, top.to}) {
			if !rapid.Bool().Draw(r, "set") {
				continue
			}
			text := anyText.Draw(r, "text")
			if strings.TrimSpace(text) == "" || trimmed(l.node.Text) == "" {
				continue
			}
			l.node.Text = text
			for i := l.box.start; i < l.box.end; i++ {
				touched[front+i] = true
			}
		}
		story := strings.Split(f.Story(), "\n")
		for range rapid.IntRange(0, 3).Draw(r, "lines") {
			at := rapid.IntRange(0, len(story)-1).Draw(r, "line")
			story = slices.Insert(story, at, "inserted "+fmt.Sprint(at))
		}
		now, err := f.With(want, strings.Join(story, "\n"))
		if err != nil {
			if !errors.Is(err, ErrCannot) || now != nil {
				r.Fatal(err)
			}
			return
		}
		holds(r, "at once", now, tidied(want), strings.Join(story, "\n"))
		is := rawLines(now)
		for i, line := range lines {
			if touched[i] || i == len(lines)-1 && !strings.HasSuffix(line, "\n") {
				continue
			}
			at := slices.Index(is, line)
			if at < 0 {
				r.Fatalf("line %d %q is gone from\n%s\nwas\n%s", i+1, line, now, data)
			}
			is = is[at+1:]
		}
	})
}

// Whatever is wanted at once, taken out and put in and made another kind: it is
// written, and a second time nothing is left to do.
func TestAnythingAtOnce(t *testing.T) {
	all := files(t)
	rapid.Check(t, func(r *rapid.T) {
		data := rapid.SampledFrom(all).Draw(r, "file")
		f, err := Read(data)
		if err != nil {
			r.Fatal(err)
		}
		want := f.Fields()
		for range rapid.IntRange(1, 12).Draw(r, "changes") {
			if len(want.Fields) == 0 {
				want.Fields = []Field{{"first", Node{Text: "x"}}}
			}
			changeOne(&want, rapid.Uint().Draw(r, "which"), rapid.SampledFrom(nasty).Draw(r, "text"))
		}
		if _, bad := impossible(want, f.top, ""); bad {
			return // a name twice
		}
		now, err := f.With(want, f.Story())
		if err != nil {
			r.Fatalf("%v\n%s", err, data)
		}
		holds(r, "anything", now, tidied(want), meant(f.Story()))
		again, err := Read(now)
		if err != nil {
			r.Fatal(err)
		}
		if same, err := again.With(again.Fields(), again.Story()); err != nil || !bytes.Equal(same, now) {
			r.Fatalf("a second time: %v\n%s\nwas\n%s", err, same, now)
		}
	})
}

// tidied is what is wanted without the characters that no reader takes.
func tidied(n Node) Node {
	n = copied(n)
	n.Text = meant(n.Text)
	for i := range n.Fields {
		n.Fields[i].Node = tidied(n.Fields[i].Node)
	}
	for i := range n.Items {
		n.Items[i] = tidied(n.Items[i])
	}
	return n
}

// FuzzWith changes files that nobody wrote. Whatever they are: either nothing is
// given, or a file that says what is wanted.
func FuzzWith(f *testing.F) {
	for _, data := range files(f) {
		f.Add(data, uint(7), "a: b # c", "story\n---\n")
		f.Add(data, uint(1000), "two\nlines", "")
	}
	f.Fuzz(func(t *testing.T, data []byte, which uint, text, story string) {
		file, err := Read(data)
		if err != nil {
			var h *Hindrance
			if !errors.As(err, &h) || err.Error() == "" {
				t.Fatalf("%v does not say what hinders", err)
			}
			return
		}
		if now, err := file.With(file.Fields(), file.Story()); err != nil || !bytes.Equal(now, data) {
			t.Fatalf("nothing was wanted: %v, %q, want %q", err, now, data)
		}
		for i := range uint(3) {
			want := file.Fields()
			changeOne(&want, which+i*which, text)
			now, err := file.With(want, story)
			if err != nil {
				if !errors.Is(err, ErrCannot) || now != nil {
					t.Fatal(err)
				}
				continue
			}
			if !bytes.Equal(now, data) {
				again, err := Read(now)
				if err != nil {
					t.Fatal(err)
				}
				if at, differ := differs(again.Fields(), want, ""); differ {
					t.Fatalf("%s is not as wanted in\n%s", at, now)
				}
			}
			holds(t, "fuzzed", now, tidied(want), meant(story))
		}
	})
}

// changeOne changes the value that a number leads to.
func changeOne(n *Node, which uint, text string) {
	kids := len(n.Fields) + len(n.Items)
	if kids == 0 || which%5 == 0 && n.From > 0 {
		from := n.From
		*n = []Node{{Text: text}, {Kind: Fields, Fields: []Field{{text, Node{Text: text}}, {"b", Node{Text: text}}}}, {Kind: List, Items: []Node{{Text: text}, {Text: text}}}}[which%3]
		n.From = from
		return
	}
	at := int(which % uint(kids))
	switch which = which / uint(kids); {
	case which%4 == 1 && n.Kind == Fields:
		n.Fields = append(n.Fields[:at], n.Fields[at+1:]...)
	case which%4 == 1:
		n.Items = append(n.Items[:at], n.Items[at+1:]...)
	case which%4 == 2 && n.Kind == Fields:
		n.Fields = append(n.Fields, Field{"new one", Node{Text: text}})
	case which%4 == 2:
		n.Items = append(n.Items, Node{Text: text})
	case n.Kind == Fields:
		changeOne(&n.Fields[at].Node, which, text)
	default:
		changeOne(&n.Items[at], which, text)
	}
}
