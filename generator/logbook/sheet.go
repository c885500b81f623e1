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
	"asleft/generator/spelling"
)

//go:embed sheets/*.md
var builtIn embed.FS

// sheets are the shop's own and all that come with the program, which no sheet
// of the shop replaces.
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
	all, err := builtInSheets()
	if err != nil {
		r.fault(err)
	}
	for i := range all {
		sheets = append(sheets, &all[i])
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
		for i := range sheet.Items {
			if sheet.Items[i].Safety == NotSaid {
				return nil, fmt.Errorf("the built-in sheet %s does not say if %q is a matter of safety", name, sheet.Items[i].Item)
			}
		}
		sheets = append(sheets, *sheet)
		if len(s.problems) > 0 {
			return nil, fmt.Errorf("the built-in sheet %s", s.problems[0])
		}
	}
	return sheets, nil
})

func readSheet(s *source, data []byte) *Sheet {
	name := path.Base(s.path)
	sheet := &Sheet{Place: s.at(1, ""), digest: digestOf(data), Name: name[:len(name)-len(".md")]}
	f, body := s.read(data)
	if f == nil {
		return sheet
	}
	sheet.Body = body.kept()
	sheet.Kind = f.need("sheet")
	sheet.Also = f.words("also")
	sheet.Blade, sheet.Generator, sheet.General = f.yes("blade", false), f.yes("generator", false), f.yes("general", false)
	sheet.LeaveOut = readLeftOut(f)
	seen := map[string]bool{}
	sheet.Items = list(f, "items", func(item *mapping) Item {
		it := readItem(item)
		name := Folded(it.Item)
		if seen[name] && name != "" {
			item.report("item", "problem.item-twice", "item", it.Item)
		}
		seen[name] = true
		return it
	})
	sheet.Asides = f.asides()
	f.done()
	return sheet
}

func readItem(f *mapping) Item {
	return Item{
		Place: f.place(), Item: f.name("item"), Short: f.text("short"), System: f.needSystem("system"), Safety: f.safety(),
		How: f.text("how"), Look: f.text("look"), AnsweredBy: f.words("answered_by"), OnlyIf: f.text("only_if"),
	}
}

// sheetsOf makes a machine's list: the sheet that comes with the program for
// its kind, or else the general one, then the shop's own for the kind and all
// that the machine names. A later sheet only adds: a point that stands in an
// earlier one stays as it is there.
func (r *reader) sheetsOf(shop *Shop, m *Machine) {
	sheets := shop.Sheets
	var use, general []*Sheet
	for _, builtIn := range []bool{true, false} {
		for _, s := range sheets {
			switch {
			case s.BuiltIn != builtIn:
			case s.General:
				general = append(general, s)
			case m.Kind != "" && s.isFor(m.Kind):
				use, m.Listed = append(use, s), m.Listed || len(s.Items) > 0
			}
		}
	}
	if !slices.ContainsFunc(use, func(s *Sheet) bool { return s.BuiltIn }) {
		use = append(general, use...)
	}
	if !m.Listed {
		m.KindNear = nearKinds(m.Kind, sheets)
	}
	for _, ask := range m.sheetAsk {
		switch s := r.askedSheet(ask, sheets); {
		case s == nil:
			m.sheetLost = true
		case !slices.Contains(use, s):
			use = append(use, s)
		}
	}
	m.Sheets = use
	m.Sheet = merged(shop, use)
	r.leaveOut(shop, m)
}

// merged is one list of several sheets. An item of a built-in sheet stays as it is there;
// of one that two of the shop's own have, the graver counts.
func merged(shop *Shop, sheets []*Sheet) *Sheet {
	if len(sheets) == 0 {
		return nil
	}
	all := &Sheet{Place: sheets[0].Place, Name: sheets[0].Name, Kind: sheets[0].Kind, BuiltIn: sheets[0].BuiltIn}
	type source struct {
		at  int // in the list
		own bool
	}
	seen := map[string]source{}
	for _, s := range sheets {
		all.Blade, all.Generator = all.Blade || s.Blade, all.Generator || s.Generator
		all.LeaveOut = append(all.LeaveOut, s.LeaveOut...)
		for _, i := range s.Items {
			name := Folded(i.Item)
			switch from, known := seen[name]; {
			case !known:
				seen[name] = source{len(all.Items), !s.BuiltIn}
				all.Items = append(all.Items, i)
			case from.own && s.BuiltIn:
				all.Items[from.at], seen[name] = i, source{from.at, false}
			case from.own:
				all.Items[from.at].graver(shop, i)
			}
		}
	}
	return all
}

// graver takes over from the same item of another sheet what is graver there.
func (i *Item) graver(shop *Shop, other Item) {
	i.Safety = i.Safety.Graver(other.Safety)
	if shop.AlwaysSafety(other.System) && !shop.AlwaysSafety(i.System) {
		i.System = other.System
	}
	if other.OnlyIf == "" {
		i.OnlyIf = ""
	}
}

// leaveOut takes points out of a machine's list that are no matter of safety
// and were never answered.
func (r *reader) leaveOut(shop *Shop, m *Machine) {
	if m.Sheet == nil {
		return
	}
	answered := map[string]bool{}
	for _, e := range m.Entries {
		for _, c := range e.Checks {
			answered[Folded(c.Item)] = true
		}
	}
	asked := slices.Concat(m.Sheet.LeaveOut, m.LeaveOut)
	m.LeaveOut = nil
	for _, l := range asked {
		at := m.Sheet.index(l.Item)
		switch {
		case l.Item == "" || slices.ContainsFunc(m.LeaveOut, func(done LeftOut) bool { return Same(done.Item, l.Item) }):
		case at < 0:
			r.named(l.In("item"), "problem.leave-out-none", l.Item, m.Sheet.itemNames())
		case m.Sheet.Items[at].Safety != SafetyNo || shop.AlwaysSafety(m.Sheet.Items[at].System):
			r.report(l.In("item"), "problem.leave-out-safety", "read", l.Item)
		case answered[Folded(l.Item)]:
			r.report(l.In("item"), "problem.leave-out-answered", "read", l.Item)
		default:
			m.LeaveOut = append(m.LeaveOut, l)
			m.Sheet.Items = slices.Delete(m.Sheet.Items, at, at+1)
		}
	}
}

// askedSheet is the sheet of that name, nil where there is none.
func (r *reader) askedSheet(ask asked, sheets []*Sheet) *Sheet {
	var names []string
	for _, s := range sheets {
		if Same(s.Name, ask.name) || Same(s.Kind, ask.name) {
			return s
		}
		names = append(names, s.Name)
	}
	slices.Sort(names)
	r.report(ask.at, "problem.no-such-sheet", "read", ask.name, "names", strings.Join(slices.Compact(names), ", "))
	return nil
}

// isFor tells whether a sheet is for a kind of machine, by any of its names.
func (s *Sheet) isFor(kind string) bool {
	return SameNumber(s.Kind, kind) || slices.ContainsFunc(s.Also, func(a string) bool { return SameNumber(a, kind) })
}

// nearKinds are the kinds that one without a sheet was most likely meant to be:
// those a slip or two away, and those that share its last word.
func nearKinds(kind string, sheets []*Sheet) []string {
	var near []string
	own := wordsOf(kind)
	for _, s := range sheets {
		for _, known := range append([]string{s.Kind}, s.Also...) {
			theirs := wordsOf(known)
			if len(own) == 0 || len(theirs) == 0 || s.General || slices.Contains(near, s.Kind) {
				continue
			}
			if len(kind) > 3 && spelling.Slips(joined(kind), joined(known)) <= 2 || SameNumber(own[len(own)-1], theirs[len(theirs)-1]) {
				near = append(near, s.Kind)
			}
		}
	}
	return near
}
