package page

import (
	"testing"

	"asleft/generator/catalog"
	"asleft/generator/portable"
)

// Each word of the glossary has an address of its own.
func TestWordsHaveAddresses(t *testing.T) {
	terms, err := catalog.Words()
	if err != nil {
		t.Fatal(err)
	}
	taken := map[string]string{"": "nothing"}
	for _, term := range terms {
		id := portable.Slug(term.Term)
		if other, there := taken[id]; there {
			t.Errorf("%s has the address of %s", term.Term, other)
		}
		taken[id] = term.Term
	}
}
