package main

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"asleft/generator/testenv"
)

// terms ends the terms of the Apache License; what follows is each module's own
// line of copyright in a form for all.
const terms = "END OF TERMS AND CONDITIONS"

// gathered is licenses.txt: each text once, under the names of all that it is
// for. Texts of the same words are the same text.
func gathered(t *testing.T, modules map[string]module) string {
	t.Helper()
	type notice struct {
		text string
		of   []string
	}
	var notices []*notice
	byWords := map[string]*notice{}
	add := func(of, text string) {
		text = strings.Trim(strings.ReplaceAll(text, "\r\n", "\n"), "\n")
		key := strings.TrimSuffix(strings.Join(strings.Fields(text), " "), " "+terms)
		if key == "" {
			return
		}
		n := byWords[key]
		if n == nil {
			n = &notice{text: text}
			byWords[key] = n
			notices = append(notices, n)
		}
		if !slices.Contains(n.of, of) {
			n.of = append(n.of, of)
		}
	}
	for _, path := range slices.Sorted(maps.Keys(modules)) {
		for _, text := range modules[path].texts {
			before, after, split := strings.Cut(text, terms)
			if split {
				before += terms
			}
			add(path, before)
			add(path, after)
		}
	}
	// Go's own library and runtime are under the very text of its sister
	// modules; .ci/supply holds that against Go's own copy.
	for _, n := range notices {
		if slices.Contains(n.of, "golang.org/x/text") {
			n.of = append([]string{"Go, its library and runtime"}, n.of...)
		}
	}
	unicode, err := os.ReadFile(filepath.Join("testdata", "unicode-license.txt"))
	if err != nil {
		t.Fatal(err)
	}
	add("the names and forms of money and letters, which are data of Unicode (CLDR and UCD)", string(unicode))

	var b strings.Builder
	b.WriteString("asleft is built from the work of others. These are their notices and licenses.\n")
	for _, n := range notices {
		fmt.Fprintf(&b, "\n%s\n", strings.Repeat("=", 72))
		for _, of := range n.of {
			fmt.Fprintf(&b, "For %s:\n", of)
		}
		fmt.Fprintf(&b, "\n%s\n", n.text)
	}
	return b.String()
}

// What the program prints is what the modules that it is built from carry.
func TestLicensesAreThoseOfTheModules(t *testing.T) {
	testenv.Golden(t, "licenses.txt", gathered(t, linked(t)))
}
