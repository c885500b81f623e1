package logbook

import (
	"bytes"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// What the text of one passage, between two empty lines, may hold. The
// Markdown parser's time grows with the square of each: without a bound, a
// page of brackets would keep it busy for hours, and one of stars and
// underlines in turn for minutes.
const (
	maxNesting  = 20
	maxBrackets = 1000
	maxStars    = 1000 // runs of stars or underlines
)

// What the tables of one body may hold. A row of a table is filled up to the
// width of its head, so that a few bytes of Markdown can ask for a page of empty
// cells; and each escaped pipe in code is looked up among all of them.
const (
	maxCells   = 20_000
	maxEscaped = 1000 // \| in the whole body
)

var listMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:[-+*]|[0-9]{1,9}[.)])[ \t]`) })

// bodyFrom is the body of a text where its front matter ends.
func bodyFrom(text []byte, end int) Body {
	return Body{Text: text[end:], Line: bytes.Count(text[:end], nl) + 1}
}

// kept is the body to keep: its own copy of the text.
func (b Body) kept() Body {
	b.Text = bytes.Clone(b.Text)
	return b
}

// left is the body with the text left in the file.
func (b Body) left() Body {
	return Body{Line: b.Line, Left: len(bytes.TrimSpace(b.Text)) > 0}
}

// BodyOf is the body of an entry, read from its file where it was left there.
// An error is the system's, or tells that the file is not what it was.
func (s *Shop) BodyOf(e *Entry) (Body, error) {
	if !e.Body.Left {
		return e.Body, nil
	}
	return s.finder.body(e.File)
}

// sound returns the body, or none where it is more than any story needs.
func (s *source) sound(b Body) Body {
	if len(b.Text) > maxBody {
		s.report(s.at(b.Line, ""), "problem.body-too-big", "max", "256 kB")
		return Body{}
	}
	brackets, stars, line := 0, 0, b.Line
	var tables cells
	for raw := range bytes.Lines(b.Text) {
		brackets += bytes.Count(raw, []byte("["))
		stars += starRuns(raw)
		if len(bytes.TrimSpace(raw)) == 0 {
			brackets, stars = 0, 0
		}
		if tables.tooMany(raw) {
			s.report(s.at(line, ""), "problem.body-table")
			return Body{}
		}
		if brackets > maxBrackets || stars > maxStars || nesting(raw) > maxNesting {
			s.report(s.at(line, ""), "problem.body-tangled")
			return Body{}
		}
		if r, bad := unseenReference(raw); bad {
			s.report(s.at(line, ""), "problem.control-character", "code", codePoint(r))
			return Body{}
		}
		line++
	}
	return b
}

// cells counts what the tables of a body hold, line by line. It may count more
// than there is, never less: a line of hyphens and pipes below anything can be
// the head of a table, whatever list or quote it stands in.
type cells struct {
	wide    int // columns of the table that the passage may be
	count   int
	escaped int
}

// tooMany takes one more line.
func (c *cells) tooMany(line []byte) bool {
	pipes := bytes.Count(line, []byte("|"))
	if pipes > 0 {
		c.escaped += bytes.Count(line, []byte(`\|`))
		if ruler(line) {
			c.wide = max(c.wide, pipes+1)
			c.count += c.wide // of the head above it
		}
	}
	if len(bytes.TrimSpace(line)) == 0 {
		c.wide = 0
	}
	c.count += c.wide
	return c.count > maxCells || c.escaped > maxEscaped
}

// ruler tells whether a line can be the one below the head of a table.
func ruler(line []byte) bool {
	hyphen := false
	for _, b := range line {
		switch {
		case b == '-':
			hyphen = true
		case b != '|' && b != ':' && b != '>' && b != ' ' && b != '\t' && b != '\n' && b != '*' && b != '+' && b != '.' && b != ')' && (b < '0' || b > '9'):
			return false
		}
	}
	return hyphen
}

// starRuns counts the runs of stars and those of underlines in a line.
func starRuns(line []byte) int {
	n, before := 0, byte(0)
	for _, c := range line {
		if (c == '*' || c == '_') && c != before {
			n++
		}
		before = c
	}
	return n
}

// nesting counts the quote and list marks that a line of Markdown begins with.
func nesting(line []byte) int {
	for n := 0; ; n++ {
		line = bytes.TrimLeftFunc(line, unicode.IsSpace)
		if len(line) == 0 || !strings.Contains("-+*>0123456789", string(line[:1])) {
			return n // as nearly all lines do: the pattern need not be asked
		}
		if mark := listMark().Find(line); mark != nil {
			line = line[len(mark):]
		} else if bytes.HasPrefix(line, []byte(">")) {
			line = line[1:]
		} else {
			return n
		}
	}
}

var numericReference = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`&#([0-9]{1,7}|[xX][0-9a-fA-F]{1,6});`) })

// unseenReference is the first character that a line names by number and that
// no text needs: a page could carry it on as it is, and a feed must not.
func unseenReference(line []byte) (rune, bool) {
	if !bytes.Contains(line, []byte("&#")) {
		return 0, false
	}
	for _, m := range numericReference().FindAllSubmatch(line, -1) {
		number, base := string(m[1]), 10
		if number[0] == 'x' || number[0] == 'X' {
			number, base = number[1:], 16
		}
		if n, err := strconv.ParseInt(number, base, 32); err == nil && unseen(rune(n)) {
			return rune(n), true
		}
	}
	return 0, false
}
