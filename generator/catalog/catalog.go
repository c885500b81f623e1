package catalog

import (
	"fmt"
	"sort"
	"strconv"
	"strings"
)

// A Catalog is one language's sentences.
type Catalog struct {
	// Lang is the BCP 47 tag of the language, as a page's lang attribute has it.
	Lang string
	// Form names the plural form that a count takes: "one" or "other" in English.
	Form func(n int) string
	// Sentences are the texts by key.
	Sentences map[string]string
	// dayFirst puts the day before the month, as most regions do.
	dayFirst bool
	// year is the one that goes without saying; 0 for none.
	year int
	// withYears keeps any year from going without saying.
	withYears bool
}

// Say returns the sentence of that key with its places filled in. The pairs
// are a place's name and its value, in turn: Say("check.works", "item", item).
// A key that the catalog lacks comes back in brackets, so that a reader sees
// that something is missing where a blank would hide it. A value that runs from
// right to left is kept apart from the sentence, by U+2068 and U+2069 around it.
func (c *Catalog) Say(key string, pairs ...any) string {
	text, ok := c.Sentences[key]
	if !ok {
		return "[" + key + "]"
	}
	return fill(text, func(place string) string { return value(place, pairs) })
}

// Count is Say for a sentence that depends on a number: the key's form for n
// is used, and {n} is filled in with it.
func (c *Catalog) Count(key string, n int, pairs ...any) string {
	return c.Say(key+"."+c.Form(n), append([]any{"n", n}, pairs...)...)
}

// Has tells whether the catalog has a sentence of that key.
func (c *Catalog) Has(key string) bool {
	_, ok := c.Sentences[key]
	return ok
}

// Keys are the catalog's keys, sorted.
func (c *Catalog) Keys() []string {
	keys := make([]string, 0, len(c.Sentences))
	for k := range c.Sentences {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// fill puts the values into their places. It goes over the text once, so that
// a value holding braces is never taken for a place.
func fill(text string, value func(place string) string) string {
	if strings.IndexByte(text, '{') < 0 {
		return text
	}
	var room [256]byte // enough for most, and then only the string itself is made
	out := room[:0]
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		end := strings.IndexByte(text[open:], '}')
		if end < 0 {
			break
		}
		out = append(out, text[:open]...)
		out = append(out, value(text[open+1:open+end])...)
		text = text[open+end+1:]
	}
	return string(append(out, text...))
}

func value(place string, pairs []any) string {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == place {
			return isolated(shown(pairs[i+1]))
		}
	}
	return "{" + place + "}"
}

// shown is a value as fmt shows it, which for the most common needs no fmt.
func shown(value any) string {
	switch v := value.(type) {
	case string:
		return v
	case int:
		return strconv.Itoa(v)
	}
	return fmt.Sprint(value)
}
