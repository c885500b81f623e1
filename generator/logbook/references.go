package logbook

import (
	"cmp"
	"slices"

	"asleft/generator/spelling"
)

// references holds what entries say of each other's things by name, other than
// the keys of defects: changes that were put back, points that a defect fails,
// parts that a defect left with, wordings that a repair is of.
func (r *reader) references(m *Machine, sheets []*Sheet) {
	if r.sheetUnread(m, sheets) || slices.ContainsFunc(m.Entries, func(e *Entry) bool { return r.unread[e.File] }) {
		return
	}
	points := m.points()
	changes := m.changeKeys()
	answered := map[string]Check{}
	for n, e := range m.Entries {
		for _, c := range e.Checks {
			r.named(c.In("by"), "problem.change-unknown", c.By, changes)
			if was, before := answered[Folded(c.Item)]; before && c.Result == DoesNotApply && c.By == "" {
				r.report(c.In("by"), "problem.applied-before", "item", c.Item, "result", was.Result, "file", was.File, "line", was.Line)
			}
			switch {
			case c.Result == Works || c.Result == Fails:
				answered[Folded(c.Item)] = c
			case c.Result == DoesNotApply && c.By != "":
				delete(answered, Folded(c.Item))
			}
		}
		for _, p := range e.PutBack {
			r.named(p.KeyAt, "problem.change-unknown", p.Key, changes)
		}
		for _, d := range e.Defects {
			r.named(d.In("point"), "problem.point-unknown", d.Point, points)
		}
		for _, d := range e.Repaired {
			r.named(d.In("of"), "problem.wording-unknown", d.Of, m.wordings(d.Key))
		}
		for _, g := range e.Gone {
			r.goneWith(m.Entries[:n+1], g)
		}
	}
}

// named reports a name that is none of the known ones.
func (r *reader) named(at Place, key, name string, known []string) {
	if name == "" || slices.ContainsFunc(known, func(k string) bool { return Same(k, name) }) {
		return
	}
	if near := spelling.Nearest(name, known); near != "" {
		r.report(at, key+"-near", "read", name, "near", near)
		return
	}
	r.report(at, key, "read", name)
}

// goneWith reports a defect that is said to have left with a part or a change
// that the log does not show up to then, that was in another system, or that
// went in before the defect was found last: what was found in the new part did
// not leave with the old one.
func (r *reader) goneWith(until []*Entry, g Gone) {
	systems := SystemsOf(until, g.Key)
	if g.With == "" || len(systems) == 0 { // no such key is told already
		return
	}
	var known []string
	wrong := ""
	for n, e := range until {
		for _, w := range Replacements([]*Entry{e}) {
			known = append(known, w.Name)
			switch {
			case !Same(w.Name, g.With) && (w.Key == "" || !Same(w.Key, g.With)):
			case !slices.Contains(systems, w.System):
				wrong = cmp.Or(wrong, "problem.gone-elsewhere")
			case slices.ContainsFunc(until[n+1:], func(later *Entry) bool { return later.finds(g.Key) }):
				wrong = "problem.gone-before"
			default:
				return
			}
		}
	}
	if wrong != "" {
		r.report(g.In("with"), wrong, "read", g.With, "key", g.Key)
		return
	}
	if near := spelling.Nearest(g.With, known); near != "" {
		r.report(g.In("with"), "problem.gone-unknown-near", "read", g.With, "near", near)
		return
	}
	r.report(g.In("with"), "problem.gone-unknown", "read", g.With)
}

// finds tells whether an entry found the defect of that key.
func (e *Entry) finds(key string) bool {
	return slices.ContainsFunc(e.Defects, func(d Defect) bool { return d.Key == key })
}

// A Replacement is what a defect can leave with: a part fitted, or a change.
type Replacement struct{ Name, Key, System string }

// Replacements are those of some entries, in their order.
func Replacements(entries []*Entry) []Replacement {
	var all []Replacement
	for _, e := range entries {
		for _, p := range e.Parts {
			if p.Fate == Fitted {
				all = append(all, Replacement{Name: p.Part, System: p.System})
			}
		}
		for _, c := range e.Changed {
			all = append(all, Replacement{c.What, c.Key, c.System})
		}
	}
	return all
}

// SystemsOf are the systems in which the defect of that key was found in some entries in
// their order, since another of that key left with its part: that one was another defect.
func SystemsOf(entries []*Entry, key string) []string {
	var all []string
	for i, e := range entries {
		if i > 0 && slices.ContainsFunc(entries[i-1].Gone, func(g Gone) bool { return g.Key == key }) {
			all = nil
		}
		for _, d := range e.Defects {
			if d.Key == key && !slices.Contains(all, d.System) {
				all = append(all, d.System)
			}
		}
	}
	return all
}

// points are the items that the machine's list and its entries name.
func (m *Machine) points() []string {
	all := m.Sheet.itemNames()
	for _, e := range m.Entries {
		for _, c := range e.Checks {
			if m.Sheet.ItemNamed(c.Item) == nil {
				all = append(all, c.Item)
			}
		}
	}
	return all
}

func (m *Machine) changeKeys() []string {
	var all []string
	for _, e := range m.Entries {
		for _, c := range e.Changed {
			if c.Key != "" {
				all = append(all, c.Key)
			}
		}
	}
	return all
}

// wordings are the texts that the defect of that key was found in.
func (m *Machine) wordings(key string) []string {
	var all []string
	for _, e := range m.Entries {
		for _, d := range e.Defects {
			if d.Key == key {
				all = append(all, d.Defect)
			}
		}
	}
	return all
}
