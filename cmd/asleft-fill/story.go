package main

import (
	"fmt"
	"strings"
	"unicode"
)

// title is an entry's title; the number keeps file names of one machine apart
// from each other even on one day.
func (t *teller) title() string {
	if t.now == 0 {
		return "First look"
	}
	return capital(filled(t.chance, one(t.chance, titles)))
}

// story is the body of an entry: a few hundred words.
func (t *teller) story() string {
	var b strings.Builder
	for _, f := range t.troubles {
		if f.done != t.now {
			continue
		}
		fmt.Fprintf(&b, "The %s first, because it had waited long enough. %s %s\n\n", f.words(), t.sentence(), t.sentence())
	}
	for i := range t.between(4, 7) {
		switch {
		case i == 2 && t.once(4):
			b.WriteString(t.steps())
		case i == 3 && t.once(9):
			fmt.Fprintf(&b, "> %s\n\n", t.sentence())
		case i == 3 && t.once(9):
			fmt.Fprintf(&b, "## %s\n\n", capital(filled(t.chance, one(t.chance, titles))))
		}
		b.WriteString(t.paragraph(t.between(3, 7)))
		b.WriteString("\n\n")
		if i == 0 && len(t.photos) > 0 {
			fmt.Fprintf(&b, "![%s of %s](%s)\n\n", one(t.chance, views), one(t.chance, nouns), t.photos[0])
		}
	}
	return strings.TrimSuffix(b.String(), "\n")
}

// steps is a list of what to do next.
func (t *teller) steps() string {
	var b strings.Builder
	b.WriteString("What is left to do:\n\n")
	for n := range t.between(3, 5) {
		fmt.Fprintf(&b, "%d. %s\n", n+1, t.sentence())
	}
	b.WriteString("\n")
	return b.String()
}

func (t *teller) paragraph(sentences int) string {
	var parts []string
	for range sentences {
		parts = append(parts, t.sentence())
	}
	return strings.Join(parts, " ")
}

func (t *teller) sentence() string { return capital(filled(t.chance, one(t.chance, sentences))) }

// capital makes a first small letter a large one, past a mark of emphasis.
func capital(s string) string {
	if i := strings.IndexFunc(s, unicode.IsLetter); i == 0 || i == 1 && s[0] == '*' {
		return s[:i] + strings.ToUpper(s[i:i+1]) + s[i+1:]
	}
	return s
}

// filled puts a word in each {slot} of a pattern. A slot's words may have slots
// of their own.
func filled(pick chance, pattern string) string {
	before, rest, found := strings.Cut(pattern, "{")
	if !found {
		return pattern
	}
	name, after, _ := strings.Cut(rest, "}")
	if name == "n" {
		return before + fmt.Sprint(pick.between(2, 40)) + filled(pick, after)
	}
	return before + filled(pick, one(pick, slots[name])) + filled(pick, after)
}
