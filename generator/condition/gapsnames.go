package condition

import (
	"slices"
	"strings"
	"unicode"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
	"asleft/generator/quantity"
	"asleft/generator/spelling"
)

// kind asks for the kind of a machine, where it has none or no list is for it.
func (g *gaps) kind(m *logbook.Machine) {
	switch {
	case m.Listed:
	case m.Kind == "":
		g.add(logbook.Place{File: m.File, Line: 1}, "gap.no-kind")
	case len(m.KindNear) > 0:
		g.add(m.KindAt, "gap.no-sheet-near", "kind", m.Kind, "near", strings.Join(m.KindNear, ", "))
	default:
		g.add(m.KindAt, "gap.no-sheet", "kind", m.Kind)
	}
}

// files asks for what stands in the machine's folder and is in no log: files
// that a dot in front hides, and photos that nothing names.
func (g *gaps) files(m *logbook.Machine) {
	for _, file := range m.Hidden {
		g.add(logbook.Place{File: file}, "gap.hidden")
	}
	for _, file := range m.Unnamed {
		g.add(logbook.Place{File: file}, "gap.unnamed-photo")
	}
}

// asides tells of the fields of a file that are left alone, all in one word; two of
// them may have been meant for something.
func (g *gaps) asides(left []logbook.Place) {
	var names []string
	first := logbook.Place{}
	for _, a := range left {
		switch strings.ToLower(a.Field) {
		case "author", "authors":
			g.add(a, "gap.aside-author")
		case "image":
			g.add(a, "gap.aside-image")
		default:
			if len(names) == 0 {
				first = a
			}
			names = append(names, a.Field)
		}
	}
	if len(names) > 0 {
		g.add(logbook.Place{File: first.File, Line: first.Line}, "gap.asides", "names", strings.Join(names, ", "))
	}
}

// twins tells of machines that go by one name, and of those with one serial number:
// a buyer could take one for the other, and a seal speaks of one of them.
func (g *gaps) twins(machines []*logbook.Machine) {
	names, serials := map[string]*logbook.Machine{}, map[string]*logbook.Machine{}
	for _, m := range machines {
		at := logbook.Place{File: m.File, Line: m.Line}
		if name := logbook.Folded(m.Name); names[name] != nil {
			g.add(at.In("name"), "gap.name-twice", "name", m.Name, "key", m.Key, "other", names[name].Key)
		} else if name != "" {
			names[name] = m
		}
		if !strings.ContainsFunc(m.Serial, unicode.IsDigit) { // not known, or none
			continue
		}
		serial := strings.ReplaceAll(logbook.Folded(m.Serial), " ", "")
		if first := serials[serial]; first != nil {
			g.add(at.In("serial"), "gap.serial-twice", "serial", m.Serial, "key", m.Key, "other", first.Key)
		} else {
			serials[serial] = m
		}
	}
}

// donors asks for a part that came out of a machine that is for sale, where the log of
// that machine does not name it: its report cannot tell what only the log of another says.
func (g *gaps) donors(shop *logbook.Shop) {
	for _, m := range shop.Machines {
		for _, e := range m.Entries {
			for _, p := range e.Parts {
				if p.From == "" {
					continue
				}
				i := slices.IndexFunc(shop.Machines, func(o *logbook.Machine) bool { return o.Key == p.From })
				if i >= 0 && shop.Machines[i].Stage == logbook.ForSale && !namesPart(shop.Machines[i], p.Part) {
					g.add(p.In("from"), "gap.taken-from", "part", p.Part, "from", shop.Machines[i].Name)
				}
			}
		}
	}
}

// namesPart tells whether the log of a machine names a part anywhere in its fields.
func namesPart(m *logbook.Machine, part string) bool {
	var all []string
	for _, p := range m.Missing {
		all = append(all, p.Part)
	}
	for _, e := range m.Entries {
		for _, d := range e.Defects {
			all = append(all, d.Defect)
		}
		for _, c := range e.Changed {
			all = append(all, c.What)
		}
		for _, p := range e.Parts {
			all = append(all, p.Part)
		}
	}
	return slices.ContainsFunc(all, func(said string) bool { return strings.Contains(logbook.Folded(said), logbook.Folded(part)) })
}

// ShopGaps are what the shop's own file and its sheets leave open, and what shows
// only when all machines are looked at together: two that go by one name, and
// systems of the shop's own whose names are but one letter from another, so that
// one may be meant by the other, and those that are said to be part of none.
func ShopGaps(shop *logbook.Shop, words *catalog.Catalog) []logbook.Problem {
	g := &gaps{words: words}
	g.asides(shop.Asides)
	for _, s := range shop.Sheets {
		g.asides(s.Asides)
	}
	for _, file := range shop.Hidden {
		if folder, is := strings.CutSuffix(file, "/"); is {
			g.add(logbook.Place{File: folder}, "gap.hidden-folder")
		} else {
			g.add(logbook.Place{File: file}, "gap.hidden")
		}
	}
	g.twins(shop.Machines)
	g.donors(shop)
	for n, name := range shop.Systems {
		if _, own := shop.PartOf[name]; !own {
			continue
		}
		if near := logbook.OneLetterFrom(name, shop.Systems[:n]); near != "" {
			g.add(shop.In("systems"), "gap.system-near", "name", name, "near", near)
		}
		if len(shop.PartOf[name]) == 0 {
			g.add(shop.In("systems"), "gap.system-part-of", "name", name)
		}
	}
	return g.found
}

// ownPoint tells whether a point is in no list, so that the entries say what
// there is to say of it, and none has said yet if it can hurt someone.
func (g *gaps) ownPoint(c logbook.Check) bool {
	return g.report.Machine.Sheet.ItemNamed(c.Item) == nil && slices.ContainsFunc(g.report.Subjects, func(s *Subject) bool {
		return s.Kind == KindPoint && s.Safety == logbook.NotSaid && logbook.Same(s.Name, c.Item)
	})
}

// placeless asks for the system of a reading, where nothing says what it belongs
// to: any work at all then makes it out of date.
func (g *gaps) placeless(r logbook.Reading) {
	if r.System != "" || slices.ContainsFunc(g.placed, func(what string) bool { return logbook.Same(what, r.What) }) {
		return
	}
	g.placed = append(g.placed, r.What)
	for _, s := range g.report.Subjects {
		if s.Kind == KindMeasurement && len(s.Systems) == 0 && logbook.Same(s.Measured.What, r.What) {
			g.add(r.Place, "gap.reading-no-system", "what", r.What)
			return
		}
	}
}

// wide asks about an accuracy that is no smaller than what the tool showed: most
// likely it is how far the scale goes, and the reading is held to nothing with it.
// The zero of a temperature is anywhere, so its size says nothing.
func (g *gaps) wide(r logbook.Reading) {
	q, _ := r.Value.Plain() // nothing is not above zero either
	if q.Sign() <= 0 || q.Dimension() == quantity.Temperature {
		return
	}
	if low, _, err := r.Gauge.Interval(q); err == nil && low.Sign() <= 0 {
		g.add(r.In("gauge"), "gap.gauge-wide", "gauge", r.Gauge.String(), "reading", q.String(), "what", r.What)
	}
}

// answers asks for points that a service speaks to and that are none.
func (g *gaps) answers(at logbook.Place, items []string) {
	var known []string
	for _, s := range g.report.Subjects {
		if s.Kind == KindPoint {
			known = append(known, s.Name)
		}
	}
	for _, item := range items {
		g.named(at, "gap.answers", item, known)
	}
}

// replaces asks for the missing part that a part is said to stand in for.
func (g *gaps) replaces(p logbook.Part) {
	if p.Replaces == "" {
		return
	}
	var known []string
	for _, m := range g.report.Machine.Missing {
		known = append(known, m.Part)
	}
	g.named(p.Place, "gap.replaces", p.Replaces, known)
}

// named asks for a name that none of the known things goes by, with the nearest
// where there is one.
func (g *gaps) named(at logbook.Place, key, name string, known []string) {
	if logbook.Known(name, known) {
		return
	}
	near := spelling.Nearest(name, known)
	if near != "" {
		key += "-near"
	}
	g.add(at, key, "name", name, "near", near)
}

// hasNear asks for a thing that no point of the list depends on.
func (g *gaps) hasNear(h logbook.Having, known []string) {
	switch near := spelling.Nearest(h.What, known); {
	case near != "":
		g.add(h.Place, "gap.has-near", "what", h.What, "near", near)
	case len(known) == 0:
		g.add(h.Place, "gap.has-none", "what", h.What)
	default:
		g.add(h.Place, "gap.has", "what", h.What, "known", strings.Join(known, ", "))
	}
}
