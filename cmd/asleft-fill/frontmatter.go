package main

import (
	"fmt"
	"strconv"
	"strings"
)

// A sheet of paper being written: front matter, then the body.
type paper struct {
	strings.Builder
}

func newPaper() *paper {
	p := &paper{}
	p.WriteString("---\n")
	return p
}

// field writes a field with a value that is YAML already.
func (p *paper) field(name, value string) { fmt.Fprintf(p, "%s: %s\n", name, value) }

// text writes a field of plain text, unless there is none.
func (p *paper) text(name, value string) {
	if value != "" {
		p.field(name, quoted(value))
	}
}

// list writes a field that is a list of lines, unless there is none.
func (p *paper) list(name string, items []string) {
	if len(items) == 0 {
		return
	}
	fmt.Fprintf(p, "%s:\n", name)
	for _, i := range items {
		fmt.Fprintf(p, "  - %s\n", i)
	}
}

// file closes the front matter and adds the body.
func (p *paper) file(path, body string) file {
	p.WriteString("---\n\n")
	p.WriteString(body)
	return file{path: path, data: []byte(p.String()), body: len(body)}
}

// quoted is a text as a YAML value: bare where that is safe, as a person would
// write it, else in double quotes. Our own texts have no control characters.
func quoted(s string) string {
	plain := s != "" && !strings.ContainsAny(s, ":#{}[],&*!|>'\"%@`<=") && s == strings.TrimSpace(s)
	if plain && (s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z') {
		return s
	}
	return strconv.Quote(s)
}

// pair is a field of a line of a list.
type pair struct{ name, value string }

// line is a list item in braces. Fields without a value are left out.
func line(pairs ...pair) string {
	var parts []string
	for _, p := range pairs {
		if p.value != "" {
			parts = append(parts, p.name+": "+quoted(p.value))
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// more is a line with one more field, whose value is YAML already; the line
// itself where there is none.
func more(line, name, value string) string {
	if value == "" {
		return line
	}
	return line[:len(line)-1] + ", " + name + ": " + value + "}"
}

// names is a list between square brackets, nothing where there is none.
func names(all []string) string {
	if len(all) == 0 {
		return ""
	}
	var written []string
	for _, one := range all {
		written = append(written, quoted(one))
	}
	return "[" + strings.Join(written, ", ") + "]"
}

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// yes is nothing where it is not so.
func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// fixed is n hundredths, thousandths and so on as a decimal.
func fixed(n, decimals int) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	digits := fmt.Sprintf("%0*d", decimals+1, n)
	if decimals == 0 {
		return sign + digits
	}
	cut := len(digits) - decimals
	return sign + digits[:cut] + "." + digits[cut:]
}

// money is an amount of that many cents.
func money(cents int) string { return fixed(cents, 2) }
