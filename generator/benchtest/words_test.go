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
	for _, term := range Glossary(terms, catalog.English) {
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

// The glossary stays in its order, with no form twice.
func TestGlossaryWithTheTests(t *testing.T) {
	terms, err := catalog.Words()
	if err != nil {
		t.Fatal(err)
	}
	all := Glossary(terms, catalog.English)
	if len(all) <= len(terms) || !slices.IsSortedFunc(all, func(a, b catalog.Term) int {
		return strings.Compare(strings.ToLower(a.Term), strings.ToLower(b.Term))
	}) {
		t.Errorf("%d terms of %d", len(all), len(terms))
	}
	seen := map[string]bool{}
	for _, term := range all {
		for _, f := range append([]string{term.Term}, term.Also...) {
			if seen[strings.ToLower(f)] {
				t.Errorf("%q stands twice", f)
			}
			seen[strings.ToLower(f)] = true
		}
	}
}
