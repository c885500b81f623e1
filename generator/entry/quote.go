package entry

import (
	"regexp"
	"strings"
	"sync"
	"unicode"
)

// tidy is a text as a file can hold it: LF line ends, valid UTF-8, and without
// the characters that nobody sees and that no reader of the folder takes.
func tidy(s string) string {
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

// text is a value that is text: plain where every reader of YAML, of version
// 1.1 as of 1.2, takes it for this very text, in a block as between brackets;
// in double quotes everywhere else.
func text(s string) string {
	s = strings.TrimSpace(tidy(s))
	if s == "" || plain(s) {
		return s
	}
	return quoted(s)
}

func quoted(s string) string {
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

// value is a number, a date, an amount or a reading: bare where it can be.
func value(s string) string {
	if s = strings.TrimSpace(s); bare().MatchString(s) {
		return s
	}
	return text(s)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

// said is an answer of yes or no as a person writes it, without quotes; what is
// none stays as it was typed, for the reader to tell of.
func said(s string) string {
	if answer := strings.TrimSpace(s); answer == "yes" || answer == "no" {
		return answer
	}
	return text(s)
}

// entered is what goes into a field of a bench test: a reading, a number, a word,
// or yes or no.
func entered(s string) string {
	if written := said(s); written == "yes" || written == "no" {
		return written
	}
	return value(s)
}

// list is some texts between square brackets, nothing where there are none.
func list(texts []string) string { return listOf(texts, text) }

func listOf(texts []string, write func(string) string) string {
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

// flow is one item between curly brackets: names and written values in turn,
// without those that have no value.
func flow(pairs ...string) string {
	var parts []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			parts = append(parts, pairs[i]+": "+pairs[i+1])
		}
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
