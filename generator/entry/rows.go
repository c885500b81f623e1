package entry

import (
	"bytes"
	"strings"

	"asleft/generator/frontmatter/yamlvalue"
)

// A logFile is a file while it is written.
type logFile struct{ bytes.Buffer }

func (f *logFile) line(s string) {
	f.WriteString(s)
	f.WriteByte('\n')
}

// row writes a field; nothing where it has no value.
func (f *logFile) row(r row) {
	if len(r.items) > 0 {
		f.line(r.name + ":")
		for _, i := range r.items {
			f.line("  - " + i)
		}
		return
	}
	if r.written != "" {
		f.line(r.name + ": " + r.written)
	}
}

// close ends the fields and writes the story below them.
func (f *logFile) close(body string) []byte {
	f.line("---")
	lines := strings.Split(yamlvalue.Tidy(body), "\n")
	for len(lines) > 0 && strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	}
	if story := strings.TrimSpace(strings.Join(lines, "\n")); story != "" {
		f.line("\n" + strings.TrimRight(strings.Join(lines, "\n"), " \t\n"))
	}
	return f.Bytes()
}

// comment writes a remark, a text of several lines as several.
func (f *logFile) comment(s string) {
	for line := range strings.SplitSeq(strings.TrimRight(yamlvalue.Tidy(s), "\n"), "\n") {
		f.line(strings.TrimRight("# "+line, " "))
	}
}

// How the values of a row are written, by short names: a row is read at a glance.
var (
	text   = yamlvalue.Text
	value  = yamlvalue.Value
	yes    = yamlvalue.Yes
	answer = yamlvalue.Answer
	list   = yamlvalue.List
	block  = yamlvalue.Block
	flow   = yamlvalue.Flow
)
