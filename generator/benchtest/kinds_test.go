package benchtest

import (
	"slices"
	"strings"
	"testing"

	"asleft/generator/logbook"
)

func TestKindsAreSortedAndKeptApart(t *testing.T) {
	kinds := Kinds()
	if len(kinds) < 37 {
		t.Fatalf("%d kinds", len(kinds))
	}
	if !slices.IsSortedFunc(kinds, func(a, b Kind) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("the kinds are not sorted")
	}
	seen := map[string]string{}
	for _, k := range kinds {
		for _, name := range append([]string{k.Name}, k.Also...) {
			if other := seen[strings.ToLower(name)]; other != "" {
				t.Errorf("%q is a name of %s and of %s", name, other, k.Name)
			}
			seen[strings.ToLower(name)] = k.Name
		}
		if !slices.Contains(logbook.Systems, k.System) {
			t.Errorf("%s: there is no system %q", k.Name, k.System)
		}
		fields := map[string]bool{}
		for _, in := range k.Inputs {
			if fields[in.Name] || in.Name == "test" || in.Name == "where" {
				t.Errorf("%s: the field %s stands twice", k.Name, in.Name)
			}
			fields[in.Name] = true
		}
		if !strings.HasPrefix(k.Example, "{test: "+k.Name+", ") {
			t.Errorf("%s: the example is of another test: %s", k.Name, k.Example)
		}
	}
}

// What is needed has to be in the example, and the example says so of each
// field with a value that the field's own help describes.
func TestExamplesHoldWhatIsNeeded(t *testing.T) {
	for _, k := range Kinds() {
		for _, in := range k.Inputs {
			if in.Needed && !strings.Contains(k.Example, in.Name+": ") {
				t.Errorf("%s: the example lacks %s", k.Name, in.Name)
			}
		}
	}
}

// Each test is found by each of its names, written as people write them.
func TestKindNamed(t *testing.T) {
	for _, k := range Kinds() {
		for _, name := range append([]string{k.Name}, k.Also...) {
			if got, ok := KindNamed(" " + strings.ToUpper(name)); !ok || got.Name != k.Name {
				t.Errorf("%q leads to %q", name, got.Name)
			}
		}
	}
	if got, ok := KindNamed("wings"); ok {
		t.Errorf("wings lead to %q", got.Name)
	}
}
