package frontmatter

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"

	"asleft/generator/frontmatter/yamlvalue"
)

// What a file may weigh, and how deep its fields may nest: as package logbook
// has it.
const (
	maxFile  = 2 << 20
	maxFront = 64 << 10
	maxDepth = 12
)

const byteOrderMark = "\xef\xbb\xbf"

// A span is a part of a text.
type span struct{ start, end int }

// sound is the text of a file, with LF line ends. It refuses what package logbook
// refuses, so that no file is changed that nobody can read.
func sound(data []byte) (lines, error) {
	if len(data) > maxFile {
		return lines{}, hinders(0, "problem.file-too-big", "max", "2 MB")
	}
	text := split(string(data))
	line := 1
	for i := 0; i < len(text.text); {
		r, size := utf8.DecodeRuneInString(text.text[i:])
		switch {
		case r == utf8.RuneError && size == 1:
			return lines{}, hinders(line, "problem.not-utf8")
		case r == '\n':
			line++
		case unseen(r):
			return lines{}, hinders(line, "problem.control-character", "code", fmt.Sprintf("U+%04X", r))
		}
		i += size
	}
	return text, nil
}

// unseen tells whether a character is one that no reader of the folder takes.
func unseen(r rune) bool {
	return r >= 0x7f && yamlvalue.Tidy(string(r)) != string(r) || r < ' ' && r != '\n' && r != '\t'
}

// delimited finds the front matter between the two lines of hyphens, and where
// the text below begins. A line is trimmed of every kind of space, as the readers
// do.
func delimited(text string) (front span, body int, err error) {
	opening, line, at := 0, 0, 0
	for raw := range strings.Lines(text) {
		line++
		start := at
		at += len(raw)
		trimmed := strings.TrimSpace(raw)
		rule, flush := trimmed == "---", strings.HasPrefix(raw, "---")
		switch {
		case opening == 0 && trimmed == "":
		case opening == 0 && rule && flush:
			opening, front.start = line, at
		case opening == 0 && trimmed == "+++":
			return front, 0, hinders(line, "problem.toml")
		case opening == 0:
			return front, 0, hinders(line, "problem.no-front-matter")
		case rule && !flush:
			return front, 0, hinders(line, "problem.indented-rule")
		case rule && start-front.start > maxFront:
			return front, 0, hinders(opening, "problem.front-matter-too-big", "max", "64 kB")
		case rule:
			front.end = start
			return front, at, nil
		}
	}
	if opening == 0 {
		return front, 0, hinders(1, "problem.no-front-matter")
	}
	return front, 0, hinders(opening, "problem.unclosed-front-matter")
}

func onlyComments(block string) bool {
	for line := range strings.Lines(block) {
		if line = strings.TrimSpace(line); line != "" && line[0] != '#' {
			return false
		}
	}
	return true
}

// gaveUp is how many lines below the first the reader of YAML gave up.
func gaveUp(err error) int {
	var all *yaml.LoadErrors
	var one *yaml.LoadError
	switch {
	case errors.As(err, &all) && len(all.Errors) > 0:
		one = all.Errors[0]
	case !errors.As(err, &one):
		return 0
	}
	return max(one.Mark.Line-1, 0)
}
