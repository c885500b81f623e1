package logbook

import (
	"cmp"
	"slices"
	"strings"

	"asleft/generator/spelling"
)

// ItemNamed is the sheet's item of that wording, nil when the sheet has none.
func (s *Sheet) ItemNamed(item string) *Item {
	if i := s.index(item); i >= 0 {
		return &s.Items[i]
	}
	return nil
}

// index is where the item of that wording stands in the list, -1 where it does
// not.
func (s *Sheet) index(item string) int {
	if s == nil {
		return -1
	}
	return slices.IndexFunc(s.Items, func(i Item) bool { return Same(i.Item, item) })
}

// checks holds each answer against the sheet. An item that the sheet does not
// have needs a system of its own, once: without one, nobody could tell which
// later work makes the answer stale, and it may just be mistyped.
func (r *reader) checks(m *Machine, sheets []*Sheet) {
	if r.sheetUnread(m, sheets) {
		return
	}
	own, names := r.ownItems(m)
	for _, e := range m.Entries {
		for _, c := range e.Checks {
			if item := Folded(c.Item); item != "" && !own[item] && m.Sheet.ItemNamed(c.Item) == nil {
				r.unknownItem(c, names)
			}
		}
	}
}

// ownItems are the points that the entries add to the machine's list: those that
// some entry gives a system. With them come the names of all points.
func (r *reader) ownItems(m *Machine) (own map[string]bool, names []string) {
	own, names = map[string]bool{}, m.Sheet.itemNames()
	for _, e := range m.Entries {
		for _, c := range e.Checks {
			item := Folded(c.Item)
			if item == "" || own[item] || m.Sheet.ItemNamed(c.Item) != nil {
				continue
			}
			if c.System != "" || r.finder.line(c.File, c.In("system").Field) > 0 {
				own[item] = true
				names = append(names, c.Item)
			}
		}
	}
	return own, names
}

func (r *reader) unknownItem(c Check, names []string) {
	near, like := spelling.Nearest(c.Item, names), alike(c.Item, names)
	switch {
	case near != "":
		r.report(c.In("item"), "problem.item-near", "read", c.Item, "near", near)
	case len(like) > 0:
		r.report(c.In("item"), "problem.item-alike", "read", c.Item, "like", `"`+strings.Join(like, `", "`)+`"`)
	default:
		r.report(c.In("item"), "problem.item-unknown", "read", c.Item)
	}
}

// mostAlike is how many names are shown that may be meant.
const mostAlike = 3

// alike are the points that share the most words with one, as far as they share two or
// more; the small words that any sentence has do not count. Mistyped names are package
// spelling's; this is of a point in other words, by what a word is here (wordsOf).
func alike(name string, names []string) []string {
	const small = " a an and are as at be by do does for from go has have in is it its let no not of off on or out so that the to up when with "
	words := func(text string) map[string]bool {
		all := map[string]bool{}
		for _, w := range wordsOf(text) {
			if !strings.Contains(small, " "+w+" ") {
				all[strings.TrimSuffix(w, "s")] = true
			}
		}
		return all
	}
	own := words(name)
	shared := func(other string) int {
		n := 0
		for w := range words(other) {
			if own[w] {
				n++
			}
		}
		return n
	}
	var like []string
	for _, other := range names {
		if shared(other) >= 2 {
			like = append(like, other)
		}
	}
	slices.SortStableFunc(like, func(a, b string) int { return cmp.Compare(shared(b), shared(a)) })
	return like[:min(len(like), mostAlike)]
}

// sheetUnread tells whether the machine's sheet may be one that could not be
// read, or be named in a machine.md that could not be.
func (r *reader) sheetUnread(m *Machine, sheets []*Sheet) bool {
	switch {
	case r.unread[m.File]:
		return true
	case m.sheetLost:
		return true // told already
	}
	return slices.ContainsFunc(sheets, func(s *Sheet) bool { return !s.BuiltIn && r.unread[s.File] })
}

func (s *Sheet) itemNames() []string {
	if s == nil {
		return nil
	}
	var names []string
	for _, i := range s.Items {
		names = append(names, i.Item)
	}
	return names
}
