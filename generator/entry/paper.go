package entry

import (
	"bytes"
	"strings"
)

// A paper is a file while it is written.
type paper struct{ bytes.Buffer }

func (p *paper) line(s string) {
	p.WriteString(s)
	p.WriteByte('\n')
}

// row writes a field; nothing where it has no value.
func (p *paper) row(r row) {
	if len(r.items) > 0 {
		p.line(r.name + ":")
		for _, i := range r.items {
			p.line("  - " + i)
		}
		return
	}
	if r.written != "" {
		p.line(r.name + ": " + r.written)
	}
}

// close ends the fields and writes the story below them.
func (p *paper) close(body string) []byte {
	p.line("---")
	lines := strings.Split(tidy(body), "\n")
	for len(lines) > 0 && strings.TrimSpace(lines[0]) == "" {
		lines = lines[1:]
	}
	if story := strings.TrimSpace(strings.Join(lines, "\n")); story != "" {
		p.line("\n" + strings.TrimRight(strings.Join(lines, "\n"), " \t\n"))
	}
	return p.Bytes()
}

// comment writes a remark, a text of several lines as several.
func (p *paper) comment(s string) {
	for line := range strings.SplitSeq(strings.TrimRight(tidy(s), "\n"), "\n") {
		p.line(strings.TrimRight("# "+line, " "))
	}
}

// block is a text of several lines, which stands indented below its field. One
// that indenting could change, or that holds a line of three hyphens, goes in
// quotes as any other text.
func block(s string) string {
	s = strings.TrimSpace(tidy(s))
	lines := strings.Split(s, "\n")
	if len(lines) == 1 {
		return text(s)
	}
	for _, line := range lines {
		if trimmed := strings.TrimSpace(line); trimmed != line || trimmed == "---" || strings.Contains(line, "\t") {
			return text(s)
		}
	}
	return strings.ReplaceAll("|\n  "+strings.Join(lines, "\n  "), "\n  \n", "\n\n")
}
