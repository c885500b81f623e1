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

// A walk stands on line n, at byte i of it.
type walk struct {
	lines []string
	n, i  int
	open  []slip // brackets
	start bool   // a value may begin here
}

var (
	blockBegins = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`[:-]\s+[|>][-+0-9]*\s*(?:#.*)?$`) })
	lineBegins  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*(?:-\s+)*`) })
)

// skipped passes over what has no quotes or brackets of YAML's in it: comments
// and blocks of running text.
func (w *walk) skipped() bool {
	line := w.lines[w.n]
	switch {
	case len(w.open) > 0:
		return false
	case blockBegins().MatchString(line):
		for deep := indent(line); w.n+1 < len(w.lines) && (strings.TrimSpace(w.lines[w.n+1]) == "" || indent(w.lines[w.n+1]) > deep); {
			w.n++
		}
		return true
	}
	return strings.HasPrefix(strings.TrimSpace(line), "#")
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " ")) }

// line goes along one line, or several where a quote runs over their ends.
func (w *walk) line() slip {
	w.i = 0
	if len(w.open) == 0 {
		w.i = len(lineBegins().FindString(w.lines[w.n]))
		w.start = true
	}
	for ; w.i < len(w.lines[w.n]); w.i++ {
		line := w.lines[w.n]
		switch c := line[w.i]; {
		case c == ' ':
		case c == '#' && (w.i == 0 || line[w.i-1] == ' '):
			w.i = len(line)
		case w.start && (c == '"' || c == '\''):
			if s := w.quote(c); s.line > 0 {
				return s
			}
		case strings.IndexByte("[{", c) >= 0 && (w.start || len(w.open) > 0):
			w.open = append(w.open, slip{w.n + 1, "problem.yaml-bracket", c})
			w.start = true
		case strings.IndexByte("]}", c) >= 0 && len(w.open) > 0:
			top := w.open[len(w.open)-1]
			if top.mark != c-2 { // ASCII has them two apart
				return top
			}
			w.open = w.open[:len(w.open)-1]
			w.start = false
		default:
			w.start = c == ',' && len(w.open) > 0 || c == ':' && strings.HasPrefix(line[w.i+1:]+" ", " ")
		}
	}
	return slip{}
}

// quote goes to the mark that closes the one here. A text in quotes may run
// over several lines, but then nothing of another text follows its end.
func (w *walk) quote(mark byte) slip {
	s := slip{w.n + 1, "problem.yaml-quote", mark}
	w.start = false
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
