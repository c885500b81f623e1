package logbook

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"asleft/generator/spelling"
)

// Same tells whether two texts are the same words: case, spacing, hyphens and
// punctuation aside. Names are compared so often that this builds no text: most
// differ at the first letter.
func Same(one, other string) bool {
	if one == other {
		return true
	}
	a, b := folding{rest: one}, folding{rest: other}
	for {
		r, more := a.next()
		q, left := b.next()
		if r != q || more != left {
			return false
		}
		if !more {
			return true
		}
	}
}

// Folded is a text by its words alone, in small letters with one space between:
// two texts are the same words where their folded forms are equal.
func Folded(text string) string {
	var b strings.Builder
	b.Grow(len(text))
	f := folding{rest: text}
	for r, more := f.next(); more; r, more = f.next() {
		b.WriteRune(r)
	}
	return b.String()
}

// wordsOf are the letters and digits of a text in small letters, by word.
func wordsOf(text string) []string { return strings.Fields(Folded(text)) }

// A folding goes through the folded form of a text letter by letter.
type folding struct {
	rest    string
	started bool // a word has begun
}

// next is the next letter, digit or space between words; more is false at the end.
func (f *folding) next() (r rune, more bool) {
	gap := false
	for n, r := range f.rest {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r) {
			gap = true
			continue
		}
		if gap && f.started {
			f.rest = f.rest[n:]
			f.started = false // the space is told; the word begins with the next call
			return ' ', true
		}
		f.started = true
		f.rest = f.rest[n+utf8.RuneLen(r):]
		return unicode.ToLower(r), true
	}
	f.rest = ""
	return 0, false
}

// SameNumber tells whether two names are the same but for case, spacing and
// number: singular or plural.
func SameNumber(one, other string) bool {
	return strings.TrimSuffix(joined(one), "s") == strings.TrimSuffix(joined(other), "s")
}

// joined is a name with nothing between its words.
func joined(name string) string { return strings.ReplaceAll(Folded(name), " ", "") }

// fewWords is how many words say something; fewer than that do where there is a
// number among them.
const fewWords = 3

// Telling tells whether a text says something: three words or more, or a
// number. "ok", "n/a" and a dash do not.
func Telling(text string) bool {
	return len(wordsOf(text)) >= fewWords || strings.ContainsFunc(text, unicode.IsDigit)
}

// Known tells whether a name is the same as one of some.
func Known(name string, names []string) bool {
	return slices.ContainsFunc(names, func(n string) bool { return Same(n, name) })
}

// OneLetterFrom is the first known name that is one letter from a name, in any
// case: one letter put in, left out, mistaken or swapped with its neighbor. It is
// "" when there is none.
func OneLetterFrom(name string, known []string) string {
	for _, k := range known {
		if spelling.Slips(joined(name), joined(k)) == 1 {
			return k
		}
	}
	return ""
}
