package logbook

import (
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"asleft/generator/spelling"
)

// Same tells whether two texts are the same words and signs: case, spacing, hyphens
// and punctuation aside. Names are compared so often that this builds no text: most
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
func wordsOf(text string) []string {
	return strings.FieldsFunc(Folded(text), func(r rune) bool { return !inWord(r) })
}

// A folding goes through the folded form of a text letter by letter. A sign that makes
// another thing of a name or a value (+ cable, -5 A, < 1 mm) is a word of its own.
type folding struct {
	rest   string
	before rune // what stood before the rest, 0 at the beginning
	told   rune // what was told last, 0 for nothing
	gap    bool // something was passed over since
}

// next is the next letter, digit or sign, or a space between words; more is false at
// the end.
func (f *folding) next() (r rune, more bool) {
	for n, r := range f.rest {
		sign := signIn(f.before, r, f.rest[n+1:])
		if sign == 0 && !inWord(r) {
			f.before, f.gap = r, true
			continue
		}
		if f.told != 0 && f.told != ' ' && (f.gap || sign != 0 || !inWord(f.told)) {
			f.rest, f.told = f.rest[n:], ' '
			return ' ', true
		}
		f.rest, f.before, f.gap = f.rest[n+utf8.RuneLen(r):], r, false
		if f.told = sign; sign == 0 {
			f.told = unicode.ToLower(r)
		}
		return f.told, true
	}
	f.rest = ""
	return 0, false
}

// inWord tells whether a rune is of a word: a letter, a mark on one, or a number,
// fractions too.
func inWord(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) || unicode.IsMark(r) }

// signIn is the sign that a rune stands for, 0 where it is none; a hyphen's rest is what
// comes after it. It is minus where nothing stands before it, or nothing between it and
// what follows.
func signIn(before, r rune, rest string) rune {
	switch r {
	case '+', '<', '>':
		return r
	case '\u00b1': // plus-minus
		return '+'
	case '\u2264': // at most
		return '<'
	case '\u2265': // at least
		return '>'
	case '\u2212': // minus
		return '-'
	case '-':
		next, _ := utf8.DecodeRuneInString(rest)
		if before == 0 || inWord(next) && (unicode.IsSpace(before) || before == '(') {
			return r
		}
	}
	return 0
}

// SameNumber tells whether two names are the same but for case, spacing and
// number: singular or plural.
func SameNumber(one, other string) bool {
	return strings.TrimSuffix(joined(one), "s") == strings.TrimSuffix(joined(other), "s")
}

// seenAlike tells whether two names look the same, or differ only in case, spacing or
// number: what nobody sees in them, and letters that look like another, aside.
func seenAlike(one, other string) bool { return SameNumber(seenAs(one), seenAs(other)) }

// seenAs is a text with the letters from a to z that a reader takes its letters for.
func seenAs(text string) string {
	return lookAlikes().Replace(strings.ToLower(norm.NFKC.String(WithoutHidden(text))))
}

// lookAlikes are small letters that look like one from a to z: those of confusables.txt
// (Unicode Technical Standard 39) that are Latin, Greek, Cyrillic or Armenian.
var lookAlikes = sync.OnceValue(func() *strings.Replacer {
	var pairs []string
	for letter, like := range map[string]string{
		"a": "\u0251\u03b1\u0430", "b": "\u0185\u044c\u0432", "c": "\u03f2\u0441\u1d04", "d": "\u0501\u1d05", "e": "\u0435\u04bd\u1d07", "f": "\u0192\u0584\ua730",
		"g": "\u0261\u0581\u0262", "h": "\u04bb\u0570", "i": "\u0131\u0269\u026a\u03b9\u0456", "j": "\u03f3\u0458\u1d0a", "k": "\u0138\u03ba\u043a\u1d0b",
		"l": "\u04cf\u01c0\u029f", "m": "\u043c\u1d0d", "n": "\u03b7\u0578\u057c\u0274", "o": "\u03bf\u03c3\u043e\u0585\u1d0f", "p": "\u03c1\u0440\u1d18",
		"q": "\u051b\u0563", "r": "\u0280\u0433\u1d26\uab47", "s": "\u0455\ua731\u01bd", "t": "\u03c4\u0442\u1d1b", "u": "\u03c5\u057d\u1d1c\u028b", "v": "\u03bd\u0475\u1d20",
		"w": "\u051d\u0461\u0561\u1d21", "x": "\u03c7\u0445", "y": "\u03b3\u0443\u04af\u028f", "z": "\u1d22",
	} {
		for _, r := range like {
			pairs = append(pairs, string(r), letter)
		}
	}
	return strings.NewReplacer(pairs...)
})

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
