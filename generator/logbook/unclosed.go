package logbook

import (
	"regexp"
	"strings"
	"sync"
)

// A slip is a quote mark or a bracket that is opened and not closed, with the
// line on which it opens.
type slip struct {
	line int
	key  string
	mark byte
}

// unclosed goes through front matter that is not YAML and finds the first
// quote mark or bracket in it that is not closed, or not where a text may end.
// The line of a zero slip is 0.
func unclosed(lines []string) slip {
	w := &walk{lines: lines}
	for ; w.n < len(w.lines); w.n++ {
		if w.skipped() {
			continue
		}
		if s := w.line(); s.line > 0 {
			return s
		}
	}
	if len(w.open) > 0 {
		return w.open[0]
	}
	return slip{}
}

// A lost is a # behind a plain value, from which on YAML takes the rest of the line
// for a remark and drops it.
type lost struct {
	line   int
	inside bool // between brackets, so that it most likely hides a closing one
}

// hashes goes through front matter and finds each # that cuts a value off, or all
// of one (number: #4417). A remark on a line of its own is none, nor one behind a
// value in quotes, a bracket or a name alone: no text can stand there.
func hashes(lines []string) []lost {
	w := &walk{lines: lines}
	for ; w.n < len(w.lines); w.n++ {
		if w.skipped() {
			continue
		}
		if s := w.line(); s.line > 0 && s.key != "problem.yaml-bracket" {
			break // from here on nobody can tell what is text
		}
	}
	return w.lost
}

// A walk stands on line n, at byte i of it.
type walk struct {
	lines []string
	n, i  int
	open  []slip // brackets
	start bool   // a value may begin here
	plain bool   // a value without quotes has begun
	from  int    // column of the name whose value that is
	lost  []lost
}

var (
	// A block of running text begins behind a name or the hyphens of a list, not behind
	// a colon or a hyphen within a text or a remark.
	blockBegins = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`^\s*(?:-\s+)*(?:(?:"[^"]*"|'[^']*'|[^\s"'\[{#](?:[^:#]|:\S|\S#)*)\s*:\s+)?[|>][-+0-9]*\s*(?:#.*)?$`)
	})
	lineBegins = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*(?:-\s+)*`) })
)

// skipped passes over what has no quotes or brackets of YAML's in it: comments
// and blocks of running text.
func (w *walk) skipped() bool {
	line := w.lines[w.n]
	switch {
	case len(w.open) > 0:
		return false
	case blockBegins().MatchString(line):
		for deep := column(line); w.n+1 < len(w.lines) && (strings.TrimSpace(w.lines[w.n+1]) == "" || indent(w.lines[w.n+1]) > deep); {
			w.n++
		}
		return true
	}
	return strings.HasPrefix(strings.TrimSpace(line), "#")
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// column is that of the name on a line, or of the last hyphen where there is none:
// a block of text below it is indented further.
func column(line string) int {
	begins := lineBegins().FindString(line)
	if strings.ContainsAny(line[len(begins):min(len(begins)+1, len(line))], "|>") {
		return strings.LastIndex(begins, "-")
	}
	return len(begins)
}

// line goes along one line, or several where a quote runs over their ends.
func (w *walk) line() slip {
	if strings.TrimSpace(w.lines[w.n]) == "" {
		return slip{}
	}
	w.i = 0
	switch goesOn := w.plain && indent(w.lines[w.n]) > w.from; {
	case len(w.open) > 0:
		w.plain = false
	case goesOn: // the value of a line above
		w.i, w.start = indent(w.lines[w.n]), false
	default:
		w.i = len(lineBegins().FindString(w.lines[w.n]))
		w.start, w.plain, w.from = true, false, column(w.lines[w.n])
	}
	for ; w.i < len(w.lines[w.n]); w.i++ {
		line := w.lines[w.n]
		switch c := line[w.i]; {
		case c == ' ':
		case c == '#' && (w.i == 0 || line[w.i-1] == ' ' || line[w.i-1] == '\t' || w.start):
			w.hash()
			w.plain = false
			w.i = len(line)
		case w.start && (c == '"' || c == '\''):
			if s := w.quote(c); s.line > 0 {
				return s
			}
		case strings.IndexByte("[{", c) >= 0 && (w.start || len(w.open) > 0):
			w.open = append(w.open, slip{w.n + 1, "problem.yaml-bracket", c})
			w.start, w.plain = true, false
		case strings.IndexByte("]}", c) >= 0 && len(w.open) > 0:
			top := w.open[len(w.open)-1]
			if top.mark != c-2 { // ASCII has them two apart
				return top
			}
			w.open = w.open[:len(w.open)-1]
			w.start, w.plain = false, false
		case c == '\t':
		default:
			w.start = c == ',' && len(w.open) > 0 || c == ':' && strings.HasPrefix(line[w.i+1:]+" ", " ")
			w.plain = !w.start
		}
	}
	return slip{}
}

// hash takes note of a # that may cut a value off: behind one that has begun, or
// with a letter or digit right behind it where one could begin and nothing else
// follows below.
func (w *walk) hash() {
	line := w.lines[w.n]
	before, after := strings.TrimSpace(line[:w.i]), line[w.i+1:]
	whole := w.start && before != "" && after != "" && !strings.ContainsAny(after[:1], " \t#-=") && !w.nested()
	if w.plain || whole {
		w.lost = append(w.lost, lost{w.n + 1, len(w.open) > 0})
	}
}

// nested tells whether the value of this line's name stands on the lines below.
func (w *walk) nested() bool {
	for _, below := range w.lines[w.n+1:] {
		text := strings.TrimSpace(below)
		if text == "" || text[0] == '#' {
			continue
		}
		at := len(lineBegins().FindString(w.lines[w.n]))
		return len(w.open) == 0 && (indent(below) > at || indent(below) == at && strings.HasPrefix(text, "- "))
	}
	return false
}

// quote goes to the mark that closes the one here. A text in quotes may run
// over several lines, but then nothing of another text follows its end.
func (w *walk) quote(mark byte) slip {
	s := slip{w.n + 1, "problem.yaml-quote", mark}
	w.start, w.plain = false, false
	w.i++
	for ; w.n < len(w.lines); w.n, w.i = w.n+1, 0 {
		if !w.closes(mark) {
			continue
		}
		after := strings.TrimSpace(w.lines[w.n][w.i+1:])
		if w.n+1 > s.line && after != "" && !strings.ContainsAny(after[:1], ",]}#:") {
			return s
		}
		return slip{}
	}
	return s
}

// closes goes to the closing mark on this line, if there is one.
func (w *walk) closes(mark byte) bool {
	line := w.lines[w.n]
	for ; w.i < len(line); w.i++ {
		switch {
		case mark == '"' && line[w.i] == '\\', mark == '\'' && strings.HasPrefix(line[w.i:], "''"):
			w.i++
		case line[w.i] == mark:
			return true
		}
	}
	return false
}
