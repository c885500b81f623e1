package page

import (
	"cmp"
	"html"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"asleft/generator/catalog"
	"asleft/generator/portable"
)

// terms finds words of the trade in running text.
type terms struct {
	// byWord are the spellings that begin with that word, lower case, longest
	// first.
	byWord map[string][]spelling
	// lengths has a bit for each length of a word of byWord, by the word's first
	// two letters: nearly all words of a text need no further look.
	lengths [32 * 32]uint64
}

type spelling struct{ text, id string }

func newTerms(glossary []catalog.Term) *terms {
	t := &terms{byWord: map[string][]spelling{}}
	for _, term := range glossary {
		for _, f := range append([]string{term.Term}, term.Also...) {
			f = strings.ToLower(f)
			w := f[:wordEnd(f)]
			t.byWord[w] = append(t.byWord[w], spelling{f, portable.Slug(term.Term)})
			if w != "" {
				t.lengths[firstTwo(w)] |= lengthBit(w)
			}
		}
	}
	for _, forms := range t.byWord {
		slices.SortFunc(forms, func(a, b spelling) int {
			return cmp.Or(cmp.Compare(len(b.text), len(a.text)), cmp.Compare(a.text, b.text))
		})
	}
	return t
}

// firstTwo stands for a word's first two letters, small or capital: in ASCII
// they have the last five bits in common.
func firstTwo(word string) int {
	return int(word[0]&31)<<5 | int(word[min(1, len(word)-1)]&31)
}

// lengthBit stands for a word's length; all long ones share a bit.
func lengthBit(word string) uint64 { return 1 << min(len(word), 63) }

// link escapes plain text for HTML and makes the first use of each term on the
// page a link into the glossary at that address.
func (t *terms) link(plain, address string, linked map[string]bool) string {
	var b strings.Builder
	done := 0 // what of the text is written
	for at := 0; at < len(plain); {
		n := wordEnd(plain[at:])
		if n == 0 { // not a letter
			_, n = utf8.DecodeRuneInString(plain[at:])
		} else if f, ok := t.at(plain[at:], n, linked); ok {
			linked[f.id] = true
			b.WriteString(html.EscapeString(plain[done:at]))
			n = len(f.text)
			b.WriteString(`<a class="word" href="` + html.EscapeString(address) + `#` + f.id + `">` + html.EscapeString(plain[at:at+n]) + `</a>`)
			done = at + n
		}
		at += n
	}
	if done == 0 {
		return html.EscapeString(plain)
	}
	b.WriteString(html.EscapeString(plain[done:]))
	return b.String()
}

// at is the longest spelling that the text begins with, if it ends with a word
// and is not linked yet.
func (t *terms) at(text string, firstWord int, linked map[string]bool) (spelling, bool) {
	for _, f := range t.beginning(text[:firstWord]) {
		if len(text) < len(f.text) || !strings.EqualFold(text[:len(f.text)], f.text) {
			continue
		}
		next, _ := utf8.DecodeRuneInString(text[len(f.text):])
		if len(text) > len(f.text) && (unicode.IsLetter(next) || unicode.IsDigit(next)) {
			continue
		}
		return f, !linked[f.id]
	}
	return spelling{}, false
}

// beginning are the spellings that begin with a word.
func (t *terms) beginning(word string) []spelling {
	// A letter outside ASCII may be of another length in lower case.
	if t.lengths[firstTwo(word)]&lengthBit(word) == 0 && isASCII(word) {
		return nil
	}
	return t.byWord[strings.ToLower(word)]
}

func isASCII(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r > unicode.MaxASCII })
}

// wordEnd is how many bytes of letters the text begins with.
func wordEnd(s string) int {
	for i := range len(s) {
		switch c := s[i]; {
		case 'a' <= c && c <= 'z', 'A' <= c && c <= 'Z', '0' <= c && c <= '9':
		case c < utf8.RuneSelf:
			return i
		default:
			return i + wideWordEnd(s[i:])
		}
	}
	return len(s)
}

// wideWordEnd is wordEnd where letters may be of any script.
func wideWordEnd(s string) int {
	for i, r := range s {
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return i
		}
	}
	return len(s)
}
