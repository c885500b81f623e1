package frontmatter

import (
	"slices"
	"strings"
)

// inBrackets takes children out of brackets, and puts new ones behind the last.
func (c *changer) inBrackets(old *value, drop []bool, last int, fresh []Field, path string) {
	kids := old.children
	if old.bare && len(fresh) > 0 {
		c.put(path, old.start, old.start, "{")
		defer c.put(path, old.end, old.end, "}")
	}
	tail := last + 1 // from here on all are dropped
	for i := 0; i < tail; {
		j := i
		for drop[j] {
			j++
		}
		if j > i {
			c.dropBefore(old, i, j, path)
		}
		i = j + 1
	}
	var written []string
	for _, f := range fresh {
		written = append(written, c.writer.inBrackets(f))
	}
	switch {
	case len(kids) == 0:
		c.put(path, old.start+1, old.start+1, strings.Join(written, ", "))
	case tail == len(kids):
		c.behind(old, kids[last], written, path)
	case len(fresh) > 0:
		c.put(path, kids[tail].start, kids[len(kids)-1].end, strings.Join(written, c.between(kids[tail])))
	default:
		c.dropTail(old, tail, path)
	}
}

// alone tells whether a child has its lines for itself: nothing before it, and
// behind it at most a comma and a comment.
func (c *changer) alone(f child) bool {
	if c.hangs(f) {
		return false
	}
	rest := strings.TrimLeft(c.text[f.end:lineEnd(c.text, f.end)], " \t")
	rest = strings.TrimLeft(strings.TrimPrefix(rest, ","), " \t")
	return rest == "" || rest[0] == '#'
}

// allAlone tells whether each of these children has its lines for itself.
func (c *changer) allAlone(kids []child) bool {
	return !slices.ContainsFunc(kids, func(f child) bool { return !c.alone(f) })
}

// dropLines takes out children that have their lines for themselves.
func (c *changer) dropLines(old *value, from, to int, path string) {
	for i := from; i < to; i++ {
		kid := old.children[i]
		c.put(c.path(old, i, path), lineStart(c.text, kid.start), c.below(kid), "")
	}
}

// between is what parts new children from each other and from the one before.
func (c *changer) between(f child) string {
	if c.hangs(f) {
		return ", "
	}
	return ",\n" + c.text[lineStart(c.text, f.start):f.start]
}

// dropBefore takes out children that have one behind them that is kept.
func (c *changer) dropBefore(old *value, from, to int, path string) {
	kids := old.children
	if c.allAlone(kids[from:to]) {
		c.dropLines(old, from, to, path)
		return
	}
	end := kids[to].start
	if gap := c.text[kids[to-1].end:end]; strings.Contains(gap, "\n") {
		// Only the comma goes along, what stands behind it may be about the next.
		end = kids[to-1].end + c.comma(kids[to-1].end, old.end)
	}
	c.put(c.path(old, from, path), kids[from].start, end, "")
}

// dropTail takes out the last children; the comma before them goes along.
func (c *changer) dropTail(old *value, from int, path string) {
	kids := old.children
	last := kids[len(kids)-1]
	if from == 0 {
		c.put(c.path(old, 0, path), kids[0].start, last.end, "")
		return
	}
	switch {
	case c.allAlone(kids[from:]): // a comma may stay behind the one before
		c.dropLines(old, from, len(kids), path)
	case strings.ContainsAny(c.text[kids[from-1].end:kids[from].start], "\n#"):
		c.put(c.path(old, from, path), kids[from].start, last.end+c.comma(last.end, old.end), "")
	default:
		c.put(c.path(old, from, path), kids[from-1].end, last.end, "")
	}
}

// behind puts new children behind the last.
func (c *changer) behind(old *value, last child, written []string, path string) {
	if len(written) == 0 {
		return
	}
	between := c.between(last)
	all := strings.Join(written, between)
	if between == ", " || !c.alone(last) {
		c.put(path, last.end, last.end, between+all)
		return
	}
	comma := c.comma(last.end, old.end) > 0
	if comma {
		all += ","
	} else {
		c.put(path, last.end, last.end, ",")
	}
	end := lineEnd(c.text, last.end)
	c.put(path, end, end, strings.TrimPrefix(between, ",")+all)
}

// comma is the length of the text up to behind a comma, 0 where none follows.
func (c *changer) comma(from, to int) int {
	l := locator{text: c.text[:to], at: from}
	l.skip("")
	if l.next() != ',' {
		return 0
	}
	return l.at + 1 - from
}
