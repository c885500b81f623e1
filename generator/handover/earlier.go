package handover

import (
	"slices"

	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Earlier are the whole sealed reports of a machine, the oldest first: those under
// the name that its folder has, and under those that it had.
func (c *Chain) Earlier(m *logbook.Machine) []*Link {
	var all []*Link
	for _, l := range c.Links {
		if l.flaw == noFlaw && l.Of(m) {
			all = append(all, l)
		}
	}
	return all
}

// Of tells whether a report was sealed of a machine: its folder is called so, or
// was.
func (l *Link) Of(m *logbook.Machine) bool {
	return m.Key == l.Machine() || slices.Contains(m.Was, l.Machine())
}

// Gone is what those sealed reports said and the log of today no longer says, each
// once, with the last report that said it.
func (c *Chain) Gone(m *logbook.Machine, today *Facts, words *catalog.Catalog) []Gone {
	all, place := []Gone{}, map[string]int{}
	for _, l := range c.Earlier(m) {
		for _, ch := range OnlyGone(Since(&l.Seal.Facts, today, words)) {
			g := Gone{ch.Text, l.Seal.Facts.Sealed, l.Seal.Code}
			if n, told := place[ch.about]; told {
				all[n] = g
				continue
			}
			place[ch.about] = len(all)
			all = append(all, g)
		}
	}
	return all
}

// Orphans are the sealed reports of machines that the shop has not got: by their
// keys or by what their folders were called. Each is a problem, for the history of
// such a machine could be held against nothing.
func (c *Chain) Orphans(there func(key string) bool, words *catalog.Catalog) []logbook.Problem {
	var all []logbook.Problem
	for _, l := range c.Links {
		if l.Seal == nil || l.flaw != noFlaw || there(l.Machine()) {
			continue
		}
		pairs := []any{"key", l.Machine(), "name", l.Seal.Facts.Record.Machine.Name}
		all = append(all, logbook.Problem{
			Place: logbook.Place{File: l.File, Line: 1},
			Says:  words.Say("problem.seal-machine", pairs...), Mend: words.Say("problem.seal-machine.mend", pairs...),
		})
	}
	return all
}
