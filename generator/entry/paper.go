package entry

import (
	"bytes"
	"strings"

	"asleft/generator/yamltext"
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
	lines := strings.Split(yamltext.Tidy(body), "\n")
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
	for line := range strings.SplitSeq(strings.TrimRight(yamltext.Tidy(s), "\n"), "\n") {
		p.line(strings.TrimRight("# "+line, " "))
	}
}

// How the values of a row are written, by short names: a row is read at a glance.
var (
	text   = yamltext.Text
	value  = yamltext.Value
	yes    = yamltext.Yes
	answer = yamltext.Answer
	list   = yamltext.List
	block  = yamltext.Block
	flow   = yamltext.Flow
)
