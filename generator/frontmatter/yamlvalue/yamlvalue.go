// Package yamlvalue writes values as the YAML that a person would write, such that
// every reader of it, of version 1.1 as of 1.2, takes them for what was meant: bare
// where that is safe, in quotes everywhere else.
//
// What is not done: files and their fields. Those are written by package entry and
// changed in place by package frontmatter.
package yamlvalue

import (
	"regexp"
	"strings"
	"sync"
	"unicode"
)

// Tidy is a text as a file can hold it: LF line ends, valid UTF-8, and without
// the characters that nobody sees and that no reader of the folder takes.
func Tidy(s string) string {
	s = strings.ReplaceAll(strings.ToValidUTF8(s, "\uFFFD"), "\r\n", "\n")
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t':
			return r
		case r == '\r', r == 0x85, r == 0x2028, r == 0x2029:
			return '\n'
		case r < ' ', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0xfeff, r == 0xfffe, r == 0xffff:
			return -1
		}
		return r
	}, s)
}

// Text is a value that is text: plain where every reader of YAML, of version
// 1.1 as of 1.2, takes it for this very text, in a block as between brackets;
// in double quotes everywhere else.
func Text(s string) string {
	if s = strings.TrimSpace(Tidy(s)); s == "" || plain(s) {
		return s
	}
	return Quoted(s)
}

// Quoted is a text in double quotes.
func Quoted(s string) string {
	s = strings.TrimSpace(Tidy(s))
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch r {
		case '"', '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case '\n':
			b.WriteString(`\n`)
		case '\t':
			b.WriteString(`\t`)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// inside are the marks that mean nothing to YAML inside a plain text, beside
// letters and digits.
const inside = " .-_/()+%'=;°µ·±"

// unlikeText are the plain texts that YAML 1.1 or 1.2 takes for a number, a
// date or a time.
var unlikeText = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)^(?:[0-9][0-9_.,:+-]*(?:e[-+]?[0-9.]*)?|0[xob][0-9a-f_]*|[0-9]{4}-[0-9]{1,2}-[0-9]{1,2}[t ].*)$`)
})

var yamlWords = map[string]bool{
	"y": true, "n": true, "yes": true, "no": true, "on": true, "off": true,
	"true": true, "false": true, "null": true, "nan": true, "inf": true,
}

// plain tells whether a text needs no quotes.
func plain(s string) bool {
	for i, r := range s {
		letter := unicode.IsLetter(r) || r >= '0' && r <= '9'
		if !letter && (i == 0 || !unicode.IsMark(r) && !strings.ContainsRune(inside, r)) {
			return false
		}
	}
	return LikeText(s)
}

// bare are the numbers and dates that a person writes without quotes, and that
// mean the same with and without.
var bare = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:0|[1-9][0-9]{0,14})(?:\.[0-9]{1,9})?$|^[0-9]{4}-[0-9]{2}-[0-9]{2}$`)
})

// Value is a number, a date, an amount or a reading: bare where it can be.
func Value(s string) string {
	if s = strings.TrimSpace(s); bare().MatchString(s) {
		return s
	}
	return Text(s)
}

// Yes is yes, or nothing.
func Yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// Answer is an answer of yes or no as a person writes it, without quotes; what is
// none stays as it was typed, for the reader to tell of.
func Answer(s string) string {
	if answer := strings.TrimSpace(s); answer == "yes" || answer == "no" {
		return answer
	}
	return Text(s)
}

// Written is a value of which nothing is known: yes, no, a number or a date bare,
// another as Text.
func Written(s string) string {
	s = Tidy(s)
	if written := Answer(s); written == "yes" || written == "no" {
		return written
	}
	return Value(s)
}

// List is some texts between square brackets, nothing where there are none.
func List(texts []string) string { return ListOf(texts, Text) }

// ListOf is List of values that are written in another way.
func ListOf(texts []string, write func(string) string) string {
	var written []string
	for _, one := range texts {
		if w := write(one); w != "" {
			written = append(written, w)
		}
	}
	if written == nil {
		return ""
	}
	return "[" + strings.Join(written, ", ") + "]"
}

// Flow is one item between curly brackets: names and written values in turn,
// without those that have no value.
func Flow(pairs ...string) string {
	var parts []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			parts = append(parts, pairs[i]+": "+pairs[i+1])
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}

// Block is a text of several lines, which stands indented below its field. One
// that indenting could change, or that holds a line of three hyphens, goes in
// quotes as any other text.
func Block(s string) string {
	s = strings.TrimSpace(Tidy(s))
	lines := strings.Split(s, "\n")
	if len(lines) == 1 {
		return Text(s)
	}
	for _, line := range lines {
		if trimmed := strings.TrimSpace(line); trimmed != line || trimmed == "---" || strings.Contains(line, "\t") {
			return Text(s)
		}
	}
	return strings.ReplaceAll("|\n  "+strings.Join(lines, "\n  "), "\n  \n", "\n\n")
}

// LikeText tells whether no reader of YAML takes a plain text for a number, a
// date or a word that means something.
func LikeText(s string) bool {
	return !unlikeText().MatchString(s) && !yamlWords[strings.ToLower(s)]
}
