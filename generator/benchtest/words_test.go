package benchtest

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/catalog"
)

// Each test is explained to a buyer on the page of words.
func TestEachTestIsInTheGlossary(t *testing.T) {
	terms, err := catalog.Words()
	if err != nil {
		t.Fatal(err)
	}
	var forms []string
	for _, term := range terms {
		for _, f := range append([]string{term.Term}, term.Also...) {
			forms = append(forms, strings.ToLower(f))
		}
	}
	for _, k := range Kinds() {
		if !slices.ContainsFunc(append([]string{k.Name}, k.Also...), func(name string) bool { return slices.Contains(forms, name) }) {
			t.Errorf("no word explains the test %q", k.Name)
		}
	}
}
