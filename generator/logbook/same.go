package logbook

import (
	"slices"
	"strings"
	"unicode"

	"asleft/generator/spelling"
)

// Same tells whether two texts are the same words: case, spacing, hyphens and
// punctuation aside.
func Same(one, other string) bool { return one == other || Folded(one) == Folded(other) }

// Folded is a text by its words alone, in small letters with one space between:
// two texts are the same words where their folded forms are equal.
func Folded(text string) string {
	return strings.Join(wordsOf(text), " ")
}

// wordsOf are the letters and digits of a text in small letters, by word.
func wordsOf(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.Is(unicode.Mn, r)
	})
}

// SameNumber tells whether two names are the same but for case, spacing and
// number: singular or plural.
func SameNumber(one, other string) bool {
	return strings.TrimSuffix(joined(one), "s") == strings.TrimSuffix(joined(other), "s")
}

// joined is a name with nothing between its words.
func joined(name string) string { return strings.Join(wordsOf(name), "") }

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
