package condition

import (
	"asleft/generator/catalog"
	"asleft/generator/logbook"
)

// Gaps are what a machine's log leaves open, for the mechanic: each is
// something that the report has to admit, or that nobody could tell a reader.
func Gaps(r *Report, words *catalog.Catalog) []logbook.Problem {
	g := &gaps{words: words}
	m := r.Machine
	if m.Sheet == nil {
		g.add(m.KindAt, "gap.no-sheet")
	}
	if points, safety := r.Unanswered(); points > 0 {
		g.add(logbook.Place{File: m.File, Line: 1}, "gap.unanswered", "points", points, "of", len(r.Checks), "safety", safety)
	}
	for _, d := range r.Defects {
		if d.State == NotProven {
			g.add(d.At, "gap.no-proof", "key", d.Key)
		}
	}
	for _, e := range m.Entries {
		g.entry(e)
	}
	return g.found
}

type gaps struct {
	words *catalog.Catalog
	found []logbook.Problem
}

func (g *gaps) add(at logbook.Place, key string, pairs ...any) {
	g.found = append(g.found, logbook.Problem{Place: at, Says: g.words.Say(key, pairs...), Mend: g.words.Say(key+".mend", pairs...)})
}

func (g *gaps) entry(e *logbook.Entry) {
	for _, p := range e.Photos {
		if p.Alt == "" && !p.Private {
			g.add(p.Place, "gap.no-alt", "file", p.File)
		}
	}
	for _, p := range e.Parts {
		if p.System == "" {
			g.add(p.Place, "gap.part-no-system", "part", p.Part)
		}
	}
	for _, c := range e.Changed {
		if c.System == "" {
			g.add(c.Place, "gap.change-no-system", "what", c.What)
		}
	}
	for _, m := range e.Measured {
		if !m.HasGauge {
			g.add(m.Place, "gap.no-gauge", "what", m.What)
		}
		if readingSystem(m) == "" {
			g.add(m.Place, "gap.reading-no-system", "what", m.What)
		}
	}
}
