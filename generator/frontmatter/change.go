package frontmatter

import (
	"slices"
	"strings"

	"asleft/generator/frontmatter/yamlvalue"
)

// A changer gathers the edits that make a file say what is wanted.
type changer struct {
	text   string
	writer yamlWriter
	edits  []edit
	bottom int // where the front matter ends
}

func (c *changer) put(path string, start, end int, text string) {
	if start != end || text != "" {
		c.edits = append(c.edits, edit{span{start, end}, text, path})
	}
}

// fields makes the fields of a value those that are wanted.
func (c *changer) fields(old *value, want Node, path string) {
	drop := make([]bool, len(old.children))
	wanted, has := want.names(), old.names()
	for i, f := range old.children {
		at, is := wanted[underscored(f.name)]
		if drop[i] = !is; is {
			drop[i] = c.child(old, f, want.Fields[at].Node, within(path, f.name))
		}
	}
	var fresh []Field
	for _, f := range want.Fields {
		if has[underscored(f.Name)] == nil && f.Node.tells() {
			fresh = append(fresh, f)
		}
	}
	c.children(old, drop, fresh, path)
}

// items makes the items of a list those that are wanted.
func (c *changer) items(old *value, want Node, path string) {
	drop := make([]bool, len(old.children))
	for i := range drop {
		drop[i] = true
	}
	var fresh []Field
	for _, item := range want.Items {
		switch i := item.From - 1; {
		case i >= 0:
			drop[i] = c.child(old, old.children[i], item, numbered(path, i))
		case item.tells():
			fresh = append(fresh, Field{Node: item})
		}
	}
	c.children(old, drop, fresh, path)
}

// child makes a field or an item say what is wanted. One that is to say nothing
// any more has to be dropped.
func (c *changer) child(in *value, f child, want Node, path string) (drop bool) {
	old := f.value
	switch tells := want.tells(); {
	case !tells && !old.node().tells():
	case !tells && !remains(old, want):
		return true
	case old.absent || old.kind != want.Kind:
		c.replace(in, f, want, path)
	case old.kind == Fields:
		c.fields(old, want, path)
	case old.kind == List:
		c.items(old, want, path)
	case meant(old.text) != meant(want.Text):
		c.reword(in, f, meant(want.Text), path)
	}
	return false
}

// remains tells whether something that says nothing stays where all else in a
// value goes: then the value stays too.
func remains(old *value, want Node) bool {
	if old.kind != want.Kind {
		return false
	}
	for i, c := range old.children {
		var one Node
		is := false
		if old.kind == Fields {
			one, is = want.Find(c.name)
		} else if at := slices.IndexFunc(want.Items, func(n Node) bool { return n.From == i+1 }); at >= 0 {
			one, is = want.Items[at], true
		}
		if is && (!c.value.node().tells() || remains(c.value, one)) {
			return true
		}
	}
	return false
}

// children takes out those that are to be dropped, and puts in the new ones.
func (c *changer) children(old *value, drop []bool, fresh []Field, path string) {
	last := -1 // that is kept
	dropped := false
	for i, d := range drop {
		if d {
			dropped = true
		} else {
			last = i
		}
	}
	switch {
	case !dropped && len(fresh) == 0:
	case old.flow:
		c.inBrackets(old, drop, last, fresh, path)
	default:
		c.onLines(old, drop, last, fresh, path)
	}
}

// column is that of a child's name or hyphen.
func (c *changer) column(f child) int { return f.start - lineStart(c.text, f.start) }

// reword writes a text anew in the quotes that it has, where it can stand in them.
func (c *changer) reword(in *value, f child, text, path string) {
	old := f.value
	if old.headEnd > 0 {
		if below, ok := c.writer.linesBelow(text, old.quoted, old.inner); ok && old.inner > 0 {
			c.put(path, lineEnd(c.text, old.headEnd), old.end, below)
			return
		}
		c.put(path, old.start, old.headEnd, yamlvalue.Quoted(text))
		c.put(path, lineEnd(c.text, old.headEnd), old.end, "")
		return
	}
	head, below := c.writer.reworded(text, old, in.flow, c.column(f))
	c.put(path, old.start, old.end, head)
	c.put(path, lineEnd(c.text, old.end), lineEnd(c.text, old.end), below)
}

// replace writes a value of another kind, or one where nothing is written yet.
func (c *changer) replace(in *value, f child, want Node, path string) {
	old := f.value
	if in.flow {
		head := c.writer.inline(want)
		switch {
		case f.lone:
			head = ": " + head
		case old.absent:
			head = " " + head
		}
		c.put(path, old.start, old.end, head)
		return
	}
	var head, below string
	if in.kind == List && want.Kind == List {
		head = c.writer.inline(want)
	} else {
		head, below = c.writer.value(want, c.column(f))
	}
	end := lineEnd(c.text, old.end)
	apart := lineStart(c.text, old.start) > f.colon // it begins on a line below
	switch {
	case old.absent:
		c.put(path, f.colon, f.colon, spaced(head))
		c.put(path, end, end, below)
	case old.headEnd > 0:
		c.put(path, f.colon, old.headEnd, spaced(head))
		c.put(path, lineEnd(c.text, old.headEnd), old.end, below)
	case apart && (head == "" || old.kind != Text && !old.flow):
		c.put(path, f.colon, f.colon, spaced(head))
		// The lines of the value go; the line end before them with them.
		c.put(path, lineStart(c.text, old.start)-1, end, below)
	case head == "":
		c.put(path, f.colon, old.end, "")
		c.put(path, end, end, below)
	default:
		c.put(path, old.start, old.end, head)
		c.put(path, end, end, below)
	}
}

func spaced(head string) string {
	if head == "" {
		return ""
	}
	return " " + head
}

// story makes the text below the front matter the wanted one. Lines that are
// wanted again stay as they are.
func (c *changer) story(body int, want string) {
	old := c.text[body:]
	is, wanted := storyOf(old), storyOf(want)
	if is == wanted {
		return
	}
	before, after := "\n", "\n"
	if is != "" {
		at := strings.Index(old, is)
		before, after = old[:at], old[at+len(is):]
	} else if strings.HasSuffix(old, "\n") {
		before = old
	}
	if wanted == "" {
		before, after = "", ""
	}
	if !strings.HasSuffix(c.text[:body], "\n") && wanted != "" {
		before = "\n" + before
	}
	start := body
	for _, p := range pieces(old, before+wanted+after) {
		c.put("", start+p.start, start+p.end, p.text)
	}
}

// storyOf is a text below the front matter without the empty lines around it.
func storyOf(text string) string {
	text = strings.TrimRight(yamlvalue.Tidy(text), " \t\n")
	for {
		line, rest, more := strings.Cut(text, "\n")
		if !more || strings.Trim(line, " \t") != "" {
			return text
		}
		text = rest
	}
}

// pieces are the edits that make one text another, whole lines of it. They keep
// what is the same at both ends, and lines between that come again in order.
func pieces(old, new string) []edit {
	was, is := strings.SplitAfter(old, "\n"), strings.SplitAfter(new, "\n")
	var edits []edit
	start, at := 0, 0 // in old: as a place and as a line
	next := func() { start, at = start+len(was[at]), at+1 }
	for len(is) > 0 && at < len(was) && is[0] == was[at] {
		is = is[1:]
		next()
	}
	tail := len(was)
	for len(is) > 0 && tail > at && is[len(is)-1] == was[tail-1] {
		is, tail = is[:len(is)-1], tail-1
	}
	where := map[string][]int{}
	for i := at; i < tail; i++ {
		where[was[i]] = append(where[was[i]], i)
	}
	from, fresh := start, ""
	for _, line := range is {
		same := where[line]
		for len(same) > 0 && same[0] < at {
			same = same[1:]
		}
		where[line] = same
		if len(same) == 0 || strings.TrimSpace(line) == "" && same[0] != at {
			fresh += line
			continue
		}
		for at < same[0] {
			next()
		}
		edits = append(edits, edit{span: span{from, start}, text: fresh})
		next()
		from, fresh = start, ""
	}
	for at < tail {
		next()
	}
	return append(edits, edit{span: span{from, start}, text: fresh})
}
