package logbook

import (
	"iter"
	"strings"
	"unicode"
	"unicode/utf8"
)

// hidden are the characters of a text that nobody sees, or that only turn the text
// around them, each with its place in bytes. They are those that Unicode says to show
// nothing for (Default_Ignorable_Code_Point of its file DerivedCoreProperties.txt) and
// the empty Braille pattern. Two names that differ by such a one look the same.
//
// Some are needed: a joiner between letters of scripts that join or between the parts
// of an emoji, and a selector after the sign that it chooses the form of.
func hidden(text string) iter.Seq2[int, rune] {
	return func(yield func(int, rune) bool) {
		before, base := rune(0), rune(0) // base is the last that stands by itself
		for i, r := range text {
			switch {
			case !ignorable(r):
				base = r
			case needed(r, before, base):
			case !yield(i, r):
				return
			}
			before = r
		}
	}
}

// ShowHidden is a text with what nobody sees in it written out, as in [U+200B]. The
// isolates that the program itself puts around names stay; no log can hold one.
func ShowHidden(text string) string {
	if ascii(text) {
		return text
	}
	var b strings.Builder
	done := 0
	for i, r := range hidden(text) {
		if r >= 0x2066 && r <= 0x2069 {
			continue
		}
		b.WriteString(text[done:i] + "[" + codePoint(r) + "]")
		done = i + utf8.RuneLen(r)
	}
	return b.String() + text[done:]
}

// WithoutHidden is a text without what nobody sees in it, as a name has to be.
func WithoutHidden(text string) string {
	var b strings.Builder
	done := 0
	for i, r := range hidden(text) {
		b.WriteString(text[done:i])
		done = i + utf8.RuneLen(r)
	}
	return b.String() + text[done:]
}

// ignorable tells whether a character shows nothing by itself.
func ignorable(r rune) bool {
	switch {
	case r < 0x80:
		return false
	case r == 0x2800:
		return true
	case r >= 0xfff9 && r <= 0xfffb, r >= 0x13430 && r <= 0x13440, unicode.Is(unicode.Prepended_Concatenation_Mark, r):
		return false // these show
	}
	return unicode.In(r, unicode.Cf, unicode.Other_Default_Ignorable_Code_Point, unicode.Variation_Selector)
}

// needed tells whether such a character does something that is seen, after the one
// before it.
func needed(r, before, base rune) bool {
	symbol := unicode.In(base, unicode.So, unicode.Sk)
	switch {
	case r == 0x200c || r == 0x200d:
		if symbol {
			return r == 0x200d && (before == base || before == 0xfe0f)
		}
		return before == base && unicode.In(base, unicode.L, unicode.M) && !unicode.In(base, unicode.Latin, unicode.Greek, unicode.Cyrillic, unicode.Hangul)
	case unicode.Is(unicode.Variation_Selector, r):
		return before == base && (symbol || unicode.In(base, unicode.Han, unicode.Mongolian, unicode.Myanmar, unicode.Phags_Pa))
	}
	return false
}

// seenText is text that tells one thing from another, such as a name or a place, so
// that all of it has to be seen. It is one line: in the text to paste, what follows on
// lines of its own would read as the program's.
func (f *mapping) seenText(name string) string {
	text := strings.Join(strings.Fields(f.text(name)), " ")
	for at, r := range hidden(text) {
		f.report(name, "problem.hidden-character", "code", codePoint(r), "place", utf8.RuneCountInString(text[:at])+1)
		break // one is enough to have the whole text typed anew
	}
	return text
}

// nameSeen tells whether a text has a letter or a digit that can be seen.
func nameSeen(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return (unicode.IsLetter(r) || unicode.IsNumber(r)) && !ignorable(r) })
}

func ascii(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII })
}
