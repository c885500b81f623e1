package frontmatter

import "strings"

// onLines takes children out that stand on lines of their own, and puts new ones
// below the last.
func (c *changer) onLines(old *value, drop []bool, last int, fresh []Field, path string) {
	kids := old.children
	if len(kids) == 0 { // front matter without a field
		for _, f := range fresh {
			c.put(within(path, f.Name), c.bottom, c.bottom, c.writer.field(f, 0)+"\n")
		}
		return
	}
	first := 0
	if drop[0] && c.hangs(kids[0]) {
		first = c.dropFirst(old, drop, last, fresh, path)
		if last < 0 {
			fresh = nil
		}
	}
	for i := first; i < len(kids); i++ {
		if drop[i] {
			c.dropLines(old, i, i+1, path)
		}
	}
	end := c.behindExamples(kids[len(kids)-1])
	apart := ""
	if n := len(kids); n > 1 && strings.TrimSpace(c.text[kids[n-2].end:kids[n-1].start]) == "" && strings.Count(c.text[kids[n-2].end:kids[n-1].start], "\n") > 1 {
		apart = "\n" // the items are set apart by empty lines
	}
	for _, f := range fresh {
		if old.kind == Fields {
			apart = ""
		}
		c.put(within(path, f.Name), end, end, apart+c.indent(kids[0])+c.fresh(old, f)+"\n")
	}
}

// hangs tells whether a child stands behind a hyphen on its line.
func (c *changer) hangs(f child) bool {
	return strings.TrimSpace(c.text[lineStart(c.text, f.start):f.start]) != ""
}

// below is where the line after a child begins.
func (c *changer) below(f child) int { return min(lineEnd(c.text, f.end)+1, len(c.text)) }

// behindExamples is where the line after a child begins, or after the items that
// a form holds ready below it in comments: they are its own once somebody takes
// the # away.
func (c *changer) behindExamples(f child) int {
	at := c.below(f)
	for f.value.absent {
		line := c.text[at:lineEnd(c.text, at)]
		item, is := strings.CutPrefix(line, "#")
		if item = strings.TrimLeft(item, " "); !is || !strings.HasPrefix(item, "- ") {
			break
		}
		at += len(line) + 1
	}
	return at
}

func (c *changer) indent(f child) string { return strings.Repeat(" ", c.column(f)) }

func (c *changer) path(old *value, i int, path string) string {
	if old.kind == Fields {
		return within(path, old.children[i].name)
	}
	return numbered(path, i)
}

// fresh is a new field or item as it stands on its lines, behind the indentation.
func (c *changer) fresh(old *value, f Field) string {
	kids := old.children
	column := c.column(kids[0])
	if old.kind == Fields {
		return c.writer.field(f, column)
	}
	neighbor := kids[len(kids)-1]
	gap := neighbor.value.start - neighbor.colon
	if neighbor.value.absent || gap < 1 || strings.Contains(c.text[neighbor.colon:neighbor.value.start], "\n") {
		gap = 1
	}
	if neighbor.value.kind == Fields && !neighbor.value.flow && f.Node.Kind == Fields {
		return c.writer.itemOnLines(f.Node, column, gap)
	}
	return "-" + strings.Repeat(" ", gap) + c.writer.item(f.Node, column)
}

// dropFirst takes the first child out where it stands behind a hyphen. The next
// that is kept takes its place, unless there is something between that has to
// stay. It gives the first child that is still to be looked at.
func (c *changer) dropFirst(old *value, drop []bool, last int, fresh []Field, path string) int {
	kids := old.children
	at := c.path(old, 0, path)
	if last < 0 {
		var all []string
		for _, f := range fresh {
			all = append(all, c.fresh(old, f))
		}
		c.put(at, kids[0].start, kids[0].end, strings.Join(all, "\n"+c.indent(kids[0])))
		return 1
	}
	next := 1
	close := c.below(kids[0]) == lineStart(c.text, kids[1].start)
	for ; drop[next]; next++ {
		close = close && c.below(kids[next]) == lineStart(c.text, kids[next+1].start)
	}
	if close {
		c.put(at, kids[0].start, kids[next].start, "")
		return next
	}
	before := strings.TrimRight(c.text[:kids[0].start], " \t")
	c.put(at, len(before), lineEnd(c.text, kids[0].end), "")
	return 1
}
