package logbook

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"
	"sync"

	"asleft/generator/catalog"
)

//go:embed sheets/*.md
var builtIn embed.FS

// sheets are the shop's own and the built-in ones that it has not replaced.
func (r *reader) sheets() []*Sheet {
	var sheets []*Sheet
	infos := r.list("sheets")
	r.stray("sheets", infos)
	r.names("sheets", infos)
	for _, i := range infos {
		name := "sheets/" + i.Name()
		if !markdownFile(i) {
			continue
		}
		r.read(name, i, func(s *source, data []byte) { sheets = append(sheets, readSheet(s, data)) })
	}
	return append(sheets, r.builtInSheets(sheets)...)
}

// builtInSheets are the inspection sheets that come with the program, except
// those that a sheet of the shop replaces by its name.
func (r *reader) builtInSheets(own []*Sheet) []*Sheet {
	all, err := builtInSheets()
	if err != nil {
		r.fault(err)
	}
	var sheets []*Sheet
	for _, b := range all {
		if !slices.ContainsFunc(own, func(s *Sheet) bool { return strings.EqualFold(s.Name, b.Name) }) {
			sheets = append(sheets, &b)
		}
	}
	return sheets
}

// builtInSheets reads the sheets of the program, once: they are the same for
// every shop. A problem in one of them is an error, for no mechanic can mend it.
var builtInSheets = sync.OnceValues(func() ([]Sheet, error) {
	names, err := fs.Glob(builtIn, "sheets/*.md")
	if err != nil {
		return nil, fmt.Errorf("listing the built-in sheets: %w", err)
	}
	var sheets []Sheet
	for _, name := range names {
		data, err := builtIn.ReadFile(name)
		if err != nil {
			return nil, fmt.Errorf("reading a built-in sheet: %w", err)
		}
		s := &source{rules: &rules{words: catalog.English, systems: Systems}, path: name}
		sheet := readSheet(s, data)
		sheet.BuiltIn = true
		sheets = append(sheets, *sheet)
		if len(s.problems) > 0 {
			return nil, fmt.Errorf("the built-in sheet %s", s.problems[0])
		}
	}
	return sheets, nil
})

func readSheet(s *source, data []byte) *Sheet {
	name := path.Base(s.path)
	sheet := &Sheet{Place: s.at(1, ""), Name: name[:len(name)-len(".md")]}
	f, body := s.read(data)
	if f == nil {
		return sheet
	}
	sheet.Body = body.kept()
	sheet.Kind = f.need("sheet")
	for _, t := range f.texts("also") {
		sheet.Also = append(sheet.Also, t.text)
	}
	seen := map[string]bool{}
	sheet.Items = list(f, "items", func(item *form) Item {
		it := Item{Place: item.place(), Item: item.need("item"), System: item.needSystem("system"), Safety: item.yes("safety", false), How: item.text("how")}
		name := strings.ToLower(it.Item)
		if seen[name] && name != "" {
			item.report("item", "problem.item-twice", "item", it.Item)
		}
		seen[name] = true
		return it
	})
	f.done()
	return sheet
}

// sheetOf finds the sheet that a machine asks for by name, or that is for its
// kind; the shop's own come first.
func (r *reader) sheetOf(m *Machine, sheets []*Sheet) {
	if m.sheetAsk.name != "" {
		r.askedSheet(m, sheets)
		return
	}
	for _, s := range sheets {
		if m.Kind != "" && s.isFor(m.Kind) {
			m.Sheet = s
			return
		}
	}
	if near := nearKind(m.Kind, sheets); near != "" {
		r.report(m.KindAt, "problem.kind-near", "read", m.Kind, "near", near)
	}
}

func (r *reader) askedSheet(m *Machine, sheets []*Sheet) {
	ask := m.sheetAsk
	var names []string
	for _, s := range sheets {
		if strings.EqualFold(s.Name, ask.name) || strings.EqualFold(s.Kind, ask.name) {
			m.Sheet = s
			return
		}
		names = append(names, s.Name)
	}
	slices.Sort(names)
	r.report(ask.at, "problem.no-such-sheet", "read", ask.name, "names", strings.Join(names, ", "))
}

func (s *Sheet) isFor(kind string) bool {
	return strings.EqualFold(s.Kind, kind) || slices.ContainsFunc(s.Also, func(a string) bool { return strings.EqualFold(a, kind) })
}

// nearKind is the kind that a kind without a sheet was most likely meant to
// be. Kinds share their words (walk-behind this, walk-behind that), so only a
// slip or two count.
func nearKind(kind string, sheets []*Sheet) string {
	for _, s := range sheets {
		for _, known := range append([]string{s.Kind}, s.Also...) {
			if len(kind) > 3 && slips(strings.ToLower(kind), strings.ToLower(known)) <= 2 {
				return known
			}
		}
	}
	return ""
}
