package catalog

import (
	"fmt"
	"sort"
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
}

// Say returns the sentence of that key with its places filled in. The pairs
// are a place's name and its value, in turn: Say("check.works", "item", item).
// A key that the catalog lacks comes back in brackets, so that a reader sees
// that something is missing where a blank would hide it.
func (c *Catalog) Say(key string, pairs ...any) string {
	text, ok := c.Sentences[key]
	if !ok {
		return "[" + key + "]"
	}
	return fill(text, pairs)
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
func fill(text string, pairs []any) string {
	if !strings.Contains(text, "{") {
		return text
	}
	var b strings.Builder
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			break
		}
		end := strings.IndexByte(text[open:], '}')
		if end < 0 {
			break
		}
		b.WriteString(text[:open])
		b.WriteString(value(text[open+1:open+end], pairs))
		text = text[open+end+1:]
	}
	b.WriteString(text)
	return b.String()
}

func value(name string, pairs []any) string {
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == name {
			return fmt.Sprint(pairs[i+1])
		}
	}
	return "{" + name + "}"
}

// Places are the names of the places in a sentence, in order of appearance.
func Places(text string) []string {
	var names []string
	for {
		open := strings.IndexByte(text, '{')
		if open < 0 {
			return names
		}
		end := strings.IndexByte(text[open:], '}')
		if end < 0 {
			return names
		}
		names = append(names, text[open+1:open+end])
		text = text[open+end+1:]
	}
}
