package condition

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A saying is whole sentences on their way to becoming what is told.
type saying struct {
	j         *judge
	sentences []string
}

func (j *judge) saying() *saying { return &saying{j: j} }

// say adds a sentence of the catalog, once.
func (s *saying) say(key string, pairs ...any) *saying {
	if text := s.j.words.Say(key, pairs...); !slices.Contains(s.sentences, text) {
		s.sentences = append(s.sentences, text)
	}
	return s
}

// sayIf adds a sentence around a text of the log, unless the text is empty.
func (s *saying) sayIf(text, key, name string) {
	if text != "" {
		s.say(key, name, clause(text))
	}
}

func (s *saying) text() string { return strings.Join(s.sentences, " ") }

// clause is the mechanic's own text made fit to stand inside a sentence: one
// line, without the period that the sentence brings itself.
func clause(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	return strings.TrimRight(text, ".;, ")
}

// Opening is the mechanic's own text made fit to begin a sentence.
func Opening(text string) string {
	text = clause(text)
	r, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[size:]
}
