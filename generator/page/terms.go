package page

import (
	"cmp"
	"html"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"asleft/generator/catalog"
)

// terms finds words of the trade in running text.
type terms struct {
	// byWord are the forms that begin with that word, lower case, longest first.
	byWord map[string][]form
}

type form struct{ text, id string }

func newTerms(glossary []catalog.Term) *terms {
	t := &terms{byWord: map[string][]form{}}
	for _, term := range glossary {
		for _, f := range append([]string{term.Term}, term.Also...) {
			f = strings.ToLower(f)
			w := f[:wordEnd(f)]
			t.byWord[w] = append(t.byWord[w], form{f, term.ID()})
		}
	}
	for _, forms := range t.byWord {
		slices.SortFunc(forms, func(a, b form) int {
			return cmp.Or(cmp.Compare(len(b.text), len(a.text)), cmp.Compare(a.text, b.text))
		})
	}
	return t
}

// link escapes plain text for HTML and makes the first use of each term on the
// page a link into the glossary at that address.
func (t *terms) link(plain, address string, linked map[string]bool) string {
	var b strings.Builder
	for len(plain) > 0 {
		n := wordEnd(plain)
		if n == 0 { // not a letter
			_, size := utf8.DecodeRuneInString(plain)
			b.WriteString(html.EscapeString(plain[:size]))
			plain = plain[size:]
			continue
		}
		if f, ok := t.at(plain, n, linked); ok {
			linked[f.id] = true
			b.WriteString(`<a class="word" href="` + html.EscapeString(address) + `#` + f.id + `">` + html.EscapeString(plain[:len(f.text)]) + `</a>`)
			plain = plain[len(f.text):]
			continue
		}
		b.WriteString(html.EscapeString(plain[:n]))
		plain = plain[n:]
	}
	return b.String()
}

// at is the longest form that the text begins with, if it ends with a word and
// is not linked yet.
func (t *terms) at(text string, firstWord int, linked map[string]bool) (form, bool) {
	for _, f := range t.byWord[strings.ToLower(text[:firstWord])] {
		if len(text) < len(f.text) || !strings.EqualFold(text[:len(f.text)], f.text) {
			continue
		}
		next, _ := utf8.DecodeRuneInString(text[len(f.text):])
		if len(text) > len(f.text) && (unicode.IsLetter(next) || unicode.IsDigit(next)) {
			continue
		}
		return f, !linked[f.id]
	}
	return form{}, false
}

// wordEnd is how many bytes of letters the text begins with.
func wordEnd(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return i
		}
	}
	return len(s)
}
