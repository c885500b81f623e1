package generator_test

import (
	"encoding/json"
	"os"
	"strings"
	"testing"
	"unicode"

	"github.com/spf13/afero"
	"golang.org/x/net/html"

	"asleft/generator"
	"asleft/generator/entry"
	"asleft/generator/testenv"
)

// naughty is the npm package big-list-of-naughty-strings: texts that programs
// stumble over.
func naughty(t *testing.T) []string {
	t.Helper()
	data, err := os.ReadFile(testenv.Module(t, "big-list-of-naughty-strings/blns.json"))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	if err := json.Unmarshal(data, &all); err != nil || len(all) < 400 {
		t.Fatalf("%d strings, %v", len(all), err)
	}
	for i, s := range all { // a name without a letter that can be seen is refused
		if !strings.ContainsFunc(s, func(r rune) bool {
			return (unicode.IsLetter(r) || unicode.IsNumber(r)) && !unicode.Is(unicode.Other_Default_Ignorable_Code_Point, r)
		}) && s != "" {
			all[i] = s + " a"
		}
	}
	return all
}

// perEvening is how many of the strings go into one entry's lists.
const perEvening = 60

// written by package entry in every text field, each naughty string is read by the logs
// as what a file can hold of it, and stands on the page as that text.
func TestNaughtyStrings(t *testing.T) {
	all := naughty(t)
	folder := afero.NewMemMapFs()
	put := func(name string, data []byte) {
		if err := afero.WriteFile(folder, name, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	put("shop.md", []byte("---\nshop: Plain\ncurrency: USD\nweb: https://shop.example/\n---\n"))
	put("machines/m/machine.md", entry.Machine{Name: "M", Arrived: "2026-01-01", Missing: all}.Markdown())
	entries, used := 0, map[string]bool{}
	for at := 0; at < len(all); at += perEvening {
		part := all[at:min(at+perEvening, len(all))]
		entries++
		e := evening(entries, part, used)
		put("machines/m/"+e.Date+".md", e.Markdown())
	}
	parent := afero.NewMemMapFs()
	_, r, err := generator.Writeup(folder, parent, "site", generator.Options{})
	if says := saidOf(r, err); says != "" {
		t.Fatal(says)
	}
	site := siteFiles(t, parent)
	checkSafe(t, site)
	readBack(t, r, all)
	shown := words(t, site["machines/m/index.html"])
	for _, s := range all {
		if want := collapsed(kept(s)); want != "" && !strings.Contains(shown, want) {
			t.Errorf("the page does not show %q", want)
		}
	}
}

// evening is an entry with the strings in all of its text fields.
func evening(n int, part []string, used map[string]bool) entry.Entry {
	e := entry.Entry{Date: "2026-02-" + string(rune('0'+n/10)) + string(rune('0'+n%10)), Title: "T"}
	for _, s := range part {
		if kept(s) == "" {
			continue
		}
		e.Title, e.By, e.Private = s, s, s
		e.Measured = append(e.Measured, entry.Reading{What: s, Where: s, State: s, Value: "1 V", System: "electrical"})
		e.Parts = append(e.Parts, entry.Part{Part: s, Number: s, Each: "1.00", Source: "new", System: "engine"})
		e.Costs = append(e.Costs, entry.Cost{For: s, Amount: "1.00"})
		e.Defects = append(e.Defects, entry.Defect{Key: "d-" + entry.Slug(e.Date) + "-" + string(rune('a'+len(e.Defects)/26)) + string(rune('a'+len(e.Defects)%26)), Defect: s, Effect: s, System: "drive"})
		item := strings.ToLower(kept(s))
		if !used[item] {
			e.Checks = append(e.Checks, entry.Check{Item: s, Result: "works", Note: s, System: "engine"})
			used[item] = true
		}
	}
	return e
}

// readBack holds what was read against what was written.
func readBack(t *testing.T, r *generator.Reading, all []string) {
	t.Helper()
	seen := map[string]int{}
	note := func(texts ...string) {
		for _, s := range texts {
			seen[s]++
		}
	}
	m := r.Shop.Machines[0]
	for _, x := range m.Missing {
		note(x.Part)
	}
	for _, e := range m.Entries {
		for _, x := range e.Measured {
			note(x.What, x.Where, x.State)
		}
		for _, x := range e.Parts {
			note(x.Part, x.Number)
		}
		for _, x := range e.Costs {
			note(x.For)
		}
		for _, x := range e.Defects {
			note(x.Defect, x.Effect)
		}
	}
	for _, s := range all {
		if want := kept(s); want != "" && seen[want] < 9 {
			t.Errorf("%q was read back %d times, want it from 9 fields", want, seen[want])
		}
	}
}

// kept is what a file of the shop keeps of a text: no character that nobody
// sees, no space around it.
func kept(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r == '\n', r == '\t':
			return r
		case r == '\r', r == 0x85, r == 0x2028, r == 0x2029:
			return '\n'
		case r < ' ', r >= 0x7f && r < 0xa0, r >= 0x202a && r <= 0x202e, r >= 0x2066 && r <= 0x2069, r == 0xfeff, r == 0xfffe, r == 0xffff:
			return -1
		}
		return r
	}, strings.ReplaceAll(strings.ToValidUTF8(s, "\ufffd"), "\r\n", "\n")))
}

// words are the words of a page, as a browser shows them.
func words(t *testing.T, page string) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return collapsed(textOf(doc))
}

func collapsed(s string) string { return strings.Join(strings.Fields(s), " ") }
