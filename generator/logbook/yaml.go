package logbook

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"sync"

	"go.yaml.in/yaml/v4"
)

// front is the file's lines down to the closing one; front[0] is line 1.
func front(text []byte, closing int) []string {
	lines := strings.SplitN(string(text), "\n", closing+1)
	return lines[:min(closing, len(lines))]
}

// reportLost tells of what a # cuts off in front matter. It is true where that is
// what most likely makes it no YAML: it hides a closing bracket, or stands where
// the reader gave up.
func (s *source) reportLost(head []byte, closing int, err error) (why bool) {
	if bytes.IndexByte(head, '#') < 0 {
		return false
	}
	gaveUp := 0
	var all *yaml.LoadErrors
	var one *yaml.LoadError
	switch {
	case errors.As(err, &all) && len(all.Errors) > 0:
		gaveUp = all.Errors[0].Mark.Line
	case errors.As(err, &one):
		gaveUp = one.Mark.Line
	}
	for _, l := range hashes(front(head, closing)) {
		s.report(s.at(l.line, ""), "problem.yaml-hash")
		why = why || l.inside || gaveUp == l.line || gaveUp == l.line+1
	}
	return why
}

// reportYAML tells what is wrong with front matter that is not YAML.
func (s *source) reportYAML(err error, lines []string) {
	var all *yaml.LoadErrors
	var one *yaml.LoadError
	switch {
	case errors.As(err, &all) && len(all.Errors) > 0:
		for _, e := range all.Errors {
			s.reportLoad(e, lines)
		}
	case errors.As(err, &one):
		s.reportLoad(one, lines)
	default:
		s.report(s.at(1, ""), "problem.yaml")
	}
}

func (s *source) reportLoad(e *yaml.LoadError, lines []string) {
	m := &mistake{LoadError: e, lines: lines}
	line, key := m.find()
	line = min(max(line, 1), max(len(lines), 1))
	s.report(s.at(line, ""), key, "mark", m.mark())
}

// A mistake is an error of the YAML library, to be told as the slip of the pen
// that it most likely is.
type mistake struct {
	*yaml.LoadError
	lines []string
}

// line is the text of a line, empty where there is none.
func (m *mistake) line(n int) string {
	if n < 1 || n > len(m.lines) {
		return ""
	}
	return m.lines[n-1]
}

// find names the line to look at and the problem. The library notices most
// slips later than they were made: a quote that was never closed at the next
// one or at the end, a missing space after a colon on the line below.
func (m *mistake) find() (line int, key string) {
	here := m.Mark.Line
	if key := m.sure(); key != "" {
		return here, key
	}
	if s := unclosed(m.lines); s.line > 0 && (s.line <= here || here == 0) {
		return s.line, s.key
	}
	if end := m.earlyEnd(); end > 0 && (end <= here || here == 0) {
		return end, "problem.yaml-end"
	}
	if tight := m.tightColon(here); tight > 0 {
		return tight, "problem.yaml-no-space"
	}
	return m.guess()
}

func (m *mistake) says(part string) bool { return strings.Contains(m.Message, part) }

// sure is the problem where the library's message leaves no doubt.
func (m *mistake) sure() string {
	switch {
	case m.says("tab character"), m.says("cannot start any token") && m.mark() == "\t":
		return "problem.yaml-tab"
	case m.says("cannot start any token"), m.says("comment or line break"):
		return "problem.yaml-start"
	case m.says("escape"), m.says("hexadecimal"):
		return "problem.yaml-escape"
	case m.says("unknown anchor"):
		return "problem.alias"
	case m.says("depth"):
		return "problem.too-deep"
	}
	return ""
}

// guess is the likeliest slip behind what the library says.
func (m *mistake) guess() (line int, key string) {
	here := m.Mark.Line
	switch {
	case m.says("mapping values are not allowed"):
		return here, "problem.yaml-colon"
	case m.says("could not find expected ':'") && m.ContextMark.Line > 0:
		return m.ContextMark.Line, "problem.yaml-no-colon"
	case m.says("',' or") && m.ContextMark.Line > 0:
		return m.ContextMark.Line, "problem.yaml-bracket"
	case m.says("expected key") && strings.TrimSpace(m.before()) != "":
		return here, "problem.yaml-after-quote"
	case m.says("expected key"), m.says("'-' indicator"):
		return here, "problem.yaml-indent"
	}
	return here, "problem.yaml"
}

// mark is the character at which the library gave up.
func (m *mistake) mark() string {
	line := []rune(m.line(m.Mark.Line))
	at := m.Mark.Column - 1
	if m.says("comment or line break") {
		at = m.ContextMark.Column - 1
	}
	if at < 0 || at >= len(line) {
		return ""
	}
	return string(line[at])
}

// before is what stands on the line before the place where it gave up.
func (m *mistake) before() string {
	line := []rune(m.line(m.Mark.Line))
	return string(line[:min(max(m.Mark.Column-1, 0), len(line))])
}

var noSpaceAfter = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*(?:-\s+)*[A-Za-z_]+:[^\s/]`) })

// tightColon is the line, this one or the one above it, on which a field's
// colon has no space after it; 0 if neither.
func (m *mistake) tightColon(here int) int {
	above := here - 1
	for above > 0 && strings.TrimSpace(m.line(above)) == "" {
		above--
	}
	for _, n := range []int{here, above} {
		if noSpaceAfter().MatchString(m.line(n)) {
			return n
		}
	}
	return 0
}

var endMark = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(\.\.\.|---|%)`) })

// earlyEnd is the line that YAML takes for the end of everything.
func (m *mistake) earlyEnd() int {
	for n := range m.lines {
		if n > 0 && n < len(m.lines)-1 && endMark().MatchString(m.lines[n]) && strings.TrimSpace(m.lines[n]) != "---" {
			return n + 1
		}
	}
	return 0
}
