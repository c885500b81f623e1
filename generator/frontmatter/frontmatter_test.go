package frontmatter

import (
	"errors"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// set puts a value at a path; a path that ends in a number is an item, counted
// from 1, and + a new one.
func set(n *Node, value any, path ...string) {
	if len(path) == 0 {
		from := n.From
		switch v := value.(type) {
		case string:
			*n = Node{Text: v}
		case Node:
			*n = v
		}
		n.From = from
		return
	}
	if n.Kind == List {
		if path[0] == "+" {
			n.Items = append(n.Items, Node{})
			set(&n.Items[len(n.Items)-1], value, path[1:]...)
			return
		}
		for i := range n.Items {
			if path[0] == string(rune('0'+n.Items[i].From)) {
				if value == nil && len(path) == 1 {
					n.Items = append(n.Items[:i], n.Items[i+1:]...)
					return
				}
				set(&n.Items[i], value, path[1:]...)
				return
			}
		}
		return
	}
	n.Kind = Fields
	for i := range n.Fields {
		if n.Fields[i].Name == path[0] {
			if value == nil && len(path) == 1 {
				n.Fields = append(n.Fields[:i], n.Fields[i+1:]...)
				return
			}
			set(&n.Fields[i].Node, value, path[1:]...)
			return
		}
	}
	n.Fields = append(n.Fields, Field{Name: path[0]})
	set(&n.Fields[len(n.Fields)-1].Node, value, path[1:]...)
}

func fields(pairs ...string) Node {
	n := Node{Kind: Fields}
	for i := 0; i < len(pairs); i += 2 {
		n.Fields = append(n.Fields, Field{pairs[i], Node{Text: pairs[i+1]}})
	}
	return n
}

func texts(all ...string) Node {
	n := Node{Kind: List}
	for _, t := range all {
		n.Items = append(n.Items, Node{Text: t})
	}
	return n
}

func TestWith(t *testing.T) {
	for _, c := range []struct {
		name, front string
		path        string // fields and items, with a slash between
		value       any    // nil takes it out
		want        string
	}{
		{"a plain text stays plain", "note: cleaned, looked at # under the tray\n", "note", "cleaned, not looked at", "note: cleaned, not looked at # under the tray\n"},
		{"unless it cannot", "note: cleaned\n", "note", "cleaned: no", "note: \"cleaned: no\"\n"},
		{"or means something", "note: cleaned\n", "note", "null", "note: \"null\"\n"},
		{"yes and no", "safety: yes # it can\n", "safety", "no", "safety: no # it can\n"},
		{"a date", "date: 2026-03-02\n", "date", "2026-03-03", "date: 2026-03-03\n"},
		{"a time without quotes", "time: 13:00\n", "time", "14:30", "time: 14:30\n"},
		{"a time with them", "time: \"13:00\"\n", "time", "14:30", "time: \"14:30\"\n"},
		{"single quotes", "limit: '>= 12.4 V'   # sheet\n", "limit", "the maker's", "limit: 'the maker''s'   # sheet\n"},
		{"single quotes and two lines", "a: 'b'\n", "a", "b\nc", "a: \"b\\nc\"\n"},
		{"to several lines", "story: one # told\nby: JM\n", "story", "one\n\ntwo", "story: | # told\n  one\n\n  two\nby: JM\n"},
		{"to several lines in brackets", "a: {story: one, by: JM}\n", "a/story", "one\ntwo", "a: {story: \"one\\ntwo\", by: JM}\n"},
		{"a line below", "private: |-  # mine\n    One.\n    Two.\nby: JM\n", "private", "One.\nThree.", "private: |-  # mine\n    One.\n    Three.\nby: JM\n"},
		{"lines that look like the end", "private: |\n  One.\n", "private", "One.\n---", "private: \"One.\\n---\"\n"},
		{"folded", "story: >\n  One\n  two.\n", "story", "One\ntwo.", "story: >\n  One\n\n  two.\n"},
		{"an empty field", "kind: # from the plate\nname: x\n", "kind", "saw", "kind: saw # from the plate\nname: x\n"},
		{"null", "kind: ~\n", "kind", "saw", "kind: saw\n"},
		{"taken out", "# above\nby: JM # beside\n# below\ndate: 2026-03-02\n", "by", nil, "# above\n# below\ndate: 2026-03-02\n"},
		{"emptied", "by: JM\ndate: 2026-03-02\n", "by", "", "date: 2026-03-02\n"},
		{"taken out with its list", "a: b\nlist:\n  # in it\n  - c\n\n  - d\n# below\ne: f\n", "list", nil, "a: b\n# below\ne: f\n"},
		{"from brackets, first", "a: {b: c, d: e, f: g}\n", "a/b", nil, "a: {d: e, f: g}\n"},
		{"from brackets, between", "a: {b: c, d: e, f: g}\n", "a/d", nil, "a: {b: c, f: g}\n"},
		{"from brackets, last", "a: {b: c, d: e, f: g }\n", "a/f", nil, "a: {b: c, d: e }\n"},
		{"from brackets, all", "a: {b: c}\nd: e\n", "a/b", nil, "d: e\n"},
		{"the first behind a hyphen", "a:\n  - b: c # one\n    d: e\n", "a/1/b", nil, "a:\n  - d: e\n"},
		{"the first behind a hyphen, above a comment", "a:\n  - b: c # one\n    # two\n    d: e\n", "a/1/b", nil, "a:\n  -\n    # two\n    d: e\n"},
		{"an item", "a:\n  # one\n  - b # 1\n  # two\n  - c\n", "a/1", nil, "a:\n  # one\n  # two\n  - c\n"},
		{"the only item", "a:\n  - b\nc: d\n", "a/1", nil, "c: d\n"},
		{"a new item", "a:\n- {b: c}\nd: e\n", "a/+", fields("b", "x, y", "e", "no"), "a:\n- {b: c}\n- {b: \"x, y\", e: no}\nd: e\n"},
		{"a new item among fields on lines", "a:\n  -   b: c\n      d: e\n# below\nf: g\n", "a/+", fields("b", "x", "d", "one\ntwo"), "a:\n  -   b: c\n      d: e\n  -   b: x\n      d: |\n        one\n        two\n# below\nf: g\n"},
		{"a new item among empty lines", "a:\n\n  - b\n\n  - c\n", "a/+", "d", "a:\n\n  - b\n\n  - c\n\n  - d\n"},
		{"a new item in brackets", "a: [b, c] # two\n", "a/+", "d", "a: [b, c, d] # two\n"},
		{"a new item in empty brackets", "a: []\n", "a/+", "d", "a: [d]\n"},
		{"a new item in brackets on lines", "a: [\n  b, # 1\n  c # 2\n]\n", "a/+", "d", "a: [\n  b, # 1\n  c, # 2\n  d\n]\n"},
		{"and with a comma behind the last", "a: [\n  b,\n  c, # 2\n]\n", "a/+", "d", "a: [\n  b,\n  c, # 2\n  d,\n]\n"},
		{"a pair without brackets", "a: [b: c, d]\n", "a/1/e", "f", "a: [{b: c, e: f}, d]\n"},
		{"a new field", "a: b\n\n# the end\n", "c", "d", "a: b\nc: d\n\n# the end\n"},
		{"a new field of an item", "a:\n  - b: c # 1\n  - d: e\n", "a/1/f", "yes", "a:\n  - b: c # 1\n    f: yes\n  - d: e\n"},
		{"a new list", "a:\n    - b\n", "list", texts("x", "y: z"), "a:\n    - b\nlist:\n    - x\n    - \"y: z\"\n"},
		{"new fields", "a: b\n", "bought", fields("from", "Corwin", "paid", "87.50"), "a: b\nbought: {from: Corwin, paid: 87.50}\n"},
		{"a text becomes a list", "hours: 2.5 # in all\nby: JM\n", "hours", Node{Kind: List, Items: []Node{fields("from", "18:00", "to", "20:30")}}, "hours: # in all\n  - {from: \"18:00\", to: \"20:30\"}\nby: JM\n"},
		{"a list becomes a text", "hours: # in all\n  - {from: a, to: b}\n  - {from: c}\nby: JM\n", "hours", "2.5", "hours: 2.5 # in all\nby: JM\n"},
		{"an empty field becomes a list", "limits:\n#  - example\nby: JM\n", "limits", texts("a"), "limits:\n  - a\n#  - example\nby: JM\n"},
		{"a new field below the example of another", "limits:\n#  - {what: compression}\n# The story goes below.\n", "by", "JM", "limits:\n#  - {what: compression}\nby: JM\n# The story goes below.\n"},
		{"in empty front matter", "# nothing\n", "a", "b", "# nothing\na: b\n"},
		{"a name of two words", "as found: yes\n", "as_found", "no", "as found: no\n"},
		{"a text with a comment that would be taken in", "a: b\n   # deep\nc: d\n", "a", "x\ny", "a: \"x\\ny\"\n   # deep\nc: d\n"},
		{"accents", "näme: ö # ü\n漢字: [ä, ö]\n", "漢字/2", "ß", "näme: ö # ü\n漢字: [ä, ß]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, end := range []string{"\n", "\r\n", "\r"} {
				around := func(front string) string {
					return strings.ReplaceAll("---\n"+front+"---\n\nStory\n", "\n", end)
				}
				f, err := Read([]byte(around(c.front)))
				if err != nil {
					t.Fatal(err)
				}
				want := f.Fields()
				if c.name == "a name of two words" {
					want.Fields[0].Name = "as_found"
				}
				set(&want, c.value, strings.Split(c.path, "/")...)
				now, err := f.With(want, "Story")
				if err != nil {
					t.Fatal(err)
				}
				if string(now) != around(c.want) {
					t.Fatalf("it is\n%s\nwant\n%s", now, around(c.want))
				}
			}
		})
	}
}

func TestStory(t *testing.T) {
	for _, c := range []struct{ name, file, story, want string }{
		{"changed", "---\na: b\n---\n\n\nOne.\r\n\nTwo.\n\n\n", "One.\n\nThree.", "---\na: b\n---\n\n\nOne.\r\n\nThree.\n\n\n"},
		{"lines between stay", "---\r\n---\r\nOne\nTwo\r\nThree\nFour\r\n", "0\nTwo\nx\nFour", "---\r\n---\r\n0\nTwo\r\nx\nFour\r\n"},
		{"first", "---\na: b\n---\n", "One.\n", "---\na: b\n---\n\nOne.\n"},
		{"first, and no line end", "---\na: b\n---", "One.", "---\na: b\n---\n\nOne.\n"},
		{"below an empty line", "---\na: b\n---\n\n", "One.", "---\na: b\n---\n\nOne.\n"},
		{"no line end", "---\na: b\n---\nOne.", "One. Two.", "---\na: b\n---\nOne. Two."},
		{"taken out", "---\na: b\n---\n\nOne.\n", " \n", "---\na: b\n---\n"},
		{"rules in it", "---\na: b\n---\n\nOne.\n", "One.\n\n---\nb: c\n---\n", "---\na: b\n---\n\nOne.\n\n---\nb: c\n---\n"},
		{"indented", "---\na: b\n---\n\n    code\n", "    code\n\nmore", "---\na: b\n---\n\n    code\n\nmore\n"},
		{"lines from a form", "---\na: b\n---\n\nOne.\nTwo.\n", "One.\r\nTwo.\r\nThree.", "---\na: b\n---\n\nOne.\nTwo.\nThree.\n"},
	} {
		f, err := Read([]byte(c.file))
		if err != nil {
			t.Fatal(err)
		}
		now, err := f.With(f.Fields(), c.story)
		if err != nil || string(now) != c.want {
			t.Errorf("%s: %v, %q, want %q", c.name, err, now, c.want)
		}
	}
}

func TestItemsKeepTheirPlace(t *testing.T) {
	f, err := Read([]byte("---\na:\n  - one # 1\n  - two # 2\n  - three # 3\n---\n"))
	if err != nil {
		t.Fatal(err)
	}
	list := Node{Kind: List, Items: []Node{{Text: "new"}, {Text: "three", From: 3}, {Text: "ONE", From: 1}}}
	now, err := f.With(Node{Kind: Fields, Fields: []Field{{"a", list}}}, "")
	if want := "---\na:\n  - ONE # 1\n  - three # 3\n  - new\n---\n"; err != nil || string(now) != want {
		t.Errorf("%v, %q, want %q", err, now, want)
	}
}

func TestImpossibleWishesAreRefusedByName(t *testing.T) {
	f, err := Read([]byte("---\na: [x, y]\nb: c\n---\n"))
	if err != nil {
		t.Fatal(err)
	}
	for field, want := range map[string]Node{
		"b":    fields("b", "c", "b", "d"),
		"a_b":  fields("a b", "c", "a_b", "d"),
		"a[1]": {Kind: Fields, Fields: []Field{{"a", Node{Kind: List, Items: []Node{{Text: "x", From: 1}, {Text: "x", From: 1}}}}}},
		"a[0]": {Kind: Fields, Fields: []Field{{"a", Node{Kind: List, Items: []Node{{Text: "x", From: 3}}}}}},
		"":     texts("a"),
		"long": fields("long", strings.Repeat("long ", maxFront/5)),
	} {
		now, err := f.With(want, "")
		var cannot *Cannot
		if !errors.As(err, &cannot) || !errors.Is(err, ErrCannot) || cannot.Field != field || now != nil {
			t.Errorf("%s: %v, %q", field, err, now)
		}
	}
}

// hindered are files that cannot be taken apart, and how the error begins.
var hindered = map[string]string{
	"":                                     "line 1: the file does not begin",
	"a: b\n":                               "line 1: the file does not begin",
	"\n+++\n":                              "line 2: the fields stand between two lines of three plus",
	"---\na: b\n":                          "line 1: the block of fields is never closed",
	"---\na: |\n  ---\n---\n":              "line 3: a line of three hyphens is indented",
	"---\na: &x b\nc: *x\n---\n":           "line 2: a value that begins with & or *",
	"---\na: !x b\n---\n":                  "line 2: a value that begins with an exclamation mark (!x)",
	"---\na: b\nc: d\na: e\n---\n":         "line 4: this field stands here twice",
	"---\nas found: b\nas_found: e\n---\n": "line 3: this field stands here twice",
	"---\na:\n  - {b: c, b: d}\n---\n":     "line 3: this field stands here twice",
	"---\n- a\n---\n":                      "line 2: [...] was read where fields",
	"---\nwords\n---\n":                    "line 2: words was read where fields",
	"---\na: b\n? c\n: d\n---\n":           "line 3: this is written in a way",
	"---\n[a, b]: c\n---\n":                "line 2: the name of a field is missing",
	"---\n~: c\n---\n":                     "line 2: the name of a field is missing",
	"---\na: b\n\nc: [d\n---\n":            "line ",
	"---\na: b\n...\nc: d\n---\n":          "line ",
	"---\na: \"\\u202e\"\n---\n":           "line 2: this line holds a character that cannot be seen (U+202E)",
	"---\na: b\u2028c\n---\n":              "line 2: this line holds a character that cannot be seen (U+2028)",
	"---\na: b\u0085c\n---\n":              "line 2: this line holds a character that cannot be seen (U+0085)",
	"---\na: b\xff\n---\n":                 "line 2: this line is not UTF-8",
	"---\na: " + strings.Repeat("[", 14) + strings.Repeat("]", 14) + "\n---\n": "line 2: the fields are nested too deep",
	"---\n" + strings.Repeat("# long\n", 10000) + "---\n":                      "line 1: the block between the two --- lines is larger",
	"---\n---\n" + strings.Repeat("x", maxFile):                                "line 0: the file is larger",
}

func TestHindrances(t *testing.T) {
	for text, want := range hindered {
		f, err := Read([]byte(text))
		var h *Hindrance
		if f != nil || !errors.As(err, &h) || !strings.HasPrefix(err.Error(), want) {
			t.Errorf("%.60q: %v, want %s", text, err, want)
			continue
		}
		if _, mend := h.Says(catalog.English); mend == "" || strings.Contains(mend, "{") && h.Key != "problem.not-fields" {
			t.Errorf("%.60q is not told how to mend: %q", text, mend)
		}
	}
}

func TestNew(t *testing.T) {
	want := fields("date", "2026-03-02", "title", "First look: \"cold\"", "by", "", "private", "One.\nTwo.")
	set(&want, Node{Kind: List, Items: []Node{fields("item", "tines stop", "result", "fails", "note", "one\ntwo"), fields("item", ""), fields("item", "grip", "safety", "no")}}, "checks")
	set(&want, texts("one", "two\nlines"), "missing")
	set(&want, fields("from", "Corwin", "paid", "87.50"), "bought")
	got := New(want, "\r\nStory.\r\n")
	file := "---\ndate: 2026-03-02\ntitle: \"First look: \\\"cold\\\"\"\nprivate: |\n  One.\n  Two.\nchecks:\n  - {item: tines stop, result: fails, note: \"one\\ntwo\"}\n  - {item: grip, safety: no}\nmissing:\n  - one\n  - |\n    two\n    lines\nbought: {from: Corwin, paid: 87.50}\n---\n\nStory.\n"
	if string(got) != file {
		t.Errorf("it is\n%s\nwant\n%s", got, file)
	}
	holds(t, "new", got, want, "Story.")
	if got := string(New(Node{Kind: Fields}, "")); got != "---\n---\n" {
		t.Errorf("a file of nothing is %q", got)
	}
}

func TestFind(t *testing.T) {
	f, err := Read([]byte("---\nas found: yes\nput_back: {the key: x}\n---\n"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range [][]string{{"as_found"}, {"as found"}, {"put back", "the_key"}, {"put_back", "the key"}} {
		if n, is := f.Fields().Find(path...); !is || n.Kind != Text || n.Text == "" {
			t.Errorf("%q is %v, %v", path, n, is)
		}
	}
	for _, path := range [][]string{{"by"}, {"as found", "x"}, {"put_back", "x"}} {
		if n, is := f.Fields().Find(path...); is {
			t.Errorf("%q is %v", path, n)
		}
	}
}
